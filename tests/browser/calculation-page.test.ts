import { describe, expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { field, fillIn, margin, textOf } from './support/forms';
import { expectAccessible, expectNoSidewaysScroll, screenshot, withPage } from './support/page';

/** A refusal is an answer of 400 to a page of ours, which the browser notes in its console. */
const allow = [/status of 400/];

describe('the page of one run', () => {
	it('has where not to believe the answer beneath it, the numbers beside the form, and the answer in sight below', async () => {
		await withPage({ allow }, async (page) => {
			await page.setViewportSize({ width: 1440, height: 900 });
			const id = await begin(page, 'How hard it hit');
			await page.goto(`/investigations/${id}/calculations/new?calculation=impact`);
			await fillIn(page, { 'Mass that hit the ground': '5 kg', 'Height that it fell, from rest': '40 m' });
			await page.locator('[aria-busy="false"] .answer').waitFor();
			const limits = page.getByRole('region', { name: 'Where not to believe it' });
			const top = async (what: ReturnType<typeof page.locator>) => (await what.boundingBox())!.y;
			const figure = page.locator('.out figure');
			const answer = page.locator('.answer .first');
			const numbers = page.getByRole('heading', { name: 'In numbers' });
			expect(await textOf(limits)).toMatch(/as without air: the speed is an upper bound/);
			expect(await top(answer)).toBeLessThan(await top(limits));
			expect(await top(limits)).toBeLessThan(await top(figure));
			expect(await top(figure)).toBeLessThan(await top(numbers));

			// What stands in the lower inputs is worked on with the answer still in sight.
			const again = margin(page).getByRole('link', { name: /where not to believe it/ });
			expect(await again.count()).toBe(0);
			await numbers.scrollIntoViewIfNeeded();
			await page.mouse.move(700, 500);
			await page.mouse.wheel(0, 3000);
			await again.waitFor();
			expect(await textOf(margin(page))).toContain(await textOf(answer));
			await expectAccessible(page);
			await screenshot(page, 'answer-in-sight');
			await again.click();
			await again.waitFor({ state: 'detached' });

			await page.getByRole('button', { name: 'Keep this result' }).click();
			await page.waitForURL(/calculations\/(?!new)/);
			await page.setViewportSize({ width: 375, height: 800 });
			const form = page.getByRole('group', { name: 'What goes in', exact: true });
			const order = [answer, limits, figure, numbers, form];
			const tops: number[] = [];
			for (const part of order) tops.push(await top(part));
			expect(tops).toEqual(tops.toSorted((a, b) => a - b));
			await expectNoSidewaysScroll(page);
			await expectAccessible(page);
			// Where one is takes a line, however narrow the page; it begins with a word.
			const trail = page.getByRole('navigation', { name: 'Where you are' });
			for (const width of [375, 768]) {
				await page.setViewportSize({ width, height: 800 });
				expect((await trail.boundingBox())!.height).toBeLessThan(30);
				expect(await textOf(trail)).toMatch(/^Investigations/);
			}
		});
	});

	it('offers the links by name, keeps what is to be expected while none is said, and draws what is not known', async () => {
		await withPage({ allow }, async (page) => {
			const id = await begin(page, 'Which link');
			await page.goto(`/investigations/${id}/calculations/new?calculation=attachment-strength`);
			await fillIn(page, { 'Greatest load on the path': '900 N' });
			const link = (i: number) => page.getByRole('group', { name: `link ${i}` });
			await fillIn(link(1), { Name: 'Eye bolt', 'Kind of link': 'Eye bolt, U-bolt or screw in tension' });
			await page.getByRole('button', { name: 'Add a link' }).click();
			await fillIn(link(2), { Name: 'Glue', 'Kind of link': 'Adhesive joint in shear' });
			await fillIn(link(2), {
				'Width of the joint': '50 mm',
				'Overlap, along the load': '20 mm',
				'Lap-shear strength': '15 MPa'
			});
			await page.getByText(/is the weakest link/).first().waitFor(); // prettier-ignore
			await fillIn(page, { 'What happened to the path': 'A link failed' });
			const failed = field(page, 'Name of the link that failed first');
			expect(await failed.locator('option').allInnerTexts()).toEqual(['choose one', 'Eye bolt', 'Glue']);
			await page.locator('[aria-busy="false"] .answer').waitFor();
			expect(await page.getByText('Not computed yet').count()).toBe(0);

			await page.getByText(/^More that it takes/).first().click(); // prettier-ignore
			await field(page, 'Temperature of the warmest joint').fill('150 °F');
			await page.locator('.out figure svg', { hasText: 'not known' }).waitFor();
			expect(await page.locator('.out figure svg').textContent()).toContain('Glue');

			// What cannot be computed leaves the last answer, and the margin calls its notes so.
			await failed.selectOption('Eye bolt');
			await page.getByText('The last answer that could be computed:').first().waitFor();
			await margin(page).getByRole('heading', { name: 'Assumed for the last answer' }).waitFor();
			await field(page, 'Temperature of the warmest joint').fill('68 °F');
			await page.getByText(/Eye bolt would fail first in/).first().waitFor(); // prettier-ignore
			expect(await textOf(page.locator('main'))).not.toContain('65.6');
			expect(await textOf(margin(page))).not.toContain('65.6');
		});
	});

	it('names scenarios by what the form says, and says in words how a taken search is told', async () => {
		await withPage({ allow }, async (page) => {
			const id = await begin(page, 'Two gauges');
			await page.goto(`/investigations/${id}/calculations/new?calculation=reconcile-readings`);
			for (const [i, name] of ['baro', 'gps'].entries()) {
				const row = page.getByRole('group', { name: `reading ${i + 1}`, exact: true });
				await fillIn(row, { Name: name, 'What it says': `${800 + 60 * i} ± 8 m` });
			}
			await page.getByText(/^The usual ones: .*baro is wrong, gps is wrong/).waitFor();

			const common = { description: '', by: 'Ilse', at: null, position: null, state: 'asFound', basis: 'observed', trust: 'high', trustReason: '', attachments: [], parts: [], kind: 'absence', detection: '60 %' }; // prettier-ignore
			await operate(page, id, [
				[
					'evidence.add',
					{
						record: {
							...common,
							title: 'Nothing in the field',
							lookedFor: 'fin',
							howThoroughly: 'gridSearch'
						}
					}
				],
				[
					'evidence.add',
					{ record: { ...common, title: 'No soil on it', lookedFor: 'soil', howThoroughly: 'takenApart' } }
				]
			]);
			page.on('dialog', (dialog) => void dialog.accept());
			await page.goto(`/investigations/${id}/calculations/new?calculation=search`);
			const add = page.getByLabel('Searches that found nothing: add from the case');
			expect(await add.locator('option').count()).toBe(2);
			await add.selectOption({ index: 1 });
			const row = page.getByRole('group', { name: 'search 1', exact: true });
			await row.getByText('with a chance of finding it that somebody states').first().waitFor();
			expect(await textOf(row)).not.toMatch(/ is .* now/);
		});
	});

	it('asks before a form with something in it is left', async () => {
		await withPage({ allow }, async (page) => {
			const id = await begin(page, 'Under way');
			await page.goto(`/investigations/${id}/calculations/new?calculation=descent`);
			const mass = field(page, 'Mass hanging from it');
			await mass.fill('5 kg');
			const asked: string[] = [];
			page.on('dialog', (dialog) => {
				asked.push(dialog.message());
				void dialog.dismiss();
			});
			await page.getByRole('link', { name: /the method, its limits/ }).click();
			await expect.poll(() => asked.length).toBe(1);
			expect(await mass.inputValue()).toBe('5 kg');
		});
	});
});
