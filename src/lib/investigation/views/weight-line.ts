/** The log-odds line that every weight bar is drawn on: from 1 in 1000 to 999 in 1000. */
const LOW = 0.001;
const logOdds = (p: number) => Math.log(p / (1 - p));
const HALF_SPAN = -logOdds(LOW);

/** Place of a probability on the line, 0 (left) to 1 (right); the ends hold everything beyond them. */
export function alongLine(probability: number): number {
	const held = Math.min(1 - LOW, Math.max(LOW, probability));
	return 0.5 + logOdds(held) / (2 * HALF_SPAN);
}

/** Ticks of the large figure. */
export const TICKS = [
	{ p: 0.001, label: '0.1 %' },
	{ p: 0.01, label: '1 %' },
	{ p: 0.1, label: '10 %' },
	{ p: 0.5, label: '50 %' },
	{ p: 0.9, label: '90 %' },
	{ p: 0.99, label: '99 %' }
] as const;
