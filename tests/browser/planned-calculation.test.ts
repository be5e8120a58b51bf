import { expect, inject, it } from 'vitest';
import { fillIn, press, textOf } from './support/forms';
import { asWorker, makeCase, makeTree } from './support/made-case';
import { expectAccessible, expectNoSidewaysScroll, screenshot, withPage } from './support/page';

it('a calculation whose observable nobody has measured is ranked beside signs and tests, and weighs once it is measured', () =>
	withPage({ context: asWorker(), allow: [/status of 400/] }, async (page) => {
		const made = await makeCase(inject('baseUrl'), 'Planned');
		const { anomaly } = await makeTree(made, ['Canopy tangled', 'Canopy open, bay too weak']);
		const findings = `${made.path}/anomalies/${anomaly}/findings`;
		await page.goto(`${made.path}/calculations/new?calculation=descent&anomaly=${anomaly}`);
		const form = page.getByRole('group', { name: 'What goes in' });
		await form.getByLabel('Not measured yet').check();
		await fillIn(form, { 'Mass hanging from it': '2 kg', 'Drag area Cd·S as built': '0.7 m²' });
		await page.getByText('how well you would measure it').first().waitFor();
		await fillIn(form, { 'Recorded descent rate, to weigh how far it was open': '7 ± 0.3 m/s' });
		const tells = page.getByRole('region', { name: 'What measuring it would show' });
		await tells.getByText('Fully open: the rate would be').waitFor();
		await fillIn(tells, { 'Time it takes to measure': 'soon' });
		await press(tells, 'Rank it among what to look at next');
		await tells.getByText('Write how long it takes').first().waitFor();
		await tells.getByText('Choose the event or gate it means.').first().waitFor();
		await expectAccessible(page);
		await tells.getByLabel('“Fully open” stands for').selectOption({ label: 'Canopy open, bay too weak' });
		await tells.getByLabel('“Partly open” stands for').selectOption({ label: 'Canopy tangled' });
		await fillIn(tells, { 'Time it takes to measure': '1.5 h' });
		await press(tells, 'Rank it among what to look at next');
		await tells.getByText('It is ranked.').waitFor();
		await screenshot(page, 'planned-calculation');
		const run = page.url();

		await page.goto(findings);
		const row = page.getByRole('region', { name: 'Would tell most' }).locator('li');
		await row.getByText('K1 Descent rate and time').waitFor();
		const said = await textOf(row);
		for (const words of ['measure, then calculate', '1.5 h', 'an hour', 'Partly open: the rate would be'])
			expect(said).toContain(words);
		await expectAccessible(page);
		await page.setViewportSize({ width: 375, height: 800 });
		await expectNoSidewaysScroll(page);
		await page.goto(run);
		await tells.getByText('It is ranked.').waitFor();
		await expectNoSidewaysScroll(page);
		await page.setViewportSize({ width: 1280, height: 900 });

		await form.getByLabel('Not measured yet').uncheck();
		await fillIn(form, { 'Recorded descent rate, to weigh how far it was open': '19 ± 0.3 m/s' });
		await press(page, 'Let it weigh on the tree');
		await page.getByText('It weighs on the tree').waitFor();
	}));
