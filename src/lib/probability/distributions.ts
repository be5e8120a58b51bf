import type { SiQuantity } from '$lib/quantity/quantity';
import type { Random } from './generator';
import { bisect, normalCdf, normalQuantile, studentCdf, studentPdf } from './special';

/** A distribution as plain data. Numbers are of whatever unit the caller uses, most often SI; angles are radians. */
export type Distribution =
	| { kind: 'fixed'; value: number }
	| { kind: 'normal'; mean: number; sd: number }
	| { kind: 'truncated normal'; mean: number; sd: number; low: number; high: number }
	| { kind: 'uniform'; low: number; high: number }
	| { kind: 'triangular'; low: number; mode: number; high: number }
	/** `median` and the standard deviation of the logarithm. */
	| { kind: 'lognormal'; median: number; logSd: number }
	| { kind: 'student'; mean: number; scale: number; df: number }
	/** A direction: `mean` in radians, `concentration` kappa. */
	| { kind: 'von Mises'; mean: number; concentration: number };

/** Standard deviations that a two-sided interval of this level spans: 0.95 gives 1.96. */
export const sigmasOfLevel = (level: number) => normalQuantile(0.5 + level / 2);

/** One standard deviation of a quantity: its plus-minus, the level taken out of it, or that of its range or shape. */
export function standardDeviation(q: SiQuantity): number {
	if (q.factor !== undefined) {
		const spread = Math.expm1(Math.log(q.factor) ** 2);
		return q.value * Math.sqrt(spread * (1 + spread));
	}
	if (q.shape && q.low !== undefined && q.high !== undefined) {
		const [rise, fall] = [q.value - q.low, q.high - q.value];
		return Math.sqrt((rise * rise + rise * fall + fall * fall) / 18);
	}
	if (q.low !== undefined && q.high !== undefined) return (q.high - q.low) / Math.sqrt(12);
	return (q.plusMinus ?? 0) / (q.level === undefined ? 1 : sigmasOfLevel(q.level));
}

/**
 * The distribution that a quantity states: by its name, uniform from low to high, else normal, kept within the bounds beyond which
 * the value has no meaning (a mass below 0).
 */
export function distributionOf(q: SiQuantity, bounds: { min?: number; max?: number } = {}): Distribution {
	if (q.factor !== undefined) return { kind: 'lognormal', median: q.value, logSd: Math.log(q.factor) };
	if (q.shape && q.low !== undefined && q.high !== undefined)
		return { kind: 'triangular', low: q.low, mode: q.value, high: q.high };
	if (q.low !== undefined && q.high !== undefined)
		return q.low === q.high ? { kind: 'fixed', value: q.low } : { kind: 'uniform', low: q.low, high: q.high };
	const sd = standardDeviation(q);
	if (sd === 0) return { kind: 'fixed', value: q.value };
	const { min = -Infinity, max = Infinity } = bounds;
	if (q.value - 8 * sd > min && q.value + 8 * sd < max) return { kind: 'normal', mean: q.value, sd };
	return { kind: 'truncated normal', mean: q.value, sd, low: min, high: max };
}

const SQRT_2PI = Math.sqrt(2 * Math.PI);

/** The value that is not exceeded with probability p, 0 < p < 1. */
export function quantile(d: Distribution, p: number): number {
	switch (d.kind) {
		case 'fixed':
			return d.value;
		case 'normal':
			return d.mean + d.sd * normalQuantile(p);
		case 'truncated normal': {
			const [low, high] = [normalCdf((d.low - d.mean) / d.sd), normalCdf((d.high - d.mean) / d.sd)];
			const q = Math.min(1 - 1e-16, Math.max(1e-300, low + p * (high - low)));
			return Math.min(d.high, Math.max(d.low, d.mean + d.sd * normalQuantile(q)));
		}
		case 'uniform':
			return d.low + p * (d.high - d.low);
		case 'triangular': {
			const rise = d.mode - d.low;
			const fall = d.high - d.mode;
			const width = d.high - d.low;
			return p * width < rise
				? d.low + Math.sqrt(p * width * rise)
				: d.high - Math.sqrt((1 - p) * width * fall);
		}
		case 'lognormal':
			return d.median * Math.exp(d.logSd * normalQuantile(p));
		case 'student':
			return d.mean + d.scale * studentQuantile(p, d.df);
		case 'von Mises':
			return d.mean + vonMisesQuantile(p, d.concentration);
	}
}

