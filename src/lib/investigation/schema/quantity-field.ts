import * as v from 'valibot';
import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';
import { parseQuantity } from '$lib/quantity/parse';
import { fromSi, type Quantity, QuantitySchema, toSi } from '$lib/quantity/quantity';
import { readAnyQuantity } from '$lib/quantity/read';
import { stored } from './stored';

/** 'any': whatever dimension the typed unit has, as for the reading of an unknown instrument. */
type Wanted = Dimension | 'any';

interface Range {
	/** Least and greatest value that makes sense, SI. */
	min?: number;
	max?: number;
}

/**
 * A field that takes what a person typed ('12 ± 1 ft') or a quantity already read, and keeps the quantity as typed.
 * @param unit  assumed, and said so by the form, where a number stands alone
 */
export const quantity = (dimension: Wanted, unit: string, range: Range = {}) => {
	const optional = optionalQuantity(dimension, unit, range);
	return v.pipe(
		optional,
		v.nonNullable(QuantitySchema, `Enter ${ask(dimension, unit)}.`),
		stored<Quantity>({ $ref: '#/$defs/quantity', title: name(dimension) })
	);
};

/** The same, where a blank means 'not measured' and is kept as null, never as 0. */
export const optionalQuantity = (dimension: Wanted, unit: string, range: Range = {}) =>
	v.pipe(
		v.union([v.string(), v.null(), QuantitySchema], `Enter ${ask(dimension, unit)}.`),
		v.rawTransform(({ dataset, addIssue, NEVER }): Quantity | null => {
			const given = dataset.value;
			if (given === null) return null;
			const read = typeof given === 'string' ? parse(given, dimension, unit) : check(given, dimension);
			if (!read.ok) {
				addIssue({ message: read.error.charAt(0).toUpperCase() + read.error.slice(1) + '.' });
				return NEVER;
			}
			const found = read.value;
			if (found && dimension !== 'any') {
				const { value, low, high } = toSi(found, dimension);
				if ((low ?? value) < (range.min ?? -Infinity) || (high ?? value) > (range.max ?? Infinity)) {
					addIssue({ message: outside(dimension, unit, range) });
					return NEVER;
				}
			}
			return found;
		}),
		stored<Quantity | null>({
			anyOf: [{ $ref: '#/$defs/quantity' }, { type: 'null' }],
			title: name(dimension)
		})
	);

const name = (dimension: Wanted) =>
	dimension === 'any' ? 'a quantity of any kind' : DIMENSIONS[dimension].phrase;

const ask = (dimension: Wanted, unit: string) =>
	dimension === 'any'
		? 'a value with its unit, such as 12.5 m'
		: `${DIMENSIONS[dimension].phrase}, such as 5 ${unit || DIMENSIONS[dimension].si}`;

function outside(dimension: Dimension, unit: string, { min, max }: Range): string {
	if (max === undefined && min === 0) return 'This can’t be negative.';
	const shown = (si: number) => {
		const own = unit || DIMENSIONS[dimension].si;
		return `${Number(fromSi(si, own, dimension).toPrecision(6))} ${own}`;
	};
	if (max === undefined) return `This must be at least ${shown(min ?? -Infinity)}.`;
	return min === undefined
		? `This must be at most ${shown(max)}.`
		: `This must lie between ${shown(min)} and ${shown(max)}.`;
}

type Read = { ok: true; value: Quantity | null } | { ok: false; error: string };

function parse(text: string, dimension: Wanted, unit: string): Read {
	if (text.trim() === '') return { ok: true, value: null };
	const read =
		dimension === 'any'
			? readAnyQuantity(text)
			: parseQuantity(text, unit === '' ? { dimension } : { dimension, defaultUnit: unit });
	return read.ok ? { ok: true, value: read.value.quantity } : read;
}

function check(given: Quantity, dimension: Wanted): Read {
	if (dimension === 'any') return { ok: true, value: given };
	try {
		toSi(given, dimension);
		return { ok: true, value: given };
	} catch {
		return { ok: false, error: `"${given.unit}" is not a unit of ${DIMENSIONS[dimension].phrase}` };
	}
}
