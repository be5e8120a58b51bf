import { describe, expect, it } from 'vitest';
import { brierScore, logLossBits, reliability } from '$lib/probability/scoring';

const of = (...pairs: [number, 0 | 1][]) => pairs.map(([p, happened]) => ({ p, true: happened === 1 }));

describe('scores of stated probabilities', () => {
	const four = of([0.9, 1], [0.7, 1], [0.2, 0], [0.1, 1]);

	it('Brier 1950 and Good 1952 (formulas from memory, values worked apart): .9 .7 .2 .1 against 1 1 0 1', () => {
		expect(brierScore(four)).toBeCloseTo(0.2375, 14);
		expect(logLossBits(four)).toBeCloseTo(1.0776081140123832, 14);
	});

	it('hand-worked: always one half scores 0.25 and one bit; a perfect forecast 0 and 0', () => {
		const half = of([0.5, 1], [0.5, 0], [0.5, 0]);
		expect([brierScore(half), logLossBits(half)]).toEqual([0.25, 1]);
		expect([brierScore(of([1, 1], [0, 0])), logLossBits(of([1, 1], [0, 0]))]).toEqual([0, 0]);
	});

	it('what was called impossible and was true surprises without end', () => {
		expect(logLossBits(of([0, 1], [0.5, 1]))).toBe(Infinity);
		expect(brierScore(of([0, 1]))).toBe(1);
	});

	it('hand-worked: bands hold what was stated in them, the ends too; Wilson 1927 (from memory) for 9 of 10', () => {
		const nine = Array.from({ length: 10 }, (_, i) => ({ p: i === 0 ? 1 : 0.8, true: i > 0 }));
		const [low, high, ...none] = reliability([...of([0, 0]), ...nine]);
		expect(low).toMatchObject({ from: 0, to: 0.2, count: 1, true: 0, mean: 0 });
		expect(high).toMatchObject({ from: 0.8, to: 1, count: 10, true: 9 });
		expect(high!.mean).toBeCloseTo(0.82, 14);
		// z = 1.95996: (.9 + .192073) / 1.384146 -+ 1.959964 / 1.384146 * sqrt(.009 + .0096036).
		expect(high!.interval[0]).toBeCloseTo(0.59585, 4);
		expect(high!.interval[1]).toBeCloseTo(0.98212, 4);
		expect(none).toEqual([]);
	});
});
