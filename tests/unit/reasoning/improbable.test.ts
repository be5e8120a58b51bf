import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
	mostProbableExplanations,
	nearContradiction,
	stepsOf,
	weigh,
	type TreeModel
} from '../../../src/lib/reasoning';
import { compile, compileLean } from '../../../src/lib/reasoning/compile';
import { resolve } from '../../../src/lib/reasoning/resolve';
import { ScaledSweep } from '../../../src/lib/reasoning/scaled';
import { Sweep } from '../../../src/lib/reasoning/sweep';
import { weightsOf } from '../../../src/lib/reasoning/weights';
import { bruteForce } from './oracle';
import { randomTree } from './random-tree';

/** Two causes that exclude one another, and many signs of each: whichever it was, half of them were there anyway. */
const split = (signs: number, states: { a: 'present' | 'absent'; b: 'present' | 'absent' }): TreeModel => ({
	top: 'TOP',
	events: [
		{ id: 'A', p: 0.2 },
		{ id: 'B', p: 0.3 },
		{ id: 'C', p: 0.01 }
	],
	gates: [
		{ id: 'TOP', type: 'or', inputs: ['AB', 'C'] },
		{ id: 'AB', type: 'or', inputs: ['A', 'B'] }
	],
	exclusive: [['A', 'B', 'C']],
	findings: (['a', 'b'] as const).flatMap((side) =>
		Array.from({ length: signs }, (_, i) => ({
			id: `${side}${i}`,
			state: states[side],
			baseRate: 0.001,
			links: [{ from: side.toUpperCase(), p: 0.9 }]
		}))
	)
});

/** ln of a sum of e^x. */
const logSum = (logs: readonly number[]) => {
	const most = Math.max(...logs);
	return most + Math.log(logs.reduce((sum, x) => sum + Math.exp(x - most), 0));
};

/** Each of A, B, C alone: the logarithm of its weight, hand-worked. */
const truthOf = (signs: number, { a, b }: { a: string; b: string }) => {
	const sign = (isCause: boolean) => 1 - 0.999 * (isCause ? 0.1 : 1);
	const seen = (state: string, isCause: boolean) =>
		signs * Math.log(state === 'present' ? sign(isCause) : 1 - sign(isCause));
	const logs = [0.2, 0.3, 0.01].map((p, i) => Math.log(p) + seen(a, i === 0) + seen(b, i === 1));
	const all = logSum(logs);
	return { p: logs.map((x) => Math.exp(x - all)), logEvidence: all - Math.log(0.51) };
};

