import { combine } from './combine';
import { bisect, normalCdf } from './special';

/** Readings of one quantity, any of which may be wrong. */
export interface Suspects {
	values: readonly number[];
	/** Covariance of their errors where they are right. */
	covariance: readonly (readonly number[])[];
	/** Probability of being wrong before they are compared, each. */
	wrong: readonly number[];
	/** Between these the quantity may lie and a wrong reading may stand, every value equally probable. */
	low: number;
	high: number;
}

/** One way in which it can be: who is right, and what the quantity is then. */
export interface Case {
	/** Bit i is set where reading i is right. */
	right: number;
	probability: number;
	/** Normal, cut at the ends of the range; without a right reading anything in the range. */
	mean: number;
	sd: number;
}

const WIDEST = 12;

/**
 * Density of all readings where exactly those of the mask are right, over that where none is (each anywhere in the
 * range): the quantity, equally probable in the range, is integrated out in closed form.
 * @throws {RangeError} where the covariance of the right ones is not positive definite
 */
export function densityOfCase({ values, covariance, low, high }: Suspects, right: number) {
	const members = values.flatMap((_, i) => (right & (1 << i) ? [i] : []));
	if (members.length === 0) return { density: 1, mean: (low + high) / 2, sd: Infinity };
	const { mean, u, q, df, logDeterminant } = combine(
		members.map((i) => values[i]!),
		members.map((i) => members.map((j) => covariance[i]![j]!))
	);
	const inside = normalCdf((high - mean) / u) - normalCdf((low - mean) / u);
	const log =
		df * (Math.log(high - low) - 0.5 * Math.log(2 * Math.PI)) - 0.5 * logDeterminant + Math.log(u) - q / 2;
	return { density: Math.exp(log) * inside, mean, sd: u };
}

/**
 * Every way in which readings can be right or wrong, weighed by Bayes' rule: 2ⁿ cases, exactly. Shared errors count as
 * the covariance says, so that two readings with one error do not outvote a third.
 * @throws {RangeError} for no or more than 12 readings, a reading outside the range, priors not within (0, 1)
 */
export function weighReadings(s: Suspects): { cases: Case[]; wrong: number[] } {
	const n = s.values.length;
	if (n < 1 || n > WIDEST) throw new RangeError(`1 to ${WIDEST} readings are needed, got ${n}`);
	if (s.values.some((v) => !(v >= s.low && v <= s.high)))
		throw new RangeError('a reading lies outside the range in which a wrong one may stand');
	if (s.wrong.some((p) => !(p > 0 && p < 1))) throw new RangeError('a prior must lie between 0 and 1');
	const cases: Case[] = [];
	for (let right = 0; right < 1 << n; right++) {
		const { density, mean, sd } = densityOfCase(s, right);
		const prior = s.wrong.reduce((p, wrong, i) => p * (right & (1 << i) ? 1 - wrong : wrong), 1);
		cases.push({ right, probability: prior * density, mean, sd });
	}
	const total = cases.reduce((sum, c) => sum + c.probability, 0);
	if (!Number.isFinite(total)) throw new RangeError('the range is too wide for uncertainties this small');
	for (const c of cases) c.probability /= total;
	const wrong = s.values.map((_, i) =>
		cases.reduce((sum, c) => sum + (c.right & (1 << i) ? 0 : c.probability), 0)
	);
	return { cases: cases.sort((a, b) => b.probability - a.probability), wrong };
}

/** Quantiles of the quantity over all cases. */
export function quantilesOfCases(
	cases: readonly Case[],
	{ low, high }: Pick<Suspects, 'low' | 'high'>,
	ps: readonly number[]
): number[] {
	const parts = cases
		.filter(({ probability }) => probability > 1e-12)
		.map(({ probability, mean, sd }) => {
			const below = normalCdf((low - mean) / sd);
			return { probability, mean, sd, below, inside: normalCdf((high - mean) / sd) - below };
		});
	const cdf = (x: number) =>
		parts.reduce(
			(sum, { probability, mean, sd, below, inside }) =>
				sum +
				probability *
					(sd === Infinity ? (x - low) / (high - low) : (normalCdf((x - mean) / sd) - below) / inside),
			0
		);
	return ps.map((p) => bisect(cdf, p, low, high));
}
