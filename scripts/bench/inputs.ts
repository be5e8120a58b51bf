/**
 * Random inputs of the benchmark, the same in every language that measures the same workload. Counter-based: a
 * number depends on its place (stream k, index i) only. Not for the tool's own sampling.
 */

/** A 32-bit mixing of the bits of x. */
export function mix(x: number): number {
	x ^= x >>> 16;
	x = Math.imul(x, 0x21f0aaad);
	x ^= x >>> 15;
	x = Math.imul(x, 0x735a2d97);
	x ^= x >>> 15;
	return x >>> 0;
}

/** Uniform on (0, 1): number i of stream k. */
export function u(k: number, i: number): number {
	return (mix((mix(i) + Math.imul(k, 0x9e3779b9)) >>> 0) + 0.5) / 2 ** 32;
}

/** Standard normal: number i of stream k, which also uses stream k + 100. */
export function n(k: number, i: number): number {
	return Math.sqrt(-2 * Math.log(u(k, i))) * Math.cos(2 * Math.PI * u(k + 100, i));
}
