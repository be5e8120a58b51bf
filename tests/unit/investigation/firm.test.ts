import { describe, expect, it } from 'vitest';
import { robustness, type TreeModel } from '$lib/reasoning';
import { firmSentences, firmWords, moveWords, turningNumbers } from '$lib/investigation/views/firm';
import { tangled } from '../reasoning/tangled';

const name = (id: string) => `“${id}”`;
const robust = (model: TreeModel, maxNodes?: number) => {
	const told = robustness(model, maxNodes === undefined ? {} : { maxNodes });
	if (!told.ok) throw new Error(told.problem);
	return told;
};
/** Two causes, one three times as probable as the other. */
const pair = (a: number, b: number): TreeModel => ({
	events: [
		{ id: 'A', p: a },
		{ id: 'B', p: b }
	],
	gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B'] }]
});

describe('What would change the answer, in words', () => {
	it('exact: no error stands beside anything', () => {
		const told = robust(pair(0.3, 0.1));
		expect(firmSentences(told, null, name)[0]).toBe(
			'“A” leads at 81\u202f%, but not whatever one assumes: of 4 changes, one at a time, 2 would put another cause first.'
		);
		const [near] = turningNumbers(told, 5).near;
		expect(moveWords(near!, near!.overturns)).not.toContain('±');
	});
	it('of many that would not stay settled a few are named, the others counted', () => {
		const told = robust(pair(0.3, 0.1));
		const settled = ['a', 'b', 'c', 'd', 'e', 'f', 'g', 'h'];
		const last = firmSentences({ ...told, settled, survives: { leader: true, settled: [] } }, null, name).at(
			-1
		);
		expect(last).toMatch(/moved: “a”, “b”, “c”, “d”, “e” and 3 more\.$/);
	});
	it('sampled: each number stands beside its error', () => {
		const told = robust(pair(0.3, 0.1), 2);
		const [first] = firmSentences(told, null, name);
		expect(first).toMatch(
			/^“A” leads at [78]\d[.\d]*\u202f% ± [\d.]+\u202f%, but not whatever one assumes: of 4 changes/
		);
		const [near] = turningNumbers(told, 5).near;
		expect(moveWords(near!, near!.overturns)).toMatch(/^(30|10)\u202f% → \d+\u202f% ± [\d.]+\u202f%$/);
	});
	it('sampled, and two too close to tell: no lead is claimed', () => {
		const told = robust(pair(0.2, 0.2), 2);
		expect(firmSentences(told, null, name)[0]).toMatch(/so close to “[AB]” that this sample can’t tell/);
		expect(firmWords(told, null, name)).toMatch(/can’t be told from this sample/);
	});
	it('sampled, and numbers that it can not follow: they are counted, not passed over', () => {
		const events = tangled.events.map((event, i) => (i === 0 ? { ...event, p: 0.9 } : event));
		const gates = [{ id: 'TOP', type: 'or' as const, inputs: events.map(({ id }) => id) }];
		const told = robust(
			{ events, gates, findings: [{ id: 'sign', state: 'absent', links: [{ from: 'c1', p: 1 }] }] },
			2
		);
		expect(firmSentences(told, null, name).join(' ')).toMatch(
			/1 more change of a number can’t be told from this sample/
		);
		expect(
			firmWords(
				{ ...told, assumptions: told.assumptions.map((one) => ({ ...one, overturns: null })) },
				null,
				name
			)
		).toMatch(
			/^As far as this sample tells, no single number would put another cause first\. \d+ of \d+ it can’t follow/
		);
	});
	it('the least change is said as from where to where, and two that stand level are parted by a hair', () => {
		const weight = { kind: 'weight' as const, id: 'A', value: 0.05 };
		expect(moveWords(weight, { to: 0.12 })).toBe('5\u202f% → 12\u202f%');
		expect(moveWords(weight, { to: 0.0501 })).toBe('5\u202f%, by a hair');
		const density = { kind: 'density' as const, id: 'K', value: 2 };
		expect(moveWords(density, { to: 5 })).toBe('2.5 times better');
		expect(moveWords(density, { to: 0.5 })).toBe('4 times less well');
		expect(moveWords(density, { to: 2.01 })).toBe('by a hair');
	});
});
