import { describe, expect, it } from 'vitest';
import { afterNoFind, detection } from '$lib/probability/search';

describe('detection by coverage (Koopman; hand-worked)', () => {
	it.each([
		[0.25, 0.2212],
		[0.5, 0.3935],
		[1, 0.6321],
		[1.5, 0.7769],
		[2, 0.8647],
		[3, 0.9502]
	])('8.1 random search at coverage %f: %f', (coverage, expected) => {
		expect(Math.abs(detection('random', coverage) - expected)).toBeLessThan(1e-4);
	});
	it('8.3 sweep width 20 m, tracks 30 m apart: coverage 0.6667, 0.4866 by random search', () => {
		expect(20 / 30).toBeCloseTo(0.6667, 4);
		expect(Math.abs(detection('random', 20 / 30) - 0.4866)).toBeLessThan(1e-4);
	});
	it('8.4 four searchers, 3 km each, sweep width 20 m, 400 by 600 m: coverage 1, 0.6321', () => {
		const coverage = (4 * 3000 * 20) / (400 * 600);
		expect(coverage).toBe(1);
		expect(Math.abs(detection('random', coverage) - 0.6321)).toBeLessThan(1e-4);
	});
	it('8.7 two random searches at coverage 0.5 are one at 1, exactly; with the parallel curve they are not', () => {
		const twice = (curve: 'random' | 'parallel') => 1 - (1 - detection(curve, 0.5)) ** 2;
		expect(Math.abs(twice('random') - detection('random', 1))).toBeLessThan(1e-12);
		expect(Math.abs(twice('random') - 0.63212)).toBeLessThan(1e-5);
		expect(Math.abs(twice('parallel') - detection('parallel', 1))).toBeGreaterThan(0.01);
	});
	// Koopman, Search and Screening (from memory): erf(√π C/2), the 79 % of lines one sweep width apart.
	it.each([
		[0.5, 0.469],
		[1, 0.79],
		[2, 0.988]
	])(
		'perfect parallel lines under the inverse-cube law at coverage %f: %f (published; from memory)',
		(c, p) => expect(Math.abs(detection('parallel', c) - p)).toBeLessThan(5e-4)
	);
	it('definite range sees everything once covered, and the parallel curve lies between it and random search', () => {
		expect([0.3, 1, 2].map((c) => detection('definite', c))).toEqual([0.3, 1, 1]);
		for (const c of [0.2, 0.6, 1, 1.4, 2.5]) {
			expect(detection('parallel', c)).toBeGreaterThan(detection('random', c));
			expect(detection('parallel', c)).toBeLessThan(detection('definite', c));
		}
	});
});

describe('after a search that found nothing', () => {
	it('8.5 (hand-worked) 0.4, 0.3, 0.2, 0.1; the first searched at coverage 1', () => {
		const { success, areas } = afterNoFind([0.4, 0.3, 0.2, 0.1], [detection('random', 1), 0, 0, 0]);
		expect(Math.abs(success - 0.25285)).toBeLessThan(1e-5);
		[0.19695, 0.40152, 0.26768, 0.13384].forEach((p, i) =>
			expect(Math.abs(areas[i]! - p)).toBeLessThan(1e-5)
		);
	});
	it('8.8 (published: two public tutorials; seen) one cell: p(1-q)/(1-pq), the others r/(1-pq); the sum stays 1', () => {
		const [p, q] = [0.35, 0.7];
		const { areas } = afterNoFind([p, 0.4, 0.25], [q, 0, 0]);
		expect(areas[0]).toBeCloseTo((p * (1 - q)) / (1 - p * q), 14);
		expect(areas[1]).toBeCloseTo(0.4 / (1 - p * q), 14);
		expect(areas[2]).toBeCloseTo(0.25 / (1 - p * q), 14);
		expect(areas.reduce((s, a) => s + a)).toBeCloseTo(1, 14);
	});
	it('two searches of 0.6 each make 0.84, not 1.2 (hand-worked)', () => {
		expect(1 - (1 - 0.6) ** 2).toBeCloseTo(0.84, 12);
		const first = afterNoFind([0.5, 0.5], [0.6, 0]);
		const second = afterNoFind(first.areas, [0.6, 0]);
		const both = afterNoFind([0.5, 0.5], [0.84, 0]);
		second.areas.forEach((a, i) => expect(a).toBeCloseTo(both.areas[i]!, 12));
		expect(first.success + (1 - first.success) * second.success).toBeCloseTo(both.success, 12);
	});
});
