/** Something that was called probable to a degree, and whether it turned out to be true. */
export interface Stated {
	/** 0 to 1. */
	p: number;
	true: boolean;
}

/**
 * Mean squared distance of stated probabilities from what was true: 0 is perfect, always saying one half gives 0.25.
 * Brier 1950, for one outcome of two (half of his sum over both).
 * @returns NaN where nothing was stated
 */
export const brierScore = (stated: readonly Stated[]): number =>
	mean(stated.map(({ p, true: happened }) => (p - Number(happened)) ** 2));

/**
 * Mean surprise in bits: minus the binary logarithm of what was given to what was true (Good 1952). Always saying one
 * half gives 1; Infinity where something was called impossible and was true, or certain and was not.
 * @returns NaN where nothing was stated
 */
export const logLossBits = (stated: readonly Stated[]): number =>
	mean(stated.map(({ p, true: happened }) => -Math.log2(happened ? p : 1 - p)));

/** What was stated within one fifth of the scale, and how often it was true. */
export interface Band {
	/** 0 to 1; the last one holds its upper end. */
	from: number;
	to: number;
	count: number;
	/** How many of them were true. */
	true: number;
	/** Mean of what was stated. */
	mean: number;
	/** Share that was true, within its 95 % interval after Wilson 1927. */
	interval: readonly [number, number];
}

const BANDS = 5;

/** Bands that hold anything, from improbable to probable. */
export function reliability(stated: readonly Stated[]): Band[] {
	return Array.from({ length: BANDS }, (_, i) => {
		const own = stated.filter(({ p }) => Math.min(BANDS - 1, Math.floor(p * BANDS)) === i);
		const happened = own.filter((one) => one.true).length;
		return {
			from: i / BANDS,
			to: (i + 1) / BANDS,
			count: own.length,
			true: happened,
			mean: mean(own.map(({ p }) => p)),
			interval: wilson(happened, own.length)
		};
	}).filter(({ count }) => count > 0);
}

/** 95 % interval of a share of `n`, n at least 1. */
function wilson(successes: number, n: number): readonly [number, number] {
	const z = 1.959963984540054;
	const share = successes / n;
	const middle = (share + z ** 2 / (2 * n)) / (1 + z ** 2 / n);
	const half = (z / (1 + z ** 2 / n)) * Math.sqrt((share * (1 - share)) / n + z ** 2 / (4 * n ** 2));
	return [Math.max(0, middle - half), Math.min(1, middle + half)];
}

const mean = (values: readonly number[]): number =>
	values.reduce((sum, value) => sum + value, 0) / values.length;
