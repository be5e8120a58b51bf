import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { expectAccessible, expectNoSidewaysScroll, withPage } from './support/page';

/** A refusal is an answer of 400 to a page of ours, which the browser notes in its console. */
const allow = [/status of 400/];
const problem = (page: Page, text: string) => page.locator('.problem', { hasText: text });
const chosen = (page: Page) => page.locator('#event-notes h2');

describe('an anomaly', () => {
	it('is stated, and its tree built, weighed and undone with the keyboard alone', async () => {
		await withPage({ allow }, async (page) => {
			const id = await begin(page, 'Keys');
			await page.goto(`/investigations/${id}/anomalies`);
			await page.getByRole('button', { name: 'State a departure' }).press('Enter');
			await page.getByLabel('What departed from the expected').fill('Main late because the pin stuck');
			await expectAccessible(page);
			await page.getByText('“because” brings a cause into the statement').waitFor();
			await page.getByRole('button', { name: 'State it' }).press('Enter');
			await problem(page, 'Say what was expected.').waitFor();
			await page.getByLabel('What departed from the expected').fill('The main opened at 40 m');
			await page.getByLabel('Expected', { exact: true }).fill('main open at 200 m');
			await page.getByLabel('Observed', { exact: true }).fill('main open at 40 m');
			await page.getByRole('button', { name: 'State it' }).press('Enter');
			await page.waitForURL(/\/tree$/);

			await page.locator('.frame').focus();
			await page.keyboard.press('b');
			const title = page.getByLabel('Below “The main opened at 40 m”');
			await title.press('Enter');
			await problem(page, 'Name the failed state').waitFor();
			for (const cause of ['Timer fired late', 'Bag stuck in the tube']) {
				await title.fill(cause);
				await title.press('Enter');
				await expect.poll(() => title.inputValue()).toBe('');
			}
			await page.keyboard.press('Escape');
			await page.keyboard.press('ArrowDown');
			await expect.poll(() => chosen(page).textContent()).toBe('Timer fired late');
			await page.keyboard.press('ArrowRight');
			await expect.poll(() => chosen(page).textContent()).toBe('Bag stuck in the tube');

			const weight = page.getByLabel('How often this happens on a flight like this', { exact: true });
			await weight.fill('1.2');
			await weight.press('Tab');
			await problem(page, 'lies between 0 and 1').waitFor();
			expect(await weight.inputValue()).toBe('1.2');
			await weight.fill('20 %');
			await weight.press('Tab');
			// Three branches of .05, .20 and .05 under an OR: .2 / (1 - .95 * .8 * .95), worked by hand.
			await page.getByText('given that it happened 72 %').waitFor();
			await expectAccessible(page);

			// A press hits what is drawn there, also when what stands above the drawing has grown.
			await page.evaluate(() => {
				const above = document.createElement('div');
				above.style.height = '60px';
				document.querySelector('.tree')!.before(above);
			});
			for (const name of ['Timer fired late', 'Bag stuck in the tube']) {
				const box = await page.locator('[data-place]', { hasText: name }).locator('rect').boundingBox();
				await page.mouse.click(box!.x + 8, box!.y + 6);
				await expect.poll(() => chosen(page).textContent()).toBe(name);
			}

			await page.locator('.frame').focus();
			await page.keyboard.press('Delete');
			await page.getByRole('button', { name: 'Remove', exact: true }).last().press('Enter');
			const rows = page.locator('.tree-list li');
			await expect.poll(() => rows.count()).toBe(3);
			await page.locator('.frame').focus();
			await page.keyboard.press('Control+z');
			await expect.poll(() => rows.count()).toBe(4);
		});
	});

	it('is weighed again at each press, says what would tell most, and waits with its conclusion', async () => {
		await withPage({ allow }, async (page) => {
			const id = await begin(page, 'Signs');
			const top = { title: 'The bulkhead came out', expected: 'in place', observed: 'gone' };
			const blank = { when: '', consequence: '', phase: 'descent', firstImpression: '' };
			await operate(page, id, [['anomaly.state', { id: 'a1', record: { ...top, ...blank } }]]);
			await page.goto(`/investigations/${id}/anomalies/a1/conclusion`);
			await page
				.getByText('One thing stands in the way')
				.or(page.getByText('things stand in the way'))
				.waitFor();
			await page.getByLabel('It ends').selectOption('probableCause');
			await page.getByRole('button', { name: 'Conclude' }).click();
			await problem(page, 'Write the conclusion.').waitFor();
			await expectAccessible(page);

			await page.goto(`/investigations/${id}/anomalies/a1/tree`);
			await page.locator('.frame').focus();
			await page.keyboard.press('b');
			await page.keyboard.type('Glue never wetted the tube');
			await page.keyboard.press('Enter');
			await expect.poll(() => page.locator('.tree-list li').count()).toBe(3);

			await page.getByRole('link', { name: /^Findings/ }).click();
			await page.getByRole('button', { name: 'Add a sign to look for' }).click();
			await page.getByLabel('Sign that could be looked for').fill('Glue line bare');
			await page.getByRole('button', { name: 'Add', exact: true }).click();
			await page
				.getByLabel('Add an event that shows this sign')
				.selectOption({ label: 'Glue never wetted the tube' });
			await page.getByText('P(sign | this alone)').waitFor();
			const next = page.getByRole('region', { name: 'Would tell most' });
			// With one cause only, the sign is as likely if nobody has thought of the cause.
			await next.getByText('nothing left would change this: the one sign').waitFor();

			const signs = page.locator('main').getByRole('group', { name: /^F1/ });
			await signs.getByText('present', { exact: true }).click();
			await page.locator('.tells strong').waitFor();
			await expectAccessible(page);
			await page.getByLabel('Against causes').check();
			await expectAccessible(page);
		});
	});

	it('fits a phone, where the tree is a list, in light and dark', async () => {
		for (const colorScheme of ['light', 'dark'] as const)
			await withPage({ context: { viewport: { width: 375, height: 800 }, colorScheme } }, async (page) => {
				const id = await begin(page, `Phone ${colorScheme}`);
				const record = {
					title:
						'A statement that is long enough to take several lines on a narrow screen, and one unbreakableunbreakableunbreakableword',
					expected: 'one piece',
					observed: 'two pieces',
					when: '',
					consequence: '',
					phase: 'descent',
					firstImpression: ''
				};
				await operate(page, id, [['anomaly.state', { id: 'a1', record }]]);
				for (const view of ['', '/a1/tree', '/a1/findings', '/a1/conclusion']) {
					await page.goto(`/investigations/${id}/anomalies${view}`);
					await page.getByRole('heading', { level: 1 }).waitFor();
					await expectNoSidewaysScroll(page);
					await expectAccessible(page);
				}
				await page.goto(`/investigations/${id}/anomalies/a1/tree`);
				expect(await page.locator('.tree-list').isVisible()).toBe(true);
				expect(await page.locator('.frame').isVisible()).toBe(false);
			});
	});
});
