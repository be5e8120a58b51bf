import { expect, inject, it } from 'vitest';
import { fillIn, keep, margin, press, section, textOf } from './support/forms';
import { asWorker, makeCase, makeTree } from './support/made-case';
import { expectAccessible, expectNoSidewaysScroll, screenshot, withPage } from './support/page';

it('kinds of fault, a contributing factor and failure modes are said on the page and stand in the report', () =>
	withPage({ context: asWorker(), allow: [/status of 400/] }, async (page) => {
		const made = await makeCase(inject('baseUrl'), 'Kinds of fault');
		const { anomaly, events } = await makeTree(made, ['Joint lets go', 'Timer fires late']);
		const joint = events['Joint lets go']!;
		await made.do('event.add', { under: joint, kind: 'basic', title: 'Glue set cold' });
		await page.goto(`${made.path}/anomalies/${anomaly}/tree?event=${joint}`);
		await fillIn(margin(page), { 'This is the state of': 'one part' });
		await margin(page).getByText('No secondary fault, because').waitFor();
		const reason = margin(page).getByLabel('No command fault, because');
		await reason.fill('nothing tells a joint');
		await reason.blur();
		await page.getByText('how the tree is made').click();
		await page.getByText('no secondary fault stands').first().waitFor();
		await expect.poll(() => page.getByText('no command fault stands').count()).toBe(0);
		await screenshot(page, 'fault-kind');
		await expectAccessible(page);

		await page.goto(`${made.path}/anomalies/${anomaly}/conclusion`);
		await press(page.getByRole('region', { name: 'Every branch' }), 'Glue set cold');
		await fillIn(margin(page), { Decided: 'Contributed', Because: 'it was cold' });
		// Less probable than even: the form asks for more.
		await margin(page)
			.getByLabel(/why is it called contributed all the same/)
			.fill('a sister joint let go too');
		await keep(margin(page), 'Decide');
		const branches = page.getByRole('region', { name: 'Every branch' });
		await branches.getByLabel('Kind of cause: Glue set cold').selectOption({ label: 'contributing factor' });
		await page.getByText('is called a contributing factor').first().waitFor();
		await press(margin(page), 'Show that it counts: Glue set cold');
		await fillIn(margin(page), {
			'What shows that it was there': 'log of the shed',
			'What shows that it changed what happened': 'sister joints hold half',
			'Why it matters for the next flight': 'the shed stays cold'
		});
		await screenshot(page, 'factor');
		await expectAccessible(page);
		await keep(margin(page), 'Keep');
		await expect.poll(() => page.getByText('is called a contributing factor').count()).toBe(0);

		const part = {
			name: 'Coupler joint',
			vehiclePart: null,
			group: '',
			description: '',
			mass: '',
			uses: null,
			outcome: 'recovered',
			next: null,
			note: ''
		};
		await made.do('part.add', { record: part });
		await page.goto(`${made.path}/anomalies`);
		const modes = section(page, 'Failure modes of the parts');
		await press(modes, 'List failure modes');
		await press(modes, 'List them');
		await modes.getByText('Say how the part can fail').first().waitFor();
		await fillIn(modes, { Part: 'Coupler joint', 'How it can fail, one way in each line': 'opens\ncrushed' });
		await keep(modes, 'List them');
		await modes.getByText('2 of 2 open.').waitFor();
		await modes
			.getByLabel('Where it stands: Coupler joint, opens')
			.selectOption({ label: 'A1: Joint lets go' });
		await modes.getByText('1 of 2 open.').waitFor();
		await modes
			.getByLabel('Where it stands: Coupler joint, crushed')
			.selectOption({ label: 'does not apply' });
		await fillIn(modes, { 'Why it does not apply': 'it came back round' });
		await keep(modes, 'Keep the reason');
		await modes.getByText('Each has its place or a reason.').waitFor();
		await screenshot(page, 'failure-modes');
		await expectAccessible(page);
		await page.setViewportSize({ width: 375, height: 800 });
		await expectNoSidewaysScroll(page);
		await page.goto(`${made.path}/report`);
		const report = await textOf(page.getByRole('article'));
		for (const words of [
			'sister joints hold half',
			'not applicable: it came back round',
			'nothing tells a joint'
		])
			expect(report).toContain(words);
	}));
