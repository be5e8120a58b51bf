/** How an event got from its starting weight to where it stands: what became known, one piece after another. */
import { logOfOnly, piecesOf } from './contradiction';
import { afterEvidence, beforeEvidence, exactFor } from './exact';
import type { TreeModel } from './model';
import { resolve } from './resolve';
import { sampledSteps } from './sampled-steps';
import { knowing, type Step, type Steps } from './step';
import { decibans } from './weigh';
import type { Refusable, WeighOptions } from './weighing';

/**
 * The size of a step depends on what was known before it wherever pieces of evidence bear on one another; only the sum
 * does not. `Contribution` has each piece's own weight once everything else is known.
 * @throws RangeError for an id that is neither an event nor a gate
 */
export function stepsOf(model: TreeModel, id: string, options: WeighOptions = {}): Refusable<Steps> {
	const tree = resolve(model);
	const node = tree.index.get(id);
	if (node === undefined) throw new RangeError(`there is no event or gate '${id}'`);
	const exact = exactFor(tree, options);
	if (!exact) return sampledSteps(tree, node, options);
	const after = afterEvidence(exact, tree, [node]);
	const alone = beforeEvidence(exact, tree, [node]);
	alone.log(tree);
	const prior = node < tree.eventCount ? (tree.p[node] as number) : (alone.probabilities()[0] as number);
	const pieces = piecesOf(tree);
	const steps: Step[] = [];
	for (let known = 0, before = prior; known <= pieces.length; known++) {
		if (logOfOnly(pieces.slice(0, known), tree, after) === -Infinity)
			return { ok: false, problem: 'the evidence is impossible under this tree' };
		const stands = after.probabilities()[0] as number;
		steps.push({ ...knowing(tree, pieces[known - 1]), stands, decibans: decibans(stands, before) });
		before = stands;
	}
	return { ok: true, prior, steps };
}
