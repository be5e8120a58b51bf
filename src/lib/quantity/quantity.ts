import * as v from 'valibot';
import type { Dimension } from './dimensions';
import { LARGEST } from './number';
import { unitOf } from './units';

const TOO_LARGE = 'this is too large a number';
const finite = v.pipe(
	v.number(),
	v.finite(TOO_LARGE),
	v.minValue(-LARGEST, TOO_LARGE),
	v.maxValue(LARGEST, TOO_LARGE)
);

/**
 * A measured or stated quantity, kept as typed. `value`, `plusMinus`, `low` and `high` are numbers of `unit`.
 * `plusMinus` is one standard deviation, unless `level` (0 to 1) stands beside it: then it is the half width of the
 * interval that holds so much of a normal distribution. `low` and `high` are a uniform range with `value` its middle,
 * or with `shape` a triangle with `value` its peak. With `factor` it is log-normal about the median `value`: 68 of 100 lie
 * within it times and over the factor; `plusMinus` is then about that, for whoever knows no factor.
 */
export const QuantitySchema = v.pipe(
	v.object({
		text: v.pipe(v.string(), v.maxLength(200)),
		unit: v.pipe(v.string(), v.maxLength(40)),
		value: finite,
		plusMinus: v.optional(v.pipe(finite, v.minValue(0, 'a plus-minus is not negative'))),
		level: v.optional(
			v.pipe(
				finite,
				v.gtValue(0, 'a level lies between 0 and 1'),
				v.ltValue(1, 'a level lies between 0 and 1')
			)
		),
		low: v.optional(finite),
		high: v.optional(finite),
		shape: v.optional(v.literal('triangular')),
		factor: v.optional(v.pipe(finite, v.gtValue(1, 'the factor of a log-normal is more than 1, such as 1.2')))
	}),
	v.check((q) => (q.low === undefined) === (q.high === undefined), 'a range needs both low and high'),
	v.check(
		(q) => q.low === undefined || q.high === undefined || q.low <= q.high,
		'a range runs from low to high'
	),
	v.check(
		(q) => !q.shape || (q.low !== undefined && q.high !== undefined && q.low <= q.value && q.value <= q.high),
		'a triangle needs low and high about its value'
	),
	v.check((q) => q.level === undefined || q.plusMinus !== undefined, 'a level needs a plus-minus'),
	v.check((q) => q.low === undefined || q.plusMinus === undefined, 'give a plus-minus or a range, not both')
);
export type Quantity = v.InferOutput<typeof QuantitySchema>;

/** The same quantity in SI units. */
export interface SiQuantity {
	value: number;
	plusMinus?: number;
	level?: number;
	low?: number;
	high?: number;
	shape?: 'triangular';
	factor?: number;
}

/** @throws {Error} if the unit does not belong to the dimension: `readQuantity` has refused that before. */
export function toSi(q: Quantity, dimension: Dimension): SiQuantity {
	const { factor, offset } = unitOf(q.unit, dimension);
	const at = (x: number) => x * factor + offset;
	return {
		value: at(q.value),
		...(q.plusMinus === undefined ? {} : { plusMinus: q.plusMinus * Math.abs(factor) }),
		...(q.level === undefined ? {} : { level: q.level }),
		...(q.low === undefined || q.high === undefined ? {} : { low: at(q.low), high: at(q.high) }),
		...(q.shape === undefined ? {} : { shape: q.shape }),
		...(q.factor === undefined ? {} : { factor: q.factor })
	};
}

/** A number of SI units in another unit of the same dimension. */
export function fromSi(value: number, unit: string, dimension: Dimension): number {
	const { factor, offset } = unitOf(unit, dimension);
	return (value - offset) / factor;
}

/** A quantity made by the program. */
export function quantity(value: number, unit: string, spread: Omit<SiQuantity, 'value'> = {}): Quantity {
	return { text: '', unit, value, ...spread };
}
