/** Minimal cut sets and classical importance of the top event, without evidence. */
import { DiagramLimit, not } from './diagram';
import {
	countSets,
	cutSetFamily,
	mostProbableSets,
	setsWith,
	sumsOf,
	TooManyCutSets,
	unionOf,
	type CutSetFamily
} from './cut-sets';
import type { TreeModel } from './model';
import { layOut } from './program';
import { resolve, type Resolved } from './resolve';
import { compileStructure, probabilityOf, type Structure } from './structure';
import { Sweep } from './sweep';
import { DEFAULT_MAX_NODES, type Refusable } from './weighing';

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

export interface Importance {
	/** P(top | event true) and P(top | event false). */
	whenTrue: number;
	whenFalse: number;
	/** whenTrue - whenFalse (Birnbaum 1969). */
	birnbaum: number;
	/** birnbaum · P(event) / P(top) = 1 - 1/RRW. */
	criticality: number;
	/** P(union of the minimal cut sets with the event) / P(top). */
	fussellVeselyUnion: number | null;
	/** Sum of P(cut set) over those with the event / sum over all. */
	fussellVeselyRare: number | null;
	/** Risk achievement worth: P(top | event true) / P(top). */
	raw: number;
	/** Risk reduction worth: P(top) / P(top | event false); Infinity when the top can't be without the event. */
	rrw: number;
	/** P(event | top). */
	givenTop: number;
}

export interface ImportanceResult {
	probabilityOfTop: number;
	/** From the minimal cut sets; null where there is negation or too many of them. */
	rareEventSum: number | null;
	/** Null also where events exclude one another: it is a bound for independent events only. */
	minCutUpperBound: number | null;
	/** Sum of cut sets less the sum of their pairs: a lower bound; null above 2,000 cut sets. */
	twoTermLowerBound: number | null;
	/** By event; of a common-cause group both the parts and the members, a member being 'true' by whichever part. */
	events: Record<string, Importance>;
}

/** How far the farther of the two upper bounds lies above the exact value, as a factor; null where there is neither. */
export function boundsApart({
	probabilityOfTop,
	rareEventSum,
	minCutUpperBound
}: Pick<ImportanceResult, 'probabilityOfTop' | 'rareEventSum' | 'minCutUpperBound'>): number | null {
	const bound = Math.max(rareEventSum ?? 0, minCutUpperBound ?? 0);
	return bound > 0 ? bound / probabilityOfTop : null;
}

const MAX_SET_NODES = 2_000_000;
const MAX_UNION_WORK = 1_000_000;
const MAX_PAIRED = 2000;
const MAX_ONE_BY_ONE = 1_000_000;

const TOO_LARGE = { ok: false, problem: 'the tree is too large for an exact diagram' } as const;

function structureOf(tree: Resolved, maxNodes = DEFAULT_MAX_NODES): Refusable<{ structure: Structure }> {
	if (tree.top === undefined) return { ok: false, problem: 'the tree has no top event' };
	try {
		return { ok: true, structure: compileStructure(tree, { maxNodes, maxSteps: 8 * maxNodes }) };
	} catch (error) {
		if (error instanceof DiagramLimit) return TOO_LARGE;
		throw error;
	}
}

/** The cut sets of the top, or undefined where they outgrow the limits. */
function familyOf(structure: Structure, order = Infinity): CutSetFamily | undefined {
	try {
		return cutSetFamily(structure, order, MAX_SET_NODES);
	} catch (error) {
		if (error instanceof TooManyCutSets || error instanceof DiagramLimit) return undefined;
		throw error;
	}
}

