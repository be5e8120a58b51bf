/** The log-odds line that every weight bar is drawn on: from 1 in 1000 to 999 in 1000. */
const LOW = 0.001;
const logOdds = (p: number) => Math.log(p / (1 - p));
const HALF_SPAN = -logOdds(LOW);

/** Place of a probability on the line, 0 (left) to 1 (right); the ends hold everything beyond them. */
export function alongLine(probability: number): number {
	const held = Math.min(1 - LOW, Math.max(LOW, probability));
	return 0.5 + logOdds(held) / (2 * HALF_SPAN);
}

/** A probability in the few characters that a person can hold: '<1 %', '63 %', '>99 %'. */
export function percent(probability: number): string {
	if (probability === 0) return '0 %';
	if (probability === 1) return '100 %';
	if (probability < 0.01) return '<1 %';
	if (probability > 0.99) return '>99 %';
	return `${Math.round(probability * 100)} %`;
}

/** The same with two figures on either side of the middle, where the odds count: '0.031 %', '41 %', '99.97 %'. */
export function finePercent(probability: number): string {
	const rare = Math.min(probability, 1 - probability);
	if (rare >= 0.01 || rare < 1e-9) return percent(probability);
	const decimals = Math.max(1, 1 - Math.floor(Math.log10(rare * 100)));
	return `${Number((probability * 100).toFixed(decimals))} %`;
}

/** A probability as a person types it: '20 %', '0.5 %', '1 in 2000'. */
export function typedProbability(p: number): string {
	if (p > 0 && p < 0.001) return `1 in ${Math.round(1 / p)}`;
	return `${Number((p * 100).toPrecision(4))} %`;
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

/** The standard error of a probability, to stand after it; nothing where it was not sampled. */
export const plusMinus = (error: number | undefined): string =>
	error === undefined ? '' : ` ± ${Math.max(0.01, Number((error * 100).toPrecision(1)))} %`;
