import type { Page } from 'playwright-core';
import { beforeAll, expect, inject, test } from 'vitest';
import { button, field, fillIn, keep, margin, press, section, textOf } from './support/forms';
import { asWorker, makeCase, makeTree, type MadeCase } from './support/made-case';
import { expectAccessible, withPage } from './support/page';

let made: MadeCase;
beforeAll(async () => {
	made = await makeCase(inject('baseUrl'), 'Decided');
});

const at = (path: string, use: (page: Page) => Promise<void>) =>
	withPage({ path: `${made.path}${path}`, context: asWorker(), allow: [/status of 4\d\d/] }, use);
const chosen = (page: Page, name: string) => margin(page).getByRole('heading', { level: 2, name }).waitFor();
const notReviewed = (page: Page) => margin(page).getByText('Not independently reviewed.');

test('what is typed of a decision is lost neither by choosing another event nor by leaving, unless that is agreed to', async () => {
	const { anomaly } = await makeTree(made, ['vent hole closed', 'pins too weak']);
	await at(`/anomalies/${anomaly}/conclusion`, async (page) => {
		const asked: string[] = [];
		let leave = false;
		page.on('dialog', (dialog) => {
			asked.push(dialog.message());
			void (leave ? dialog.accept() : dialog.dismiss());
		});
		const branches = section(page, 'Every branch');
		await press(branches, 'vent hole closed');
		await chosen(page, 'vent hole closed');
		await fillIn(margin(page), { Decided: 'Unlikely', Because: 'the hole was open in the photo' });

		await press(branches, 'pins too weak');
		await expect.poll(() => asked).toHaveLength(1);
		await chosen(page, 'vent hole closed');
		expect(await field(margin(page), 'Because').inputValue()).toBe('the hole was open in the photo');
		await page.getByRole('link', { name: /^Findings/ }).click();
		await expect.poll(() => asked).toHaveLength(2);
		expect(page.url()).toContain('/conclusion');

		leave = true;
		await press(branches, 'pins too weak');
		await chosen(page, 'pins too weak');
		expect(new Set(asked)).toEqual(new Set(['What you typed here is not saved yet. Leave it?']));
		// Nothing is typed now, so nothing is asked.
		await press(branches, 'vent hole closed');
		await chosen(page, 'vent hole closed');
		expect(asked).toHaveLength(3);
	});
});

test('a double press decides once; a second look is another person’s, and a new decision asks for a new one', async () => {
	const { anomaly, events } = await makeTree(made, ['vent hole closed']);
	await at(`/anomalies/${anomaly}/tree?event=${events['vent hole closed']}`, async (page) => {
		await chosen(page, 'vent hole closed');
		await press(margin(page), 'Decide');
		await margin(page).getByText('Choose what was decided.').waitFor();
		await fillIn(margin(page), { Decided: 'Unlikely', Because: 'the hole was open in the photo' });
		const before = await made.rev();
		await button(margin(page), 'Decide').dblclick();
		await notReviewed(page).waitFor();
		expect(await made.rev()).toBe(before + 1);

		await press(margin(page), 'note who looked at it');
		await fillIn(margin(page), { 'Looked at by': 'ada' });
		await press(margin(page), 'Keep');
		await margin(page).getByText('Ada decided it. A second look is taken by somebody else.').waitFor();
		expect(await field(margin(page), 'Looked at by').inputValue()).toBe('ada');
		await expectAccessible(page);
		await fillIn(margin(page), { 'Looked at by': 'Ben' });
		await keep(margin(page), 'Keep');
		await margin(page).getByText('Looked at by Ben.').waitFor();

		await press(margin(page), 'Decide anew');
		await expect
			.poll(() => field(margin(page), 'Decided').evaluate((e) => e === document.activeElement))
			.toBe(true);
		await fillIn(margin(page), { Decided: 'Likely' });
		await keep(margin(page), 'Decide');
		await notReviewed(page).waitFor();
		await press(page, 'Undo');
		await margin(page).getByText('Looked at by Ben.').waitFor();
		expect(await textOf(margin(page))).toContain('Decided: unlikely');
	});
});

test('a statement is put better, refused in words where it says too little, and its first impression is sealed', async () => {
	const { anomaly } = await makeTree(made, []);
	await at(`/anomalies/${anomaly}/tree`, async (page) => {
		await press(page, 'Edit the statement');
		const title = page.getByLabel('What departed from the expected');
		await title.fill('The nose cone came away because the pins were weak');
		await page.getByText('“because” brings a cause into the statement').waitFor();
		await title.fill('');
		await fillIn(page, {
			Observed: 'away at 410 m',
			Expected: 'joined until 200 m',
			'Your first impression': 'the pins'
		});
		await page.getByText('observed 410 m, expected 200 m: 210 m more').waitFor();
		await press(page.locator('main'), 'Keep');
		await page.locator('form').getByText('State the departure in one line, without a cause.').waitFor();
		expect(await field(page, 'Observed').inputValue()).toBe('away at 410 m');
		await expectAccessible(page);
		await title.fill('The nose cone was away at 410 m');
		await press(page.locator('main'), 'Keep');
		await page.getByRole('heading', { level: 1, name: 'The nose cone was away at 410 m' }).waitFor();

		await press(page, 'Edit the statement');
		await page.getByText('First impression, sealed: “the pins”').waitFor();
		expect(await field(page, 'Your first impression').count()).toBe(0);
		await press(page, 'Close');
		await page.getByRole('link', { name: /^Findings/ }).click();
		await page.waitForURL(/findings$/);
	});
});
