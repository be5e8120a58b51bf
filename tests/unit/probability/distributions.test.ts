import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
	concentrationOf,
	density,
	distributionOf,
	quantile,
	sample,
	standardDeviation,
	type Distribution
} from '$lib/probability/distributions';
import { randomStream } from '$lib/probability/generator';
import {
	chiSquareTail,
	erfc,
	logGamma,
	normalCdf,
	normalQuantile,
	studentCdf
} from '$lib/probability/special';

const all: Distribution[] = [
	{ kind: 'normal', mean: 3, sd: 2 },
	{ kind: 'truncated normal', mean: 1, sd: 2, low: 0, high: 4 },
	{ kind: 'uniform', low: -1, high: 5 },
	{ kind: 'triangular', low: 0, mode: 1, high: 4 },
	{ kind: 'lognormal', median: 2, logSd: 0.4 },
	{ kind: 'student', mean: 1, scale: 2, df: 4 },
	{ kind: 'von Mises', mean: 0.5, concentration: 3 },
	{ kind: 'von Mises', mean: 0.5, concentration: 400 }
];

describe('every distribution', () => {
	it.each(all)('$kind: its density integrates to the probability between two quantiles', (d) => {
		const [low, high] = [quantile(d, 0.1), quantile(d, 0.7)];
		const n = 4000;
		let area = 0;
		for (let i = 0; i < n; i++) area += density(d, low + ((i + 0.5) * (high - low)) / n);
		expect(area * ((high - low) / n)).toBeCloseTo(0.6, 5);
	});
	it.each(all)('$kind: quantiles rise with probability', (d) => {
		fc.assert(
			fc.property(
				fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true }),
				fc.double({ min: 1e-6, max: 1 - 1e-6, noNaN: true }),
				(a, b) => {
					expect(quantile(d, Math.min(a, b))).toBeLessThanOrEqual(quantile(d, Math.max(a, b)));
				}
			)
		);
	});
	it('samples take one number each and repeat with the seed', () => {
		const draw = (seed: number) => {
			const random = randomStream(seed, 'a');
			return all.map((d) => sample(d, random));
		};
		expect(draw(7)).toEqual(draw(7));
		expect(draw(7)).not.toEqual(draw(8));
		const counted = { n: 0 };
		all.forEach((d) => sample(d, () => (counted.n++, 0.3)));
		expect(counted.n).toBe(all.length);
	});
});

describe('what a quantity states', () => {
	it('a plus-minus is one standard deviation unless a level stands beside it', () => {
		expect(standardDeviation({ value: 12, plusMinus: 1 })).toBe(1);
		expect(standardDeviation({ value: 12, plusMinus: 1.959963984540054, level: 0.95 })).toBeCloseTo(1, 12);
		expect(standardDeviation({ value: 12, low: 10, high: 14 })).toBeCloseTo(4 / Math.sqrt(12), 12);
		expect(standardDeviation({ value: 12 })).toBe(0);
	});
	it('low to high is uniform; a bound that matters cuts the normal', () => {
		expect(distributionOf({ value: 12, low: 10, high: 14 })).toEqual({ kind: 'uniform', low: 10, high: 14 });
		expect(distributionOf({ value: 12, plusMinus: 1 }, { min: 0 }).kind).toBe('normal');
		const cut = distributionOf({ value: 2, plusMinus: 1 }, { min: 0 });
		expect(cut.kind).toBe('truncated normal');
		expect(quantile(cut, 1e-9)).toBeGreaterThanOrEqual(0);
		expect(distributionOf({ value: 2 })).toEqual({ kind: 'fixed', value: 2 });
	});
});

describe('special functions', () => {
	it('the normal quantile and cumulative undo each other', () => {
		fc.assert(
			fc.property(fc.double({ min: -7, max: 7, noNaN: true }), (z) => {
				// Above zero the rounding of 1 - p limits what can come back.
				expect(Math.abs(normalQuantile(normalCdf(-Math.abs(z))) + Math.abs(z))).toBeLessThan(1e-10);
			})
		);
	});
	it('known values', () => {
		expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 14);
		expect(normalQuantile(1e-12)).toBeCloseTo(-7.034483825301132, 10);
		expect(erfc(0.5)).toBeCloseTo(0.4795001221869535, 14);
		expect(erfc(3) / 2.209049699858544e-5).toBeCloseTo(1, 12);
		expect(logGamma(0.5)).toBeCloseTo(Math.log(Math.sqrt(Math.PI)), 13);
		expect(logGamma(11)).toBeCloseTo(Math.log(3628800), 12);
		expect(() => normalQuantile(1)).toThrow(RangeError);
	});
	it("Student's t: one and two degrees of freedom have closed forms", () => {
		for (const t of [-3, -0.4, 0, 1.7, 20]) {
			expect(studentCdf(t, 1)).toBeCloseTo(0.5 + Math.atan(t) / Math.PI, 12);
			expect(studentCdf(t, 2)).toBeCloseTo(0.5 + t / (2 * Math.sqrt(2 + t * t)), 12);
		}
		expect(quantile({ kind: 'student', mean: 0, scale: 1, df: 4 }, 0.975)).toBeCloseTo(2.7764451, 6); // any t table
		expect(quantile({ kind: 'student', mean: 0, scale: 1, df: 1 }, 0.001)).toBeCloseTo(
			Math.tan(Math.PI * -0.499),
			6
		);
	});
	it('chi-square tail at the tabulated 95 % limits', () => {
		const limits: [number, number][] = [
			[1, 3.841],
			[2, 5.991],
			[3, 7.815],
			[4, 9.488],
			[5, 11.07],
			[8, 15.507],
			[10, 18.307]
		];
		for (const [df, limit] of limits) expect(chiSquareTail(limit, df)).toBeCloseTo(0.05, 4);
	});
	it('a direction known to 10 degrees scatters by 10 degrees, and wraps round the circle when it is hardly known', () => {
		const sd = Math.PI / 18;
		const d: Distribution = { kind: 'von Mises', mean: 0, concentration: concentrationOf(sd) };
		expect(quantile(d, normalCdf(1))).toBeCloseTo(sd, 2);
		const broad: Distribution = { kind: 'von Mises', mean: 0, concentration: 1e-6 };
		expect(quantile(broad, 0.999)).toBeCloseTo(0.998 * Math.PI, 3);
	});
});

describe('the generator', () => {
	it('streams of one seed are unrelated, and every number lies strictly between 0 and 1', () => {
		const [a, b] = [randomStream(1, 'wind'), randomStream(1, 'height')];
		let [sum, product] = [0, 0];
		for (let i = 0; i < 20000; i++) {
			const [x, y] = [a(), b()];
			expect(x > 0 && x < 1).toBe(true);
			sum += x;
			product += (x - 0.5) * (y - 0.5);
		}
		expect(sum / 20000).toBeCloseTo(0.5, 2);
		expect(Math.abs(product / 20000)).toBeLessThan(4 / 12 / Math.sqrt(20000));
	});
});
