import { describe, expect, it } from 'vitest';
import { begin } from './support/case';
import { field, fillIn, textOf } from './support/forms';
import { expectAccessible, expectNoSidewaysScroll, screenshot, withPage } from './support/page';

/** A refusal is an answer of 400 to a page of ours, which the browser notes in its console. */
const allow = [/status of 400/];

describe('a calculation whose rows are of several kinds', () => {
	it('asks each row for what its kind needs, answers, and compares what happened', async () => {
		await withPage({ allow }, async (page) => {
			const id = await begin(page, 'Torn off');
			await page.goto(`/investigations/${id}/calculations/new?calculation=attachment-strength`);
			await fillIn(page, { 'Greatest load on the path': '900 N' });

			const first = page.getByRole('group', { name: 'link 1' });
			await field(first, 'Breaking strength').waitFor();
			await fillIn(first, { Name: 'Bulkhead', 'Kind of link': 'Round plate that could bend and break' });
			await fillIn(first, {
				'Radius of the plate': '49 mm',
				'Radius of what presses on it': '10 mm',
				Thickness: '6 mm',
				'Bending strength': '35 MPa'
			});
			expect(await field(first, 'Breaking strength').count()).toBe(0);
			expect(await field(first, 'Outer diameter of the washer').count()).toBe(0);

			await page.getByRole('button', { name: 'Add a link' }).click();
			const second = page.getByRole('group', { name: 'link 2' });
			await fillIn(second, { Name: 'Eye bolt', 'Kind of link': 'Eye bolt, U-bolt or screw in tension' });
			await page.locator('[aria-busy="false"] .answer').waitFor();
			await page
				.locator('main')
				.getByText(/^Bulkhead is the weakest link/)
				.waitFor();
			await page.locator('.out figure svg').waitFor();

			expect(await field(page, 'Name of the link that failed first').count()).toBe(0);
			await fillIn(page, { 'What happened to the path': 'A link failed' });
			await fillIn(page, { 'Name of the link that failed first': 'Bulkhead' });
			await page
				.getByText(/Bulkhead would fail first in \d+ of 100 such loads, as it happened/)
				.first()
				.waitFor();
			expect(await textOf(page.locator('body'))).toMatch(/margins rest on typical strengths/);
			await expectAccessible(page);
			await screenshot(page, 'load-path');
			await page.setViewportSize({ width: 375, height: 800 });
			await expectNoSidewaysScroll(page);
			await screenshot(page, 'load-path-narrow');
		});
	});
});
