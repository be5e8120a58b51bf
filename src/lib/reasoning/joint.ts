/** Several events at once: 'both?' */
import { afterEvidence, beforeEvidence, canHold, exactFor } from './exact';
import { readLiteral } from './literal';
import type { Literal, TreeModel } from './model';
import { resolve } from './resolve';
import type { Refusable, WeighOptions } from './weighing';

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
	const exact = exactFor(tree, options);
	if (!exact || ![...held.keys()].every((node) => canHold(exact, tree, node)))
		return { ok: false, problem: 'the tree is too large for exact joint probabilities' };
	const before = beforeEvidence(exact, tree, []);
	const after = afterEvidence(exact, tree, []);
	const { top } = tree;
	const ratio = (part: number, whole: number) => (whole > -Infinity ? Math.exp(part - whole) : null);
	const priorOf = (nodes: ReadonlyMap<number, boolean>) => before.log(tree, { held: nodes });
	const givenTop = (node: number) =>
		held.get(node) === false
			? 0
			: ratio(priorOf(new Map([...held, [node, true]])), priorOf(new Map([[node, true]])));
	return {
		ok: true,
		prior: ratio(priorOf(held), priorOf(new Map())) ?? 0,
		givenTop: top === undefined ? null : givenTop(top),
		givenAll: ratio(after.log(tree, { held }), after.log(tree))
	};
}

/**
 * By list: the probability, given everything, that all in it are true (a negated one: not true), or null where one of
 * them has no variable of its own in a large tree. The diagrams are built or looked up once.
 */
export function togetherGivenAll(
	model: TreeModel,
	lists: readonly (readonly Literal[])[],
	options: WeighOptions = {}
): Refusable<{ list: (number | null)[] }> {
	const tree = resolve(model);
	const exact = exactFor(tree, options);
	if (!exact) return { ok: false, problem: 'the tree is too large for exact joint probabilities' };
	const after = afterEvidence(exact, tree, []);
	const whole = after.log(tree);
	if (whole === -Infinity) return { ok: false, problem: 'the evidence is impossible under this tree' };
	const together = (literals: readonly Literal[]): number | null => {
		const held = new Map<number, boolean>();
		for (const literal of literals) {
			const { id, negated } = readLiteral(literal);
			const node = tree.index.get(id);
			if (node === undefined) return null;
			if ((held.get(node) ?? !negated) === negated) return 0;
			if (!canHold(exact, tree, node)) return null;
			held.set(node, !negated);
		}
		return Math.exp(after.log(tree, { held }) - whole);
	};
	return { ok: true, list: lists.map(together) };
}
