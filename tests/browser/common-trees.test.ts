import { describe, expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { expectAccessible, expectNoSidewaysScroll, withPage } from './support/page';

const record = {
	title: 'Nothing came out at apogee',
	expected: 'drogue out at apogee',
	observed: 'fell whole',
	when: '',
	consequence: '',
	phase: 'apogee',
	firstImpression: ''
};

describe('a common tree', () => {
	it('is planted with one key where the tree is empty, is edited, and goes again with one undo', async () => {
		await withPage({}, async (page) => {
			const id = await begin(page, 'Common tree');
			await operate(page, id, [['anomaly.state', { id: 'a1', record }]]);
			await page.goto(`/investigations/${id}/anomalies/a1/tree`);
			const offer = page.getByRole('button', { name: 'Plant: No deployment' });
			await offer.waitFor();
			await expectAccessible(page);
			await offer.press('Enter');
			await page.getByText('Planted “No deployment”').waitFor();
			await expect.poll(() => offer.count()).toBe(0);
			await page
				.locator('.tree-list', { hasText: 'Shear pins held more than was planned' })
				.waitFor({ state: 'attached' });
			await expectAccessible(page);

			// The keyboard goes on in the tree: down to its first cause, whose note and name are there to change.
			await page.keyboard.press('ArrowDown');
			const chosen = page.locator('#event-notes h2');
			await expect.poll(() => chosen.textContent()).toBe('No charge burned');
			await page.keyboard.press('F2');
			const title = page.getByLabel('Name of the failed state');
			await title.fill('Neither charge burned');
			await title.press('Enter');
			await expect.poll(() => chosen.textContent()).toBe('Neither charge burned');

			await page.getByRole('link', { name: 'See its signs' }).click();
			await page.waitForURL(/\/findings$/);
			await page.getByText('Charge holder still full').first().waitFor();
			await page.getByRole('navigation', { name: 'Views of this anomaly' }).getByText('Tree').click();
			await page.waitForURL(/\/tree$/);
			await page.locator('.frame').focus();
			// Pressed twice at once it takes back both: the new name and the tree.
			await page.keyboard.press('Control+z');
			await page.keyboard.press('Control+z');
			await offer.waitFor();
			await expect.poll(() => page.locator('.tree-list li').count()).toBe(2);
		});
	});

	it('is offered on a phone without scrolling sideways', async () => {
		await withPage({ context: { viewport: { width: 375, height: 800 } } }, async (page) => {
			const id = await begin(page, 'Common tree on a phone');
			await operate(page, id, [['anomaly.state', { id: 'a1', record }]]);
			await page.goto(`/investigations/${id}/anomalies/a1/tree`);
			const offer = page.getByRole('button', { name: 'Plant: Lost vehicle' });
			await offer.waitFor();
			await expectNoSidewaysScroll(page);
			await expectAccessible(page);
			await offer.click();
			await page.locator('.tree-list', { hasText: 'No signal leads to it' }).waitFor();
			await expectNoSidewaysScroll(page);
			await expectAccessible(page);
		});
	});
});
