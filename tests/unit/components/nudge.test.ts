import { describe, expect, it } from 'vitest';
import type { QuantityField } from '$lib/calculations/calculation';
import { movedText, reachOf } from '$lib/components/calculations/nudge';
import { parseQuantity } from '$lib/quantity/parse';

const field = { kind: 'quantity', id: 'a', label: 'a', dimension: 'ratio', unit: '1', range: { above: 0, max: 3 } } as const satisfies QuantityField; // prettier-ignore
const typed = (text: string, dimension: QuantityField['dimension'] = 'ratio') => {
	const read = parseQuantity(text, { dimension, defaultUnit: '1' });
	if (!read.ok || !read.value.quantity) throw new Error('not read');
	return read.value.quantity;
};

describe('a slider', () => {
	it.each([
		['0.5', 'ratio'],
		['1', 'ratio'],
		['2', 'ratio'],
		['0.75 ± 0.08', 'ratio'],
		['2.93 ha', 'area'],
		['120 s', 'time'],
		['0.013 to 0.017 m', 'length']
	] as const)('at %s begins at that, and comes back to it', (text, dimension) => {
		const start = typed(text, dimension);
		const { low, high } = reachOf({ ...field, dimension, range: { above: 0 } }, start);
		expect(low).toBeLessThan(start.value);
		expect(high).toBeGreaterThan(start.value);
		expect(typed(movedText(start, start.value, dimension), dimension)).toEqual({ ...start, text: expect.any(String) as string }); // prettier-ignore
		const away = typed(movedText(start, 1.5 * start.value, dimension), dimension);
		expect(away.value / start.value).toBeCloseTo(1.5, 1);
		expect(away.value).toBeCloseTo(Number(away.value.toPrecision(4)), 12);
	});
	it('keeps to what can be, and holds also a value beyond it', () => {
		expect(reachOf(field, typed('2'))).toEqual({ low: 0.02, high: 3 });
		expect(reachOf(field, typed('5')).high).toBe(5);
	});
});
