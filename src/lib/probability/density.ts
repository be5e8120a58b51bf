import { studentCdf, studentPdf } from './special';
import { effectiveSize, meanAndSd, sampleQuantiles } from './summary';

/** A density with the standard error that comes from the limited number of samples. */
export interface Estimate {
	density: number;
	standardError: number;
}

/**
 * What was observed, and what each sample of a scenario predicts for it. A scalar carries one standard deviation of
 * its measurement, an offset one per axis (east and north independent). Where only a limit is known that the value
 * lay beyond, and for one of several possible outcomes, a probability stands in the place of the density.
 */
export type Component =
	| { kind: 'scalar'; observed: number; sd: number; predicted: Float64Array }
	| { kind: 'limit'; observed: number; sd: number; beyond: 'above' | 'below'; predicted: Float64Array }
	/** `predicted` is the probability of what happened, one of `among` outcomes. */
	| { kind: 'outcome'; among: number; predicted: Float64Array }
	| {
			kind: 'offset';
			east: number;
			north: number;
			eastSd: number;
			northSd: number;
			predictedEast: Float64Array;
			predictedNorth: Float64Array;
	  };

/** Degrees of freedom of every measurement kernel: tails that no single poor assumption can decide a case with. */
export const KERNEL_DF = 4;
/** Share of the density given to a broad t (2 degrees of freedom, three times as wide) around the prediction. */
export const FLOOR = 0.02;
export const FLOOR_DF = 2;
const FLOOR_WIDTH = 3;

/**
 * Shares of the smoothing tried in turn, until so many samples carry the density: smoothing blurs what hangs together
 * (two pieces in one wind), so no more of it is taken than the number of samples asks for.
 */
const SMOOTHING = [0, 0.25, 0.5, 1];
const ENOUGH = 100;

interface Axis {
	observed: number;
	predicted: Float64Array;
	/** Kernel scale: measurement and smoothing together. */
	scale: number;
	centre: number;
	broadScale: number;
}

/** Robust spread: the inter-quartile range as a normal standard deviation, or the plain one where that is less. */
function spread(x: Float64Array): number {
	const [q1 = 0, q3 = 0] = sampleQuantiles(x, [0.25, 0.75]);
	const { sd } = meanAndSd(x);
	const iqr = (q3 - q1) / 1.349;
	return iqr > 0 ? Math.min(sd, iqr) : sd;
}

export function axis(
	observed: number,
	sd: number,
	predicted: Float64Array,
	dimensions: number,
	share = 1
): Axis {
	if (!(sd > 0)) throw new RangeError('an observation needs an uncertainty above zero');
	const width = spread(predicted);
	// Silverman's rule for the smoothing that a limited sample needs; it widens the measurement, never narrows it.
	const smoothing = width * (4 / ((dimensions + 2) * predicted.length)) ** (1 / (dimensions + 4));
	return {
		observed,
		predicted,
		scale: Math.hypot(sd, share * smoothing),
		centre: sampleQuantiles(predicted, [0.5])[0] ?? 0,
		broadScale: FLOOR_WIDTH * Math.hypot(sd, width, meanAndSd(predicted).sd)
	};
}

/** Student t in one dimension, or the bivariate t with independent axes in two. */
function kernel(
	axes: readonly Axis[],
	df: number,
	at: (a: Axis) => number,
	scale: (a: Axis) => number
): number {
	const z2 = axes.map((a) => ((a.observed - at(a)) / scale(a)) ** 2);
	if (axes.length === 1) return studentPdf(Math.sqrt(z2[0] ?? 0), df) / scale(axes[0]!);
	const area = axes.reduce((product, a) => product * scale(a), 1);
	return (1 + z2.reduce((s, z) => s + z, 0) / df) ** (-(df + 2) / 2) / (2 * Math.PI * area);
}

/**
 * Density of all that was observed together, under one scenario. Each sample's measurement model is integrated
 * exactly (a Student t kernel around its prediction, smoothed where few samples come near it); samples share their inputs, so that pieces that fell through
 * one wind are not counted as independent. A stated share of the density is broad, as a floor.
 * The standard error is that of the mean over the samples.
 */
