import { describe, expect, it } from 'vitest';
import { circleProbability, circleRadius, circleSigma } from '$lib/probability/circle';
import { density } from '$lib/probability/distributions';
import { normalCdf, normalQuantile } from '$lib/probability/special';

/** Hand-worked: closed forms, recomputed independently; no publication. */
describe('from a physical prediction to a likelihood (hand-worked)', () => {
	const [s1, s2] = [Math.hypot(5, 8), Math.hypot(5, 15)];

	it('measured separation 42 ± 5; predicted 40 ± 8 or 70 ± 15; normal, spreads combined', () => {
		const a = density({ kind: 'normal', mean: 40, sd: s1 }, 42);
		const b = density({ kind: 'normal', mean: 70, sd: s2 }, 42);
		expect(s1).toBeCloseTo(9.433981132056603, 13);
		expect(s2).toBeCloseTo(15.811388300841896, 13);
		expect(a).toBeCloseTo(0.041348107426080506, 14);
		expect(b).toBeCloseTo(0.005259764673373046, 14);
		expect(a / b).toBeCloseTo(7.861208626956364, 10);
	});
	it('the same with Student t, four degrees of freedom, same scales', () => {
		const a = density({ kind: 'student', mean: 40, scale: s1, df: 4 }, 42);
		const b = density({ kind: 'student', mean: 70, scale: s2, df: 4 }, 42);
		expect(a / b).toBeCloseTo(6.928366755193673, 10);
	});
	it('a reading saturated above 16: tail areas, not densities', () => {
		const [a, b] = [normalCdf(-(16 - 20) / 4), normalCdf(-(16 - 10) / 3)];
		expect(a).toBeCloseTo(0.8413447460685429, 13);
		expect(b).toBeCloseTo(0.02275013194817922, 13);
		expect(a / b).toBeCloseTo(36.98197214789688, 9);
	});
	it('one reading five spreads away: thin tails would let one poor assumption decide', () => {
		const ratio = (kind: 'normal' | 'student') => {
			const d =
				kind === 'normal'
					? ({ kind, mean: 0, sd: 1 } as const)
					: ({ kind, mean: 0, scale: 1, df: 4 } as const);
			return density(d, 0) / density(d, 5);
		};
		expect(ratio('normal') / 268337.2865208744).toBeCloseTo(1, 11);
		expect(ratio('student') / 141.52886258750368).toBeCloseTo(1, 11);
	});
});

describe('circular normal positions (hand-worked)', () => {
	it('95 % and 50 % radii, and the probability within 1, 2, 3 standard deviations', () => {
		expect(circleRadius(1, 0.95)).toBeCloseTo(2.4477, 4);
		expect(circleRadius(1, 0.5)).toBeCloseTo(1.1774, 4);
		expect([1, 2, 3].map((r) => Number(circleProbability(r, 1).toFixed(4)))).toEqual([
			0.3935, 0.8647, 0.9889
		]);
	});
	it('8 m (95 %) is 3.27 m per axis; 4.9 m is 2.00 m as R95 and 3.25 m as R68; 13 m vertical (95 %) is 6.63 m', () => {
		expect(circleSigma(8, 0.95)).toBeCloseTo(3.27, 2);
		expect(circleSigma(4.9, 0.95)).toBeCloseTo(2.0, 2);
		expect(circleSigma(4.9, 0.68)).toBeCloseTo(3.25, 2);
		expect(13 / normalQuantile(0.975)).toBeCloseTo(6.63, 2);
	});
});
