import { describe, expect, it } from 'vitest';
import { importance, minimalCutSets, parseTree, weigh, type TreeGroup, type TreeModel } from '$lib/reasoning';
import { bySize } from '$lib/reasoning/common-cause';

/**
 * Common-cause groups. Models seen in the text of the Open-PSA Model Exchange Format; formulas of NUREG/CR-4780 and
 * NUREG/CR-5485 from memory; the values by visiting all states in exact rational arithmetic, apart from this project.
 */
const relative = (ours: number | null | undefined, printed: number, tolerance = 1e-10) =>
	expect(Math.abs((ours ?? NaN) / printed - 1), `${ours} instead of ${printed}`).toBeLessThan(tolerance);

const Q = 1e-3;
const names = ['a', 'b', 'c', 'd'];
const read = (tree: unknown): TreeModel => {
	const parsed = parseTree(tree);
	if (!parsed.ok) throw new Error(parsed.problems.join('; '));
	return parsed.model;
};
type Sharing = Pick<TreeGroup, 'model' | 'factors' | 'staggered'>;
/** k of n similar parts fail. */
const system = (k: number, n: number, sharing?: Sharing) =>
	read({
		events: names.slice(0, n).map((id) => ({ id, p: Q })),
		gates: [{ id: 'TOP', type: 'atLeast', k, inputs: names.slice(0, n) }],
		commonCause: sharing ? [{ id: 'battery', members: names.slice(0, n), ...sharing }] : []
	});
const top = (model: TreeModel) => weigh(model).probabilityOfTop;
const shares = (n: number, sharing: Sharing) =>
	bySize({ id: 'battery', members: names.slice(0, n), ...sharing }, Q);
const together = (n: number) => `${names.slice(0, n).join(' and ')} together`;

describe('Beta factor 0.1 of 1e-3 (seen; values by exact enumeration)', () => {
	const beta: Sharing = { model: 'beta', factors: [0.1] };
	it.each([
		[2, 2, 0.000100809919, 1e-6, 100.809919, 0.991965879865452],
		[3, 3, 0.0001000007289271, 1e-9, 100000.7289271, 0.999992710782133],
		[2, 3, 0.0001024282991458, 2.998e-6, 34.1655434108739, 0.976292692878328],
		[2, 4, 0.000104853684551303, 5.992003e-6, 17.4989372587602, 0.953709928534478]
	])('%i of %i fail', (k, n, withIt, without, ratio, share) => {
		const model = system(k, n, beta);
		relative(top(model), withIt);
		relative(top(system(k, n)), without);
		relative((top(model) ?? NaN) / (top(system(k, n)) ?? NaN), ratio);
		relative(weigh(model).parts[together(n)]?.givenTop, share);
		const measured = importance(model);
		if (!measured.ok) throw new Error(measured.problem);
		relative(measured.events[together(n)]?.givenTop, share);
		relative(measured.probabilityOfTop, withIt);
	});
	it('its cut sets are the shared cause, and each set of parts that fail alone', () => {
		const sets = minimalCutSets(system(2, 3, beta));
		expect(sets.ok && sets.list.map(({ events }) => events.join(' + ')).sort()).toEqual([
			'a alone + b alone',
			'a alone + c alone',
			'a and b and c together',
			'b alone + c alone'
		]);
	});
});

