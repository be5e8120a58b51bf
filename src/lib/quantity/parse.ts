import { DIMENSIONS, type Dimension } from './dimensions';
import { NUMBER, plainText, readNumber } from './number';
import type { Quantity } from './quantity';
import { ok, refuse, type Result } from './result';
import { readNamed } from './shapes';
import { needed, readUnit, unitOf, type Unit } from './units';

export interface Wanted {
	dimension: Dimension;
	/** Assumed, and said so, where a number stands without a unit. */
	defaultUnit?: string;
}

/** What was read. `quantity` is null for a blank: not measured, never zero. `notes` say what was assumed. */
export interface Reading {
	quantity: Quantity | null;
	notes: string[];
}

interface Amount {
	value: number;
	unit?: Unit;
}

/** A number and the unit behind it; a digit belongs to the unit only as an exponent ('m2', 'm^-2'). */
const TERM = new RegExp(
	String.raw`(${NUMBER})\s*((?:1/(?!\d))?(?:[^\d+±.,]|[.,](?!\d)|(?<=[\p{L}°^]|[\p{L}^]-)[1-4](?!\d))*)`,
	'uy'
);

/** '12.5 ft', '5 ft 11 in', `5'11"`, '1 h 20 min', '12.5': one amount with or without its unit. */
function readAmount(text: string, dimension: Dimension): Result<Amount> {
	const point = dimension === 'angle' ? compassPoint(text) : undefined;
	if (point !== undefined) return ok({ value: point, unit: unitOf('°', 'angle') });
	const terms: { number: string; unit: string }[] = [];
	TERM.lastIndex = 0;
	while (TERM.lastIndex < text.length) {
		const match = TERM.exec(text);
		if (!match) return refuse(unreadable(text, dimension));
		terms.push({ number: match[1] ?? '', unit: (match[2] ?? '').replace(/[\s,.]+$/, '') });
	}
	const [first, ...rest] = terms;
	if (!first) return refuse(unreadable(text, dimension));
	const value = readNumber(first.number);
	if (!value.ok) return value;
	if (!first.unit)
		return rest.length ? refuse(unreadable(text, dimension)) : value.ok ? ok({ value: value.value }) : value;
	const unit = readUnit(first.unit, dimension, `${first.number} ${first.unit}`);
	if (!unit.ok) return unit;

	let total = Math.abs(value.value);
	let last = unit.value;
	for (const term of rest) {
		const part = readNumber(term.number);
		if (!part.ok) return part;
		// A foot mark may leave the inches unsaid: 5'11.
		const name = term.unit || (/^('|ft|feet|foot)$/.test(first.unit) ? 'in' : '');
		if (!name) return refuse(unreadable(text, dimension));
		const smaller = readUnit(name, dimension);
		if (!smaller.ok) return smaller;
		const { factor } = smaller.value;
		// Each further part is of a smaller unit and less than one of the unit before it.
		if (part.value < 0 || factor >= last.factor || part.value * factor >= last.factor || last.offset)
			return refuse(`"${text}" does not read as one amount; write it with one unit: ${needed(dimension)}`);
		total += (part.value * factor) / unit.value.factor;
		last = smaller.value;
	}
	return ok({ value: first.number.startsWith('-') ? -total : total, unit: unit.value });
}

const POINTS = 'N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW'.split(' ');

/** 'NW', 'north-west', 'south south-east' in degrees from north. */
function compassPoint(text: string): number | undefined {
	const letters = text
		.replace(/north|south|east|west/gi, (word) => word[0]!)
		.replace(/[\s-]/g, '')
		.toUpperCase();
	const i = POINTS.indexOf(letters);
	return i < 0 ? undefined : 22.5 * i;
}

function unreadable(text: string, dimension: Dimension): string {
	const open = /^(?:[<>≤≥]|less|more|over|under|at (?:least|most))/i.test(text);
	const { metric } = DIMENSIONS[dimension];
	if (open) return `"${text}" leaves one side open; give a range, such as 0 to 5 ${metric}`;
	return `"${text}" is not understood; ${needed(dimension)} or 5 ± 1 ${dimension === 'ratio' ? '%' : metric}`;
}

/** Two amounts with 'to', a dash, dots, or a hyphen that is neither a sign nor an exponent. */
const RANGE =
	/^(.*?[\d.'"%°\p{L})]) ?(?:\bto\b|\.\.+|…|[–—]| - |(?<=\d)-(?=\.?\d)|(?<=\p{L})(?<![\d.,][eE])-(?=\d{2})) ?(.+)$/u;
const LEVEL =
	/[,;]?\s*(?:\(\s*|\bat\s+)(?:(\d+(?:[.,]\d+)?)\s*%|k\s*=\s*(\d+(?:[.,]\d+)?)|(\d+(?:[.,]\d+)?)\s*(?:σ|sigma|sd|standard deviations?))(?:\s*(?:level|confidence))?\s*\)?$/i;

interface Spread {
	/** Probability that a normal variable lies within the plus-minus. */
	level?: number;
	/** Standard deviations that the plus-minus spans. */
	sigmas?: number;
}

/** Takes '(95 %)', 'at 95 %', '(k=2)' or '(2 sigma)' off the end. */
function takeLevel(text: string): { rest: string } & Spread {
	const match = LEVEL.exec(text);
	if (!match) return { rest: text };
	const [, percent, k, sigma] = match.map((m) => m?.replace(',', '.'));
	const rest = text.slice(0, match.index);
	return percent ? { rest, level: Number(percent) / 100 } : { rest, sigmas: Number(k ?? sigma) };
}

/**
 * Reads what a person types for a quantity: '12.5 ft', '12,5 m', '12 ± 1 ft (95 %)', '12 ft ± 8 %', '10 to 14 ft',
 * `5'11"`, '1 500 m', '1e3 Pa', and distributions by their name (`shapes.ts`). A blank is not measured. Refuses, saying what was expected.
 */
export function parseQuantity(text: string, wanted: Wanted): Result<Reading> {
	const plain = plainText(text);
	if (!plain) return ok({ quantity: null, notes: [] });
	if (plain.length > 200) return refuse('this is too long for a quantity');
	const named = readNamed(plain, (part) => parseQuantity(part, wanted));
	if (named) return named;

	const { rest, ...spread } = takeLevel(plain);
	if (spread.level !== undefined && !(spread.level > 0 && spread.level < 1))
		return refuse('a level lies between 0 and 100 %, such as (95 %)');
	if (spread.sigmas === 0)
		return refuse('the number of standard deviations must be above zero, such as (k=2)');
	const [middle = '', plusMinus, ...more] = rest.split(/\s*(?:\+\s?\/?\s?-|±|\bplus or minus\b)\s*/);
	if (more.length) return refuse('give one plus-minus only, such as 12 ± 1');
	if (plusMinus !== undefined) return readSpread(text, middle, plusMinus, spread, wanted);
	if (rest !== plain) return refuse('a level needs a plus-minus before it, such as 12 ± 1 (95 %)');
	const range = RANGE.exec(plain.replace(/^between (.+?) and /i, '$1 to '));
	if (range) return readRange(text, range[1] ?? '', range[2] ?? '', wanted);

	const amount = readAmount(plain, wanted.dimension);
	if (!amount.ok) return amount;
	return withUnit(amount.value.unit, wanted, (unit) =>
		ok({ text, unit: unit.symbol, value: amount.value.value })
	);
}

function readRange(text: string, lowText: string, highText: string, wanted: Wanted): Result<Reading> {
	const low = readAmount(lowText.trim(), wanted.dimension);
	if (!low.ok) return low;
	const high = readAmount(highText.trim(), wanted.dimension);
	if (!high.ok) return high;
	return withUnit(high.value.unit ?? low.value.unit, wanted, (unit) => {
		const own = low.value.unit ?? unit;
		const from =
			own.symbol === unit.symbol
				? low.value.value
				: (low.value.value * own.factor + own.offset - unit.offset) / unit.factor;
		// A range of directions may pass north: 350° to 20°.
		const turn = wanted.dimension === 'angle' && high.value.value < from ? (2 * Math.PI) / unit.factor : 0;
		const to = high.value.value + turn;
		if (to < from) return refuse(`a range runs from low to high, such as ${to} to ${from}`);
		return ok({ text, unit: unit.symbol, value: (from + to) / 2, low: from, high: to });
	});
}

/** '12 ± 1 ft', '(12 ± 1) ft', '12 ft ± 4 in', '12 ft ± 8 %', '12 ± 8 % ft'. */
function readSpread(
	text: string,
	middleText: string,
	spreadText: string,
	spread: Spread,
	wanted: Wanted
): Result<Reading> {
	const { dimension } = wanted;
	const unit = wanted.defaultUnit ?? DIMENSIONS[dimension].metric;
	const sample = `12 ± 1${unit === '1' ? '' : ` ${unit}`}`;
	if (!spreadText.trim()) return refuse(`how much follows the ±? Write it behind, such as ${sample}`);
	if (!middleText.trim()) return refuse(`the value before the ± is missing: write both, such as ${sample}`);
	const middle = readAmount(middleText.replace('(', '').trim(), dimension);
	if (!middle.ok) return middle;
	const behind = spreadText.replace(')', '').trim();
	const percent =
		dimension === 'ratio' ? null : new RegExp(`^(${NUMBER}) ?(?:%|percent)\\s*(.*)$`).exec(behind);
	if (percent && dimension === 'temperature')
		return refuse('give the plus-minus of a temperature in degrees, such as ± 2 °C');
	const own = readAmount(percent ? `${percent[1]} ${percent[2]}`.trim() : behind, dimension);
	if (!own.ok) return own;
	if (own.value.value < 0) return refuse('a plus-minus is not negative');
	const [size, part] = [Math.abs(middle.value.value), own.value.value];
	if (
		dimension === 'ratio' &&
		!middle.value.unit &&
		own.value.unit?.symbol === '%' &&
		size > 0 &&
		(wanted.defaultUnit === '1' || size < 1)
	)
		return refuse(
			`this can be read in two ways; write both in one unit, such as ${size} ± ${Number(((size * part) / 100).toPrecision(3))}`
		);

	return withUnit(middle.value.unit ?? own.value.unit, wanted, (unit) => {
		const share = percent
			? Math.abs(middle.value.value) / 100
			: (own.value.unit ?? unit).factor / unit.factor;
		return ok({
			text,
			unit: unit.symbol,
			value: middle.value.value,
			plusMinus: (own.value.value * share) / (spread.sigmas ?? 1),
			...(spread.level === undefined ? {} : { level: spread.level })
		});
	});
}

/** Finds the unit, or the default one, and says if it had to be assumed. */
function withUnit(
	unit: Unit | undefined,
	{ dimension, defaultUnit }: Wanted,
	make: (unit: Unit) => Result<Quantity>
): Result<Reading> {
	const finish = (found: Unit, notes: string[]): Result<Reading> => {
		const made = make(found);
		return made.ok ? ok({ quantity: made.value, notes }) : made;
	};
	if (unit) return finish(unit, unit.notes);
	const { unitRequired } = DIMENSIONS[dimension];
	if (unitRequired) return refuse(`the unit is missing; ${unitRequired}`);
	if (dimension === 'ratio' && defaultUnit === '%') {
		const made = make(unitOf('%', dimension));
		return made.ok ? plainShare(made.value) : made;
	}
	if (dimension === 'ratio') return finish(unitOf(defaultUnit ?? '1', dimension), []);
	if (defaultUnit === undefined) return refuse(`the unit is missing; ${needed(dimension)}`);
	return finish(unitOf(defaultUnit, dimension), [`no unit was typed; read as ${defaultUnit}`]);
}

/**
 * A plain number where per cent are usual: one below 1 is a share of 1, as probabilities are written ('0.4'), a larger one
 * so many per cent. Refuses 1, which may be either.
 */
export function plainShare(q: Quantity): Result<Reading> {
	const size = Math.max(...[q.value, q.low ?? 0, q.high ?? 0].map(Math.abs));
	if (size === 1) return refuse('1 can be read as 1 % or as 100 %; type one of these');
	if (!(size > 0 && size < 1)) return ok({ quantity: q, notes: ['no unit was typed; read as %'] });
	const inPercent = Object.fromEntries(
		Object.entries(q).map(([key, x]) =>
			typeof x === 'number' && key !== 'level' && key !== 'factor'
				? [key, Number((100 * x).toPrecision(15))]
				: [key, x]
		)
	) as Quantity;
	return ok({ quantity: inPercent, notes: ['a plain number below 1 is read as a share of 1'] });
}
