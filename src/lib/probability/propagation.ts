/** Covariance of values with these standard uncertainties; `correlation(i, j)` is that of two different ones. */
export const covarianceOf = (
	u: readonly number[],
	correlation: (i: number, j: number) => number = () => 0
): number[][] => u.map((ui, i) => u.map((uj, j) => ui * uj * (i === j ? 1 : correlation(i, j))));

/** Variance of a sum of values, each taken so many times: cᵀ C c (JCGM 100:2008, 5.2.2). */
export function propagatedVariance(c: ArrayLike<number>, covariance: readonly (readonly number[])[]): number {
	let sum = 0;
	covariance.forEach((row, i) => row.forEach((value, j) => (sum += c[i]! * c[j]! * value)));
	return Math.max(0, sum);
}

/**
 * Value and standard uncertainty of a function of correlated values by the law of propagation of uncertainty
 * (JCGM 100:2008, eq. 13): first order only, with slopes from central differences a thousandth of each uncertainty wide.
 */
export function propagate(
	f: (x: readonly number[]) => number,
	x: readonly number[],
	covariance: readonly (readonly number[])[]
): { value: number; u: number } {
	const slopes = x.map((_, i) => {
		const h = 1e-3 * Math.sqrt(covariance[i]![i]!);
		const at = (by: number) => f(x.map((xj, j) => (j === i ? xj + by : xj)));
		return h > 0 ? (at(h) - at(-h)) / (2 * h) : 0;
	});
	return { value: f(x), u: Math.sqrt(propagatedVariance(slopes, covariance)) };
}