/** Minimal cut sets of the top event (prime implicants where there is negation): counted, and the most probable listed. */
export function minimalCutSets(model: TreeModel, options: CutSetOptions = {}): Refusable<CutSets> {
	const tree = resolve(model);
	const made = structureOf(tree, options.maxNodes);
	if (!made.ok) return made;
	const { structure } = made;
	const family = familyOf(structure, options.order);
	if (!family)
		return { ok: false, problem: 'there are too many minimal cut sets; ask for those up to an order' };
	const { p } = elementsOf(tree, structure);
	const top = probabilityOf(structure, structure.topProgram);
	/** In the order in which the tree lists them; rows of tables last. */
	const place = (name: string) => tree.index.get(name) ?? Infinity;
	const list = mostProbableSets(family, p, options.list ?? 1000, options.leastProbability ?? 0);
	return {
		ok: true,
		count: countSets(family),
		list: list.map(({ elements, probability }) => ({
			events: elements
				.map((element) => ({ name: structure.names[element >> 1] as string, not: element & 1 }))
				.sort((a, b) => place(a.name) - place(b.name))
				.map(({ name, not }) => (not ? `!${name}` : name)),
			probability,
			givenTop: top > 0 ? probability / top : null
		}))
	};
}

/** Probability of an element; of exclusive events the stated one, as a set holds but one of them. */
function elementsOf(tree: Resolved, { names, weights }: Structure) {
	const stated = new Map(
		tree.ids.slice(0, tree.eventCount).map((id, event) => [id, tree.p[event] as number])
	);
	const byLevel = names.map((name, level) => stated.get(name) ?? (weights.high[level] as number));
	const p = (element: number) => {
		const isTrue = byLevel[element >> 1] as number;
		return element & 1 ? 1 - isTrue : isTrue;
	};
	return { p };
}

/**
 * Importance of every event below the top, the bounds beside the exact probability. Without evidence.
 * @param cutSetOrder largest cut sets that the measures from cut sets count; 0 leaves those measures out
 */
export function importance(
	model: TreeModel,
	{ maxNodes, cutSetOrder }: { maxNodes?: number; cutSetOrder?: number } = {}
): Refusable<ImportanceResult> {
	const tree = resolve(model);
	const made = structureOf(tree, maxNodes);
	if (!made.ok) return made;
	try {
		return importanceIn(tree, made.structure, cutSetOrder);
	} catch (error) {
		if (error instanceof DiagramLimit) return TOO_LARGE;
		throw error;
	}
}

function importanceIn(
	tree: Resolved,
	structure: Structure,
	cutSetOrder: number | undefined
): Refusable<ImportanceResult> {
	const top = new Sweep(structure.topProgram);
	const all = new Sweep(structure.constraintProgram);
	const joint = top.up(structure.weights);
	const possible = all.up(structure.weights);
	const probabilityOfTop = joint / possible;
	if (!(probabilityOfTop > 0))
		return { ok: false, problem: 'the top event is impossible, so nothing matters for it' };
	top.down();
	all.down();
	const withTop = top.cofactors();
	const withAny = all.cofactors();
	const family = structure.coherent && cutSetOrder !== 0 ? familyOf(structure, cutSetOrder) : undefined;
	const { p } = elementsOf(tree, structure);
	const sums = family && sumsOf(family, p);
	// A union of cut sets is a diagram of its own for each event.
	const unions = family && sums && sums.nodes * tree.eventCount <= MAX_UNION_WORK;
	const entries: [string, Importance][] = [];
	for (const [event, level] of structure.eventLevel.entries()) {
		if (level < 0) continue;
		const q = tree.p[event] as number;
		const whenTrue = (withTop.high[level] as number) / (withAny.high[level] as number);
		const whenFalse = (withTop.low[level] as number) / (withAny.low[level] as number);
		entries.push([
			tree.ids[event] as string,
			{
				...measures(q, whenTrue, whenFalse, probabilityOfTop),
				fussellVeselyUnion: unions ? shareOf(structure, family, [level], probabilityOfTop) : null,
				fussellVeselyRare: sums && sums.all > 0 ? (sums.byElement.get(2 * level) ?? 0) / sums.all : null
			}
		]);
	}
	for (const { node, edge, parts } of structure.members) {
		const { diagram, constraint, both, weights } = structure;
		const weight = (whole: number, part: number) =>
			new Sweep(layOut(diagram, diagram.and(whole, part))).up(weights);
		const isTrue = weight(constraint, edge);
		const isFalse = weight(constraint, not(edge));
		const whenTrue = weight(both, edge) / isTrue;
		const whenFalse = weight(both, not(edge)) / isFalse;
		entries.push([
			tree.ids[node] as string,
			{
				...measures(isTrue / possible, whenTrue, whenFalse, probabilityOfTop),
				fussellVeselyUnion: unions ? shareOf(structure, family, parts, probabilityOfTop) : null,
				fussellVeselyRare: sums && sums.all > 0 ? sumsOf(holding(family, parts), p).all / sums.all : null
			}
		]);
	}
	return {
		ok: true,
		probabilityOfTop,
		rareEventSum: sums?.all ?? null,
		...(family
			? bounds(family, p, structure.exclusiveLevels)
			: { minCutUpperBound: null, twoTermLowerBound: null }),
		events: Object.fromEntries(entries)
	};
}

