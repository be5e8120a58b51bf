/**
 * From tree to diagrams. Two are built over the same levels:
 *
 * - `prior`: every gate's own variable equals what its inputs make of it, and exclusive events exclude one another;
 * - `posterior`: that, and what is given, and every finding and calculated likelihood that enters.
 *
 * Each is a conjunction of small constraints, taken from the deepest up, so that each step touches only the levels
 * that the constraint spans. As a gate's variable is settled by its inputs, every path to 'true' tests it: its weights
 * need not add up to one, and one sweep gives the probability of every event and gate at once. In a large tree only
 * the gates that evidence speaks of have a variable; the others stay functions, which a sweep joins with the diagram.
 */
import { Diagram, DiagramLimit, FALSE, not, TRUE, type Budget } from './diagram';
import { orderLevels, reorder, type Levels } from './order';
import { layOut, layOutFlat, type Flat, type Program } from './program';
import type { Resolved, ResolvedGate } from './resolve';
import { sift } from './sift';

export interface Compiled {
	signature: string;
	levels: Levels;
	prior: Program;
	posterior: Program;
	/** By gate: its function, where it has no variable of its own. */
	functions: (Flat | undefined)[];
	nodes: number;
}

/** All that shapes the diagrams; two trees with one signature differ only in numbers. */
export function signatureOf(tree: Resolved): string {
	const { ids, house, gates, exclusive, observations, likelihoods, top, given } = tree;
	return JSON.stringify([
		ids,
		house.map((state) => state ?? null),
		gates.map(({ type, inputs, min, max }) => [type, inputs, min, max]),
		exclusive.map((group) => [group, mustBeOne(tree, group)]),
		observations.map(({ reports, links }) => [reports, links.map(({ from }) => from)]),
		likelihoods.map(({ id, scenarios }) => [id, scenarios.map(({ event }) => event ?? null)]),
		top ?? null,
		given
	]);
}

/** Share of the budget that variables for all gates may cost. */
const ALL_GATES_SHARE = 0.1;
/** With them a diagram is about three times as large: what without is larger than this part of the share is not tried. */
const WORTH_TRYING = 1 / 3;
/** In a deeper tree gates without variables cost more than they save. */
const FEW_GATES = 300;

/**
 * With variables for all gates where that is cheap, as one sweep then answers for all of them; else only for those
 * that evidence speaks of.
 * @throws {DiagramLimit} when a diagram outgrows the budget.
 */
export function compile(tree: Resolved, budget: Budget): Compiled {
	const share = {
		maxNodes: budget.maxNodes * ALL_GATES_SHARE,
		maxSteps: budget.maxSteps * ALL_GATES_SHARE
	};
	const lean = tree.gates.length <= FEW_GATES ? compileLean(tree, budget) : undefined;
	if (lean && lean.nodes > share.maxNodes * WORTH_TRYING) return lean;
	try {
		return compileWith(tree, share, () => true);
	} catch (error) {
		if (!(error instanceof DiagramLimit)) throw error;
		return lean ?? compileLean(tree, budget);
	}
}

/** Share of the budget from which on a better order is looked for: what is smaller is sooner built than sifted. */
const SIFT_FROM = 0.25;
/** What has grown large with more than this share of the constraints still to come is not saved by an order. */
const TOO_EARLY = 0.5;
const MOST_SIFTS = 8;

/** Variables only for the gates that are given or that evidence speaks of. */
export function compileLean(tree: Resolved, budget: Budget): Compiled {
	const spoken = spokenOf(tree);
	const sifting = { siftFrom: budget.maxNodes * SIFT_FROM, ...budget };
	return compileWith(tree, sifting, (gate) => spoken.has(tree.eventCount + gate));
}

/** Nodes that are given, that evidence speaks of, the typed events, and the branches under the top. */
function spokenOf({
	top,
	eventCount,
	gates,
	given,
	observations,
	likelihoods,
	typedEvents
}: Resolved): Set<number> {
	return new Set([
		...(top === undefined
			? []
			: [top, ...(gates[top - eventCount]?.inputs ?? []).map((input) => input >> 1)]),
		...given.map(({ node }) => node),
		...typedEvents,
		...observations.flatMap(({ links }) => links.map(({ from }) => from >> 1)),
		...likelihoods.flatMap(({ scenarios }) =>
			scenarios.map(({ event }) => (event === undefined ? -1 : event >> 1))
		)
	]);
}

function compileWith(tree: Resolved, budget: Budget, owns: (gate: number) => boolean): Compiled {
	const levels = orderLevels(tree, owns);
	const diagram = new Diagram(levels.count, budget);
	try {
		return layOutBoth(tree, levels, diagram, budget, owns);
	} finally {
		diagram.release();
	}
}

