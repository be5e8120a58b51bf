import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { margin } from './support/forms';
import { expectAccessible, withPage } from './support/page';

/** A refusal is an answer of 400 to a page of ours, which the browser notes in its console. */
const allow = [/status of 400/];
const statement = {
	title: 'The bulkhead came out',
	expected: 'in place',
	observed: 'gone',
	when: '',
	consequence: '',
	phase: 'descent',
	firstImpression: ''
};

/** Begins a departure with causes under its top; answers the path of its tree and what each cause is called in the file. */
async function made(page: Page, title: string, causes: readonly string[]) {
	const id = await begin(page, title);
	const [stated] = await operate(page, id, [['anomaly.state', { record: statement }]]);
	const anomaly = stated!.find(({ after }) => (after as { top?: string }).top !== undefined)!;
	const top = (anomaly.after as { top: string }).top;
	const added = await operate(
		page,
		id,
		causes.map((cause) => ['event.add', { under: top, kind: 'basic', title: cause }]),
		2
	);
	const events = added.map((changes) => changes.find((change) => change.id !== top)!.id);
	return { id, top, events, anomaly: anomaly.id, tree: `/investigations/${id}/anomalies/${anomaly.id}/tree` };
}
const place = (page: Page, name: string) => page.locator('[data-place]', { hasText: name }).locator('rect');
/** The drawing is there and lies still. */
async function drawn(page: Page) {
	let before = '';
	await expect
		.poll(async () => {
			const now = JSON.stringify(await page.locator('[data-place] rect').first().boundingBox());
			const still = now === before && now !== 'null';
			before = now;
			return still;
		})
		.toBe(true);
}
const heightOfTitles = (page: Page) =>
	page
		.locator('[data-place] text')
		.first()
		.evaluate((text) => {
			const g = (text as SVGTextElement).getScreenCTM()!;
			return Number(text.getAttribute('font-size')) * g.d;
		});

