import { readAtom, STANDARD_GRAVITY } from './atoms';
import { DIMENSIONS, fit, phraseOf, type Dimension, type Vector } from './dimensions';
import { ok, refuse, type Result } from './result';

/** A unit as it serves one dimension: SI = value · factor + offset; a spread takes the factor alone. */
export interface Unit {
	symbol: string;
	factor: number;
	offset: number;
	/** What had to be assumed to read it, in words; most often empty. */
	notes: string[];
}

/** Spellings that mean one thing for one dimension and another elsewhere. */
const SPECIAL: Partial<Record<Dimension, Record<string, string>>> = {
	length: { "'": 'ft', '"': 'in', "''": 'in' },
	angle: { "'": 'arcmin', '"': 'arcsec', "''": 'arcsec' },
	acceleration: { g: 'gn', G: 'gn', "g's": 'gn', gs: 'gn', Gs: 'gn' },
	temperature: { C: '°C', F: '°F', R: '°R', deg: '°C', '°': '°C', c: '°C', f: '°F', k: 'K' },
	'temperature difference': { C: '°C', F: '°F', R: '°R', c: '°C', f: '°F', k: 'K' },
	charge: { mAh: 'mAh' }
};
/** Zero points of the temperature scales, K. */
const OFFSETS: Record<string, number> = { '°C': 273.15, '°F': 459.67 * (5 / 9) };
const CELSIUS = /^(°\s?C|℃|degC|celsius|degrees? ?C(elsius)?)$/i;
const FAHRENHEIT = /^(°\s?F|℉|degF|fahrenheit|degrees? ?F(ahrenheit)?)$/i;

/** Gauge pressures: their zero is that of the day's air, so no factor reads them. */
const GAUGE = /^(psig|barg|bar ?\(?g\)|[kM]Pa ?\(?g\)|[kM]Pag)$/i;

interface Product {
	factor: number;
	vector: Vector;
}
const times = (a: Product, b: Product, power: number): Product => ({
	factor: a.factor * b.factor ** power,
	vector: a.vector.map((x, i) => x + power * (b.vector[i] ?? 0)) as unknown as Vector
});

