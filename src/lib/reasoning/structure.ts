/** The top event as a function of its basic events alone, without evidence: for cut sets and importance. */
import { gateEdge, mustBeOne } from './compile';
import { Diagram, DiagramLimit, FALSE, TRUE, type Budget } from './diagram';
import { orderLevels } from './order';
import { layOut, type Program } from './program';
import type { Resolved, ResolvedGate } from './resolve';
import { Sweep, type Weights } from './sweep';
import { variableP } from './weights';

export interface Structure {
	diagram: Diagram;
	top: number;
	/** No negation below the top but of what is switched: more failures never prevent it. */
	coherent: boolean;
	exclusiveLevels: number[][];
	/** Node of an event, or name of a table's row, by level. */
	names: string[];
	/** By event: its level, or -1 when it is a house event. */
	eventLevel: number[];
	weights: Weights;
	/** Members of common-cause groups below the top: node, function, and the levels of their parts. */
	members: { node: number; edge: number; parts: number[] }[];
	/** That exclusive events exclude one another; and with it the top. */
	constraint: number;
	both: number;
	topProgram: Program;
	constraintProgram: Program;
}

/** @throws {DiagramLimit} when the diagram outgrows the budget. The tree must have a top. */
export function compileStructure(tree: Resolved, { maxNodes, maxSteps }: Budget): Structure {
	try {
		return compileOrdered(tree, { maxNodes: maxNodes / 2, maxSteps: maxSteps / 2 }, false);
	} catch (error) {
		if (!(error instanceof DiagramLimit)) throw error;
		return compileOrdered(tree, { maxNodes, maxSteps }, true);
	}
}

function compileOrdered(tree: Resolved, budget: Budget, upsideDown: boolean): Structure {
	if (tree.top === undefined) throw new Error('the tree has no top event');
	const bare: Resolved = { ...tree, observations: [], origins: [], likelihoods: [] };
	const levels = orderLevels(bare, () => false, upsideDown);
	const diagram = new Diagram(levels.count, budget);
	const names = new Array<string>(levels.count).fill('');
	const weights: Weights = {
		high: new Float64Array(levels.count),
		low: new Float64Array(levels.count),
		logScale: 0
	};
	const variable = (level: number, name: string, p: number) => {
		names[level] = name;
		weights.high[level] = p;
		weights.low[level] = 1 - p;
		return diagram.variable(level);
	};
	const functions = tree.house.map((state, event) => {
		if (state !== undefined) return state ? TRUE : FALSE;
		return variable(levels.node[event] as number, tree.ids[event] as string, variableP(tree, event));
	});
	let coherent = true;
	const below = belowTop(tree);
	for (const g of tree.order) {
		const node = tree.eventCount + g;
		const gate = tree.gates[g] as ResolvedGate;
		if (below[node] === 0) {
			functions[node] = FALSE;
			continue;
		}
		const rows = (levels.rows[g] ?? []).map((level, i) =>
			variable(level, `${tree.ids[node]}|${rowName(gate.inputs.length, i)}`, gate.rows[i] ?? 0)
		);
		const inputs = gate.inputs.map((input) => (functions[input >> 1] as number) ^ (input & 1));
		const value = gateEdge(diagram, gate, inputs, rows);
		functions[node] = value;
		coherent &&= isConstant(value) || isCoherent(gate, inputs);
	}
	const exclusiveLevels = tree.exclusive.map((group) => group.map((event) => levels.node[event] as number));
	const constraint = diagram.all(
		exclusiveLevels.map((group, i) =>
			diagram.count(
				group.map((level) => diagram.variable(level)),
				mustBeOne(tree, tree.exclusive[i] ?? []) ? 1 : 0,
				1
			)
		)
	);
	const top = functions[tree.top] as number;
	const both = diagram.and(top, constraint);
	return {
		diagram,
		top,
		coherent,
		exclusiveLevels,
		names,
		eventLevel: tree.house.map((_, event) => levels.node[event] as number),
		weights,
		members: tree.typedEvents
			.filter((node) => node >= tree.eventCount && below[node] === 1)
			.map((node) => ({
				node,
				edge: functions[node] as number,
				parts: (tree.gates[node - tree.eventCount] as ResolvedGate).inputs.map(
					(part) => levels.node[part >> 1] as number
				)
			})),
		constraint,
		both,
		topProgram: layOut(diagram, both),
		constraintProgram: layOut(diagram, constraint)
	};
}

const isConstant = (edge: number) => edge === TRUE || edge === FALSE;

function isCoherent({ type, inputs, min, max }: ResolvedGate, edges: readonly number[]): boolean {
	if (inputs.some((input, i) => input & 1 && !isConstant(edges[i] as number))) return false;
	if (type === 'cardinality') return max >= inputs.length && min >= 0;
	return ['or', 'and', 'inhibit', 'priorityAnd', 'atLeast'].includes(type);
}

/** By node: 1 for the top and all that it rests on. */
function belowTop({ ids, top, eventCount, gates, order }: Resolved): Uint8Array {
	const below = new Uint8Array(ids.length);
	if (top !== undefined) below[top] = 1;
	for (const gate of [...order].reverse())
		if (below[eventCount + gate] === 1)
			for (const input of (gates[gate] as ResolvedGate).inputs) below[input >> 1] = 1;
	return below;
}

/** 'TF' for the second row of a table with two inputs. */
function rowName(inputs: number, row: number): string {
	return row.toString(2).padStart(inputs, '0').replaceAll('0', 'T').replaceAll('1', 'F');
}

/** Probability of a function under the structure's weights, given that exclusive events exclude one another. */
export function probabilityOf({ weights, constraintProgram }: Structure, program: Program): number {
	return new Sweep(program).up(weights) / new Sweep(constraintProgram).up(weights);
}
