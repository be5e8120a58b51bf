/** Several events at once: 'both?' */
import type { TreeModel } from './model';
import { resolve } from './resolve';
import { Sweep } from './sweep';
import { compiledFor, logWeight } from './weigh';
import type { Refusable, WeighOptions } from './weighing';
import { priorWeights, weightsOf } from './weights';

export interface Joint {
	prior: number;
	/** Null when there is no top event, or it is impossible. */
	givenTop: number | null;
	/** Null when the evidence is impossible. */
	givenAll: number | null;
}

/** Probability that all of these events and gates are in the states named, such as `{A: true, B: true}`. */
export function jointProbability(
	model: TreeModel,
	states: Readonly<Record<string, boolean>>,
	options: WeighOptions = {}
): Refusable<Joint> {
	const tree = resolve(model);
	const held = new Map<number, boolean>();
	for (const [id, state] of Object.entries(states)) {
		const node = tree.index.get(id);
		if (node === undefined) return { ok: false, problem: `'${id}' is neither an event nor a gate` };
		held.set(node, state);
	}
	const compiled = compiledFor(tree, options);
	const isWeighed = (node: number) =>
		(compiled?.levels.node[node] ?? -1) >= 0 || tree.house[node] !== undefined;
	if (!compiled || ![...held.keys()].every(isWeighed))
		return { ok: false, problem: 'the tree is too large for exact joint probabilities' };
	const { levels, prior, posterior } = compiled;
	const before = new Sweep(prior);
	const after = new Sweep(posterior);
	const { top } = tree;
	const ratio = (part: number, whole: number) => (whole > -Infinity ? Math.exp(part - whole) : null);
	const priorOf = (nodes: ReadonlyMap<number, boolean>) =>
		logWeight(before, priorWeights(tree, levels, nodes));
	const givenTop = (node: number) =>
		held.get(node) === false
			? 0
			: ratio(priorOf(new Map([...held, [node, true]])), priorOf(new Map([[node, true]])));
	return {
		ok: true,
		prior: ratio(priorOf(held), priorOf(new Map())) ?? 0,
		givenTop: top === undefined ? null : givenTop(top),
		givenAll: ratio(
			logWeight(after, weightsOf(tree, levels, { held })),
			logWeight(after, weightsOf(tree, levels))
		)
	};
}
