/** How an event got from its starting weight to where it stands: what became known, one piece after another. */
import { afterEvidence, beforeEvidence, exactFor } from './exact';
import type { FindingState, TreeModel } from './model';
import { resolve } from './resolve';
import { decibans } from './weigh';
import type { Refusable, WeighOptions } from './weighing';

export interface Step {
	/** The finding or the calculated likelihood that became known; null for what is given, the top event. */
	id: string | null;
	/** Other findings that are the same observation and became known with it. */
	together: string[];
	state?: FindingState;
	/** Probability of the event once this and all before it are known. */
	stands: number;
	/** The step in decibans of its odds. All steps add up to the way from the starting weight to the last standing. */
	decibans: number;
}

export interface Steps {
	prior: number;
	/** What is given first, then the findings, then the calculations, each in the order of the model. */
	steps: Step[];
}

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
	if (!exact)
		return { ok: false, problem: 'the tree with its evidence is too large to be taken step by step exactly' };
	const known = { observations: new Set<number>(), likelihoods: new Set<number>() };
	const after = afterEvidence(exact, tree, [node]);
	const standing = (): number | null => {
		const log = after.log(tree, {
			withoutObservation: (o) => !known.observations.has(o),
			withoutLikelihood: (l) => !known.likelihoods.has(l)
		});
		return log === -Infinity ? null : (after.probabilities()[0] as number);
	};
	const alone = beforeEvidence(exact, tree, [node]);
	alone.log(tree);
	const prior = node < tree.eventCount ? (tree.p[node] as number) : (alone.probabilities()[0] as number);
	const steps: Step[] = [];
	let before = prior;
	const take = (step: Pick<Step, 'id' | 'together' | 'state'>): boolean => {
		const stands = standing();
		if (stands === null) return false;
		steps.push({ ...step, stands, decibans: decibans(stands, before) });
		before = stands;
		return true;
	};
	const clash = { ok: false, problem: 'the evidence is impossible under this tree' } as const;
	if (!take({ id: null, together: [] })) return clash;
	for (const [o, { reports }] of tree.observations.entries()) {
		const [first, ...others] = reports.filter(({ state }) => state !== 'notExamined');
		if (!first) continue;
		known.observations.add(o);
		if (!take({ id: first.id, together: others.map(({ id: other }) => other), state: first.state }))
			return clash;
	}
	for (const [l, { id: likelihood }] of tree.likelihoods.entries()) {
		known.likelihoods.add(l);
		if (!take({ id: likelihood, together: [] })) return clash;
	}
	return { ok: true, prior, steps };
}
