import { describe, expect, it } from 'vitest';
import { leadingExplanations, moreAsProbable } from '$lib/investigation/views/explanations';
import type { TreeModel } from '$lib/reasoning';

const alternatives = (weights: readonly number[]): TreeModel => ({
	top: 'TOP',
	events: weights.map((p, i) => ({ id: `c${i}`, p })),
	gates: [{ id: 'TOP', type: 'or', inputs: weights.map((_, i) => `c${i}`) }],
	exclusive: [weights.map((_, i) => `c${i}`)]
});
const of = (weights: readonly number[]) => {
	const told = leadingExplanations(alternatives(weights));
	if (!told.ok) throw new Error(told.problem);
	return { listed: told.list.length, more: moreAsProbable(told), first: told.list[0]?.probability };
};

describe('Explanations that stand level', () => {
	it('three are listed, where the fourth stands apart', () => {
		const told = of([0.1, 0.08, 0.06, 0.04, 0.02]);
		expect(told).toMatchObject({ listed: 3, more: '' });
		expect(told.first).toBeCloseTo(1 / 3, 9);
	});
	it('a four-way tie is listed whole', () => {
		expect(of([0.1, 0.1, 0.1, 0.1])).toMatchObject({ listed: 4, more: '' });
		expect(of([0.1, 0.1, 0.1, 0.1]).first).toBeCloseTo(0.25, 9);
	});
	it('what is as probable as the third, within a factor of 1.05 of its odds, is listed with it', () => {
		expect(of([0.3, 0.2, 0.1, 0.099, 0.05]).listed).toBe(4);
	});
	it('beyond eight it is said how many more', () => {
		expect(of(new Array<number>(13).fill(0.05))).toMatchObject({ listed: 8, more: 'and 5 more as probable' });
	});
	it('beyond what is counted it is said that there are more', () => {
		expect(of(new Array<number>(40).fill(0.02)).more).toBe('and at least 16 more as probable');
	});
});
