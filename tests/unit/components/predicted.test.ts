import { describe, expect, it } from 'vitest';
import { hurtsMost, predicted, standNow } from '$lib/components/weighing/predicted';
import { nextLooks } from '$lib/investigation/views/looks';
import type { Investigation } from '$lib/investigation/case';
import { information } from '$lib/reasoning';

/** The example of docs/methods/weighing.md, with its sign not looked at yet. */
const told = information({
	events: [
		{ id: 'A', p: 0.3 },
		{ id: 'B', p: 0.2 }
	],
	gates: [{ id: 'T', type: 'or', inputs: ['A', 'B'] }],
	findings: [
		{
			id: 'sign',
			state: 'notExamined',
			links: [
				{ from: 'A', p: 0.5 },
				{ from: 'B', p: 0.9 }
			]
		}
	]
});
if (!told.ok) throw new Error(told.problem);
const file = {
	findings: { sign: { state: 'notExamined', evidence: [], costMinutes: null } },
	evidence: {}
} as unknown as Investigation;
const looks = nextLooks(file, 'a1', told.observations, []);
const [sign] = looks;

describe('what a look is predicted to leave', () => {
	it('hand-worked: the branches after either outcome, the one that leads then first', () => {
		// There: A .177 and B .183 of .303. Not there: A .123, B .017 of .137.
		const [there, not] = predicted(sign!.outcomes);
		expect(there!.levels.map(({ ids }) => ids)).toEqual([['B'], ['A']]);
		expect(there!.levels[1]!.p).toBeCloseTo(0.177 / 0.303, 12);
		expect(there!.levels[1]!.from).toBeCloseTo(0.3 / 0.44, 12);
		expect(not!.levels.map(({ ids }) => ids)).toEqual([['A'], ['B']]);
		expect(not!.levels[0]!.p).toBeCloseTo(0.123 / 0.137, 12);
	});
	it('the mean of the outcomes is where the branches stand now', () => {
		const now = standNow(sign!.outcomes);
		expect(now['A']).toBeCloseTo(0.3 / 0.44, 12);
		expect(now['B']).toBeCloseTo(0.2 / 0.44, 12);
	});
	it('tells of the highest in order, of those that would be level together, and of where the leader would fall', () => {
		const there = { words: 'there', probability: 0.1, branches: { A: 0.2, B: 0.1, C: 0.9 } };
		const not = { words: 'not there', probability: 0.9, branches: { A: 0.8, B: 0.3, C: 0.01 } };
		expect(
			predicted([there, not])[0]!.levels.map(({ ids, from }) => [ids, from && Number(from.toFixed(6))])
		).toEqual([
			[['C'], null],
			[['A'], 0.74],
			[['B'], null]
		]);
		const six = { Q: 0.301, R: 0.301, S: 0.301, D: 0.2, E: 0.02, A: 0.01 };
		expect(predicted([{ ...there, branches: six }, not])[0]!.levels).toMatchObject([
			{ ids: ['Q', 'R', 'S'], more: 0, p: 0.301, from: null },
			{ ids: ['A'], p: 0.01 }
		]);
		expect(predicted([there, { ...not, branches: null }])).toHaveLength(1);
	});
	it('names the look that would hurt the leader most', () => {
		// A leads; with the sign there it falls from .68 to .58.
		expect(hurtsMost(looks)).toMatchObject({ look: { id: 'sign' }, branch: 'A', outcome: 'there' });
		expect(hurtsMost([])).toBeNull();
	});
});
