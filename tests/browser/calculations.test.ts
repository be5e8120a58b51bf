import { readFile } from 'node:fs/promises';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { field, textOf } from './support/forms';
import { expectAccessible, expectNoSidewaysScroll, withPage } from './support/page';

/** A refusal is an answer of 400 to a page of ours, which the browser notes in its console. */
const allow = [/status of 400/];

const weather = {
	surfaceTemperature: '19 °C',
	surfacePressure: '955 hPa',
	pressureIs: 'atSite',
	heightsAre: 'abovePad',
	fromReference: 'true',
	wind: [
		{ height: '0 m', fromDeg: 220, speed: '4 m/s', temperature: null },
		{ height: '1500 m', fromDeg: 235, speed: '11 m/s', temperature: null }
	],
	speedSpread: '25 %',
	directionSpreadDeg: '15',
	sounding: null,
	source: 'forecast',
	note: ''
};
const piece = (title: string, ballisticCoefficient: string) => ({
	record: {
		title,
		description: '',
		by: 'Ilse',
		at: null,
		position: null,
		state: 'asFound',
		basis: 'observed',
		trust: 'high',
		trustReason: '',
		attachments: [],
		parts: [],
		kind: 'piece',
		mass: '',
		ballisticCoefficient,
		pieceType: '',
		damage: ''
	}
});

const CAUSES = ['Pulled out in the air', 'Knocked out by the landing'] as const;

/** A case with wind and two pieces that were found but not placed; what was measured between them is typed. */
async function beginCase(page: Page, title: string) {
	const id = await begin(page, title);
	const [, [body] = [], [bulkhead] = []] = await operate(page, id, [
		['weather.save', { record: weather }],
		['evidence.add', piece('Body', '38 ± 6 kg/m²')],
		['evidence.add', piece('Bulkhead', '10 to 20 kg/m²')]
	]);
	const [[stated] = []] = await operate(
		page,
		id,
		[
			[
				'anomaly.state',
				{
					id: 'a1',
					record: {
						title: 'The bulkhead left the tube',
						expected: 'bulkhead in place',
						observed: 'bulkhead 2 m from the tube',
						when: '',
						consequence: '',
						phase: 'descent',
						firstImpression: ''
					}
				}
			]
		],
		4
	);
	const under = (stated!.after as { top: string }).top;
	await operate(
		page,
		id,
		CAUSES.map((title): [string, unknown] => ['event.add', { under, kind: 'basic', title }]),
		5
	);
	return { id, body: body!.id, bulkhead: bulkhead!.id };
}

const answer = (page: Page) => page.locator('.answer .first');
const whole = (page: Page) => page.locator('[aria-busy="false"] .answer').waitFor();

