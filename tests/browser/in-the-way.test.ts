import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { begin, operate } from './support/case';
import { expectAccessible, withPage } from './support/page';

/** What has the keyboard, as a person would call it. */
const focused = (page: Page) =>
	page.evaluate(() => {
		const at = document.activeElement!;
		const label = (at as HTMLInputElement).labels?.[0]?.textContent ?? at.getAttribute('aria-label');
		return (label ?? at.textContent ?? '').replace(/\s+/g, ' ').trim();
	});

/** One of each that can stand in the way. @returns address of the anomaly */
async function manyInTheWay(page: Page): Promise<string> {
	const id = await begin(page, 'In the way');
	const told = { when: '', consequence: '', phase: 'descent', firstImpression: '' };
	const record = { title: 'The bulkhead came out', expected: 'in place', observed: 'gone', ...told };
	const [stated] = await operate(page, id, [['anomaly.state', { id: 'a1', record }]]);
	const top = (stated!.find(({ id }) => id === 'a1')!.after as { top: string }).top;
	const blank = {
		note: '',
		residualLink: null,
		origin: null,
		sameAs: null,
		evidence: [],
		destructive: false
	};
	const seen = {
		statement: 'Glue bare',
		state: 'present',
		baseRate: 0.1,
		costMinutes: null,
		links: [],
		...blank
	};
	await operate(
		page,
		id,
		[
			['event.add', { id: 'glue', under: top, kind: 'basic', title: 'Glue' }],
			['event.add', { id: 'load', under: top, kind: 'basic', title: 'Operator error in gluing' }],
			['event.weigh', { event: 'load', weight: 0.5 }],
			['finding.add', { id: 'f1', anomaly: 'a1', record: seen }],
			['disposition.set', { event: 'load', state: 'unlikely', reason: 'he is careful', cites: [] }]
		],
		2
	);
	return `/investigations/${id}/anomalies/a1`;
}

describe('what stands in the way of a conclusion', () => {
	it('leads to the very field that clears it, which has the keyboard', async () => {
		await withPage({}, async (page) => {
			const at = await manyInTheWay(page);
			const clear = async (says: string, lands: RegExp) => {
				await page.goto(`${at}/conclusion`);
				await page.getByRole('link', { name: new RegExp(`clear it ?: .*${says}`) }).press('Enter');
				await expect.poll(() => focused(page), { message: says }).toMatch(lands);
			};
			await page.goto(`${at}/conclusion`);
			await page.getByText('but the evidence gives it').first().waitFor();
			await expectAccessible(page);
			await clear('The top event does not say', /^Top event: what failed/);
			await clear('names a thing', /^Name of the failed state/);
			await clear('ends at a person', /^Below/);
			await clear('has no starting weight', /^How often this happens/);
			await clear('are immediate and complete', /^Each is an immediate cause/);
			await clear('"Glue" is still open', /^Decided/);
			await clear('cites nothing', /^On: add/);
			await clear(
				'but the evidence gives it',
				/^The evidence gives it \d+\s%: why is it called unlikely all the same/
			);
			// Nothing is kept yet that could be cited.
			await clear('cites no evidence', /^Keep it as evidence/);
		});
	});

	it('on the same page too, and on the tree itself', async () => {
		await withPage({}, async (page) => {
			const at = await manyInTheWay(page);
			await page.goto(`${at}/tree`);
			await page.getByText('about how the tree is made').press('Enter');
			await page
				.getByRole('link', { name: /go there ?: Operator error in gluing/ })
				.first()
				.press('Enter');
			await expect.poll(() => focused(page)).toMatch(/^Below “Operator error/);
		});
	});
});
