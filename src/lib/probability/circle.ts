/**
 * A position circle: the radius within which a circular normal position lies with probability `level`.
 * R = σ √(-2 ln(1 - level)): R95 = 2.4477 σ, CEP (50 %) = 1.1774 σ, R68 = 1.5096 σ. A radius without its level means
 * nothing, so none of these functions has a default.
 */
export function circleSigma(radius: number, level: number): number {
	if (!(radius >= 0 && level > 0 && level < 1))
		throw new RangeError(`radius ${radius} or level ${level} out of range`);
	return radius / Math.sqrt(-2 * Math.log1p(-level));
}

/** Radius that holds so much of a circular normal distribution with this standard deviation per axis. */
export const circleRadius = (sigma: number, level: number) => sigma * Math.sqrt(-2 * Math.log1p(-level));

/** Probability of lying within a radius. */
export const circleProbability = (radius: number, sigma: number) => -Math.expm1(-((radius / sigma) ** 2) / 2);
