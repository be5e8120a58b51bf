import { describe, expect, it } from 'vitest';
import { circleProbability, circleRadius, circleSigma } from '$lib/probability/circle';
import { observationDensity, sampleWeights, tailArea } from '$lib/probability/density';
import { quantile, density } from '$lib/probability/distributions';
import { randomStream } from '$lib/probability/generator';
import { normalCdf } from '$lib/probability/special';
import {
	effectiveSize,
	meanAndSd,
	rankCorrelation,
	sampleQuantiles,
	weightedQuantiles
} from '$lib/probability/summary';

const normal = (n: number, mean: number, sd: number, stream: string) => {
	const random = randomStream(3, stream);
	return Float64Array.from({ length: n }, () => quantile({ kind: 'normal', mean, sd }, random()));
};

describe('density of an observation', () => {
	it('in the middle it agrees with the exact density within its own error and the stated tails', () => {
		const predicted = normal(20000, 40, 8, 'a');
		const { density: d, standardError } = observationDensity([
			{ kind: 'scalar', observed: 42, sd: 5, predicted }
		]);
		// The measurement kernel is a t with 4 degrees of freedom, so the exact answer is its convolution: by quadrature.
		let exact = 0;
		for (let x = -60; x < 140; x += 0.05)
			exact +=
				0.05 *
				density({ kind: 'normal', mean: 40, sd: 8 }, x) *
				density({ kind: 'student', mean: 42, scale: 5, df: 4 }, x);
		expect(Math.abs(d / exact - 1)).toBeLessThan(0.03);
		expect(standardError / d).toBeLessThan(0.01);
	});
	it('a reading far out costs a bounded amount: the tail is polynomial, not exponential', () => {
		const predicted = normal(5000, 0, 1, 'b');
		const at = (observed: number) =>
			observationDensity([{ kind: 'scalar', observed, sd: 0.1, predicted }]).density;
		expect(at(0) / at(20)).toBeLessThan(1e6); // a normal tail would say 10^86
		expect(at(20) / at(40)).toBeGreaterThan(2);
	});
	it('an offset in two dimensions: integrates to 1 over the plane', () => {
		const predictedEast = normal(60, 5, 3, 'e');
		const predictedNorth = normal(60, -2, 6, 'n');
		let sum = 0;
		for (let east = -195; east <= 205; east += 4)
			for (let north = -200; north <= 200; north += 4)
				sum +=
					16 *
					observationDensity([
						{ kind: 'offset', east, north, eastSd: 2, northSd: 2, predictedEast, predictedNorth }
					]).density;
		expect(sum).toBeGreaterThan(0.98);
		expect(sum).toBeLessThan(1.001);
	});
	it('two pieces that fell through one wind are not two independent witnesses', () => {
		const shared = normal(20000, 0, 10, 's');
		const other = normal(20000, 0, 10, 'o');
		const both = (second: Float64Array) =>
			observationDensity([
				{ kind: 'scalar', observed: 9, sd: 2, predicted: shared },
				{ kind: 'scalar', observed: 9, sd: 2, predicted: second }
			]).density;
		expect(both(shared)).toBeGreaterThan(3 * both(other));
	});
	it('weights pick the samples that explain the observation', () => {
		const predicted = Float64Array.of(0, 10, 20);
		const w = sampleWeights([{ kind: 'scalar', observed: 10, sd: 1, predicted }]);
		expect(w[1]).toBe(1);
		expect(w[0]).toBe(w[2]);
		expect(w[0]).toBeLessThan(0.01);
	});
	it('a saturated reading uses the area beyond the limit', () => {
		const e = tailArea(Float64Array.of(20, 20), 16, 'above', normalCdf, 4);
		expect(e.density).toBeCloseTo(0.8413447460685429, 12);
	});
	it('of a reading known only to lie beyond a limit: the area beyond it, both sides together 1', () => {
		const predicted = normal(4000, 20, 1, 'l');
		const at = (beyond: 'above' | 'below', observed: number) =>
			observationDensity([{ kind: 'limit', observed, sd: 0.5, beyond, predicted }]).density;
		expect(at('above', 16)).toBeGreaterThan(0.98);
		expect(at('above', 24)).toBeLessThan(0.03);
		expect(at('above', 20.7) + at('below', 20.7)).toBeCloseTo(1, 9);
	});
	it('of one of several outcomes: its mean probability, never quite nothing', () => {
		const at = (...predicted: number[]) =>
			observationDensity([{ kind: 'outcome', among: 2, predicted: Float64Array.from(predicted) }]);
		expect(at(1, 0, 1, 1).density).toBeCloseTo(0.98 * 0.75 + 0.02 * 0.5, 12);
		expect(at(1, 0, 1, 1).standardError).toBeCloseTo(0.98 * 0.25, 12);
		expect(at(0, 0).density).toBeCloseTo(0.01, 12);
		expect(at(...Array<number>(300).fill(1 / 3)).standardError).toBe(0);
		expect(sampleWeights([{ kind: 'outcome', among: 2, predicted: Float64Array.of(0.25, 1) }])).toEqual(
			Float64Array.of(0.25, 1)
		);
	});
	it('refuses an observation without uncertainty', () => {
		expect(() =>
			observationDensity([{ kind: 'scalar', observed: 1, sd: 0, predicted: Float64Array.of(1, 2) }])
		).toThrow(/uncertainty/);
	});
});

describe('circles and summaries', () => {
	it('radius, level and standard deviation', () => {
		expect(circleSigma(circleRadius(3, 0.95), 0.95)).toBeCloseTo(3, 12);
		expect(circleProbability(circleRadius(3, 0.68), 3)).toBeCloseTo(0.68, 12);
		expect(() => circleSigma(8, 95)).toThrow(RangeError);
	});
	it('quantiles, weighted quantiles and effective size', () => {
		expect(sampleQuantiles([4, 1, 3, 2], [0, 0.5, 1])).toEqual([1, 2.5, 4]);
		expect(weightedQuantiles([4, 1, 3, 2], [1, 0, 1, 0], [0.05, 0.5, 0.95])).toEqual([3, 3, 4]);
		expect(effectiveSize([1, 1, 0, 0])).toBe(2);
		expect(meanAndSd([1, 2, 3])).toEqual({ mean: 2, sd: 1 });
		expect(() => weightedQuantiles([1], [0], [0.5])).toThrow(RangeError);
	});
	it('rank correlation sees any monotone relation and ignores constants', () => {
		expect(rankCorrelation([1, 2, 3, 4], [1, 8, 27, 64])).toBe(1);
		expect(rankCorrelation([1, 2, 3, 4], [4, 3, 2, 1])).toBe(-1);
		expect(rankCorrelation([1, 2, 3], [5, 5, 5])).toBe(0);
		expect(rankCorrelation([1, 1, 2, 2], [1, 1, 2, 2])).toBe(1);
	});
});
