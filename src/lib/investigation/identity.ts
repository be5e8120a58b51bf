/**
 * A fresh identity: milliseconds in base 36, so that identities sort by age, then 50 random bits.
 * @param now     milliseconds since 1970
 * @param random  source of random 32-bit words
 */
export function freshId(now: number, random: (into: Uint32Array) => Uint32Array): string {
	const [a, b] = random(new Uint32Array(2)) as unknown as [number, number];
	return (
		now.toString(36) +
		(a % 36 ** 5).toString(36).padStart(5, '0') +
		(b % 36 ** 5).toString(36).padStart(5, '0')
	);
}
