import { describe, expect, it } from 'vitest';
import { Diagram, FALSE, TRUE } from '$lib/reasoning/diagram';
import { sift } from '$lib/reasoning/sift';
import { caseModel } from '../../../scripts/bench/tree-models';
import { compileLean } from '$lib/reasoning/compile';
import { resolve } from '$lib/reasoning/resolve';
import { weigh } from '$lib/reasoning';

const budget = { maxNodes: 1e6, maxSteps: 1e8 };

/** Value of a function for one state, which says of each variable, by level, whether it is true. */
function valueOf(diagram: Diagram, edge: number, state: (level: number) => boolean): boolean {
	while (edge !== TRUE && edge !== FALSE) {
		const level = diagram.level(edge);
		edge = state(level) ? diagram.high(edge, level) : diagram.low(edge, level);
	}
	return edge === TRUE;
}

/** x0 with xn, or x1 with xn+1, …: in this order 2^n nodes, in the right one 2n (Bryant 1986, from memory). */
function pairs(n: number) {
	const diagram = new Diagram(2 * n, budget);
	const variable = (level: number) => diagram.variable(level);
	const edge = diagram.any(Array.from({ length: n }, (_, i) => diagram.and(variable(i), variable(n + i))));
	return { diagram, edge };
}

describe('Sifting', () => {
	it('brings together what belongs together: from 2^n nodes to 2n', () => {
		const n = 9;
		const { diagram, edge } = pairs(n);
		const { before, after } = sift(diagram, [edge]);
		expect(before).toBeGreaterThan(2 ** n);
		expect(after).toBe(2 * n);
		expect(diagram.size).toBe(2 * n + 1);
	});

	it('leaves every function as it is, of all that is held', () => {
		const n = 6;
		const { diagram, edge } = pairs(n);
		const odd = Array.from({ length: 2 * n }, (_, level) => diagram.variable(level)).reduce(
			(sum, variable) => diagram.iff(sum, variable) ^ 1,
			FALSE
		);
		const both = diagram.and(edge, odd);
		const { levelOf, roots } = sift(diagram, [edge, odd, both ^ 1, TRUE]);
		expect([...levelOf].sort((a, b) => a - b)).toEqual(Array.from(levelOf, (_, level) => level));
		expect(roots[3]).toBe(TRUE);
		const variableAt = new Int32Array(2 * n);
		levelOf.forEach((level, variable) => (variableAt[level] = variable));
		for (let bits = 0; bits < 2 ** (2 * n); bits++) {
			const isTrue = (variable: number) => ((bits >> variable) & 1) === 1;
			const pair = Array.from({ length: n }, (_, i) => isTrue(i) && isTrue(n + i)).some(Boolean);
			const isOdd = Array.from({ length: 2 * n }, (_, i) => isTrue(i)).filter(Boolean).length % 2 === 1;
			const at = (root: number) => valueOf(diagram, roots[root]!, (level) => isTrue(variableAt[level]!));
			expect([at(0), at(1), at(2)]).toEqual([pair, isOdd, !(pair && isOdd)]);
		}
	});

	it('works on in the new order as in any', () => {
		const { diagram, edge } = pairs(5);
		const { levelOf, roots } = sift(diagram, [edge]);
		const first = diagram.variable(levelOf[0]!);
		const partner = diagram.variable(levelOf[5]!);
		expect(diagram.and(diagram.and(first, partner), roots[0]! ^ 1)).toBe(FALSE);
	});

	it('weighs a case in any order the same, and again the same to the last digit', () => {
		const model = caseModel();
		const plain = weigh(model, { contributions: false });
		const sifted = () => compileLean(resolve(model), { maxNodes: 6e5, maxSteps: 5e6, siftFrom: 2000 });
		const one = weigh(model, { contributions: false, reuse: sifted() });
		const two = weigh(model, { contributions: false, reuse: sifted() });
		expect(one.events).toEqual(two.events);
		for (const [id, { givenAll }] of Object.entries(plain.events))
			expect(Math.abs((one.events[id]?.givenAll ?? NaN) - (givenAll ?? NaN))).toBeLessThan(1e-12);
		expect(one.logEvidence).toBeCloseTo(plain.logEvidence!, 10);
		expect(one.nodes).toBeLessThan(12_000);
	});
});
