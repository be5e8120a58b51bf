import { expect, test } from 'vitest';
import { mix, n, u } from '../../../scripts/bench/inputs';

/** The definition in exact arithmetic, cut to 32 bits after each step. */
function mixExactly(x: bigint): bigint {
	const cut = (y: bigint) => y & 0xffffffffn;
	x ^= x >> 16n;
	x = cut(x * 0x21f0aaadn);
	x ^= x >> 15n;
	x = cut(x * 0x735a2d97n);
	return x ^ (x >> 15n);
}

test('numbers follow their definition bit by bit, for small and large streams and indices', () => {
	for (const i of [0, 1, 2, 59, 9_999, 2 ** 31, 2 ** 32 - 1]) {
		expect(BigInt(mix(i))).toBe(mixExactly(BigInt(i)));
		for (const k of [1, 4, 72, 304, 5_000]) {
			const inner = (mixExactly(BigInt(i)) + BigInt(k) * 0x9e3779b9n) & 0xffffffffn;
			expect(u(k, i)).toBe((Number(mixExactly(inner)) + 0.5) / 2 ** 32);
		}
	}
});

test('uniform and normal numbers have the moments of their distributions', () => {
	// 100,000 numbers: four standard errors are 0.0037 (uniform mean) and 0.0126 (normal mean), 0.018 (normal variance).
	const count = 100_000;
	const mean = (f: (i: number) => number) =>
		Array.from({ length: count }, (_, i) => f(i)).reduce((a, b) => a + b) / count;
	expect(Math.abs(mean((i) => u(1, i)) - 0.5)).toBeLessThan(0.0037);
	expect(Math.abs(mean((i) => n(50, i)))).toBeLessThan(0.0126);
	expect(Math.abs(mean((i) => n(50, i) ** 2) - 1)).toBeLessThan(0.018);
});