describe('Multi-letter (seen; values by exact enumeration)', () => {
	it('three parts, beta 0.1, gamma 0.3', () => {
		const sharing: Sharing = { model: 'multiLetter', factors: [0.1, 0.3] };
		const [one, two, three] = shares(3, sharing);
		relative(one, 9e-4);
		relative(two, 3.5e-5);
		relative(three, 3e-5);
		relative((one ?? NaN) + 2 * (two ?? NaN) + (three ?? NaN), Q);
		relative(top(system(2, 3, sharing)), 0.000137421389316528);
		relative(top(system(3, 3, sharing)), 3.00988942559068e-5);
		// A part weighs a little less than 1e-3, as what can fail it may come together.
		relative(weigh(system(2, 3, sharing)).events['a']?.prior, 0.000999906678029217);
	});
	it('four parts, the factors of the Open-PSA example: 0.10, 0.20, 0.30', () => {
		const sharing: Sharing = { model: 'multiLetter', factors: [0.1, 0.2, 0.3] };
		for (const [i, printed] of [9e-4, 2.66666666666667e-5, 4.66666666666667e-6, 6e-6].entries())
			relative(shares(4, sharing)[i], printed);
		relative(top(system(2, 4, sharing)), 0.000189505084986057);
		relative(top(system(3, 4, sharing)), 2.49678280594308e-5);
		relative(top(system(4, 4, sharing)), 6.02069351989781e-6);
	});
	it('with all letters after beta at 1 it is the beta factor (definition, from memory)', () => {
		const beta = system(2, 4, { model: 'beta', factors: [0.1] });
		relative(top(system(2, 4, { model: 'multiLetter', factors: [0.1, 1, 1] })), top(beta) ?? NaN);
	});
});

describe('Alpha, three parts, 0.95, 0.03, 0.02 (seen; values by exact enumeration)', () => {
	const factors = [0.95, 0.03, 0.02];
	it('non-staggered testing', () => {
		const sharing: Sharing = { model: 'alpha', factors };
		for (const [i, printed] of [8.8785046728972e-4, 2.80373831775701e-5, 5.60747663551402e-5].entries())
			relative(shares(3, sharing)[i], printed);
		relative(top(system(2, 3, sharing)), 0.000142542945492417);
		relative(top(system(3, 3, sharing)), 5.61524948750174e-5);
	});
	it('staggered testing', () => {
		const sharing: Sharing = { model: 'alpha', factors, staggered: true };
		for (const [i, printed] of [9.5e-4, 1.5e-5, 2e-5].entries()) relative(shares(3, sharing)[i], printed);
		relative(top(system(2, 3, sharing)), 6.77040343950953e-5);
		relative(top(system(3, 3, sharing)), 2.00442801615574e-5);
	});
});

describe('House events: the example tree of the Open-PSA text (structure seen, probabilities ours; exact enumeration)', () => {
	const example = (state: boolean) =>
		read({
			top: 'TOP',
			events: [
				...[0.01, 0.02, 0.03, 0.04].map((p, i) => ({ id: `e${i + 1}`, p })),
				{ id: 'H', kind: 'house', state }
			],
			gates: [
				{ id: 'TOP', type: 'or', inputs: ['G1', 'G2'] },
				{ id: 'G1', type: 'and', inputs: ['H', 'G3', 'G4'] },
				{ id: 'G2', type: 'and', inputs: [{ not: 'H' }, 'e2', 'G4'] },
				{ id: 'G3', type: 'or', inputs: ['e1', 'e3'] },
				{ id: 'G4', type: 'or', inputs: ['e3', 'e4'] }
			]
		});
	it.each<[boolean, string[], number, number, string, number]>([
		[true, ['e1 e4', 'e3'], 0.030388, 0.0304, 'e3', 0.987231802027],
		[false, ['e2 e3', 'e2 e4'], 0.001376, 0.0014, 'e4', 0.581395348837]
	])(
		'switched %s: cut sets, exact, rare-event sum and posterior',
		(state, sets, exact, rare, event, given) => {
			const model = example(state);
			relative(top(model), exact);
			const found = minimalCutSets(model);
			expect(found.ok && found.list.map(({ events }) => events.join(' ')).sort()).toEqual(sets);
			const measured = importance(model);
			if (!measured.ok) throw new Error(measured.problem);
			relative(measured.rareEventSum, rare);
			expect(measured.minCutUpperBound).toBeGreaterThanOrEqual(exact);
			expect(measured.twoTermLowerBound).toBeLessThanOrEqual(exact * (1 + 1e-12));
			relative(weigh(model).events[event]?.givenTop, given, 6e-13);
		}
	);
});
