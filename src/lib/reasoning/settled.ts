/** When a question is settled, and how open it is. */

/** 'Settles': one branch ends above the first, all others below the second. */
const SETTLED_ABOVE = 0.9;
const SETTLED_BELOW = 0.1;

/** 1 settled as true, -1 as false, 0 not settled; by `error` on the safe side. */
export const sideOf = (p: number, error = 0) =>
	p - error > SETTLED_ABOVE ? 1 : p + error < SETTLED_BELOW ? -1 : 0;

/** One stands as true and all others as false: for certain with an error above 0, perhaps with one below. */
export const isSettled = (p: readonly number[], error: (at: number) => number = () => 0): boolean =>
	p.some((_, one) =>
		p.every((x, i) => (i === one ? x - error(i) > SETTLED_ABOVE : x + error(i) < SETTLED_BELOW))
	);

/** Entropy of weights in bits, whatever they add up to. */
export function entropy(weights: readonly number[]): number {
	const all = weights.reduce((a, b) => a + b, 0);
	return all > 0 ? weights.reduce((h, w) => (w > 0 ? h - (w / all) * Math.log2(w / all) : h), 0) : 0;
}
