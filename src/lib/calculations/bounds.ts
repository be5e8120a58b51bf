import type { Dimension } from '$lib/quantity/dimensions';
import type { QuantityField } from './calculation';

/** One end of a scenario's free quantity, such as the least lag. */
export const bound = (
	id: 'from' | 'to',
	label: string,
	dimension: Dimension,
	unit: string,
	range: NonNullable<QuantityField['range']>
): QuantityField => ({ kind: 'quantity', id, label, dimension, unit, range });

/** Refuses ends that do not rise; those left blank are these. */
export const rises =
	(low: number, high: number) =>
	({ from = low, to = high }: Record<string, number | undefined>): string | undefined =>
		to > from ? undefined : 'the lower bound must be less than the upper one';
