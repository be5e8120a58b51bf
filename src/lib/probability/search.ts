import { erfc } from './special';

/**
 * How detection grows with coverage C = W × track length / area (Koopman, Search and Screening, 1946; Cooper and Frost):
 * 'random' 1 - exp(-C), tracks laid without order; 'parallel' erf(√π C/2), straight and evenly spaced, where detection
 * falls off as the cube of distance; 'definite' min(C, 1), everything within half the sweep width seen and nothing beyond.
 */
export type DetectionCurve = 'random' | 'parallel' | 'definite';

/** Probability of detecting what lies there, at this coverage. @throws {RangeError} for a negative coverage */
export function detection(curve: DetectionCurve, coverage: number): number {
	if (!(coverage >= 0)) throw new RangeError(`coverage must be zero or more, got ${coverage}`);
	if (curve === 'random') return -Math.expm1(-coverage);
	if (curve === 'parallel') return 1 - erfc((Math.sqrt(Math.PI) * coverage) / 2);
	return Math.min(coverage, 1);
}

/** Probabilities that the object lies in each place, after nothing was found there. The rest of the world is a place with detection 0. */
export interface Updated {
	/** Probability that these searches would have found it. */
	success: number;
	areas: number[];
}

/**
 * Bayes' rule after searches without a find: p (1 - q) / Σ p (1 - q). It sums to 1 because the places do.
 * @param areas      probabilities before, one for each place, that add up to 1
 * @param detections probability of having found it had it lain there, each below 1 somewhere
 * @throws {RangeError} where the places do not add up to 1, or nothing is left
 */
export function afterNoFind(areas: readonly number[], detections: readonly number[]): Updated {
	const total = areas.reduce((s, p) => s + p, 0);
	if (Math.abs(total - 1) > 1e-9)
		throw new RangeError(`the probabilities of all places must add up to 1, not ${total}`);
	const left = areas.map((p, i) => p * (1 - detections[i]!));
	const remains = left.reduce((s, p) => s + p, 0);
	if (!(remains > 0)) throw new RangeError('nothing is left: no search excludes every place');
	return {
		success: areas.reduce((s, p, i) => s + p * detections[i]!, 0),
		areas: left.map((p) => p / remains)
	};
}

/**
 * Effort divided among places so that the probability of finding is greatest, for random search: each place that is
 * searched is searched until its gain per hour has fallen to one common level (Koopman 1946; Lagrange multiplier).
 * @param present   probability that it lies there and can be found
 * @param perHour   coverage that one hour gives there
 * @returns hours in each place, and the probability of finding it with all of them
 */
export function bestDivision(
	present: readonly number[],
	perHour: readonly number[],
	hours: number
): { hours: number[]; success: number } {
	const rate = present.map((p, i) => p * perHour[i]!);
	const order = rate.flatMap((r, i) => (r > 0 ? [i] : [])).sort((a, b) => rate[b]! - rate[a]!);
	// With the first m places in use the common level is exp(level); one more joins while its first hour gains more.
	let [logs, inverse, level] = [0, 0, Infinity];
	for (const i of order) {
		if (Math.log(rate[i]!) <= level && inverse > 0) break;
		logs += Math.log(rate[i]!) / perHour[i]!;
		inverse += 1 / perHour[i]!;
		level = (logs - hours) / inverse;
	}
	const spent = present.map((_, i) =>
		rate[i]! > 0 ? Math.max(0, (Math.log(rate[i]!) - level) / perHour[i]!) : 0
	);
	return {
		hours: spent,
		success: present.reduce((s, p, i) => s + p * detection('random', perHour[i]! * spent[i]!), 0)
	};
}