/** What follows from the probability of an event and that of the top with it and without it. */
function measures(q: number, whenTrue: number, whenFalse: number, probabilityOfTop: number) {
	const birnbaum = whenTrue - whenFalse;
	return {
		whenTrue,
		whenFalse,
		birnbaum,
		criticality: (birnbaum * q) / probabilityOfTop,
		raw: whenTrue / probabilityOfTop,
		rrw: probabilityOfTop / whenFalse,
		givenTop: Math.min(1, (q * whenTrue) / probabilityOfTop)
	};
}

/** The sets of a family with the event on one of these levels. */
function holding(family: CutSetFamily, levels: readonly number[]): CutSetFamily {
	const { sets } = family;
	return {
		sets,
		root: levels.reduce((some, level) => sets.union(some, setsWith(family, 2 * level).root), 0)
	};
}

/** P(some cut set with the event on one of these levels) / P(top). */
function shareOf(
	structure: Structure,
	family: CutSetFamily,
	levels: readonly number[],
	probabilityOfTop: number
): number | null {
	try {
		return probabilityOf(structure, unionOf(holding(family, levels), structure)) / probabilityOfTop;
	} catch (error) {
		if (error instanceof TooManyCutSets || error instanceof DiagramLimit) return null;
		throw error;
	}
}

function bounds(
	family: CutSetFamily,
	p: (element: number) => number,
	exclusive: readonly (readonly number[])[]
) {
	const count = countSets(family);
	const independent = exclusive.length === 0;
	if (count > MAX_ONE_BY_ONE)
		return { minCutUpperBound: independent ? boundByPowers(family, p) : null, twoTermLowerBound: null };
	const groupOf = new Map(exclusive.flatMap((group, i) => group.map((level) => [2 * level, i] as const)));
	const all = mostProbableSets(family, p, count, 0);
	const logNone = all.reduce((sum, { probability }) => sum + Math.log1p(-probability), 0);
	let twoTermLowerBound: number | null = null;
	if (count <= MAX_PAIRED) {
		twoTermLowerBound = 0;
		for (const [i, a] of all.entries()) {
			const has = new Set(a.elements);
			twoTermLowerBound += a.probability;
			const groups = new Set(a.elements.map((e) => groupOf.get(e)));
			const joins = (e: number) => (has.has(e) ? 1 : groupOf.has(e) && groups.has(groupOf.get(e)) ? 0 : p(e));
			for (const b of all.slice(i + 1))
				twoTermLowerBound -= b.elements.reduce((q, e) => q * joins(e), a.probability);
		}
	}
	return { minCutUpperBound: independent ? -Math.expm1(logNone) : null, twoTermLowerBound };
}

/** 1 - ∏(1 - P) over more sets than can be visited: -ln(1 - P) = P + P²/2 + P³/3 … , each power one pass. */
function boundByPowers({ sets, root }: CutSetFamily, p: (element: number) => number): number | null {
	let logNone = 0;
	for (let k = 1; k <= 2000; k++) {
		const power = sets.fold(root, 1, (element, withIt, without) => p(element) ** k * withIt + without) / k;
		logNone -= power;
		if (power <= 1e-17 * -logNone) return -Math.expm1(logNone);
	}
	return null;
}
