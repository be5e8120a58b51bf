import { describe, expect, it } from 'vitest';
import { boundsApart, importance, type TreeModel } from '$lib/reasoning';

const matters = (a: number, b: number) => {
	const model: TreeModel = {
		events: [
			{ id: 'A', p: a },
			{ id: 'B', p: b }
		],
		gates: [{ id: 'T', type: 'or', inputs: ['A', 'B'] }]
	};
	const made = importance(model);
	if (!made.ok) throw new Error(made.problem);
	return made;
};

describe('how far adding up combinations leads from the exact value', () => {
	it('hand-worked: .3 or .2 is .44 and adds up to .5, a factor of 1.136', () => {
		const made = matters(0.3, 0.2);
		expect(made.probabilityOfTop).toBeCloseTo(0.44, 14);
		expect(made.rareEventSum).toBeCloseTo(0.5, 14);
		expect(made.minCutUpperBound).toBeCloseTo(0.44, 14);
		expect(made.twoTermLowerBound).toBeCloseTo(0.44, 14);
		expect(boundsApart(made)).toBeCloseTo(0.5 / 0.44, 14);
	});
	it('hand-worked: where causes are rare it is all but one', () => {
		// .001 or .002: .002998 exactly, .003 added up.
		expect(boundsApart(matters(0.001, 0.002))).toBeCloseTo(0.003 / 0.002998, 12);
	});
	it('says nothing where combinations cannot be added up', () => {
		expect(boundsApart({ probabilityOfTop: 0.1, rareEventSum: null, minCutUpperBound: null })).toBeNull();
	});
});