function layOutBoth(
	tree: Resolved,
	levels: Levels,
	diagram: Diagram,
	budget: Budget,
	owns: (gate: number) => boolean
): Compiled {
	const { functions, edge, constraints } = structureOf(tree, levels, diagram);
	const evidence = evidenceConstraints(tree, levels, diagram, edge);
	const [prior, posterior] = conjunctions(diagram, levels, budget, functions, constraints, evidence);
	const priorProgram = layOut(diagram, prior);
	return {
		signature: signatureOf(tree),
		levels,
		prior: priorProgram,
		posterior: posterior === prior ? priorProgram : layOut(diagram, posterior),
		functions: tree.gates.map((_, gate) =>
			owns(gate) ? undefined : layOutFlat(diagram, edge(2 * (tree.eventCount + gate)))
		),
		nodes: diagram.size
	};
}

/**
 * The constraints, and the constraints with the evidence: each taken from the deepest up. Where the diagram has grown
 * large, the levels get a better order, and what is still needed is carried over.
 * @param functions carried over in place
 */
function conjunctions(
	diagram: Diagram,
	levels: Levels,
	{ siftFrom = Infinity }: Budget,
	functions: number[],
	constraints: number[],
	evidence: number[]
): [prior: number, posterior: number] {
	let prior = TRUE;
	let next = siftFrom;
	let sifts = 0;
	const all = (edges: readonly number[], later: number[]): number => {
		const shallowFirst = (list: number[]) => list.sort((a, b) => diagram.level(a) - diagram.level(b));
		const rest = shallowFirst([...edges]);
		let result = TRUE;
		for (let edge = rest.pop(); edge !== undefined; edge = rest.pop()) {
			result = diagram.and(edge, result);
			if (diagram.size < next || rest.length === 0 || rest.length > edges.length * TOO_EARLY) continue;
			const { levelOf, roots } = sift(diagram, [prior, result, ...functions, ...later, ...rest]);
			reorder(levels, levelOf);
			[prior = TRUE, result = TRUE] = roots.splice(0, 2);
			for (const list of [functions, later, rest])
				list.splice(0, list.length, ...roots.splice(0, list.length));
			shallowFirst(rest);
			next = ++sifts < MOST_SIFTS ? Math.max(siftFrom, 2 * diagram.size) : Infinity;
		}
		return result;
	};
	const both = [...constraints, ...evidence];
	prior = all(constraints, both);
	// Sifting on the way to the one carries the other over, so it is read last.
	const posterior = evidence.length === 0 ? prior : all(both, []);
	return [prior, posterior];
}

type Edges = (literal: number) => number;

/** The function of every node, and the constraints that hold whatever is found. */
function structureOf(
	tree: Resolved,
	levels: Levels,
	diagram: Diagram
): { functions: number[]; edge: Edges; constraints: number[] } {
	const functions = tree.house.map((state, event) =>
		state === undefined ? diagram.variable(levels.node[event] as number) : state ? TRUE : FALSE
	);
	const edge = (literal: number) => (functions[literal >> 1] as number) ^ (literal & 1);
	const constraints: number[] = [];
	for (const g of tree.order) {
		const gate = tree.gates[g] as ResolvedGate;
		const rows = (levels.rows[g] ?? []).map((level) => diagram.variable(level));
		const value = gateEdge(diagram, gate, gate.inputs.map(edge), rows);
		const level = levels.node[tree.eventCount + g] as number;
		functions[tree.eventCount + g] = level < 0 ? value : diagram.variable(level);
		if (level >= 0) constraints.push(diagram.iff(diagram.variable(level), value));
	}
	for (const group of tree.exclusive) {
		const members = group.map((event) => edge(2 * event));
		constraints.push(diagram.count(members, mustBeOne(tree, group) ? 1 : 0, 1));
	}
	return { functions, edge, constraints };
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

function evidenceConstraints(tree: Resolved, levels: Levels, diagram: Diagram, edge: Edges): number[] {
	const constraints = tree.given.map(({ node, value }) => edge(2 * node + Number(!value)));
	tree.observations.forEach(({ links, reports }, o) => {
		const own = levels.observations[o];
		if (!own) return;
		const sign = diagram.any([
			diagram.variable(own.base),
			...links.map(({ from }, i) => diagram.and(edge(from), diagram.variable(own.links[i] as number)))
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
			else observed = diagram.or(diagram.and(edge(event), accept), diagram.and(not(edge(event)), observed));
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
