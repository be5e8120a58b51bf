import type { Locator, Page } from 'playwright-core';
import { beforeAll, expect, inject, test } from 'vitest';
import { button, field, group, margin, section, textOf } from './support/forms';
import { asWorker, makeCase, makeTree, type MadeCase } from './support/made-case';
import { withPage } from './support/page';

/* Nothing here is clicked: what cannot be reached and done by the keyboard alone fails. */
let made: MadeCase;
beforeAll(async () => {
	made = await makeCase(inject('baseUrl'), 'By keyboard');
	const site = {
		name: '',
		pad: { kind: 'typed', typed: '50.2967 N, 14.8167 E', circle: { radius: '4 m', level: 0.95 } },
		elevation: '',
		declinationDeg: '',
		ownersLeave: 'notKnown',
		powerLines: 'notKnown',
		water: 'notKnown',
		fireRisk: 'notKnown',
		accessNote: '',
		told: []
	};
	await made.do('site.save', { record: site });
});

const at = (path: string, use: (page: Page) => Promise<void>) =>
	withPage({ path: `${made.path}${path}`, context: asWorker(), allow: [/status of 4\d\d/] }, use);

const isFocused = (locator: Locator) =>
	locator.evaluateAll((all) => all.some((element) => element === document.activeElement));

/** Presses Tab until the control has the focus. Every stop on the way is somewhere in the page. */
async function tabTo(page: Page, control: Locator, key = 'Tab'): Promise<void> {
	for (let n = 0; n < 120; n++) {
		if (await isFocused(control)) return;
		await page.keyboard.press(key);
	}
	throw new Error(`the keyboard does not reach ${String(control)}`);
}

/** Goes on to a control and types into it; letters choose in a list of options. */
async function type(page: Page, control: Locator, text: string): Promise<void> {
	await tabTo(page, control);
	await page.keyboard.type(text);
}

async function enter(page: Page, control: Locator): Promise<void> {
	await tabTo(page, control);
	await page.keyboard.press('Enter');
}

test('the first stop leads past the line of work to the sheet', () =>
	at('/record', async (page) => {
		await page.keyboard.press('Tab');
		const skip = page.getByRole('link', { name: 'Skip to the sheet' });
		expect(await isFocused(skip)).toBe(true);
		await expect.poll(async () => (await skip.boundingBox())?.y ?? -1).toBeGreaterThanOrEqual(0);
		await page.keyboard.press('Enter');
		await page.keyboard.press('Tab');
		expect(await page.evaluate(() => document.activeElement?.closest('main') !== null)).toBe(true);
	}));

test('two pieces are added, and chosen on the plan', () =>
	at('/record', async (page) => {
		const work = page.getByRole('navigation', { name: 'Line of work' });
		await enter(page, work.getByRole('link', { name: /^Evidence/ }));
		await page.getByRole('heading', { level: 1, name: 'Evidence' }).waitFor();
		for (const [title, place] of [
			['nose cone', '50.2990 N, 14.8180 E'],
			['fin can', '50.2985 N, 14.8190 E']
		] as const) {
			await enter(page, page.getByRole('link', { name: 'Found piece', exact: true }));
			const first = field(page, 'In one line: what is it?');
			// The form takes the keyboard along.
			await expect.poll(() => isFocused(first)).toBe(true);
			await page.keyboard.type(title);
			await type(page, group(page, 'Where').getByLabel('Given as'), 'coord');
			await type(page, field(page, 'Coordinates'), place);
			await type(page, field(page, 'This is'), 'obs');
			await enter(page, button(page, 'Keep this item'));
			await page.getByRole('link', { name: new RegExp(title) }).waitFor();
			// And gives it back: nobody has to begin at the top of the page again.
			await expect.poll(() => page.evaluate(() => document.activeElement?.tagName)).not.toBe('BODY');
		}
		await enter(page, work.getByRole('link', { name: /^Ground/ }));
		const plan = page.getByRole('group', { name: /^Plan\. Arrow keys/ });
		await enter(page, plan.getByRole('button', { name: /nose cone/ }));
		await margin(page)
			.getByRole('heading', { name: /nose cone/ })
			.waitFor();
		await tabTo(page, plan.getByRole('button', { name: /fin can/ }));
		await page.keyboard.press('Space');
		await expect.poll(() => textOf(margin(page))).toContain('apart');
		await tabTo(page, plan, 'Shift+Tab');
		const before = await plan.innerHTML();
		await page.keyboard.press('+');
		await expect.poll(() => plan.innerHTML()).not.toBe(before);
		await page.keyboard.press('0');
		await expect.poll(() => plan.innerHTML()).toBe(before);
	}));

