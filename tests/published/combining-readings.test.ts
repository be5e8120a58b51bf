import { describe, expect, it } from 'vitest';
import {
	birgeLimit,
	birgeRatio,
	chanceOfScatter,
	combine,
	derSimonianLaird,
	mandelPaule,
	medianAndMad,
	modifiedZ
} from '$lib/probability/combine';
import { covarianceOf, propagate } from '$lib/probability/propagation';
import { bisect, chiSquareTail } from '$lib/probability/special';
import { meanAndSd } from '$lib/probability/summary';

/** Kacker, Metrologia 41 (2004) 132; data and results as in statsmodels, stats/tests (computed with an independent R package). */
const x = [61.0, 61.4, 62.21, 62.3, 62.34, 62.6, 62.7, 62.84, 65.9];
const u = [0.2025, 1.21, 0.09, 0.2025, 0.3844, 0.5625, 0.0676, 0.0225, 1.8225].map(Math.sqrt);
const K = combine(x, covarianceOf(u));

describe('nine results of one quantity (published: Kacker 2004, as transcribed in statsmodels; seen)', () => {
	it('7.1 weighted mean 62.5833970939982 ± 0.107845705498231', () => {
		expect(Math.abs(K.mean / 62.5833970939982 - 1)).toBeLessThan(1e-10);
		expect(Math.abs(K.u / 0.107845705498231 - 1)).toBeLessThan(1e-10);
		expect(K.weights.reduce((s, w) => s + w)).toBeCloseTo(1, 13);
	});
	it('7.2 Q 24.801897741835 with 8 degrees of freedom, p 0.00167935146', () => {
		expect(Math.abs(K.q / 24.801897741835 - 1)).toBeLessThan(1e-9);
		expect(K.df).toBe(8);
		expect(Math.abs(chanceOfScatter(K) / 0.00167935146 - 1)).toBeLessThan(1e-8);
	});
	it('7.3 Birge ratio 1.7607491 (its square 3.1002372); scaled uncertainty 0.1898892; I² 67.744 %', () => {
		const ratio = birgeRatio(K);
		expect(Math.abs(ratio / 1.7607491 - 1)).toBeLessThan(1e-6);
		expect(Math.abs(ratio ** 2 / 3.1002372 - 1)).toBeLessThan(1e-6);
		expect(Math.abs((K.u * ratio) / 0.1898892 - 1)).toBeLessThan(1e-6);
		expect(100 * (1 - K.df / K.q)).toBeCloseTo(67.744, 3);
	});
	it('7.4 DerSimonian-Laird: τ² 0.288049247, 62.390138604 ± 0.245749668', () => {
		const dl = derSimonianLaird(x, u);
		for (const [value, expected] of [
			[dl.tau2, 0.288049247],
			[dl.mean, 62.390138604],
			[dl.u, 0.245749668]
		] as const)
			expect(Math.abs(value / expected - 1)).toBeLessThan(1e-8);
	});
	it('Mandel-Paule, by its definition (hand-worked): Q with τ² added is exactly 8', () => {
		const { tau2, mean, u: uMean } = mandelPaule(x, u);
		const again = combine(x, covarianceOf(u.map((ui) => Math.sqrt(ui * ui + tau2))));
		expect(again.q).toBeCloseTo(8, 9);
		expect(again.mean).toBeCloseTo(mean, 12);
		expect(again.u).toBeCloseTo(uMean, 12);
		expect(tau2).toBeGreaterThan(0);
	});
});

describe('the same nine results without their uncertainties (hand-worked)', () => {
	it('7.6 plain mean 62.58778, standard deviation 1.38139, of the mean 0.46046', () => {
		const { mean, sd } = meanAndSd(x);
		expect(Math.abs(mean - 62.58778)).toBeLessThan(1e-5);
		expect(Math.abs(sd - 1.38139)).toBeLessThan(1e-5);
		expect(Math.abs(sd / 3 - 0.46046)).toBeLessThan(1e-5);
	});
	it('7.7 median 62.34, MAD 0.36, 1.4826 MAD 0.53374', () => {
		const { median, mad } = medianAndMad(x);
		expect(median).toBeCloseTo(62.34, 5);
		expect(mad).toBeCloseTo(0.36, 5);
		expect(1.4826 * mad).toBeCloseTo(0.53374, 5);
	});
	it('7.8 modified z: the last stands at 6.6701, beyond 3.5 (limit of Iglewicz and Hoaglin, from memory)', () => {
		const expected = [-2.5106, -1.7612, -0.2436, -0.0749, 0, 0.4871, 0.6745, 0.9368, 6.6701];
		modifiedZ(x)!.forEach((z, i) => expect(Math.abs(z - expected[i]!)).toBeLessThan(1e-4));
	});
});

