/** A sorted copy, largest key first, equal ones as they stood. By insertion: soonest for the few inputs of a gate. */
export function largestFirst(items: readonly number[], keyOf: (item: number) => number): number[] {
	const sorted = items.slice();
	for (let i = 1; i < sorted.length; i++) {
		const item = sorted[i] as number;
		const key = keyOf(item);
		let at = i;
		for (; at > 0 && keyOf(sorted[at - 1] as number) < key; at--) sorted[at] = sorted[at - 1] as number;
		sorted[at] = item;
	}
	return sorted;
}