test('a tree is built, walked and mended in its list by keys', async () => {
	const { anomaly } = await makeTree(made, ['vent hole closed']);
	await at(`/anomalies/${anomaly}/tree`, async (page) => {
		await enter(page, button(page, 'Show as a list'));
		const list = page.getByRole('list', { name: 'Fault tree' });
		const event = (title: string) => list.getByRole('button', { name: new RegExp(`^${title}`) });
		const chosen = (title: string) =>
			expect.poll(() => event(title).first().getAttribute('aria-pressed'), { message: title }).toBe('true');
		await enter(page, event('vent hole closed'));
		await chosen('vent hole closed');

		await page.keyboard.press('n');
		const beside = field(page, 'Beside “vent hole closed”');
		await expect.poll(() => isFocused(beside)).toBe(true);
		await page.keyboard.type('pins too weak');
		await page.keyboard.press('Enter');
		await event('pins too weak').waitFor();
		await page.keyboard.press('Escape');
		await beside.waitFor({ state: 'detached' });
		// The keys of the tree work on at once, without a way back to it.
		await page.keyboard.press('b');
		await page.keyboard.type('tape over the hole');
		await page.keyboard.press('Enter');
		await page.keyboard.press('Escape');
		await event('tape over the hole').waitFor();
		await page.keyboard.press('ArrowDown');
		await chosen('tape over the hole');
		await page.keyboard.press('r');
		await expect.poll(() => isFocused(field(page, 'Name of the failed state'))).toBe(true);
		await page.keyboard.press('ControlOrMeta+a');
		await page.keyboard.type('tape left over the hole');
		await page.keyboard.press('Enter');
		await event('tape left over the hole').waitFor();
		await page.keyboard.press('ArrowUp');
		await chosen('vent hole closed');
		await page.keyboard.press('g');
		await page.keyboard.type('AND');
		await enter(page, button(page, 'Set the gate'));
		await expect.poll(() => textOf(event('vent hole closed'))).toMatch(/AND/);
		await page.keyboard.press('ArrowDown');
		await chosen('tape left over the hole');
		await page.keyboard.press('Delete');
		await enter(page, page.locator('form').getByRole('button', { name: 'Remove' }));
		await event('tape left over the hole').waitFor({ state: 'detached' });
		await page.keyboard.press('ControlOrMeta+z');
		await event('tape left over the hole').waitFor();
		await page.keyboard.press('ControlOrMeta+y');
		await event('tape left over the hole').waitFor({ state: 'detached' });
	});
});

test('a branch is disposed of, and a sign is said to be there', async () => {
	const { anomaly } = await makeTree(made, ['vent hole closed']);
	await at(`/anomalies/${anomaly}/findings`, async (page) => {
		await enter(page, button(page, 'Add a sign to look for'));
		await expect.poll(() => isFocused(field(page, 'Sign that could be looked for'))).toBe(true);
		await page.keyboard.type('tape over the vent hole');
		await page.keyboard.press('Enter');
		const sign = group(page, 'F1: tape over the vent hole').first();
		await sign.waitFor();
		// Of three radio buttons the chosen one is the stop; arrow keys choose another.
		await tabTo(page, sign.getByRole('radio'));
		await page.keyboard.press('ArrowLeft');
		await page.keyboard.press('ArrowLeft');
		await expect.poll(() => sign.getByRole('radio', { name: 'present' }).isChecked()).toBe(true);
		await enter(
			page,
			page
				.getByRole('navigation', { name: 'Views of this anomaly' })
				.getByRole('link', { name: /^Conclusion/ })
		);
		await enter(page, section(page, 'Every branch').getByRole('button', { name: 'vent hole closed' }));
		await margin(page).getByRole('heading', { level: 2, name: 'vent hole closed' }).waitFor();
		await type(page, field(margin(page), 'Decided'), 'Unl');
		await type(page, field(margin(page), 'Because'), 'the hole was open in the photo');
		await enter(page, button(margin(page), 'Decide'));
		await margin(page).getByText('Decided: unlikely').waitFor();
	});
});
