import type { QuantityField } from '$lib/calculations/calculation';
import { formatQuantity } from '$lib/quantity/format';
import { fromSi, type Quantity } from '$lib/quantity/quantity';

const STEPS = 100;

/** How far a slider reaches, in the unit of the value from which a move begins: from nothing to twice of it, within its range. */
export function reachOf(
	{ range = {}, dimension }: QuantityField,
	start: Quantity
): { low: number; high: number } {
	const size = Math.abs(start.value) || (start.plusMinus ?? 0) * 2 || 1;
	const bound = (si: number | undefined, otherwise: number) =>
		si === undefined ? otherwise : fromSi(si, start.unit, dimension);
	const least = bound(range.min ?? range.above, -Infinity) + (range.above === undefined ? 0 : size / STEPS);
	return {
		low: Math.max(start.value - size, Math.min(least, start.value)),
		high: Math.min(start.value + size, Math.max(bound(range.max, Infinity), start.value))
	};
}

/**
 * The text of a value that was moved: by whole round steps (1, 2 or 5 of a decimal) from where it began, so that the way
 * back meets that value exactly. Unit and spread stay.
 */
export function movedText(start: Quantity, to: number, dimension: QuantityField['dimension']): string {
	const size = Math.abs(start.value) || (start.plusMinus ?? 0) * 2 || 1;
	const decade = 10 ** Math.floor(Math.log10(size / 50));
	const step = ([5, 2, 1].find((n) => n * decade <= size / 50) ?? 1) * decade;
	const by = Math.round((to - start.value) / step) * step;
	const at = (x: number) => Number((x + by).toPrecision(6));
	const { low, high } = start;
	const ends = low === undefined || high === undefined ? {} : { low: at(low), high: at(high) };
	return formatQuantity({ ...start, value: by === 0 ? start.value : at(start.value), ...ends }, dimension);
}
