/** Quantile by linear interpolation between order statistics (Hyndman & Fan 1996, type 7). Sorts a copy. */
export function sampleQuantiles(samples: ArrayLike<number>, ps: readonly number[]): number[] {
	const sorted = Float64Array.from(samples).sort();
	return ps.map((p) => {
		const at = p * (sorted.length - 1);
		const i = Math.floor(at);
		const low = sorted[i] ?? NaN;
		return low + (at - i) * ((sorted[i + 1] ?? low) - low);
	});
}

/** Quantiles of weighted samples: the smallest value with at least that share of the weight at or below it. */
export function weightedQuantiles(
	samples: ArrayLike<number>,
	weights: ArrayLike<number>,
	ps: readonly number[]
): number[] {
	const order = Array.from(samples, (_, i) => i).sort((a, b) => samples[a]! - samples[b]!);
	const total = order.reduce((sum, i) => sum + weights[i]!, 0);
	if (!(total > 0)) throw new RangeError('weights must have a positive sum');
	return ps.map((p) => {
		let sum = 0;
		for (const i of order) {
			sum += weights[i]!;
			if (sum >= p * total * (1 - 1e-12)) return samples[i]!;
		}
		return samples[order[order.length - 1]!]!;
	});
}

/** How many equally weighted samples carry as much: (Σw)²/Σw² (Kish). */
export function effectiveSize(weights: ArrayLike<number>): number {
	let sum = 0;
	let squares = 0;
	for (let i = 0; i < weights.length; i++) {
		sum += weights[i]!;
		squares += weights[i]! ** 2;
	}
	return squares > 0 ? (sum * sum) / squares : 0;
}

/** Mean and sample standard deviation (n - 1), in two passes. */
export function meanAndSd(samples: ArrayLike<number>): { mean: number; sd: number } {
	const n = samples.length;
	let sum = 0;
	for (let i = 0; i < n; i++) sum += samples[i]!;
	const mean = sum / n;
	let squares = 0;
	for (let i = 0; i < n; i++) squares += (samples[i]! - mean) ** 2;
	return { mean, sd: n > 1 ? Math.sqrt(squares / (n - 1)) : 0 };
}

/** Ranks from 0, ties share their mean rank. */
function ranks(x: ArrayLike<number>): Float64Array {
	const order = Array.from(x, (_, i) => i).sort((a, b) => x[a]! - x[b]!);
	const out = new Float64Array(x.length);
	for (let i = 0; i < order.length;) {
		let j = i;
		while (j + 1 < order.length && x[order[j + 1]!] === x[order[i]!]) j++;
		for (let k = i; k <= j; k++) out[order[k]!] = (i + j) / 2;
		i = j + 1;
	}
	return out;
}

/** Spearman's rank correlation, -1 to 1; 0 where either does not vary. */
export function rankCorrelation(x: ArrayLike<number>, y: ArrayLike<number>): number {
	const [a, b] = [ranks(x), ranks(y)];
	const middle = (a.length - 1) / 2;
	let [ab, aa, bb] = [0, 0, 0];
	for (let i = 0; i < a.length; i++) {
		const da = a[i]! - middle;
		const db = b[i]! - middle;
		ab += da * db;
		aa += da * da;
		bb += db * db;
	}
	return aa > 0 && bb > 0 ? ab / Math.sqrt(aa * bb) : 0;
}
