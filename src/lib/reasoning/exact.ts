/** What answers exactly: a diagram, or all worlds of a small tree one by one. Whoever asks need not know which. */
import { compile, signatureOf, type Compiled } from './compile';
import { DiagramLimit } from './diagram';
import type { Program } from './program';
import type { Resolved } from './resolve';
import { Sweep } from './sweep';
import { DEFAULT_MAX_NODES, type WeighOptions } from './weighing';
import { weightsOf, type Changes, type Weigher } from './weights';
import { Worlds, WorldWeigher, type Exact } from './worlds';

/** The tree's diagrams, taken from `reuse` where only numbers have changed; undefined when they outgrow the limit. */
export function diagramsFor(
	tree: Resolved,
	{ maxNodes = DEFAULT_MAX_NODES, reuse }: WeighOptions
): Compiled | undefined {
	const same = reused(tree, reuse);
	if (same && !(same instanceof Worlds)) return same;
	try {
		return compile(tree, { maxNodes, maxSteps: 8 * maxNodes });
	} catch (error) {
		if (error instanceof DiagramLimit) return undefined;
		throw error;
	}
}

/** A diagram with more nodes than this for each world is slower than the worlds. */
const NODES_PER_WORLD = 16;
const LEAST_NODES = 20_000;

/** Diagrams, or worlds where those are few and the diagrams large; undefined when neither fits. */
export function exactFor(tree: Resolved, options: WeighOptions): Exact | undefined {
	const { maxNodes = DEFAULT_MAX_NODES } = options;
	const same = reused(tree, options.reuse);
	if (same) return same;
	const worlds = Worlds.countOf(tree, maxNodes);
	if (worlds === undefined) return diagramsFor(tree, options);
	const enough = Math.min(maxNodes, Math.max(LEAST_NODES, NODES_PER_WORLD * worlds));
	return diagramsFor(tree, { maxNodes: enough }) ?? new Worlds(tree);
}

function reused(tree: Resolved, reuse: WeighOptions['reuse']): Exact | undefined {
	const earlier = [reuse ?? []].flat();
	if (earlier.length === 0) return undefined;
	const signature = signatureOf(tree);
	return earlier.find((exact) => exact.signature === signature);
}

/** Weighs the tree without its evidence. @param nodes  all that is asked about; every node without */
export const beforeEvidence = (exact: Exact, tree: Resolved, nodes?: readonly number[]): Weigher =>
	exact instanceof Worlds
		? new InWorlds(new WorldWeigher(exact, tree, false), tree, nodes)
		: new InDiagram(exact, exact.prior, tree, nodes, {
				withoutObservation: () => true,
				withoutLikelihood: () => true
			});

/** Weighs what is given, all that was found and all that was calculated. */
export const afterEvidence = (exact: Exact, tree: Resolved, nodes?: readonly number[]): Weigher =>
	exact instanceof Worlds
		? new InWorlds(new WorldWeigher(exact, tree, true), tree, nodes)
		: new InDiagram(exact, exact.posterior, tree, nodes);

/** Whether a node can be held: it has a variable of its own, or is switched. */
export const canHold = (exact: Exact, { house }: Resolved, node: number): boolean =>
	exact instanceof Worlds || (exact.levels.node[node] ?? -1) >= 0 || house[node] !== undefined;

class InWorlds implements Weigher {
	private readonly nodes: readonly number[];

	constructor(
		private readonly weigher: WorldWeigher,
		{ ids }: Resolved,
		nodes?: readonly number[]
	) {
		this.nodes = nodes ?? [...ids.keys()];
	}

	log(tree: Resolved, changes?: Changes): number {
		return this.weigher.log(tree, changes);
	}

	probabilities(): Float64Array {
		return Float64Array.from(this.nodes, (node) => this.weigher.probability(node));
	}
}

class InDiagram implements Weigher {
	private readonly sweep: Sweep;
	private readonly nodes: readonly number[];
	private readonly functions: Compiled['functions'];

	constructor(
		private readonly compiled: Compiled,
		program: Program,
		private readonly tree: Resolved,
		nodes?: readonly number[],
		private readonly always?: Changes
	) {
		const { levels, functions } = compiled;
		this.nodes = nodes ?? [...tree.ids.keys()];
		const asked = new Uint8Array(tree.ids.length);
		for (const node of this.nodes) asked[node] = 1;
		const wanted = new Uint8Array(levels.count);
		for (const node of this.nodes)
			if ((levels.node[node] as number) >= 0) wanted[levels.node[node] as number] = 1;
		this.functions = functions.map((f, gate) => (asked[tree.eventCount + gate] === 1 ? f : undefined));
		this.sweep = new Sweep(program, wanted);
	}

	log(tree: Resolved, changes?: Changes): number {
		return this.sweep.log(weightsOf(tree, this.compiled.levels, { ...changes, ...this.always }));
	}

	probabilities(): Float64Array {
		const { levels } = this.compiled;
		const { eventCount, house } = this.tree;
		const isTrue = this.sweep.down(this.functions);
		const { total } = this.sweep;
		return Float64Array.from(this.nodes, (node) => {
			const level = levels.node[node] as number;
			if (level < 0 && node < eventCount) return Number(house[node]);
			const weight = level < 0 ? isTrue.functions[node - eventCount] : isTrue.levels[level];
			return Math.min(1, (weight as number) / total);
		});
	}
}
