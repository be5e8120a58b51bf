import { expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { fillIn, keep, margin, press, section, textOf } from './support/forms';
import { expectAccessible, expectNoSidewaysScroll, screenshot, withPage } from './support/page';

const record = {
	title: 'Nothing came out at apogee',
	expected: 'drogue out at apogee',
	observed: 'fell whole',
	when: '',
	consequence: '',
	phase: 'apogee',
	firstImpression: ''
};

it('a tree is kept, offered with that of the earlier flight, planted, renamed, removed, and brought back', () =>
	withPage({ allow: [/status of 400/] }, async (page) => {
		const first = await begin(page, 'Kept trees, first flight');
		await operate(page, first, [['anomaly.state', { id: 'a1', record }]]);
		await page.goto(`/investigations/${first}/anomalies/a1/tree`);
		await press(page.locator('body'), 'Plant: No deployment');
		await press(margin(page), 'Plant a ready branch here');
		await press(margin(page), 'Plant here: Between the systems');
		await margin(page).getByText('Planted “Between the systems”').waitFor();
		await page.locator('.tree-list', { hasText: 'did not fit together' }).waitFor({ state: 'attached' });
		await press(margin(page), 'Keep this tree');
		await fillIn(margin(page), { Name: '' });
		await press(margin(page).locator('form'), 'Keep it');
		await margin(page).getByText('Name it as you will look for it').first().waitFor();
		await fillIn(margin(page), { Name: 'Nothing out at apogee', 'When to take it': 'two charges, one bay' });
		await screenshot(page, 'keep-tree');
		await expectAccessible(page);
		await keep(margin(page), 'Keep it');
		await margin(page).getByText('Kept “Nothing out at apogee”').waitFor();

		await page.goto(`/investigations/${first}/record`);
		const vehicle = await page.evaluate(async (id) => {
			const answer = await fetch(`/investigations/${id}/trees`);
			return ((await answer.json()) as { vehicle: { id: string } }).vehicle.id;
		}, first);
		const answer = await page.request.post('/?/begin', {
			form: { title: 'Kept trees, second flight', vehicle, vehicleName: '', flownAt: '', who: 'Ilse' },
			headers: { origin: new URL(page.url()).origin, accept: 'text/html' },
			maxRedirects: 0
		});
		const second = answer.headers()['location']!.split('/')[2]!;
		await operate(page, second, [['anomaly.state', { id: 'a1', record }]]);
		await page.goto(`/investigations/${second}/anomalies/a1/tree`);
		await page.getByRole('heading', { name: 'Start from an earlier flight of this vehicle' }).waitFor();
		await screenshot(page, 'start-from');
		await expectAccessible(page);
		await press(page.locator('body'), 'Plant: Nothing out at apogee');
		await page.getByText('Planted “Nothing out at apogee”').waitFor();
		await page.locator('.tree-list', { hasText: 'Shear pins held' }).waitFor({ state: 'attached' });
		// What the signs cost came along, so that what tells most in an hour can be asked at once.
		await page.getByText('ranked by').waitFor();

		await page.goto(`/vehicles/${vehicle}`);
		const kept = section(page, 'Trees kept for the next time');
		await press(kept, 'rename Nothing out at apogee');
		await fillIn(kept, { Name: 'No drogue' });
		await keep(kept);
		await screenshot(page, 'kept-on-vehicle');
		await expectAccessible(page);
		await press(kept, 'remove No drogue');
		await kept.getByText('Undo brings it back').waitFor();
		await press(page.locator('body'), 'Undo');
		await expect.poll(() => textOf(kept)).toContain('No drogue two charges, one bay');
		await page.setViewportSize({ width: 375, height: 800 });
		await expectNoSidewaysScroll(page);
	}));
