import { expect, test } from 'vitest';
import { IntTable } from '$lib/reasoning/int-table';

test('a table of whole numbers answers as a map does, also after it has grown', () => {
	const table = new IntTable();
	const map = new Map<string, number>();
	for (let i = 0; i < 20_000; i++) {
		// Few different keys at first, so that many are set again.
		const key = [(i * 7919) % 61, (i * i) % 89, i % (1 + (i >> 3))] as const;
		table.set(...key, i);
		map.set(key.join(), i);
	}
	expect(table.size).toBe(map.size);
	for (const [key, value] of map) {
		const [a = 0, b = 0, c = 0] = key.split(',').map(Number);
		expect(table.get(a, b, c)).toBe(value);
	}
	expect(table.get(61, 0, 0)).toBe(-1);
});
