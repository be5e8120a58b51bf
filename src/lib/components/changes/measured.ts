import type { Quantity } from '$lib/quantity/quantity';
import { readAnyQuantity } from '$lib/quantity/read';

/** What was typed so far as a quantity, or null while it can't be read. */
export function parseAsQuantity(typed: string): Quantity | null {
	const read = readAnyQuantity(typed);
	return read.ok ? read.value.quantity : null;
}
