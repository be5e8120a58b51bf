import { ok, refuse, type Result } from './result';

/** Far beyond any measured thing, and safe to convert and to square. */
export const LARGEST = 1e60;

const FRACTIONS: Record<string, string> = {
	'½': '1/2',
	'⅓': '1/3',
	'⅔': '2/3',
	'¼': '1/4',
	'¾': '3/4',
	'⅕': '1/5',
	'⅛': '1/8',
	'⅜': '3/8',
	'⅝': '5/8',
	'⅞': '7/8'
};

/** Spaces of any width, minus signs, primes, powers of ten and vulgar fractions in their plain form. */
export function plainText(text: string): string {
	return text
		.replace(
			/(\d)?([½⅓⅔¼¾⅕⅛⅜⅝⅞])/g,
			(_, digit: string | undefined, f: string) => `${digit ? `${digit} ` : ''}${FRACTIONS[f] ?? ''}`
		)
		.replace(
			/\s*[×x⋅·*]\s*10\s*\^?\s*([-+−⁺⁻]?[\d⁰¹²³⁴-⁹]+)/g,
			(_, power: string) => `e${power.normalize('NFKC').replace('\u2212', '-')}`
		)
		.replace(/[″”“]/g, '"')
		.replace(/[′’‘]/g, "'")
		.replace(/[\u2212\uFE63\uFF0D]/g, '-')
		.replace(/[\s\u00A0\u2000-\u200A\u202F\u205F\u3000]+/g, ' ')
		.trim();
}

/** One number: signs, decimal point or comma, digits grouped by spaces, commas or points, exponent, '3 1/2'. */
export const NUMBER = String.raw`[-+]?(?:(?:\d+ )?\d+/\d+(?![\d/])|(?:\d{1,3}(?:[ ]\d{3})+(?!\d)(?:[.,]\d+)?|\d{1,3}(?:,\d{3})+(?!\d)(?:\.\d+)?|\d{1,3}(?:\.\d{3}){2,}(?!\d)(?:,\d+)?|\d{1,3}\.\d{3},\d+|\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][-+]?\d+)?)`;

/**
 * Turns the text of one number into its value.
 * Refuses '1,500', which is 1500 to one reader and 1.5 to another.
 */
export function readNumber(text: string): Result<number> {
	const t = text.replace(/^\+/, '');
	const fraction = /^(-)?(?:(\d+) )?(\d+)\/(\d+)$/.exec(t);
	if (fraction) {
		const [, minus, whole = '0', top = '', bottom = ''] = fraction;
		if (Number(bottom) === 0) return refuse(`"${text}" divides by zero`);
		return ok((minus ? -1 : 1) * (Number(whole) + Number(top) / Number(bottom)));
	}
	if (/^-?[1-9]\d{0,2},\d{3}$/.test(t)) {
		const joined = t.replace(',', '');
		return refuse(`"${t}" can be read as ${joined} or as ${t.replace(',', '.')}; type one of these`);
	}
	let plain = t.replace(/ /g, '');
	if (/,\d{3},|,\d{3}\./.test(plain)) plain = plain.replace(/,/g, '');
	else if (/\.\d{3}[.,]/.test(plain)) plain = plain.replace(/\./g, '');
	const value = Number(plain.replace(',', '.'));
	return Math.abs(value) <= LARGEST ? ok(value) : refuse(`"${text}" is too large a number`);
}
