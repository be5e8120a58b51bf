/** Minimal cut sets of the top event, without evidence: counted, and the most probable listed. */
import { countSets, mostProbableSets } from './cut-sets';
import type { TreeModel } from './model';
import { probabilityOf } from './structure';
import { askTop, type TopEvent } from './top-event';
import type { Refusable } from './weighing';

export interface CutSet {
	/** Ids; a negated one (a prime implicant of a tree with NOT) begins with '!'. */
	events: string[];
	probability: number;
	/** Probability that all of its events are true, given the top event. These overlap and add up to more than 1. */
	givenTop: number | null;
}

export interface CutSets {
	/** How many there are, of the order asked for; exact up to 2^53. */
	count: number;
	/** The most probable, most probable first. */
	list: CutSet[];
}

export interface CutSetOptions {
	/** Largest number of events in a set. */
	order?: number;
	/** Sets below this probability are not listed. */
	leastProbability?: number;
	/** How many to list, 1000 by default. */
	list?: number;
	maxNodes?: number;
}

/** Minimal cut sets of the top event (prime implicants where there is negation). */
export function minimalCutSets(model: TreeModel, options: CutSetOptions = {}): Refusable<CutSets> {
	return askTop(model, options.maxNodes, (top) => cutSetsOf(top, options));
}

export function cutSetsOf(
	{ tree, structure, family: familyUpTo, p }: TopEvent,
	{ order, list = 1000, leastProbability = 0 }: CutSetOptions
): Refusable<CutSets> {
	const family = familyUpTo(order);
	if (!family)
		return { ok: false, problem: 'there are too many minimal cut sets; ask for those up to an order' };
	const top = probabilityOf(structure, structure.topProgram);
	/** In the order in which the tree lists them; rows of tables last. */
	const place = (name: string) => tree.index.get(name) ?? Infinity;
	return {
		ok: true,
		count: countSets(family),
		list: mostProbableSets(family, p, list, leastProbability).map(({ elements, probability }) => ({
			events: elements
				.map((element) => ({ name: structure.names[element >> 1] as string, not: element & 1 }))
				.sort((a, b) => place(a.name) - place(b.name))
				.map(({ name, not }) => (not ? `!${name}` : name)),
			probability,
			givenTop: top > 0 ? probability / top : null
		}))
	};
}
