/**
 * Every probability that a person reads is written here. What was computed is a whole percentage, with a tenth where
 * less than 1 % is left on either side: '0.4 %', '63 %', '99.6 %', and '<0.1 %' or '>99.9 %' beyond. Only what is
 * certain says 0 or 100 %. Where a text speaks of a change the numbers get as many more digits as tell them apart. A
 * number and its interval, or its error, go to the same digits, and no interval is said that takes more than one digit more.
 * What a person typed is written as typed.
 */
const THIN = '\u202F'; // narrow no-break space
const UNIT = `${THIN}%`;

/** Beyond this a further digit would say more than any weighing can. */
const FINEST = 1e-6;
const MOST_FIGURES = 4;

/** A computed probability; '–' where there is none. */
export function percent(p: number | null | undefined): string {
	if (p === null || p === undefined || !Number.isFinite(p)) return '–';
	if (p > 0 && p < 0.001) return `<0.1${UNIT}`;
	if (p < 1 && p > 0.999) return `>99.9${UNIT}`;
	return hundredths(p, rareSide(p) < 0.01 ? 1 : 0) + UNIT;
}

/** Several that are compared: those that would read alike but differ get more figures, up to four. */
export function percents<const T extends readonly (number | null)[]>(
	compared: T
): { [K in keyof T]: string } {
	const said = compared.map((p) => {
		const others = compared.filter((q) => q !== null && q !== p);
		for (let figures = 1; p !== null && figures <= MOST_FIGURES; figures++)
			if (others.every((q) => inFigures(q!, figures) !== inFigures(p, figures))) return inFigures(p, figures);
		return percent(p);
	});
	return said as { [K in keyof T]: string };
}

/** '41 to 43 %'; one number where nothing tells the ends apart. */
export function percentRange(low: number, high: number): string {
	const decimals = apartFrom(low, high);
	return decimals === null ? percent(low) : `${fixed(low, decimals)} to ${fixed(high, decimals)}${UNIT}`;
}

/** '99.61 % (99.54 to 99.63 %)'; without the interval where it would say no more. */
export function percentWithin(p: number, [low, high]: readonly [number, number]): string {
	const decimals = apartFrom(low, high);
	return decimals === null
		? percent(p)
		: `${fixed(p, decimals)}${UNIT} (${fixed(low, decimals)} to ${fixed(high, decimals)}${UNIT})`;
}

/** Decimals that show the width between two, one more than they have alone at most; null where none do. */
function apartFrom(low: number, high: number): number | null {
	const alone = [0.01, 0.001].filter((edge) => Math.min(rareSide(low), rareSide(high)) < edge).length;
	const decimals = Math.max(0, Math.ceil(-Math.log10(100 * (high - low)) - 1e-9));
	return decimals <= alone + 1 ? decimals : null;
}

/** The standard error of a probability, to stand after it; nothing where it was not sampled. */
export const plusMinus = (error: number | undefined): string =>
	error === undefined ? '' : ` ± ${inPercent(error)}${UNIT}`;

const inPercent = (error: number) => Math.max(0.01, Number((error * 100).toPrecision(1)));

/** '63.2 % ± 0.3 %', '>99 % ± 1 %'; without the error where it was not sampled. */
export function percentSampled(p: number | null | undefined, error: number | undefined): string {
	if (p === null || p === undefined || error === undefined || !Number.isFinite(error)) return percent(p);
	const decimals = Math.max(0, -Math.floor(Math.log10(inPercent(error)) + 1e-9));
	return fixed(p, decimals) + UNIT + plusMinus(error);
}

/** A probability as a person types it, a starting weight or how often: '20 %', '0.5 %', '1 in 2000', '1 in 84 000'. */
export function typedProbability(p: number, figures = 4): string {
	if (p > 0 && p < 0.001) return `1 in ${grouped(Math.round(Number((1 / p).toPrecision(figures))))}`;
	const rounded = Number((p * 100).toPrecision(figures));
	if (p <= 0.99 || p >= 1) return `${rounded}${UNIT}`;
	return rareSide(p) < FINEST ? percent(p) : inFigures(p, Math.max(2, figures));
}

/** The same in two figures, for what was worked out from what was typed. */
export const roundedProbability = (p: number): string => typedProbability(p, 2);

const grouped = (n: number) => (n < 1e4 ? `${n}` : `${n}`.replace(/\B(?=(\d{3})+$)/g, THIN));

/** Two of that kind in two figures, in four where two would hide the difference. */
export function typedApart(a: number, b: number): readonly [string, string] {
	const [one, other] = [roundedProbability(a), roundedProbability(b)];
	return one === other ? [typedProbability(a), typedProbability(b)] : [one, other];
}

const rareSide = (p: number) => Math.min(p, 1 - p);

/** So many figures of what is left on the nearer side; one is how it reads alone. */
function inFigures(p: number, figures: number): string {
	const rare = rareSide(p);
	if (figures === 1 || rare < FINEST) return percent(p);
	return hundredths(p, Math.max(0, figures - 1 - Math.floor(Math.log10(100 * rare)))) + UNIT;
}

/** With all its decimals; '<1' and '>99' where it would be rounded to what only the certain is. */
function fixed(p: number, decimals: number): string {
	const written = (100 * p).toFixed(decimals);
	if (p > 0 && Number(written) === 0) return `<${(10 ** -decimals).toFixed(decimals)}`;
	return p < 1 && Number(written) === 100 ? `>${(100 - 10 ** -decimals).toFixed(decimals)}` : written;
}

const hundredths = (p: number, decimals: number) => `${Number((100 * p).toFixed(decimals))}`;
