import * as v from 'valibot';
import { dimensionNames, DIMENSIONS, type Dimension } from './dimensions';
import { parseQuantity, plainShare, type Reading, type Wanted } from './parse';
import { QuantitySchema, type Quantity } from './quantity';
import { ok, refuse, type Result } from './result';
import { needed, readUnit, unitOf } from './units';

const number = v.pipe(v.number(), v.finite());
const Written = v.strictObject({
	value: v.optional(v.nullable(number)),
	unit: v.optional(v.string()),
	plusMinus: v.optional(number),
	level: v.optional(number),
	low: v.optional(number),
	high: v.optional(number),
	shape: v.optional(v.literal('triangular')),
	factor: v.optional(number),
	text: v.optional(v.string()),
	/** Where the value was taken from; kept by whoever stores it, of no meaning here. */
	from: v.optional(v.unknown())
});

/**
 * Reads a quantity in any accepted form: text, a bare number with the default unit,
 * {"value":12,"unit":"ft","plusMinus":1,"level":0.95} or {"low":10,"high":14,"unit":"ft"}.
 * null, undefined, a blank text and a value of null are 'not measured'. Refuses in words.
 */
export function readQuantity(input: unknown, wanted: Wanted): Result<Reading> {
	if (input === undefined || input === null) return ok({ quantity: null, notes: [] });
	if (typeof input === 'string') return parseQuantity(input, wanted);
	if (typeof input === 'number') return readWritten({ value: input }, wanted);
	const shaped = v.safeParse(Written, input);
	if (shaped.success) return readWritten(shaped.output, wanted);
	const issue = shaped.issues[0];
	const path = v.getDotPath(issue);
	return refuse(
		typeof input === 'object' && path
			? `"${path}" does not belong in a quantity or is not a number; write {"value":5,"unit":"${DIMENSIONS[wanted.dimension].metric}","plusMinus":1}`
			: needed(wanted.dimension)
	);
}

function readWritten(w: v.InferOutput<typeof Written>, wanted: Wanted): Result<Reading> {
	const { dimension, defaultUnit } = wanted;
	const isRange = w.low !== undefined || w.high !== undefined;
	if (!isRange && (w.value === undefined || w.value === null))
		return w.plusMinus === undefined
			? ok({ quantity: null, notes: [] })
			: refuse('a plus-minus needs a value');

	const notes: string[] = [];
	let symbol = w.unit?.trim() || undefined;
	if (symbol === undefined) {
		const { unitRequired } = DIMENSIONS[dimension];
		if (unitRequired) return refuse(`the unit is missing; ${unitRequired}`);
		symbol = dimension === 'ratio' ? (defaultUnit ?? '1') : defaultUnit;
		if (symbol === undefined) return refuse(`the unit is missing; ${needed(dimension)}`);
		if (dimension !== 'ratio') notes.push(`no unit was given; read as ${symbol}`);
	}
	const unit = readUnit(symbol, dimension, `${w.value ?? w.low} ${symbol}`);
	if (!unit.ok) return unit;
	const { low, high, plusMinus, level, shape, factor } = w;
	// A triangle has its peak where it is stated.
	const middle = shape && typeof w.value === 'number' ? w.value : ((low ?? 0) + (high ?? 0)) / 2;
	const [least, most] = [low ?? middle, high ?? middle];
	if (
		isRange &&
		typeof w.value === 'number' &&
		Math.abs(w.value - middle) > 1e-9 * (Math.abs(least) + Math.abs(most))
	) {
		if (least <= most && (w.value < least || w.value > most))
			return refuse(`the value ${w.value} lies outside its own range of ${least} to ${most}`);
		notes.push(`of a value and a range the range counts, with its middle ${middle} ${symbol}`);
	}
	const checked = v.safeParse(QuantitySchema, {
		text: w.text ?? '',
		unit: unit.value.symbol,
		value: isRange ? middle : w.value,
		...(plusMinus === undefined ? {} : { plusMinus }),
		...(level === undefined ? {} : { level }),
		...(low === undefined ? {} : { low }),
		...(high === undefined ? {} : { high }),
		...(shape === undefined ? {} : { shape }),
		...(factor === undefined ? {} : { factor })
	});
	if (!checked.success) return refuse(checked.issues[0].message);
	if (!w.unit?.trim() && symbol === '%') return plainShare(checked.output);
	return ok({ quantity: checked.output, notes: [...notes, ...unit.value.notes] });
}

/** Reads an amount whose kind the writer alone knows: the dimension follows from the unit typed. */
export function readAnyQuantity(text: string): Result<Reading & { dimension: Dimension }> {
	for (const dimension of dimensionNames) {
		const read = parseQuantity(text, { dimension });
		if (!read.ok || (read.value.quantity && !fitsPlainly(read.value.quantity, dimension))) continue;
		return ok({ ...read.value, dimension });
	}
	return refuse(`"${text.trim()}" is not understood; write a number with its unit, such as 5 m or 5 ± 1 m`);
}

/**
 * Not through standard gravity, and no temperature where a difference was meant: the first fitting one counts. Inches
 * and pounds measure screws; an energy is in foot-pounds.
 */
function fitsPlainly(q: Quantity, dimension: Dimension): boolean {
	if (dimension === 'energy' && /^in/.test(q.unit)) return false;
	const { notes } = unitOf(q.unit, dimension);
	return notes.length === 0 || dimension === 'ballistic coefficient';
}
