import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** What a result records so that it can be repeated. */
export const GENERATOR = { name: 'xoroshiro128plus', library: 'pure-rand', version: '8.4.2' } as const;

/** A stream of numbers strictly between 0 and 1, 53 bits each. */
export type Random = () => number;

/** The same seed and stream name give the same numbers on every machine; other names give unrelated ones. */
export function randomStream(seed: number, stream = ''): Random {
	const generator = xoroshiro128plus(mix(seed ^ hash(stream)));
	return () => {
		const high = generator.next() >>> 5; // 27 bits
		const low = generator.next() >>> 6; // 26 bits
		return (high * 67108864 + low + 0.5) / 9007199254740992;
	};
}

/** FNV-1a over UTF-16 units, 32 bits. */
function hash(text: string): number {
	let h = 0x811c9dc5;
	for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x01000193);
	return h;
}

/** Spreads neighbouring seeds over all 32 bits. */
function mix(x: number): number {
	x = Math.imul(x ^ (x >>> 16), 0x21f0aaad);
	x = Math.imul(x ^ (x >>> 15), 0x735a2d97);
	return x ^ (x >>> 15);
}
