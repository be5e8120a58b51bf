/**
 * From tree to diagrams. Two are built over the same levels:
 *
 * - `prior`: every gate's own variable equals what its inputs make of it, and exclusive events exclude one another;
 * - `posterior`: that, and what is given, and every finding and calculated likelihood that enters.
 *
 * Each is a conjunction of small constraints, taken from the deepest up, so that each step touches only the levels
 * that the constraint spans. As a gate's variable is settled by its inputs, every path to 'true' tests it: its weights
 * need not add up to one, and one sweep gives the probability of every event and gate at once.
 */
import { Diagram, FALSE, not, TRUE, type Budget } from './diagram';
import { orderLevels, type Levels } from './order';
import { layOut, type Program } from './program';
import type { Resolved, ResolvedGate } from './resolve';

export interface Compiled {
	signature: string;
	levels: Levels;
	prior: Program;
	posterior: Program;
	nodes: number;
}

/** All that shapes the diagrams; two trees with one signature differ only in numbers. */
export function signatureOf({
	ids,
	house,
	gates,
	exclusive,
	observations,
	likelihoods,
	top,
	given
}: Resolved): string {
	return JSON.stringify([
		ids,
		house.map((state) => state ?? null),
		gates.map(({ type, inputs, min, max }) => [type, inputs, min, max]),
		exclusive,
		observations.map(({ reports, links }) => [reports, links.map(({ from }) => from)]),
		likelihoods.map(({ id, scenarios }) => [id, scenarios.map(({ event }) => event ?? null)]),
		top ?? null,
		given
	]);
}

/** @throws {DiagramLimit} when a diagram outgrows the budget. */
export function compile(tree: Resolved, budget: Budget): Compiled {
	const levels = orderLevels(tree);
	const diagram = new Diagram(levels.count, budget);
	const edges = edgesOf(tree, levels, diagram);
	const structural = structureConstraints(tree, levels, diagram, edges);
	const prior = conjunction(diagram, structural);
	const evidence = evidenceConstraints(tree, levels, diagram, edges);
	const posterior = evidence.length === 0 ? prior : conjunction(diagram, [...structural, ...evidence]);
	const priorProgram = layOut(diagram, prior);
	return {
		signature: signatureOf(tree),
		levels,
		prior: priorProgram,
		posterior: posterior === prior ? priorProgram : layOut(diagram, posterior),
		nodes: diagram.size
	};
}

type Edges = (literal: number) => number;

function edgesOf({ house }: Resolved, levels: Levels, diagram: Diagram): Edges {
	return (literal) => {
		const node = literal >> 1;
		const state = house[node];
		const edge = state === undefined ? diagram.variable(levels.node[node] as number) : state ? TRUE : FALSE;
		return edge ^ (literal & 1);
	};
}

/** Conjunction, deepest constraints first. */
function conjunction(diagram: Diagram, constraints: number[]): number {
	return diagram.all(constraints);
}

function structureConstraints(tree: Resolved, levels: Levels, diagram: Diagram, edges: Edges): number[] {
	const gates = tree.gates.map((gate, g) => {
		const rows = (levels.rows[g] ?? []).map((level) => diagram.variable(level));
		return diagram.iff(
			edges(2 * (tree.eventCount + g)),
			gateEdge(diagram, gate, gate.inputs.map(edges), rows)
		);
	});
	const groups = tree.exclusive.map((group) => {
		const members = group.map((event) => edges(2 * event));
		return diagram.count(members, mustBeOne(tree, group) ? 1 : 0, 1);
	});
	return [...gates, ...groups];
}

/** Exclusive events whose probabilities add up to one leave no room for 'none of them'. */
export function mustBeOne({ p }: Resolved, group: readonly number[]): boolean {
	return group.reduce((sum, event) => sum + (p[event] as number), 0) > 1 - 1e-9;
}

/** A gate as a function of its inputs (and, for a table, of one variable per row). */
export function gateEdge(diagram: Diagram, gate: ResolvedGate, inputs: number[], rows: number[]): number {
	switch (gate.type) {
		case 'or':
			return diagram.any(inputs);
		case 'and':
		case 'inhibit':
		case 'priorityAnd':
			return diagram.all(inputs);
		case 'nor':
		case 'not':
			return not(diagram.any(inputs));
		case 'nand':
			return not(diagram.all(inputs));
		case 'atLeast':
		case 'cardinality':
			return diagram.count(inputs, gate.min, gate.max);
		case 'exactlyOne':
			return diagram.count(inputs, 1, 1);
		case 'xor':
		case 'odd':
			return inputs.reduce((odd, input) => not(diagram.iff(odd, input)), FALSE);
		case 'iff':
			return diagram.iff(inputs[0] as number, inputs[1] as number);
		case 'imply':
			return diagram.or(not(inputs[0] as number), inputs[1] as number);
		case 'table': {
			// Rows come in the order TT, TF, FT, FF: split the last input first.
			let row = rows;
			for (const input of [...inputs].reverse()) {
				const above = row;
				row = above
					.filter((_, i) => i % 2 === 0)
					.map((whenTrue, i) =>
						diagram.or(diagram.and(input, whenTrue), diagram.and(not(input), above[2 * i + 1] as number))
					);
			}
			return row[0] as number;
		}
	}
}

function evidenceConstraints(tree: Resolved, levels: Levels, diagram: Diagram, edges: Edges): number[] {
	const constraints = tree.given.map(({ node, value }) => edges(2 * node + Number(!value)));
	tree.observations.forEach(({ links, reports }, o) => {
		const own = levels.observations[o];
		if (!own) return;
		const sign = diagram.any([
			diagram.variable(own.base),
			...links.map(({ from }, i) => diagram.and(edges(from), diagram.variable(own.links[i] as number)))
		]);
		reports.forEach(({ state, origin }, i) => {
			if (state === 'notExamined') return;
			const says = origin < 0 ? sign : reported(diagram, levels, origin, sign);
			const seen = state === 'present' ? says : not(says);
			const dropped = own.dropped[i] as number;
			constraints.push(dropped < 0 ? seen : diagram.or(diagram.variable(dropped), seen));
		});
	});
	tree.likelihoods.forEach(({ scenarios }, l) => {
		let observed = FALSE;
		for (const [i, { event }] of [...scenarios.entries()].reverse()) {
			const accept = diagram.variable(levels.scenarios[l]?.[i] as number);
			if (event === undefined) observed = accept;
			else observed = diagram.or(diagram.and(edges(event), accept), diagram.and(not(edges(event)), observed));
		}
		constraints.push(observed);
	});
	return constraints;
}

/** (genuine AND sign) OR (NOT genuine AND says-anyway). */
function reported(diagram: Diagram, levels: Levels, origin: number, sign: number): number {
	const { genuine, says } = levels.origins[origin] ?? { genuine: -1, says: -1 };
	const isGenuine = diagram.variable(genuine);
	return diagram.or(diagram.and(isGenuine, sign), diagram.and(not(isGenuine), diagram.variable(says)));
}
