import { describe, expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { expectAccessible, expectNoSidewaysScroll, withPage } from './support/page';

const finding = (id: string, statement: string, links: [string, number][], more: object = {}) =>
	[
		'finding.add',
		{
			id,
			anomaly: 'a1',
			record: {
				statement,
				state: 'present',
				baseRate: 0.2,
				costMinutes: null,
				links: links.map(([event, p]) => ({ event, negated: false, p })),
				note: '',
				residualLink: null,
				origin: null,
				sameAs: null,
				evidence: [],
				destructive: false,
				...more
			}
		}
	] as [string, unknown];

describe('what would change the answer', () => {
	it('names the least change, the evidence it hangs on, what counts once, what looks alike, and shows equal starts', async () => {
		await withPage({}, async (page) => {
			const id = await begin(page, 'Turning');
			const told = { when: '', consequence: '', phase: 'descent', firstImpression: '' };
			const record = { title: 'The bulkhead came out', expected: 'in place', observed: 'gone', ...told };
			const [stated] = await operate(page, id, [['anomaly.state', { id: 'a1', record }]]);
			const top = (stated!.find((one) => one.id === 'a1')!.after as { top: string }).top;
			await operate(
				page,
				id,
				[
					['event.add', { id: 'glue', under: top, kind: 'basic', title: 'Glue never wetted the tube' }],
					['event.add', { id: 'load', under: top, kind: 'basic', title: 'Charge pushed too hard' }],
					['event.weigh', { event: 'glue', weight: 0.03 }],
					['event.weigh', { event: 'load', weight: 0.08 }],
					finding('f1', 'Glue line bare all round', [['glue', 0.5]]),
					finding('f2', 'The glue line is bare all round', [['glue', 0.4]]),
					finding('f3', 'Bare glue seen again', [], { sameAs: 'f1' })
				],
				2
			);
			await page.goto(`/investigations/${id}/anomalies/a1/conclusion`);
			const part = page.locator('section', { has: page.locator('#change-title') });
			await part.getByText('The least change of one number').waitFor();
			const words = async () => (await part.innerText()).replace(/\s+/g, ' ');
			const all = await words();
			expect(all).toContain('“Glue never wetted the tube” leads at');
			expect(all).toMatch(/of \d+ changes, one at a time, \d+ would put another cause first/);
			expect(all).toMatch(/Without F1 “Glue line bare all round”, “Charge pushed too hard” would lead/);
			expect(all).toMatch(/F1 and F3 are one observation: .* dB together; apart it would have been/);
			expect(all).toMatch(/F2 .* say nearly the same/);
			await expectAccessible(page);

			const whole = page.locator('section', { hasText: 'Most probable explanation as a whole' }).last();
			const own = await whole.innerText();
			await part.getByRole('button', { name: 'Show everything with equal starts' }).click();
			await page.getByText('Every cause starts equal here').waitFor();
			// The margin's whole explanations follow too, and nothing is concluded from numbers that are nobody's own.
			await expect.poll(() => whole.innerText()).not.toBe(own);
			expect(await page.getByText('Trying a weight').count()).toBe(0);
			await page.getByRole('button', { name: 'Keep the draft' }).click();
			await page.getByText('Go back to your own weights first').waitFor();
			await page.getByRole('button', { name: 'Back to your own weights' }).first().click();
			await page.getByText('Every cause starts equal here').waitFor({ state: 'detached' });

			await page.setViewportSize({ width: 375, height: 800 });
			await expectNoSidewaysScroll(page);
		});
	});
});