describe('evidence however improbable is weighed, and only what no state allows is a contradiction', () => {
	for (const signs of [50, 120, 400, 1000])
		for (const a of ['present', 'absent'] as const)
			for (const b of ['present', 'absent'] as const)
				it(`${2 * signs} signs, of A ${a} and of B ${b} (hand-worked in logarithms)`, () => {
					const model = split(signs, { a, b });
					const truth = truthOf(signs, { a, b });
					const ours = weigh(model, { contributions: false });
					expect(ours.method).toBe('exact');
					expect(ours.contradiction).toBeNull();
					expect(Math.abs((ours.logEvidence ?? NaN) / truth.logEvidence - 1)).toBeLessThan(1e-11);
					['A', 'B', 'C'].forEach((id, i) =>
						expect(ours.events[id]?.givenAll).toBeCloseTo(truth.p[i] as number, 9)
					);
					const explained = mostProbableExplanations(model);
					if (!explained.ok) throw new Error(explained.problem);
					const best = truth.p.indexOf(Math.max(...truth.p));
					expect(explained.list[0]?.happened).toEqual([['A'], ['B'], ['C']][best]);
					expect(explained.list[0]?.probability).toBeCloseTo(truth.p[best] as number, 9);
				});

	it('one of 401 signs that is certain to be there if A happened, and is not: a contradiction of one', () => {
		const model = split(400, { a: 'present', b: 'present' });
		const certain: TreeModel = {
			...model,
			findings: [...(model.findings ?? []), { id: 'never', state: 'present', links: [{ from: 'C', p: 0 }] }]
		};
		expect(weigh(certain, { contributions: false }).contradiction?.clash).toEqual(['never']);
	});

	it('many absent signs that a forced event should have left', () => {
		const ours = weigh(
			{
				top: 'A',
				events: [
					{ id: 'A', p: 0.1 },
					{ id: 'B', p: 0.5 }
				],
				findings: Array.from({ length: 400 }, (_, i) => ({
					id: `f${i}`,
					state: 'absent',
					links: [
						{ from: 'A', p: 0.99 },
						{ from: 'B', p: 0.5 }
					]
				}))
			},
			{ contributions: false }
		);
		expect(ours.contradiction).toBeNull();
		expect(ours.events['A']?.givenAll).toBe(1);
		// 400 times a factor of one hundredth, and of one half had B happened.
		expect(ours.logEvidence).toBeCloseTo(400 * Math.log(0.01) + Math.log(0.5 + 0.5 * 0.5 ** 400), 6);
	});

	it('steps and what is almost impossible are told of it too', () => {
		const model = split(120, { a: 'present', b: 'present' });
		const steps = stepsOf(model, 'A');
		if (!steps.ok) throw new Error(steps.problem);
		expect(steps.steps.at(-1)?.stands).toBeCloseTo(0.4, 9);
		const near = nearContradiction({
			...model,
			findings: (model.findings ?? []).filter((_, i) => i % 4 === 0)
		});
		expect(near.ok && near.near?.clash.length).toBeGreaterThan(1);
	});

	it('1,000 signs that say nothing, and are never there, move no probability of a random tree (brute force)', () => {
		let weighed = 0;
		fc.assert(
			fc.property(randomTree, (model) => {
				const truth = bruteForce(model, model.top);
				const signs = Array.from({ length: 1000 }, (_, i) => ({
					id: `never ${i}`,
					state: i % 2 === 0 ? ('present' as const) : ('absent' as const),
					baseRate: i % 2 === 0 ? 0.001 : 0.999
				}));
				const ours = weigh(
					{ ...model, findings: [...(model.findings ?? []), ...signs] },
					{ contributions: false }
				);
				if (truth.pAll === 0) {
					expect(ours.contradiction).not.toBeNull();
					return;
				}
				weighed++;
				for (const [id, { givenAll }] of Object.entries({ ...ours.events, ...ours.gates, ...ours.parts }))
					expect(Math.abs((givenAll ?? NaN) - (truth.givenAll[id] ?? NaN))).toBeLessThan(1e-9);
				const log = Math.log(truth.pFindings / truth.pGiven) + 1000 * Math.log(0.001);
				expect(ours.logEvidence).toBeCloseTo(log, 8);
			}),
			{ numRuns: 60, seed: 20250712 }
		);
		expect(weighed).toBeGreaterThan(30);
	});

	it('a scaled sweep says what a plain one says (random trees, gates with and without variables)', () => {
		fc.assert(
			fc.property(randomTree, fc.boolean(), (model, lean) => {
				const tree = resolve(model);
				const budget = { maxNodes: 1e5, maxSteps: 1e6 };
				const { posterior, functions, levels } = lean ? compileLean(tree, budget) : compile(tree, budget);
				const weights = weightsOf(tree, levels);
				const [plain, scaled] = [new Sweep(posterior), new ScaledSweep(posterior)];
				const total = plain.up(weights);
				const log = scaled.up(weights);
				if (total === 0) {
					expect(log).toBe(-Infinity);
					return;
				}
				expect(log).toBeCloseTo(Math.log(total), 11);
				const [ours, theirs] = [scaled.down(functions), plain.down(functions)];
				ours.levels.forEach((p, i) => expect(p).toBeCloseTo((theirs.levels[i] as number) / total, 11));
				ours.functions.forEach((p, i) => expect(p).toBeCloseTo((theirs.functions[i] as number) / total, 11));
			}),
			{ numRuns: 500, seed: 20250713 }
		);
	});
});
