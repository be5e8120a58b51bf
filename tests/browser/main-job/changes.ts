import type { Page } from 'playwright-core';
import { button, fillIn, goTo, keep, margin, press, textOf } from '../support/forms';
import { expect } from 'vitest';
import { openTree, view } from './anomaly';
import { STORY } from './oracle';

const CHANGE = 'Pins that hold the vented bay';

/** The next build of the vehicle, from the record's link. */
export async function nextBuild(page: Page): Promise<void> {
	await goTo(page, 'Record');
	await page.getByRole('link', { name: 'All builds of this vehicle' }).click();
	await page.getByRole('heading', { level: 1, name: 'Plover' }).waitFor();
	await press(page, 'Add a build');
	await fillIn(page, { 'Name of the build': 'build 2' });
	await keep(page, 'Add');
	await page.getByRole('link', { name: /^build 2.*nothing holds it/ }).waitFor();
}

/** From a vehicle's page back to the investigation, over the list of them: what is concluded opens at its conclusion. */
async function toInvestigation(page: Page): Promise<void> {
	await page.getByRole('navigation', { name: 'Where you are' }).getByRole('link').first().click();
	// The vehicle's own page has a link of this name too.
	await page.getByRole('heading', { level: 1, name: 'Investigations' }).waitFor();
	await page.getByRole('link', { name: 'Plover, flight 3' }).click();
	await page.waitForURL(/\/conclusion$/);
}

/** Raised from the conclusion, for the next build, with the number against which it will be verified. */
export async function raise(page: Page): Promise<void> {
	await toInvestigation(page);
	await openTree(page);
	await view(page, 'Conclusion');
	await page.getByRole('link', { name: 'Raise a change from it' }).click();
	await page.getByRole('heading', { level: 2, name: 'Raise a change' }).waitFor();
	await fillIn(page, {
		'and the cause': `${STORY.pins} (contributed)`,
		'What changes, in one line': CHANGE,
		'Part or procedure': 'shear pins',
		Was: '2 pins of 2 mm',
		Becomes: '3 pins of 2 mm',
		'Who does it': 'Maren Holt',
		Until: '2031-07-01',
		For: 'Plover, build 2',
		'How it will be verified': 'pull test on three joints'
	});
	await page.getByRole('checkbox', { name: 'The build may not fly without it' }).check();
	const number = page.getByRole('group', { name: /^Against what number/ });
	await fillIn(number, { Measured: 'load at which the joint parts', is: 'at least', value: '250 N' });
	await keep(page, 'Raise');
	await margin(page)
		.getByRole('heading', { name: `C1 ${CHANGE}` })
		.waitFor();
	await page.getByRole('heading', { level: 2, name: /^Hold .*build 2/ }).waitFor();
	await page.getByRole('link', { name: /^Changes.*1 holds the next build/ }).waitFor();
}

async function toVehicle(page: Page): Promise<void> {
	await margin(page).getByRole('link', { name: 'What holds the build' }).click();
	await page.getByRole('heading', { level: 1, name: 'Plover' }).waitFor();
	await page.getByRole('link', { name: /^build 2/ }).click();
	await margin(page).getByRole('heading', { name: 'May build 2 fly?' }).waitFor();
}

/** The build can't be cleared while the change is open, and the refusal names it. */
export async function heldBack(page: Page): Promise<void> {
	await toVehicle(page);
	await margin(page)
		.getByRole('link', { name: `C1 ${CHANGE}` })
		.waitFor();
	await press(margin(page), 'Clear to fly');
	await press(margin(page).locator('form'), 'Clear to fly');
	await margin(page).getByRole('alert').getByText(CHANGE).first().waitFor();
	expect(await textOf(margin(page).getByRole('alert'))).toMatch(/is proposed, not verified/);
	await press(margin(page), 'Cancel');
	await margin(page)
		.getByRole('link', { name: `C1 ${CHANGE}` })
		.click();
	await margin(page)
		.getByRole('heading', { name: `C1 ${CHANGE}` })
		.waitFor();
}

/** One step on in the margin. */
async function take(page: Page, verb: string, said: Record<string, string> = {}): Promise<void> {
	await press(margin(page), verb);
	await fillIn(margin(page).locator('form'), said);
	await keep(margin(page), verb);
}

/** Made is not verified: that takes a test and its number, with the uncertainty. */
export async function verify(page: Page): Promise<void> {
	const change = page.url();
	await take(page, 'Accept');
	await take(page, 'Mark as made', { 'What was done': 'third pin drilled and fitted' });
	await press(margin(page), 'Verify');
	const form = margin(page).locator('form');
	await fillIn(form, { Measured: '291 ± 8 N' });
	await form.getByText('meets it').waitFor();
	await press(form, 'Verify');
	await form.getByText('Cite the test or measurement that shows it').first().waitFor();
	await press(form, 'Cancel');

	await goTo(page, 'Evidence');
	await page.getByRole('navigation', { name: 'Add evidence' }).getByRole('link', { name: 'Test' }).click();
	await fillIn(page, {
		'In one line: what is it?': 'pull test of the joint with three pins',
		'Kind of test': 'pull test',
		Result: 'three joints parted cleanly',
		'Trust in it': 'high',
		'Measured value': '291 ± 8 N',
		'Why nothing was predicted': 'pulled before it was entered here',
		'This is': 'observed'
	});
	await keep(page, 'Keep this item');
	await page.goto(change);
	await press(margin(page), 'Verify');
	await fillIn(form, { Measured: '291 ± 8 N' });
	await form
		.getByLabel('Evidence that shows it: add')
		.selectOption({ label: 'E7 test: pull test of the joint with three pins' });
	await keep(margin(page), 'Verify');
	await button(margin(page), 'Record its flight').waitFor();
	await page
		.getByRole('heading', { level: 2, name: 'Verified, waiting to be confirmed in flight' })
		.waitFor();
}

/** With nothing that holds it the build is cleared, by name. */
export async function clear(page: Page): Promise<void> {
	await toVehicle(page);
	await press(margin(page), 'Clear to fly');
	const form = margin(page).locator('form');
	await press(form, 'Clear to fly');
	await form.getByText('Look whether C1').waitFor();
	await form.getByRole('checkbox', { name: 'Looked at: C1' }).check();
	await fillIn(form, { 'Cleared by': 'Maren Holt' });
	await keep(margin(page), 'Clear to fly');
	await margin(page).getByText('Cleared to fly').first().waitFor();
	expect(await textOf(margin(page))).toContain('by Maren Holt');
	await page.getByRole('link', { name: /^build 2.*cleared to fly/ }).waitFor();
}

/** Flown, and closed by what the flight showed of the departure. */
export async function close(page: Page): Promise<void> {
	await toInvestigation(page);
	await goTo(page, 'Changes');
	await page.getByRole('link', { name: CHANGE }).click();
	await take(page, 'Record its flight', { Flight: 'flight 4, 2031-07-12' });
	await press(margin(page), 'Close');
	const form = margin(page).locator('form');
	await press(form, 'Close');
	await form.getByText(`Say what the flight or test showed of “${STORY.anomaly}”.`).waitFor();
	await fillIn(form, {
		'Was the failure turned on and off?': 'off only: gone with the change, not brought back without it'
	});
	await fillIn(form, { [`What it showed of “${STORY.anomaly}”`]: 'joined until the main opened at 200 m' });
	await keep(margin(page), 'Close');
	await page.getByRole('link', { name: /^Changes.*all closed/ }).waitFor();
	for (const step of ['proposed', 'accepted', 'made', 'verified', 'flown', 'closed'])
		expect(await textOf(margin(page))).toContain(step);
}
