import { describe, expect, it } from 'vitest';
import { Diagram, DiagramLimit } from '$lib/reasoning/diagram';

const budget = { maxNodes: 100_000, maxSteps: 10_000_000 };

/** At least half of n variables, and its nodes. */
function majority(n: number): { edge: number; nodes: number[]; diagram: Diagram } {
	const diagram = new Diagram(n, budget);
	const variables = Array.from({ length: n }, (_, level) => diagram.variable(level));
	const edge = diagram.atLeast(variables, n / 2);
	const { levels, highs, lows, size } = diagram;
	return { edge, nodes: [levels, highs, lows].flatMap((array) => [...array.subarray(0, size)]), diagram };
}

describe('A diagram in the arrays of an earlier one', () => {
	it('is the same as in arrays of its own, whatever they held before', () => {
		const own = majority(40);
		const large = majority(200);
		expect(large.nodes.length).toBeGreaterThan(3 * 4096);
		large.diagram.release();
		const reused = majority(40);
		expect(reused.edge).toBe(own.edge);
		expect(reused.nodes).toEqual(own.nodes);
		reused.diagram.release();
		expect(majority(200).nodes).toEqual(large.nodes);
	});

	it('two at a time keep out of one another’s way', () => {
		const first = majority(60);
		first.diagram.release();
		const here = majority(60);
		const there = majority(60);
		here.diagram.node(0, 0, 1);
		expect(there.nodes).toEqual(first.nodes);
	});

	it('one that outgrew its budget leaves nothing behind', () => {
		const own = majority(40);
		const small = new Diagram(200, { maxNodes: 5000, maxSteps: 1e7 });
		expect(() =>
			small.atLeast(
				Array.from({ length: 200 }, (_, level) => small.variable(level)),
				100
			)
		).toThrow(DiagramLimit);
		small.release();
		expect(majority(40).nodes).toEqual(own.nodes);
	});
});
