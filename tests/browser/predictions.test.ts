import { expect, inject, it } from 'vitest';
import { fillIn, keep, press, textOf } from './support/forms';
import { asWorker, makeCase, makeTree } from './support/made-case';
import { expectAccessible, expectNoSidewaysScroll, screenshot, withPage } from './support/page';

it('what a test would show is locked, withdrawn and locked anew, and stands beside the result, on screen and in the report', () =>
	withPage({ context: asWorker(), allow: [/status of 400/] }, async (page) => {
		const made = await makeCase(inject('baseUrl'), 'Predictions');
		await makeTree(made, ['Glue short of its strength', 'Load above the design']);
		await page.goto(`${made.path}/evidence`);
		await page.getByRole('navigation', { name: 'Add evidence' }).getByRole('link', { name: 'Test' }).click();
		await fillIn(page, { 'In one line: what is it?': 'Pull test of the sister joint' });
		// Of a test still to be done only its kind is asked for; the rest comes with the result.
		await press(page, 'Keep this item');
		await page.getByText('Say what kind of test this is.').first().waitFor();
		expect(await page.getByLabel('Trust in it').count()).toBe(0);
		await fillIn(page, { 'Kind of test': 'pull test' });
		await keep(page, 'Keep this item');
		await page.getByText('to be done').first().waitFor();
		await page
			.getByRole('link', { name: /Pull test of the sister joint/ })
			.first()
			.click();
		const part = page.locator('section', { has: page.locator('#predicted-title') });
		await press(part, 'Enter the result');
		await fillIn(part, { 'What it showed': 'bare of fibres' });
		await press(part.locator('form'), 'Enter the result');
		await part.getByText('Nothing was locked before this result').first().waitFor();
		await expectAccessible(page);
		await press(part, 'Cancel');

		const lock = async (short: string) => {
			await press(part, 'Lock what it would show');
			await fillIn(part, {
				'If “Glue short of its strength”, the test shows': short,
				'If “Load above the design”, the test shows': 'breaks in the wood, above 1 kN'
			});
			const often = part.getByLabel('How often, in that case', { exact: true }).first();
			await often.fill('often');
			await press(part, 'Lock it');
			await part.getByText('A probability lies between 0 and 1').first().waitFor();
			expect(await often.inputValue()).toBe('often');
			await often.fill('80 %');
			await screenshot(page, 'prediction-form');
			await expectAccessible(page);
			await keep(part, 'Lock it');
			await part.getByRole('heading', { name: 'Locked, waiting for the result' }).waitFor();
		};
		await lock('parts below 1 kN');
		await press(part, 'Withdraw the prediction');
		await fillIn(part, { 'Why it is withdrawn': 'the other joint is meant' });
		await keep(part, 'Withdraw the prediction');
		await lock('parts below 600 N, bare of fibres');
		await press(part, 'Enter the result');
		await fillIn(part, {
			'What it showed': 'bare of fibres',
			'Measured value': '430 ± 15 N',
			'This is': 'observed',
			'Trust in it': 'high'
		});
		await screenshot(page, 'result-form');
		await expectAccessible(page);
		await keep(part, 'Enter the result');
		await part.getByRole('heading', { name: 'Predicted, and shown' }).waitFor();
		const said = await textOf(part);
		for (const words of ['parts below 600 N', 'bare of fibres 430 ± 15 N', 'the other joint is meant', 'Ada'])
			expect(said).toContain(words);
		// The result becomes a sign in one step, with the links that were locked.
		await press(part, 'Weigh it on the tree');
		await part.getByText('Say first which outcome it was.').waitFor();
		await part.getByLabel('What it showed is').selectOption('parts below 600 N, bare of fibres');
		await press(part, 'Weigh it on the tree');
		const sign = part.getByRole('link', { name: 'F1 Pull test of the sister joint: parts below 600 N' });
		await sign.waitFor();
		expect(await part.getByRole('button').count()).toBe(0);
		await expectAccessible(page);
		await screenshot(page, 'prediction-result');
		await page.setViewportSize({ width: 375, height: 800 });
		await expectNoSidewaysScroll(page);
		await screenshot(page, 'prediction-result-375');
		await page.goto(`${made.path}/report`);
		expect(await textOf(page.getByRole('article'))).toContain('parts below 600 N, bare of fibres');
	}));