describe('other sets (published; from memory)', () => {
	it('J. R. Taylor, Error Analysis, section 7.2: 11 ± 1, 12 ± 1 and 10 ± 3 Ω are 11.42 ± 0.69 Ω', () => {
		const three = combine([11, 12, 10], covarianceOf([1, 1, 3]));
		expect(three.mean).toBeCloseTo(11.42, 2);
		expect(three.u).toBeCloseTo(0.69, 2);
	});
	it('Particle Data Group 2022, lifetime of the neutron: 878.4 ± 0.5 s with a scale factor of 1.8', () => {
		const values = [877.75, 878.3, 877.7, 881.5, 880.2, 882.5, 880.7, 878.5];
		// Statistical and systematic, in squares; the first one with its lopsided 0.22 and 0.16 in the mean.
		const u = [
			[0.28, 0.19],
			[1.6, 1],
			[0.7, 0.3],
			[0.7, 0.6],
			[1.2, 0],
			[1.4, 1.5],
			[1.3, 1.2],
			[0.7, 0.3]
		].map((parts) => Math.hypot(...parts));
		const all = combine(values, covarianceOf(u));
		expect(all.mean).toBeCloseTo(878.4, 1);
		expect(birgeRatio(all)).toBeCloseTo(1.8, 1);
		expect(all.u * birgeRatio(all)).toBeCloseTo(0.5, 1);
	});
});

describe('two values (hand-worked)', () => {
	it('7.10 100 ± 3 and 110 ± 4: 103.6 ± 2.4, Q 4.0, p 0.0455, Birge ratio 2.0', () => {
		const both = combine([100, 110], covarianceOf([3, 4]));
		expect(both.mean).toBeCloseTo(103.6, 6);
		expect(both.u).toBeCloseTo(2.4, 6);
		expect(both.q).toBeCloseTo(4, 6);
		expect(chanceOfScatter(both)).toBeCloseTo(0.0455, 4);
		expect(birgeRatio(both)).toBeCloseTo(2, 6);
	});
	it.each([
		[1, 3.841, 1.96],
		[2, 5.991, 1.731],
		[3, 7.815, 1.614],
		[4, 9.488, 1.54],
		[5, 11.07, 1.488],
		[8, 15.507, 1.392],
		[10, 18.307, 1.353]
	])('7.11 95 %% limits with %i degrees of freedom: χ² %f, Birge ratio %f', (df, chi2, ratio) => {
		expect(Math.abs(bisect((q) => 1 - chiSquareTail(q, df), 0.95, 0, 100) - chi2)).toBeLessThan(1e-3);
		expect(Math.abs(birgeLimit(df) - ratio)).toBeLessThan(1e-3);
	});
});

/** JCGM 100:2008, example H.2: resistance and reactance from five simultaneous readings; data and results in MSLNZ/GTC. */
describe('correlated inputs (published: JCGM 100:2008 H.2, as transcribed in MSLNZ/GTC; seen)', () => {
	const columns = [
		[5.007, 4.994, 5.005, 4.99, 4.999],
		[19.663, 19.639, 19.64, 19.685, 19.678].map((mA) => mA / 1000),
		[1.0456, 1.0438, 1.0468, 1.0428, 1.0433]
	];
	const means = columns.map((c) => meanAndSd(c).mean);
	const uncertainties = columns.map((c) => meanAndSd(c).sd / Math.sqrt(5));
	const r = (a: number, b: number) =>
		columns[a]!.reduce((s, v, k) => s + (v - means[a]!) * (columns[b]![k]! - means[b]!), 0) /
		(5 * 4 * uncertainties[a]! * uncertainties[b]!);
	const R = ([v = 0, i = 0, phi = 0]: readonly number[]) => (v * Math.cos(phi)) / i;
	const X = ([v = 0, i = 0, phi = 0]: readonly number[]) => (v * Math.sin(phi)) / i;
	const Z = ([v = 0, i = 0]: readonly number[]) => v / i;

	it('7.12 means, their uncertainties and correlations', () => {
		expect(means[0]).toBeCloseTo(4.999, 4);
		expect(means[1]! * 1000).toBeCloseTo(19.661, 4);
		expect(means[2]).toBeCloseTo(1.04446, 5);
		expect(uncertainties[0]).toBeCloseTo(0.0032094, 7);
		expect(uncertainties[1]! * 1000).toBeCloseTo(0.009471, 6);
		expect(uncertainties[2]).toBeCloseTo(0.00075206, 8);
		expect([r(0, 1), r(0, 2), r(1, 2)].map((c) => Number(c.toFixed(2)))).toEqual([-0.36, 0.86, -0.65]);
	});
	it('7.13 R 127.732 ± 0.071, X 219.847 ± 0.295, Z 254.260 ± 0.236 Ω', () => {
		const covariance = covarianceOf(uncertainties, r);
		for (const [f, value, uncertainty, quoted] of [
			[R, 127.732169928, 0.0710714, 0.071],
			[X, 219.847, 0.29558, 0.295],
			[Z, 254.26, 0.23634, 0.236]
		] as const) {
			const out = propagate(f, means, covariance);
			expect(Math.abs(out.value - value)).toBeLessThan(5e-4);
			expect(Math.abs(out.u / uncertainty - 1)).toBeLessThan(5e-5);
			expect(Math.abs(out.u / quoted - 1)).toBeLessThan(0.02);
		}
	});
	it('7.15 with the correlations left out (hand-worked): R 2.7 times too uncertain, X a third too certain', () => {
		const separate = covarianceOf(uncertainties);
		const us = [R, X, Z].map((f) => propagate(f, means, separate).u);
		[0.1945, 0.2009, 0.2041].forEach((expected, k) =>
			expect(Math.abs(us[k]! / expected - 1)).toBeLessThan(5e-4)
		);
	});
});
