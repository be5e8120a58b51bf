import { expect, test } from 'vitest';
import { moveWords } from '$lib/investigation/views/firm';

test('the least change is said as from where to where, and two that stand level are parted by a hair', () => {
	const weight = { kind: 'weight' as const, id: 'A', value: 0.05 };
	expect(moveWords(weight, 0.12)).toBe('5 % → 12 %');
	expect(moveWords(weight, 0.0501)).toBe('5 %, by a hair');
	const density = { kind: 'density' as const, id: 'K', value: 2 };
	expect(moveWords(density, 5)).toBe('2.5 times better');
	expect(moveWords(density, 0.5)).toBe('4 times less well');
	expect(moveWords(density, 2.01)).toBe('by a hair');
});
