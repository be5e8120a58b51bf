import { bisect, chiSquareTail } from './special';
import { sampleQuantiles } from './summary';

/** Several values of one quantity combined; in the unit of the values. */
export interface Combined {
	mean: number;
	/** Standard uncertainty of the mean; never made smaller because the values happen to agree well. */
	u: number;
	/** Share of each value in the mean; they add up to 1, and one may be negative where errors are shared. */
	weights: number[];
	/** χ² of the values about their mean, and its degrees of freedom. */
	q: number;
	df: number;
	/** log of the determinant of the covariance. */
	logDeterminant: number;
}

type Matrix = readonly (readonly number[])[];

/** Lower triangle L with L Lᵀ = C. @throws {RangeError} where C is no covariance of separate errors */
function cholesky(c: Matrix): number[][] {
	const l: number[][] = [];
	c.forEach((row, i) => {
		const here: number[] = [];
		for (let j = 0; j <= i; j++) {
			let sum = row[j]!;
			for (let k = 0; k < j; k++) sum -= here[k]! * (j === i ? here[k]! : l[j]![k]!);
			if (j < i) here.push(sum / l[j]![j]!);
			else if (sum > 1e-12 * row[i]!) here.push(Math.sqrt(sum));
			else throw new RangeError('these errors are not separate: each value needs an error of its own');
		}
		l.push(here);
	});
	return l;
}

/**
 * Best linear unbiased mean of values with this covariance (Aitken); with independent values the mean weighted by
 * 1/u², as JCGM 100:2008 and the textbooks have it.
 * @throws {RangeError} without values, or where the covariance is not positive definite
 */
export function combine(values: readonly number[], covariance: Matrix): Combined {
	const n = values.length;
	if (n === 0) throw new RangeError('there is nothing to combine');
	const l = cholesky(covariance);
	const forward = (b: (i: number) => number) => {
		const z: number[] = [];
		for (let i = 0; i < n; i++) {
			let sum = b(i);
			for (let k = 0; k < i; k++) sum -= l[i]![k]! * z[k]!;
			z.push(sum / l[i]![i]!);
		}
		return z;
	};
	// About the first value, so that no digits are lost where all are large.
	const about = values[0]!;
	const z = forward((i) => values[i]! - about);
	const one = forward(() => 1);
	const precision = one.reduce((s, o) => s + o * o, 0);
	const shift = one.reduce((s, o, i) => s + o * z[i]!, 0) / precision;
	const weights = Array<number>(n).fill(0);
	for (let i = n - 1; i >= 0; i--) {
		let sum = one[i]!;
		for (let k = i + 1; k < n; k++) sum -= l[k]![i]! * weights[k]!;
		weights[i] = sum / l[i]![i]!;
	}
	return {
		mean: about + shift,
		u: 1 / Math.sqrt(precision),
		weights: weights.map((w) => w / precision),
		q: z.reduce((s, zi, i) => s + (zi - shift * one[i]!) ** 2, 0),
		df: n - 1,
		logDeterminant: 2 * l.reduce((s, row, i) => s + Math.log(row[i]!), 0)
	};
}

/** How often values that are all right scatter as much as this, or more. */
export const chanceOfScatter = ({ q, df }: Combined) => (df > 0 ? chiSquareTail(q, df) : 1);

/** √(χ²/df): a screening test only, since standard uncertainties need not stem from repeated readings. */
export const birgeRatio = ({ q, df }: Combined) => Math.sqrt(q / Math.max(1, df));

/** The Birge ratio that 95 of 100 sets of right values stay below. */
export const birgeLimit = (df: number) =>
	Math.sqrt(bisect((x) => 1 - chiSquareTail(x, df), 0.95, 0, 10 + 10 * df) / df);

const weighted = (x: readonly number[], variance: (i: number) => number) =>
	combine(
		x,
		x.map((_, i) => x.map((__, j) => (i === j ? variance(i) : 0)))
	);

/** A mean where every value has one more error of variance `tau2`, which is what their scatter asks for. */
export interface WithExcess {
	mean: number;
	u: number;
	tau2: number;
}

/** DerSimonian and Laird (1986): tau² in closed form from Q; values independent. */
export function derSimonianLaird(x: readonly number[], u: readonly number[]): WithExcess {
	const { q, df } = weighted(x, (i) => u[i]! ** 2);
	const [s1, s2] = [2, 4].map((power) => u.reduce((s, ui) => s + ui ** -power, 0)) as [number, number];
	const tau2 = df > 0 ? Math.max(0, (q - df) / (s1 - s2 / s1)) : 0;
	return { ...meanAndU(weighted(x, (i) => u[i]! ** 2 + tau2)), tau2 };
}

/** Mandel and Paule (1970, 1982): the least tau² ≥ 0 at which Q is no larger than its degrees of freedom. */
export function mandelPaule(x: readonly number[], u: readonly number[]): WithExcess {
	const at = (tau2: number) => weighted(x, (i) => u[i]! ** 2 + tau2);
	const df = x.length - 1;
	const span = Math.max(...x) - Math.min(...x);
	const tau2 = at(0).q > df ? bisect((t) => -at(t).q, -df, 0, (x.length * span ** 2) / df) : 0;
	return { ...meanAndU(at(tau2)), tau2 };
}
const meanAndU = ({ mean, u }: Combined) => ({ mean, u });

/** Median, and the median of the distances from it (MAD); the values need no uncertainty. */
export function medianAndMad(x: readonly number[]): { median: number; mad: number } {
	const middle = (v: readonly number[]) => sampleQuantiles(v, [0.5])[0] ?? NaN;
	const median = middle(x);
	return { median, mad: middle(x.map((xi) => Math.abs(xi - median))) };
}

/** 0.6745 (x - median)/MAD for each value (Iglewicz and Hoaglin 1993), or undefined where half the values tie. */
export function modifiedZ(x: readonly number[]): number[] | undefined {
	const { median, mad } = medianAndMad(x);
	// Equal but for the last digits of arithmetic is equal.
	return mad > 1e-12 * Math.max(...x.map(Math.abs))
		? x.map((xi) => (0.6745 * (xi - median)) / mad)
		: undefined;
}
