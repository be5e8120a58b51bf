import { expect, inject, it } from 'vitest';
import { field, fillIn, keep, margin, press, section, textOf } from './support/forms';
import { asWorker, makeCase, makeTree } from './support/made-case';
import { expectAccessible, expectNoSidewaysScroll, screenshot, withPage } from './support/page';

it('a first impression is sealed, held against the conclusion and what turned out, and scored over all', () =>
	withPage({ context: asWorker(), allow: [/status of 400/] }, async (page) => {
		await page.goto('/scores');
		await page.getByText('Nothing has turned out yet').waitFor();
		await page.getByText('what turned out in it is not counted').waitFor();
		await expectAccessible(page);
		await screenshot(page, 'scores-empty');

		const made = await makeCase(inject('baseUrl'), 'Scores');
		const titles = ['Glue short of its strength', 'Load above the design'];
		const { anomaly, top, events } = await makeTree(made, titles);
		await page.goto(`${made.path}/anomalies/${anomaly}/tree`);
		await press(margin(page), 'Seal a first impression');
		await fillIn(margin(page), { [titles[0]!]: '300 %' });
		await press(margin(page), 'Seal it');
		await margin(page).getByText('between 0 and 1').first().waitFor();
		expect(await field(margin(page), titles[0]!).getAttribute('aria-invalid')).toBe('true');
		expect(await margin(page).getByText('What stands out').count()).toBe(0);
		await fillIn(margin(page), { [titles[0]!]: '30 %', [titles[1]!]: '60 %' });
		await screenshot(page, 'impression');
		await expectAccessible(page);
		await keep(margin(page), 'Seal it');
		await margin(page).getByRole('heading', { name: 'First impression, sealed' }).waitFor();
		expect(await textOf(margin(page))).toContain(`${titles[0]!}: 30 %`);

		const [looked] = await made.do('evidence.add', {
			record: {
				kind: 'absence',
				title: 'Strip-down of the joint',
				description: '',
				by: 'Ada',
				at: null,
				position: null,
				state: 'asFound',
				basis: 'observed',
				trust: 'high',
				trustReason: '',
				attachments: [],
				parts: [],
				lookedFor: 'fibres',
				howThoroughly: 'takenApart',
				detection: null
			}
		});
		for (const [i, title] of titles.entries()) {
			await made.do('event.weigh', { event: events[title], weight: i === 0 ? 0.2 : 0.3 });
			await made.do('disposition.set', {
				event: events[title],
				state: i === 0 ? 'likely' : 'unlikely',
				reason: 'as it lay',
				cites: [looked]
			});
		}
		await made.do('event.setComplete', { event: top, complete: true });
		await made.do('anomaly.change', {
			id: anomaly,
			record: { subject: 'Joint', failedState: 'parts in flight', boundary: ['the joint'] }
		});
		await page.goto(`${made.path}/anomalies/${anomaly}/conclusion`);
		await page.getByRole('heading', { name: 'First impression, and now' }).waitFor();
		await press(page.getByRole('region', { name: 'Every branch' }), 'Something nobody has thought of');
		await fillIn(margin(page), { Decided: 'Unlikely', Because: 'nothing points there' });
		await keep(margin(page), 'Decide');
		const written = section(page, 'Conclusion');
		await fillIn(written, {
			'It ends': 'Probable cause',
			'How good is the basis': 'Low',
			Conclusion: 'The glue.',
			'Why the basis is as good as that': 'one look',
			'The strongest argument against it': 'nobody measured the load',
			'What would reopen it': 'a second one'
		});
		await press(written, 'Conclude');
		const turned = section(page, 'What turned out to be true');
		await press(turned, 'Say what turned out');
		await fillIn(turned, {
			[titles[0]!]: 'it was true',
			[titles[1]!]: 'it was not true',
			'Known from': 'a strip-down'
		});
		await press(turned, 'Keep it');
		await turned.getByText('Cite the test, the strip-down').first().waitFor();
		await expectAccessible(page);
		await screenshot(page, 'turned-form');
		await turned.getByLabel('On: add').selectOption({ label: 'E1 absence: Strip-down of the joint' });
		await keep(turned, 'Keep it');
		await turned.getByText('take back').first().waitFor();
		await screenshot(page, 'turned');

		await page.goto('/');
		await page.getByRole('link', { name: 'How good our numbers were' }).click();
		await page.getByText('too few to say').waitFor();
		const said = await textOf(page.getByRole('main'));
		// First impressions by hand: (.7^2 + .6^2) / 2. Starts: .2 and .3 over 1 - .8 * .7 * .95 = .468.
		expect(said).toContain('0.425');
		expect(said).toContain((((1 - 0.2 / 0.468) ** 2 + (0.3 / 0.468) ** 2) / 2).toFixed(3));
		await expectAccessible(page);
		await screenshot(page, 'scores');
		await page.setViewportSize({ width: 375, height: 800 });
		await expectNoSidewaysScroll(page);
		await screenshot(page, 'scores-375');
		await page.goto(`${made.path}/report`);
		expect(await textOf(page.getByRole('article'))).toContain('it was true, from a strip-down');
	}));
