import type { Page } from 'playwright-core';
import { afterEach, beforeEach, expect, inject, test } from 'vitest';
import { asWorker, makeCase, type MadeCase } from './support/made-case';
import { button, field, fillIn, keep, press, section, textOf } from './support/forms';
import { openPage, type WatchedPage } from './support/page';

/* Ada at the laptop and Ben at the phone have the same investigation open. */
let made: MadeCase;
let watched: WatchedPage[];
let ada: Page;
let ben: Page;

beforeEach(async () => {
	made = await makeCase(inject('baseUrl'), 'Two at work');
	const what = { kind: 'charge', state: 'notKnown', by: '', at: '', evidence: null, note: '' };
	await made.do('hazard.save', { record: { ...what, what: 'second charge' } });
	const allow = [/status of 4\d\d/];
	watched = await Promise.all(['Ada', 'Ben'].map((name) => openPage({ context: asWorker(name), allow })));
	[ada, ben] = watched.map(({ page }) => page) as [Page, Page];
	for (const page of [ada, ben]) await page.goto(`${made.path}/record`);
});
afterEach(async ({ task }) => {
	for (const one of watched) await (task.result?.state === 'fail' ? one.fail() : one.close());
});

const addPart = async (page: Page, part: string) => {
	const vehicle = section(page, 'Vehicle, build and parts');
	await press(vehicle, 'Add a part');
	await fillIn(vehicle, { Part: part });
	await keep(vehicle);
};
const safe = (page: Page) => section(page, 'Make safe');

test('two changes of the same record: the later one is refused with what stands there now, and stays typed', async () => {
	for (const page of [ada, ben]) await press(safe(page), 'change second charge');
	await fillIn(safe(ben), { 'What is it?': 'second charge, aft bay' });
	await keep(safe(ben));
	await fillIn(safe(ada), { 'What is it?': 'second charge, forward bay' });
	await press(safe(ada), 'Save');
	const said = safe(ada).getByRole('alert');
	await said.getByText('second charge, aft bay').first().waitFor();
	expect(await field(safe(ada), 'What is it?').inputValue()).toBe('second charge, forward bay');
	await ben.reload();
	await safe(ben).getByText('second charge, aft bay').first().waitFor();
	// Having seen it she decides: what she saves now stands. Pressed at once it counts as a double press.
	const saves = button(safe(ada), 'Save');
	await expect
		.poll(async () => {
			if (await saves.isVisible()) await saves.click();
			return safe(ada).locator('form').count();
		})
		.toBe(0);
	await ben.reload();
	await safe(ben).getByText('second charge, forward bay').first().waitFor();
});

test('changes of different records both stand', async () => {
	await addPart(ada, 'nose cone');
	await addPart(ben, 'fin can');
	for (const page of [ada, ben]) {
		await page.reload();
		await page.getByText('2 parts: 2 unaccounted for.').waitFor();
	}
});

test('what another did meanwhile is not overwritten, even after a change of something else', async () => {
	await press(safe(ada), 'change second charge');
	await press(safe(ben), 'change second charge');
	await fillIn(safe(ben), { Notes: 'leads are shunted' });
	await keep(safe(ben));
	// Ada's page learns of a later state by a change of its own elsewhere; her open form is still of the earlier one.
	await addPart(ada, 'nose cone');
	await fillIn(safe(ada), { 'What is it?': 'second charge, forward bay' });
	await press(safe(ada), 'Save');
	await safe(ada).getByRole('alert').getByText('leads are shunted').first().waitFor();
	expect(await field(safe(ada), 'What is it?').inputValue()).toBe('second charge, forward bay');
	await ben.reload();
	await safe(ben).getByText('leads are shunted').waitFor();
});

test('undo and redo take back and bring again what was done here, unless another changed it since', async () => {
	const vehicle = section(ada, 'Vehicle, build and parts');
	await addPart(ada, 'nose cone');
	await press(ada, 'Undo');
	await vehicle.getByRole('row', { name: /nose cone/ }).waitFor({ state: 'detached' });
	expect(await button(ada, 'Undo').isDisabled()).toBe(true);
	await press(ada, 'Redo');
	await vehicle.getByRole('row', { name: /nose cone/ }).waitFor();
	await ben.reload();
	await field(ben, 'What came back of nose cone').selectOption({ label: 'recovered' });
	await ben.getByText('1 part: 1 recovered.').waitFor();
	await press(ada, 'Undo');
	await ada
		.getByText(/can’t be undone/)
		.first()
		.waitFor();
	expect(await textOf(ada.getByRole('banner'))).toMatch(/recovered/);
	await ben.reload();
	await ben.getByText('1 part: 1 recovered.').waitFor();
});
