import { describe, expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { withPage } from './support/page';

const statement = {
	title: 'The bulkhead came out',
	expected: 'in place',
	observed: 'gone',
	when: '',
	consequence: '',
	phase: 'descent',
	firstImpression: ''
};

describe('undo', () => {
	it('goes on after the page was loaded anew, step by step, and ends where the person began', async () => {
		await withPage({}, async (page) => {
			const id = await begin(page, 'Reloaded');
			await page.goto(`/investigations/${id}/anomalies`);
			const undo = page.getByRole('button', { name: 'Undo' });
			expect(await undo.isDisabled()).toBe(true);
			expect(await undo.getAttribute('title')).toContain('History takes back any line');
			await operate(page, id, [['anomaly.state', { id: 'a1', record: statement }]]);
			await page.goto(`/investigations/${id}/anomalies/a1/tree`);
			await page.locator('.frame').focus();
			await page.keyboard.press('b');
			await page.keyboard.type('Line parts');
			await page.keyboard.press('Enter');
			const rows = page.locator('.tree-list li');
			await expect.poll(() => rows.count()).toBe(3);

			await page.reload();
			await expect.poll(() => undo.isEnabled()).toBe(true);
			await undo.click();
			await expect.poll(() => rows.count()).toBe(2);
			await page.reload();
			await expect.poll(() => undo.isEnabled()).toBe(true);
			await undo.click();
			await page.getByRole('heading', { name: 'This anomaly is not here' }).waitFor();
			await expect.poll(() => undo.isDisabled()).toBe(true);
		});
	});
	it('what is refused is said once, moves nothing on the page, and goes with the next thing that is saved', async () => {
		await withPage({ allow: [/status of 40[09]/] }, async (page) => {
			const id = await begin(page, 'Refused');
			await operate(page, id, [['anomaly.state', { id: 'a1', record: statement }]]);
			await page.goto(`/investigations/${id}/anomalies/a1/tree`);
			const bar = page.locator('header.top');
			const height = async () => (await bar.boundingBox())!.height;
			const before = await height();
			await page.locator('.frame').focus();
			await page.keyboard.press('b');
			await page.keyboard.press('Enter');
			// Beside the field, and there only.
			await page.locator('.problem', { hasText: 'Name the failed state' }).waitFor();
			await page.getByText('Not saved', { exact: true }).waitFor();
			await page.waitForTimeout(300);
			expect(await page.locator('.why').count()).toBe(0);
			expect(await height()).toBe(before);
			await page.keyboard.type('Line parts');
			await page.keyboard.press('Enter');
			await page.getByText(/^Saved/).waitFor();

			// Somebody else changes what undo would take back: no form can say that.
			const rows = page.locator('.tree-list li');
			await expect.poll(() => rows.count()).toBe(3);
			const under = await page.locator('[data-place]').first().getAttribute('data-place');
			await operate(page, id, [['event.add', { under, kind: 'basic', title: 'Ring parts' }]], 3);
			await page.keyboard.press('Escape');
			await page.locator('.frame').focus();
			await page.keyboard.press('Control+z');
			await page.getByText(/Not saved\. This can’t be undone/).waitFor();
			expect(await height()).toBe(before);
			await page.keyboard.press('b');
			await page.keyboard.type('Pin stays');
			await page.keyboard.press('Enter');
			await page.getByText(/Not saved\. This can’t be undone/).waitFor({ state: 'detached' });
		});
	});
});