describe('a calculation', () => {
	it('is typed in, answers, is kept, weighs on the tree, and says when its source has changed', async () => {
		await withPage({ allow }, async (page) => {
			const { id, body, bulkhead } = await beginCase(page, 'Fallen apart');
			await page.goto(
				`/investigations/${id}/calculations/new?calculation=fall-separation&anomaly=a1&pieces=${body},${bulkhead}`
			);
			// The case fills the pieces and the wind; what is still missing is said, and is no fault yet.
			await page.getByText('Not computed yet.').waitFor();
			expect(await textOf(page.locator('.out .state'))).toContain('height at which they parted');
			expect(await page.locator('.problem').count()).toBe(0);

			const highest = field(page, 'Greatest height at which they may have parted');
			await page.getByRole('button', { name: 'Go to the field' }).click();
			await expect.poll(() => highest.evaluate((input) => input === document.activeElement)).toBe(true);
			await highest.fill('9 kg');
			await highest.press('Tab');
			const wrong = page.locator('.form .problem').first();
			await wrong.waitFor();
			expect(await highest.inputValue()).toBe('9 kg');
			await expectAccessible(page);
			await highest.fill('3000 ft');
			await page.getByText(/= 914\.4/).waitFor();
			await whole(page);
			expect(await page.locator('.more table').count()).toBe(0);

			// Without a number there is nothing to keep: what is still to be said has the keyboard.
			await page.getByText('Still to be said: Where the other pieces lay, from the first.').waitFor();
			await page.getByRole('button', { name: 'Keep this result' }).click();
			await expect
				.poll(() => page.evaluate(() => document.activeElement?.textContent.trim()))
				.toBe('Add a place');
			await page.keyboard.press('Enter');
			const places = page.getByRole('group', { name: 'Where the other pieces lay, from the first' });
			await places.getByText(/^or /).click();
			await field(places, 'Distance from the first piece').fill('2.1 ± 0.2 m');
			await page.locator('main').getByText('If they parted in the air').waitFor();
			await whole(page);
			expect(await textOf(answer(page))).toMatch(
				/^If they parted in the air, they did so between .+ and .+ with 90 % probability\.$/
			);
			await page.locator('.out figure svg').waitFor();
			await expectAccessible(page);

			const [download] = await Promise.all([
				page.waitForEvent('download'),
				page.getByRole('button', { name: 'Save its numbers (CSV)' }).click()
			]);
			expect(download.suggestedFilename()).toMatch(/^fall-separation.*\.csv$/);
			expect((await readFile(await download.path(), 'utf8')).split('\n')[0]).toMatch(/^layer,part,.*\(m\)/);

			await page.getByRole('button', { name: 'Let it weigh on the tree' }).click();
			await page.waitForURL(/calculations\/(?!new)/);
			const kept = page.url();
			await page.getByRole('button', { name: 'Let it weigh on the tree' }).click();
			await page.getByText('Choose the event of the tree that').first().waitFor();
			const stands = page.getByLabel('stands for');
			await stands.nth(0).selectOption({ label: 'Pulled out in the air' });
			await stands.nth(1).selectOption({ label: 'Knocked out by the landing' });
			await page.getByRole('button', { name: 'Let it weigh on the tree' }).click();
			await page.getByText('It weighs on the tree').waitFor();
			await expectAccessible(page);

			await operate(
				page,
				id,
				[['evidence.correct', { id: bulkhead, reason: 'weighed', ...piece('Bulkhead', '6 to 9 kg/m²') }]],
				9
			);
			// A reader who has not said who they are changes nothing: to them it is said what rests on older values.
			const cookies = await page.context().cookies();
			await page.context().clearCookies();
			await page.goto(`/investigations/${id}/anomalies/a1/calculations`);
			await page.getByText('The ballistic coefficient of E2 has changed since this was computed').waitFor();
			await page.getByText('1, 1 out of date').waitFor();
			await expectAccessible(page);
			// So do the list of anomalies beside what leads, and the tree.
			await page.goto(`/investigations/${id}/anomalies`);
			await page.getByText('K1 weighs here by values that have changed since.').waitFor();
			await expectAccessible(page);
			await page.goto(`/investigations/${id}/anomalies/a1/tree`);
			await page.getByText('K1 weighs here by values that have changed since.').waitFor();
			await expectAccessible(page);
			await page.getByRole('button', { name: 'Compute again' }).waitFor();
			// Else it follows by itself, and says so.
			await page.context().addCookies(cookies);
			await page.reload();
			await page.getByText('K1 was computed again, as values of the case have changed.').waitFor();
			await expectAccessible(page);
			expect(await page.getByText('have changed since').count()).toBe(0);
			await page.goto(`/investigations/${id}/history`);
			await page.locator('main li', { hasText: 'A calculation on the tree followed the case' }).waitFor();
			await page.goto(`/investigations/${id}/anomalies/a1/calculations`);
			await page.getByText('weighs on the tree').waitFor();
			expect(await page.getByText('out of date').count()).toBe(0);
			expect(await textOf(page.locator('main'))).toContain('weighs on the tree');

			await page.goto(kept);
			await page.setViewportSize({ width: 375, height: 800 });
			await expectNoSidewaysScroll(page);
			await page.getByRole('link', { name: /the method, its limits/ }).click();
			await page.locator('math').first().waitFor();
			await expectAccessible(page);
			await expectNoSidewaysScroll(page);
		});
	});

	it('keeps typing free while it samples, and can be stopped and gone on with', async () => {
		await withPage({ allow }, async (page) => {
			const { id, body, bulkhead } = await beginCase(page, 'Many samples');
			await page.goto(
				`/investigations/${id}/calculations/new?calculation=fall-separation&pieces=${body},${bulkhead}`
			);
			await page.getByLabel('Samples').selectOption('40000');
			const highest = field(page, 'Greatest height at which they may have parted');
			await highest.fill('900 m');
			await page.getByRole('progressbar').waitFor();
			await highest.pressSequentially('m');
			expect(await highest.inputValue()).toBe('900 mm');
			await highest.fill('950 m');
			await page.getByRole('button', { name: 'Stop' }).click();
			await page.getByText('rests on few samples').waitFor();
			await page.getByRole('button', { name: 'Go on to all samples' }).click();
			await page.getByRole('progressbar').waitFor();
		});
	});

	it('asks for readings of the kind that is chosen, names the wrong one, and is kept with its figure', async () => {
		await withPage({ allow }, async (page) => {
			const { id } = await beginCase(page, 'Two altitudes');
			await page.goto(`/investigations/${id}/calculations/new?calculation=reconcile-readings`);
			await field(page, 'What the readings are of').selectOption('time');
			const row = (i: number) => page.getByRole('group', { name: `reading ${i}`, exact: true });
			await row(1).getByPlaceholder('in s').waitFor();
			await field(page, 'What the readings are of').selectOption('length');
			await page.getByRole('button', { name: 'Add a reading' }).click();
			for (const [i, [name, value]] of [
				['Logger A', '812 ± 8 m'],
				['Logger B', '641 ± 8 m'],
				['Prediction', '790 ± 60 m']
			].entries()) {
				await field(row(i + 1), 'Name').fill(name!);
				await field(row(i + 1), 'What it says').fill(value!);
			}
			await page.getByText('Logger B is probably wrong').first().waitFor();
			await whole(page);
			expect(await textOf(answer(page))).toMatch(
				/^The readings do not agree, and Logger B is probably wrong: /
			);
			expect(await page.locator('.out figure svg').textContent()).toContain('wrong: 94\u202f%');
			await expectAccessible(page);
			await page.getByRole('button', { name: 'Keep this result' }).click();
			await page.waitForURL(/calculations\/(?!new)/);
			await page.reload();
			await page.locator('.out figure svg').waitFor();
			expect(await textOf(answer(page))).toContain('Logger B is probably wrong');
		});
	});
});