export function observationDensity(components: readonly Component[]): Estimate {
	const dimensions = components.reduce(
		(n, c) => n + (c.kind === 'scalar' ? 1 : c.kind === 'offset' ? 2 : 0),
		0
	);
	const n = components[0] ? predictedOf(components[0]).length : 0;
	if (n < 2) throw new RangeError('a density needs at least two samples');
	let values = new Float64Array(n);
	let floor = 1;
	for (const share of SMOOTHING) {
		const factors = components.map((c) => factorOf(c, dimensions, share));
		values = new Float64Array(n).fill(1);
		for (const { at } of factors) for (let i = 0; i < n; i++) values[i]! *= at(i);
		floor = factors.reduce((product, factor) => product * factor.floor, 1);
		if (effectiveSize(values) >= ENOUGH) break;
	}
	const { mean, sd } = meanAndSd(values);
	// Where every sample says the same there is no sampling error, but for the last digits of the sum.
	const error = sd > 1e-12 * mean ? ((1 - FLOOR) * sd) / Math.sqrt(n) : 0;
	return { density: (1 - FLOOR) * mean + FLOOR * floor, standardError: error };
}

const predictedOf = (c: Component) => (c.kind === 'offset' ? c.predictedEast : c.predicted);

/** What one component contributes at sample i, and to the broad floor (of an outcome: every one as probable). */
function factorOf(c: Component, dimensions: number, share = 1): { at: (i: number) => number; floor: number } {
	if (c.kind === 'outcome') return { at: (i) => c.predicted[i]!, floor: 1 / c.among };
	if (c.kind === 'limit') {
		const { centre, broadScale } = axis(c.observed, c.sd, c.predicted, 1);
		const sign = c.beyond === 'above' ? 1 : -1;
		// The mean of tails is smooth by itself.
		return {
			at: (i) => studentCdf((sign * (c.predicted[i]! - c.observed)) / c.sd, KERNEL_DF),
			floor: studentCdf((sign * (centre - c.observed)) / broadScale, FLOOR_DF)
		};
	}
	const axes =
		c.kind === 'scalar'
			? [axis(c.observed, c.sd, c.predicted, dimensions, share)]
			: [
					axis(c.east, c.eastSd, c.predictedEast, dimensions, share),
					axis(c.north, c.northSd, c.predictedNorth, dimensions, share)
				];
	return {
		at: (i) =>
			kernel(
				axes,
				KERNEL_DF,
				(a) => a.predicted[i]!,
				(a) => a.scale
			),
		floor: kernel(
			axes,
			FLOOR_DF,
			(a) => a.centre,
			(a) => a.broadScale
		)
	};
}

/** How well each sample alone explains what was observed, for weighting samples; not normalised. */
export function sampleWeights(components: readonly Component[]): Float64Array {
	const weights = new Float64Array(components[0] ? predictedOf(components[0]).length : 0).fill(1);
	for (const c of components) for (let i = 0; i < weights.length; i++) weights[i]! *= weightOf(c, i);
	return weights;
}

function weightOf(c: Component, i: number): number {
	if (c.kind === 'outcome' || c.kind === 'limit') return factorOf(c, 0).at(i);
	const z2 =
		c.kind === 'scalar'
			? ((c.observed - c.predicted[i]!) / c.sd) ** 2
			: ((c.east - c.predictedEast[i]!) / c.eastSd) ** 2 +
				((c.north - c.predictedNorth[i]!) / c.northSd) ** 2;
	return (1 + z2 / KERNEL_DF) ** (-(KERNEL_DF + (c.kind === 'scalar' ? 1 : 2)) / 2);
}

/** Probability that a reading, with its measurement spread, lies beyond a limit: for a saturated instrument. */
export function tailArea(
	predicted: ArrayLike<number>,
	limit: number,
	side: 'above' | 'below',
	cdf: (z: number) => number,
	sd: number
): Estimate {
	const values = Float64Array.from(predicted, (x) => {
		const z = (limit - x) / sd;
		return side === 'below' ? cdf(z) : cdf(-z);
	});
	const { mean, sd: s } = meanAndSd(values);
	return { density: mean, standardError: s / Math.sqrt(values.length) };
}
