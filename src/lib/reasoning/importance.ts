/** Classical importance of the events for the top event, without evidence, and the bounds beside its probability. */
import { countSets, mostProbableSets, setsWith, sumsOf, unionOf, type CutSetFamily } from './cut-sets';
import { DiagramLimit, not } from './diagram';
import { cutSetsOf, type CutSetOptions, type CutSets } from './minimal-cut-sets';
import type { TreeModel } from './model';
import { layOut } from './program';
import { TooManyCutSets } from './set-family';
import { probabilityOf, type Structure } from './structure';
import { Sweep } from './sweep';
import { askTop, TOO_LARGE, type TopEvent } from './top-event';
import type { Refusable } from './weighing';

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

const MAX_UNION_WORK = 1_000_000;
const MAX_PAIRED = 2000;
const MAX_ONE_BY_ONE = 1_000_000;

/**
 * Importance of every event below the top, the bounds beside the exact probability. Without evidence.
 * @param cutSetOrder largest cut sets that the measures from cut sets count; 0 leaves those measures out
 */
export function importance(
	model: TreeModel,
	{ maxNodes, cutSetOrder }: { maxNodes?: number; cutSetOrder?: number } = {}
): Refusable<ImportanceResult> {
	return askTop(model, maxNodes, (top) => importanceIn(top, cutSetOrder));
}

/** Importance and minimal cut sets from one diagram. @param cutSetOrder as for `importance` */
export function importanceAndCutSets(
	model: TreeModel,
	{ cutSetOrder, ...listed }: { cutSetOrder?: number } & CutSetOptions = {}
): { importance: Refusable<ImportanceResult>; cutSets: Refusable<CutSets> } {
	const answer = askTop(model, listed.maxNodes, (top) => ({
		cutSets: cutSetsOf(top, listed),
		importance: importanceIn(top, cutSetOrder)
	}));
	return 'ok' in answer ? { importance: answer, cutSets: answer } : answer;
}

function importanceIn(top: TopEvent, cutSetOrder: number | undefined): Refusable<ImportanceResult> {
	try {
		return importanceOf(top, cutSetOrder);
	} catch (error) {
		if (error instanceof DiagramLimit) return TOO_LARGE;
		throw error;
	}
}

function importanceOf(
	{ tree, structure, family: familyUpTo, p }: TopEvent,
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
	const family = structure.coherent && cutSetOrder !== 0 ? familyUpTo(cutSetOrder) : undefined;
	const sums = family && sumsOf(family, p);
	// A union of cut sets is a diagram of its own for each event.
	const unions = family && sums && sums.nodes * tree.eventCount <= MAX_UNION_WORK;
	const share = (levels: readonly number[]) =>
		unions ? shareOf(structure, family, levels, probabilityOfTop) : null;
	const ofAll = (sum: number) => (sums && sums.all > 0 ? sum / sums.all : null);
	structure.diagram.renewSteps();
	const events: Record<string, Importance> = {};
	for (let event = 0; event < tree.eventCount; event++) {
		const level = structure.eventLevel[event] as number;
		if (level < 0) continue;
		events[tree.ids[event] as string] = measures(
			tree.p[event] as number,
			(withTop.high[level] as number) / (withAny.high[level] as number),
			(withTop.low[level] as number) / (withAny.low[level] as number),
			probabilityOfTop,
			share([level]),
			ofAll(sums?.byElement.get(2 * level) ?? 0)
		);
	}
	for (const { node, edge, parts } of structure.members) {
		const { diagram, constraint, both, weights } = structure;
		const weight = (whole: number, part: number) =>
			new Sweep(layOut(diagram, diagram.and(whole, part))).up(weights);
		const isTrue = weight(constraint, edge);
		const isFalse = weight(constraint, not(edge));
		events[tree.ids[node] as string] = measures(
			isTrue / possible,
			weight(both, edge) / isTrue,
			weight(both, not(edge)) / isFalse,
			probabilityOfTop,
			share(parts),
			ofAll(family ? sumsOf(holding(family, parts), p).all : 0)
		);
	}
	return {
		ok: true,
		probabilityOfTop,
		rareEventSum: sums?.all ?? null,
		...(family
			? bounds(family, p, structure.exclusiveLevels)
			: { minCutUpperBound: null, twoTermLowerBound: null }),
		events
	};
}

/** What follows from the probability of an event and that of the top with it and without it. */
function measures(
	q: number,
	whenTrue: number,
	whenFalse: number,
	probabilityOfTop: number,
	fussellVeselyUnion: number | null,
	fussellVeselyRare: number | null
): Importance {
	const birnbaum = whenTrue - whenFalse;
	return {
		whenTrue,
		whenFalse,
		birnbaum,
		criticality: (birnbaum * q) / probabilityOfTop,
		fussellVeselyUnion,
		fussellVeselyRare,
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
