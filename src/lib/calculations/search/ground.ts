import { afterNoFind, bestDivision, detection, type DetectionCurve } from '$lib/probability/search';
import { timesAsProbable } from './bearings';
import type { Inputs } from './inputs';

export const ELSEWHERE = 'Elsewhere';
type Search = Inputs['searches'][number];
type Segment = Inputs['segments'][number];

export const nameOf = (x: Inputs, i: number) => x.segments[i]?.name ?? `Segment ${i + 1}`;
export const namesOf = (x: Inputs) => x.segments.map((_, i) => nameOf(x, i));

/** Index of the segment that a search names; -1 where none is called so. A single segment need not be named. */
export function segmentOf(x: Inputs, { segment }: Search): number {
	if (segment === undefined) return x.segments.length === 1 ? 0 : -1;
	return namesOf(x).findIndex((name) => name.toLowerCase() === segment.toLowerCase());
}

/** C = sweep width × way / area, or sweep width over the distance between lines. */
export const coverageOf = (search: Search, { area, width }: Segment) =>
	search.told === 'spacing'
		? (search.width ?? width) / search.spacing!
		: ((search.width ?? width) * search.walked!) / area;

/** Probability that a search finds what lies there in sight. */
export const chanceOf = (search: Search, segment: Segment) =>
	search.told === 'chance'
		? search.chance!
		: detection(search.curve as DetectionCurve, coverageOf(search, segment));

export interface Ground {
	/** Probability of each segment, and last of everywhere else, by the weights alone. */
	stated: number[];
	/** Probability of each segment, and last of everywhere else: before the searches, bearings included, and after they found nothing. */
	before: number[];
	after: number[];
	/** Chance that all searches of the segment together find what lies there, hidden or not. */
	searched: number[];
	/** Probability that the searches would have found it. */
	success: number;
	/** Probability that it lies there and can still be found by looking. */
	present: number[];
	/** Coverage that one second of all searchers gives. */
	perSecond: number[];
	/** Probability of finding it with all the time in that segment. */
	gain: number[];
	division: { hours: number[]; success: number };
}

/** Where it may lie, what the searches have excluded, and what the next hours would give. */
export function groundOf(x: Inputs): Ground {
	const weights = x.segments.reduce((sum, s) => sum + s.weight, 0);
	if (!(weights > 0)) throw new RangeError('at least one segment needs a weight above zero');
	const stated = [...x.segments.map((s) => ((1 - x.elsewhere) * s.weight) / weights), x.elsewhere];
	// Elsewhere is any direction: there a bearing is as probable as it is by itself.
	const pointed = stated.map((p, i) =>
		x.bearings.reduce((q, b) => q * (x.segments[i] ? timesAsProbable(x.segments[i], b) : 1), p)
	);
	const all = pointed.reduce((sum, p) => sum + p, 0);
	const before = pointed.map((p) => p / all);
	const missed = x.segments.map(() => 1);
	for (const search of x.searches) {
		const i = segmentOf(x, search);
		missed[i]! *= 1 - chanceOf(search, x.segments[i]!);
	}
	const searched = [...missed.map((m) => (1 - x.hidden) * (1 - m)), 0];
	const { success, areas: after } = afterNoFind(before, searched);
	const remains = 1 - success;
	const present = missed.map((m, i) => (before[i]! * (1 - x.hidden) * m) / remains);
	const perSecond = x.segments.map((s) => (x.searchers * s.speed * s.width) / s.area);
	return {
		stated,
		before,
		after,
		searched: searched.slice(0, -1),
		success,
		present,
		perSecond,
		gain: present.map((p, i) => p * detection('random', perSecond[i]! * x.hours)),
		division: bestDivision(present, perSecond, x.hours)
	};
}