/** Units in several words or with a mark of their own, and the one word that they stand for. */
const SPOKEN: readonly [RegExp, string | ((whole: string, unit: string) => string)][] = [
	[/\b(?:square|sq\.?) ?(\p{L}+)/giu, (_, unit) => `${unit}2`],
	[/\b(?:cubic|cu\.?) ?(\p{L}+)/giu, (_, unit) => `${unit}3`],
	[/\bnautical miles?\b/gi, 'nmi'],
	[/(?:\b(?:inch(?:es)?|in\.?)|") ?(?:of )?(?:mercury|Hg)\b/gi, 'inHg'],
	[/\b(?:mm|millimet(?:er|re)s?) ?(?:of )?(?:mercury|Hg)\b/gi, 'mmHg'],
	[/\b(?:pounds?|lbs?)[- ]?(?:force|f)\b/gi, 'lbf'],
	[
		/\b(ft|foot|in|inch)[-·⋅. ](?:lbs?|pounds?)(?![\w/])/g,
		(_, unit) => `${unit.startsWith('f') ? 'ft' : 'in'}·lbf`
	],
	[/\b(?:lbs?|pounds?)[-·⋅. ](ft|foot|in|inch)(?![\w/^²³])/g, (_, unit) => `lbf·${unit}`],
	[/(?:\bdeg(?:rees?)? |°\s?)K\b/g, 'K'],
	[/\bdeg(?:rees?)? (?=[CFR]\b)/g, '°']
];
const inOneWord = (text: string): string =>
	SPOKEN.reduce(
		(said, [words, one]) => (typeof one === 'string' ? said.replace(words, one) : said.replace(words, one)),
		text
	);

/** Straight quotes, one word for each unit, one multiplication dot, plain exponents, no spaces around operators. */
export function plainUnit(text: string): string {
	return inOneWord(text.replace(/[″”“]/g, '"').replace(/\s+/g, ' '))
		.replace(/[′’‘]/g, "'")
		.normalize('NFKC')
		.replace(/\u2212/g, '-')
		.replace(/[·⋅×*•]+/g, '·')
		.replace(/(?<=\p{L})\.(?=\p{L})/gu, '·')
		.replace(/\^/g, '')
		.replace(/\bper\b/gi, '/')
		.replace(/°\s+(?=[CFR]\b)/g, '°')
		.replace(/\s*([/·()])\s*/g, '$1')
		.replace(/\s+/g, ' ')
		.trim();
}

/**
 * Products and quotients: everything behind a slash is below it ('W/m2K' is W/(m²·K)).
 * Several readings are possible where the case of letters was not kept ('KN').
 */
function readProduct(text: string): Product[] {
	const [top, ...below] = text.split('/');
	let readings: Product[] = [{ factor: 1, vector: [0, 0, 0, 0, 0, 0] }];
	for (const [part, sign] of [[top || '1', 1] as const, ...below.map((b) => [b, -1] as const)]) {
		const tokens = [...part.replace(/[()]/g, '').matchAll(/([a-zμΩ°%‰'"]+|1)(-?\d+)?[·\s-]?/giy)];
		if (tokens.map((t) => t[0]).join('').length !== part.replace(/[()]/g, '').length || !tokens.length)
			return [];
		for (const [, name = '', power = '1'] of tokens)
			readings = readAtom(name === 'C' || name === 'F' ? '°' + name : name).flatMap((atom) =>
				readings.map((r) => times(r, atom, sign * Number(power)))
			);
	}
	return readings;
}

/** 'a length is needed, such as 5 m' */
export function needed(dimension: Dimension): string {
	const { phrase, metric } = DIMENSIONS[dimension];
	return `${phrase} is needed, such as ${dimension === 'ratio' ? '0.05 or 5 %' : `5 ${metric}`}`;
}

const number = (x: number) => Number(x.toPrecision(7)).toString();

/**
 * What a unit of force times length is written for: the joule and its like are energy; force before length ('N·m',
 * 'lbf·ft') is a torque (SI brochure, 9th edition, 2.3.4); length before force ('ft·lbf') is in use for either.
 */
function writtenFor(symbol: string): 'energy' | 'torque' | 'either' {
	const parts = symbol.split(/[·\s-]/).map((name) => readAtom(name)[0]?.vector);
	const is = (i: number, dimension: Dimension) => String(parts[i]) === String(DIMENSIONS[dimension].vector);
	if (parts.length === 1)
		return /Nm$/i.test(symbol) ? 'torque' : /^(ft|in)lb/i.test(symbol) ? 'either' : 'energy';
	if (is(1, 'length') && (is(0, 'force') || is(0, 'mass'))) return 'torque';
	return is(0, 'power') ? 'energy' : 'either';
}

/**
 * Reads a unit for a dimension: 'ft', 'psi', 'W/(m·K)', 'lb/ft2', 'kg m^-2'.
 * Mass units stand for their weight where a force is wanted, and a weight form for mass in a ballistic
 * coefficient; either is said in `notes`. Refuses with what was expected, also a torque for an energy.
 * @param amount  the whole amount as typed, if the refusal should name it
 */
export function readUnit(typed: string, dimension: Dimension, amount?: string): Result<Unit> {
	const read = fittingUnit(typed, dimension, amount);
	if (!read.ok || (dimension !== 'energy' && dimension !== 'torque')) return read;
	const written = writtenFor(read.value.symbol);
	if (written === 'either' || written === dimension) return read;
	const why =
		written === 'torque'
			? '; a torque does work only through the angle that it turns, and is none itself'
			: '';
	return refuse(
		`"${amount ?? typed.trim()}" is ${amount ? '' : 'a unit of '}${amount ? DIMENSIONS[written].phrase : written}; ${needed(dimension)}${why}`
	);
}

/** The unit by its exponents alone. */
function fittingUnit(typed: string, dimension: Dimension, amount?: string): Result<Unit> {
	const symbol = plainUnit(typed);
	const wanted = DIMENSIONS[dimension];
	const spelling = SPECIAL[dimension]?.[symbol] ?? symbol;
	if (dimension === 'temperature') {
		const scale = CELSIUS.test(spelling) ? '°C' : FAHRENHEIT.test(spelling) ? '°F' : undefined;
		if (scale)
			return ok({
				symbol: scale,
				factor: scale === '°C' ? 1 : 5 / 9,
				offset: OFFSETS[scale] ?? 0,
				notes: []
			});
	}
	if (dimension === 'pressure' && GAUGE.test(spelling)) {
		const plain = spelling.replace(/ ?\(?g\)?$/i, '');
		return refuse(
			`"${typed.trim()}" counts from the pressure of the air outside; write ${plain}, and where an absolute pressure is asked for add that of the air first (101.3 kPa, 14.7 psi at sea level)`
		);
	}
	const whole = readAtom(spelling);
	const readings: Product[] = whole.length ? whole : readProduct(spelling);
	if (!readings.length) return refuse(`"${typed.trim()}" is not a unit known here; ${needed(dimension)}`);

	const fits = readings.map((r) => ({ ...r, how: fit(r.vector, dimension) })).filter((r) => r.how !== 'no');
	const [first, second] = fits;
	if (!first) {
		const phrase = phraseOf(readings[0]?.vector ?? wanted.vector);
		const unit = phrase ? `a unit of ${phrase.replace(/^an? /, '')}` : 'a unit of something else';
		return refuse(`"${amount ?? typed.trim()}" is ${amount ? (phrase ?? unit) : unit}; ${needed(dimension)}`);
	}
	if (second)
		return refuse(
			`"${typed.trim()}" can be read in two ways; mind capital and small letters, such as ${wanted.si}`
		);
	const notes: string[] = [];
	const printed = printedUnit(symbol);
	let { factor } = first;
	if (first.how === 'times gravity') {
		factor *= STANDARD_GRAVITY;
		notes.push(
			`${symbol} is a unit of mass and is read as its weight at standard gravity: 1 ${symbol} is ${number(factor)} ${wanted.si}`
		);
	} else if (first.how === 'over gravity') {
		factor /= STANDARD_GRAVITY;
		notes.push(`${printed} is the weight form: 1 ${printed} is ${number(factor)} ${wanted.si}`);
	} else if (dimension === 'ballistic coefficient' && Math.abs(factor - 1) > 1e-12)
		notes.push(`1 ${printed} is ${number(factor)} ${wanted.si}`);
	return ok({ symbol, factor, offset: 0, notes });
}

const SUPERSCRIPT: Record<string, string> = Object.fromEntries(
	[...'-0123456789'].map((c, i) => [c, '⁻⁰¹²³⁴⁵⁶⁷⁸⁹'[i]!])
);

/** As it is printed: 'kg/m²' for kg/m2. */
export const printedUnit = (symbol: string): string =>
	symbol.replace(/(?<=\p{L})-?\d+/gu, (power) => [...power].map((c) => SUPERSCRIPT[c]).join(''));

/** A unit that the program itself names, or kept before; an unknown one is a programmer's mistake. */
export function unitOf(symbol: string, dimension: Dimension): Unit {
	const read = fittingUnit(symbol, dimension);
	if (!read.ok) throw new Error(read.error);
	return read.value;
}