describe('the drawing of a fault tree', () => {
	it('opens large enough to read, says what lies outside, and goes there', async () => {
		await withPage({}, async (page) => {
			const { tree } = await made(
				page,
				'Wide',
				Array.from({ length: 12 }, (_, i) => `Line ${i + 1} parts`)
			);
			await page.goto(tree);
			await drawn(page);
			expect(await heightOfTitles(page)).toBeGreaterThan(11);
			const right = page.getByRole('button', { name: /more to the right$/ });
			const before = await right.textContent();
			await right.click();
			await expect.poll(() => right.textContent().catch(() => '')).not.toBe(before);
			await page.getByRole('button', { name: /more to the left$/ }).waitFor();
			await page.getByRole('button', { name: 'Fit' }).click();
			await right.waitFor({ state: 'detached' });
			await expectAccessible(page);
		});
	});
	it('has the word of a disposition beside its sign, and with how many others an event fails', async () => {
		await withPage({}, async (page) => {
			const { id, tree, anomaly, events } = await made(page, 'Words', [
				'Line parts',
				'Ring parts',
				'Pin stays'
			]);
			const group = { anomaly, title: 'one knot', events: events.slice(0, 2), model: 'beta', factors: [0.1] };
			await operate(
				page,
				id,
				[
					['disposition.set', { event: events[2], state: 'unlikely', reason: 'bent' }],
					['commonCause.add', { record: { ...group, basis: 'guess', basisNote: '' } }]
				],
				5
			);
			await page.goto(tree);
			const words = (name: string) =>
				page.locator('[data-place]', { hasText: name }).locator('.word').allTextContents();
			await expect.poll(() => words('Pin stays')).toEqual(['unlikely']);
			expect(await words('Line parts')).toEqual(['open', 'fails with 1 other']);
		});
	});
	it('stays put while a form is open, while a cause is added and while it is searched', async () => {
		await withPage({}, async (page) => {
			const { tree } = await made(page, 'Still', ['Line parts', 'Ring parts']);
			await page.goto(tree);
			await drawn(page);
			const at = async (name: string) => (await place(page, name).boundingBox())!;
			const scrolled = () => page.evaluate(() => window.scrollY);
			await page.locator('.frame').focus();
			const [before, down] = [await at('Line parts'), await scrolled()];
			const stays = async (name: string) => {
				const [{ x, y }, moved] = [await at(name), (await scrolled()) - down];
				expect([x, y + moved].map(Math.round)).toEqual([before.x, before.y].map(Math.round));
			};
			for (const key of ['b', 'g', 'r']) {
				await page.keyboard.press(key);
				await page.locator('form.begun').waitFor();
				await stays('Line parts');
				await page.keyboard.press('Escape');
				await stays('Line parts');
			}
			await page.keyboard.press('b');
			await page.keyboard.type('Cord parts');
			await page.keyboard.press('Enter');
			await place(page, 'Cord parts').waitFor({ state: 'attached' });
			await stays('Line parts');
			await page.keyboard.press('Escape');
			// What is lit goes out with the search, in the margin too.
			const whole = margin(page).getByRole('button', { name: 'Line parts' }).last();
			await whole.click();
			await page.getByText('Lit up, with a double frame: Line parts.').waitFor();
			expect(await whole.getAttribute('aria-pressed')).toBe('true');
			await page.getByLabel('Find an event').fill('Ring');
			await page.getByText('Lit up, with a double frame').waitFor({ state: 'detached' });
			expect(await whole.getAttribute('aria-pressed')).toBe('false');
			await stays('Line parts');
		});
	});
	it('says why a key does nothing here, and takes no text as the number of a gate', async () => {
		await withPage({ allow }, async (page) => {
			const { tree } = await made(page, 'Refused', ['Line parts', 'Ring parts', 'Pin stays']);
			await page.goto(tree);
			await page.locator('.frame').focus();
			await page.keyboard.press('ArrowDown');
			await page.keyboard.press('g');
			await page.getByText('There is no gate here yet').waitFor();
			await page.keyboard.press('ArrowUp');
			await page.getByText('There is no gate here yet').waitFor({ state: 'detached' });

			await page.keyboard.press('g');
			await page.getByLabel('Gate under').selectOption('atLeast');
			const k = page.getByLabel('How many of 4');
			for (const typed of ['abc', '', '1.5', '9', '0']) {
				await k.fill(typed);
				await k.press('Enter');
				await page.locator('form.begun .problem').waitFor();
				expect(await k.inputValue()).toBe(typed);
				await page.waitForTimeout(750);
			}
			await k.fill('3');
			await k.press('Enter');
			await page.getByText('3 of 4: at least 3 of these').waitFor();
		});
	});
	it('takes a common tree as a branch of a tree that stands already', async () => {
		await withPage({}, async (page) => {
			const { tree } = await made(page, 'Branch', ['Line parts']);
			await page.goto(tree);
			await page.getByRole('button', { name: 'Plant a ready branch here' }).click();
			await margin(page)
				.getByRole('heading', { name: /^Common trees/ })
				.waitFor();
			const common = margin(page).getByRole('button', { name: /^Plant here/ });
			expect(await common.count()).toBeGreaterThan(14);
			await common.nth(3).click();
			await margin(page)
				.getByText(/^Planted “/)
				.waitFor();
		});
	});
	it('a weight set by keys is tried, kept by Enter, and brought back by Escape', async () => {
		await withPage({}, async (page) => {
			const { id, tree, events } = await made(page, 'Slider', ['Line parts', 'Ring parts']);
			await operate(page, id, [['event.weigh', { event: events[0], weight: '6.5 %' }]], 4);
			await page.goto(tree);
			await page.locator('.frame').focus();
			await page.keyboard.press('ArrowDown');
			const slider = page.getByLabel('Try another starting weight');
			const says = page.locator('.slide output');
			await expect.poll(() => says.textContent()).toBe('6.5\u202f%');
			await slider.focus();
			await page.keyboard.press('ArrowRight');
			await page.getByText('Enter keeps it, Esc brings 6.5 % back.').waitFor();
			expect(await says.textContent()).not.toBe('6.5\u202f%');
			await page.keyboard.press('Escape');
			await expect.poll(() => says.textContent()).toBe('6.5\u202f%');
			await page.keyboard.press('ArrowRight');
			const tried = await says.textContent();
			await page.keyboard.press('Enter');
			await page.getByText(/^Saved/).waitFor();
			await page.reload();
			await page.locator('.frame').focus();
			await page.keyboard.press('ArrowDown');
			await expect.poll(() => says.textContent()).toBe(tried);
		});
	});
	it('as a list the fold stands before its event, and the numbers in one column; a wide margin keeps its figure small', async () => {
		await withPage({ context: { viewport: { width: 375, height: 800 } } }, async (page) => {
			const { id, tree, events } = await made(page, 'List', [
				'Line parts at the swivel under load',
				'Ring parts'
			]);
			await operate(page, id, [['event.add', { under: events[0], kind: 'basic', title: 'Worn' }]], 4);
			await page.goto(tree);
			const fold = page.getByRole('button', { name: 'Fold Line parts' });
			const box = async (of: ReturnType<Page['locator']>) => (await of.boundingBox())!;
			const [button, row] = [
				await box(fold),
				await box(page.locator('.row', { has: fold }).locator('.title'))
			];
			expect(button.x + button.width).toBeLessThanOrEqual(row.x + 1);
			expect(Math.abs(button.y - row.y)).toBeLessThan(12);
			expect(button.width).toBeGreaterThanOrEqual(24);
			const ends = await page
				.locator('.tree-list .weight')
				.evaluateAll((all) => all.map((one) => Math.round(one.getBoundingClientRect().right)));
			expect(new Set(ends).size).toBe(1);
			await page.setViewportSize({ width: 768, height: 900 });
			await page.locator('.tree-list').getByRole('button', { name: /^Worn/ }).click();
			expect((await box(page.locator('#event-notes figure').first())).width).toBeLessThanOrEqual(380);
			await expectAccessible(page);
		});
	});
});