/** Probability density at x; a fixed value has none. */
export function density(d: Distribution, x: number): number {
	switch (d.kind) {
		case 'fixed':
			throw new RangeError('a fixed value has no density');
		case 'normal':
			return normalPdf((x - d.mean) / d.sd) / d.sd;
		case 'truncated normal': {
			if (x < d.low || x > d.high) return 0;
			const mass = normalCdf((d.high - d.mean) / d.sd) - normalCdf((d.low - d.mean) / d.sd);
			return normalPdf((x - d.mean) / d.sd) / (d.sd * mass);
		}
		case 'uniform':
			return x < d.low || x > d.high ? 0 : 1 / (d.high - d.low);
		case 'triangular': {
			if (x < d.low || x > d.high) return 0;
			const peak = 2 / (d.high - d.low);
			return x < d.mode
				? (peak * (x - d.low)) / (d.mode - d.low)
				: d.mode === d.high
					? peak
					: (peak * (d.high - x)) / (d.high - d.mode);
		}
		case 'lognormal':
			return x <= 0 ? 0 : normalPdf(Math.log(x / d.median) / d.logSd) / (d.logSd * x);
		case 'student':
			return studentPdf((x - d.mean) / d.scale, d.df) / d.scale;
		case 'von Mises':
			return vonMisesPdf(x - d.mean, d.concentration);
	}
}

/** One draw; exactly one number is taken from the stream, whatever the kind. */
export const sample = (d: Distribution, random: Random): number => quantile(d, random());

const normalPdf = (z: number) => Math.exp(-0.5 * z * z) / SQRT_2PI;

function studentQuantile(p: number, df: number): number {
	if (p === 0.5) return 0;
	if (p > 0.5) return -studentQuantile(1 - p, df);
	// The tail falls at least as fast as the Cauchy one for df >= 1; for less it is wider.
	const reach = Math.max(10, (2 / p) ** (1 / Math.min(1, df)), 40 * p ** (-1 / df));
	return bisect((t) => studentCdf(t, df), p, -reach, 0);
}

/** Density of a von Mises direction, its scale e^kappa taken out so that a high concentration does not overflow. */
function vonMisesPdf(angle: number, kappa: number): number {
	return Math.exp(kappa * (Math.cos(angle) - 1)) / (2 * Math.PI * besselI0Scaled(kappa));
}

/** e^-x I0(x): series below 30, asymptotic series beyond (Abramowitz & Stegun 9.6.12, 9.7.1). */
export function besselI0Scaled(x: number): number {
	if (x < 30) {
		let term = 1;
		let sum = 1;
		for (let k = 1; k < 120; k++) {
			term *= (x * x) / (4 * k * k);
			sum += term;
		}
		return sum * Math.exp(-x);
	}
	let term = 1;
	let sum = 1;
	for (let k = 1; k < 12; k++) {
		term *= (2 * k - 1) ** 2 / (8 * k * x);
		sum += term;
	}
	return sum / Math.sqrt(2 * Math.PI * x);
}

/** Angle in (-π, π] from a table of the cumulative density, by linear interpolation; 4096 steps over what matters. */
function vonMisesQuantile(p: number, kappa: number): number {
	const table = vonMisesTable(kappa);
	let low = 0;
	let high = table.cdf.length - 1;
	while (high - low > 1) {
		const middle = (low + high) >> 1;
		if ((table.cdf[middle] ?? 1) < p) low = middle;
		else high = middle;
	}
	const [a = 0, b = 1] = [table.cdf[low], table.cdf[high]];
	return table.from + table.step * (low + (p - a) / (b - a || 1));
}

const vonMisesTables = new Map<number, { from: number; step: number; cdf: Float64Array }>();
function vonMisesTable(kappa: number) {
	const kept = vonMisesTables.get(kappa);
	if (kept) return kept;
	const reach = Math.min(Math.PI, 9 / Math.sqrt(kappa || 1e-9));
	const n = 4096;
	const step = (2 * reach) / n;
	const cdf = new Float64Array(n + 1);
	for (let i = 1; i <= n; i++) {
		const at = (x: number) => vonMisesPdf(-reach + step * x, kappa);
		cdf[i] = (cdf[i - 1] ?? 0) + (step / 6) * (at(i - 1) + 4 * at(i - 0.5) + at(i));
	}
	const total = cdf[n] ?? 1;
	for (let i = 0; i <= n; i++) cdf[i] = (cdf[i] ?? 0) / total;
	const table = { from: -reach, step, cdf };
	if (vonMisesTables.size > 50) vonMisesTables.clear();
	vonMisesTables.set(kappa, table);
	return table;
}

/** Concentration kappa of a direction that is known to one standard deviation (radians): 1/σ² for small σ. */
export const concentrationOf = (sdRad: number) => 1 / (sdRad * sdRad);
