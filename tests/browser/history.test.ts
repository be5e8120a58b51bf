import type { Locator, Page } from 'playwright-core';
import { beforeEach, expect, inject, test } from 'vitest';
import { button, press, textOf } from './support/forms';
import { asWorker, makeCase, type MadeCase } from './support/made-case';
import { expectAccessible, expectNoSidewaysScroll, withPage } from './support/page';

const charge = {
	what: 'second charge',
	kind: 'charge',
	state: 'notKnown',
	by: '',
	at: '',
	evidence: null,
	note: ''
};
let made: MadeCase;
let id: string;
beforeEach(async () => {
	made = await makeCase(inject('baseUrl'), 'History');
	[id] = (await made.do('hazard.save', { record: charge })) as [string];
	await made.do('hazard.save', {
		id,
		record: { ...charge, state: 'safe', by: 'Ben', at: '2026-05-17 15:10' }
	});
	await made.do('hazard.save', { record: { ...charge, what: 'beacon cell', kind: 'cell' } });
});

const open = (path: string, use: (page: Page) => Promise<void>, over = {}) =>
	withPage(
		{ path: `${made.path}/history${path}`, context: asWorker('Ada', over), allow: [/status of 4\d\d/] },
		use
	);
const lines = (page: Page): Locator => page.locator('main ol > li');

test('every change stands there with who, what it was before, and the newest first', () =>
	open('', async (page) => {
		expect(await lines(page).count()).toBe(4);
		const [newest, safe] = [await textOf(lines(page).nth(0)), await textOf(lines(page).nth(1))];
		expect(newest).toMatch(/Ben .*beacon cell.* added/);
		expect(safe).toMatch(/not known ?→ ?became safe/);
		expect(safe).toContain('second charge');
		// The first line is the investigation itself.
		expect(await lines(page).last().getByRole('button').count()).toBe(0);
		await expectAccessible(page);
	}));

test('a change is taken back as a line of its own; one whose record has moved on says what did', () =>
	open('', async (page) => {
		const cell = lines(page).filter({ hasText: 'beacon cell' });
		await cell.getByRole('button', { name: /^Take it back/ }).press('Enter');
		await expect.poll(() => lines(page).count()).toBe(5);
		expect(await textOf(lines(page).first())).toMatch(/^.*Ada .*beacon cell.* removed/);
		// Added, then changed: the line that added the charge can't be taken back any more.
		expect(await lines(page).nth(3).getByRole('button').count()).toBe(0);

		// Somebody else changes the record after this page was shown.
		await made.do('hazard.save', {
			id,
			record: { ...charge, state: 'safe', by: 'Cleo', at: '2026-05-17 15:20' }
		});
		await lines(page)
			.nth(2)
			.getByRole('button', { name: /^Take it back/ })
			.click();
		await lines(page)
			.getByText(/has been changed since .*Cleo/)
			.waitFor();
		await page.reload();
		expect(await lines(page).count()).toBe(6);
	}));

test('of one record only its own lines, and the way back to all', () =>
	open(`?record=hazards/`, async (page) => {
		await page.goto(`${made.path}/history?record=hazards/${id}`);
		await page.getByText(/^Everything that was done to .*second charge/).waitFor();
		expect(await lines(page).count()).toBe(2);
		await page.getByRole('link', { name: 'The whole history' }).click();
		await expect.poll(() => lines(page).count()).toBe(4);
		await button(page, 'Undo').waitFor();
		expect(await button(page, 'Undo').isDisabled()).toBe(true);
	}));

test('undo on the page shows at once in the list, and redo after it', () =>
	open('', async (page) => {
		await lines(page)
			.first()
			.getByRole('button', { name: /^Take it back/ })
			.click();
		await expect.poll(() => lines(page).count()).toBe(5);
		await press(page, 'Undo');
		await expect.poll(() => lines(page).count()).toBe(6);
		expect(await textOf(lines(page).first())).toContain('beacon cell');
	}));

test('fits a phone, in the dark', () =>
	open(
		'',
		async (page) => {
			await expectNoSidewaysScroll(page);
			await expectAccessible(page);
		},
		{ viewport: { width: 375, height: 800 }, colorScheme: 'dark' }
	));
