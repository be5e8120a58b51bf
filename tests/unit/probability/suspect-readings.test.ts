import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { combine, mandelPaule, modifiedZ } from '$lib/probability/combine';
import { covarianceOf } from '$lib/probability/propagation';
import { density } from '$lib/probability/distributions';
import {
	densityOfCase,
	quantilesOfCases,
	weighReadings,
	type Suspects
} from '$lib/probability/suspect-readings';

const suspects = (values: number[], u: number[], wrong: number[], low: number, high: number): Suspects => ({
	values,
	covariance: covarianceOf(u),
	wrong,
	low,
	high
});

/** The same by brute force: the quantity on a fine grid, each reading right or wrong by itself. */
function onGrid({ values, wrong, low, high }: Suspects, u: readonly number[], points = 40_001) {
	const width = high - low;
	const good = (i: number, at: number) =>
		(1 - wrong[i]!) * density({ kind: 'normal', mean: at, sd: u[i]! }, values[i]!);
	const bad = (i: number) => wrong[i]! / width;
	let total = 0;
	const wrongly = values.map(() => 0);
	const cumulative: number[] = [];
	for (let k = 0; k < points; k++) {
		const at = low + ((k + 0.5) * width) / points;
		const each = values.map((_, i) => good(i, at) + bad(i));
		const product = each.reduce((p, e) => p * e, 1);
		total += product;
		values.forEach((_, i) => (wrongly[i]! += (product * bad(i)) / each[i]!));
		cumulative.push(total);
	}
	const quantile = (p: number) =>
		low + ((cumulative.findIndex((c) => c >= p * total) + 0.5) * width) / points;
	return { wrong: wrongly.map((w) => w / total), quantile };
}

describe('readings of which some may be wrong', () => {
	it('agree with brute force over the quantity: probabilities of being wrong, and quantiles', () => {
		fc.assert(
			fc.property(
				fc.array(
					fc.tuple(
						fc.double({ min: 20, max: 80, noNaN: true }),
						fc.double({ min: 0.5, max: 5, noNaN: true }),
						fc.double({ min: 0.01, max: 0.6, noNaN: true })
					),
					{ minLength: 1, maxLength: 5 }
				),
				(rows) => {
					const u = rows.map((r) => r[1]);
					const s = suspects(
						rows.map((r) => r[0]),
						u,
						rows.map((r) => r[2]),
						0,
						100
					);
					const exact = weighReadings(s);
					const brute = onGrid(s, u);
					exact.wrong.forEach((w, i) => expect(w).toBeCloseTo(brute.wrong[i]!, 4));
					const [q = NaN] = quantilesOfCases(exact.cases, s, [0.3]);
					expect(Math.abs(q - brute.quantile(0.3))).toBeLessThan(0.02);
				}
			),
			{ numRuns: 25 }
		);
	});
	it('two that disagree: neither is known to be the wrong one', () => {
		const { wrong, cases } = weighReadings(suspects([600, 650], [3, 3], [0.05, 0.05], 0, 1000));
		expect(wrong[0]).toBeCloseTo(wrong[1]!, 12);
		expect(wrong[0]).toBeGreaterThan(0.49);
		expect(cases[0]!.probability).toBeLessThan(0.5);
	});
	it('a third, independent one settles it', () => {
		const { wrong } = weighReadings(suspects([600, 650, 640], [3, 3, 15], [0.05, 0.05, 0.05], 0, 1000));
		expect(wrong[0]).toBeGreaterThan(0.8);
		expect(wrong[1]).toBeLessThan(0.2);
	});
	it('two with one shared error do not outvote a third as two with errors of their own do', () => {
		const values = [600, 602, 680];
		const wrong = [0.05, 0.05, 0.05];
		const own = weighReadings({
			values,
			covariance: covarianceOf([30, 30, 20]),
			wrong,
			low: 0,
			high: 2000
		});
		const shared = weighReadings({
			values,
			covariance: covarianceOf([30, 30, 20], (i, j) => (i < 2 && j < 2 ? 0.99 : 0)),
			wrong,
			low: 0,
			high: 2000
		});
		expect(shared.wrong[2]).toBeLessThan(own.wrong[2]!);
		expect(
			combine(
				[600, 602, 680],
				covarianceOf([30, 30, 20], (i, j) => (i < 2 && j < 2 ? 0.99 : 0))
			).mean
		).toBeGreaterThan(combine(values, covarianceOf([30, 30, 20])).mean);
	});
	it('the order of the readings, a shift and a change of unit change nothing', () => {
		fc.assert(
			fc.property(
				fc.double({ min: -1e4, max: 1e4, noNaN: true }),
				fc.double({ min: 1e-3, max: 1e3, noNaN: true }),
				(shift, factor) => {
					const as = (v: number) => shift + factor * v;
					const one = weighReadings(suspects([10, 13, 30], [1, 2, 1], [0.1, 0.05, 0.2], -50, 100)).wrong;
					const other = weighReadings(
						suspects(
							[30, 10, 13].map(as),
							[1, 1, 2].map((u) => factor * u),
							[0.2, 0.1, 0.05],
							as(-50),
							as(100)
						)
					).wrong;
					[2, 0, 1].forEach((k, i) => expect(other[i]).toBeCloseTo(one[k]!, 7));
				}
			)
		);
	});
	it('the density of a case: all of two right is the normal density of their difference, over the range', () => {
		const s = suspects([40, 43], [2, 3], [0.1, 0.1], 0, 100);
		const d = density({ kind: 'normal', mean: 0, sd: Math.hypot(2, 3) }, 3) * 100;
		expect(densityOfCase(s, 0b11).density).toBeCloseTo(d, 10);
		expect(densityOfCase(s, 0b01).density).toBeCloseTo(1, 10);
		expect(densityOfCase(s, 0).density).toBe(1);
	});
	it.each<[Suspects, RegExp]>([
		[suspects([], [], [], 0, 1), /1 to 12 readings/],
		[suspects([2], [1], [0.1], 0, 1), /outside the range/],
		[suspects([0.5], [1], [0], 0, 1), /prior/],
		[
			{ values: [1, 1], covariance: covarianceOf([1, 1], () => 1), wrong: [0.1, 0.1], low: 0, high: 9 },
			/not separate/
		],
		[suspects([1, 1, 1], [1e-100, 1e-100, 1e-100], [0.1, 0.1, 0.1], 0, 1e200), /too wide/]
	])('refuses what cannot be weighed', (s, message) => {
		expect(() => weighReadings(s)).toThrow(message);
	});
});

describe('other estimates', () => {
	it('a Birge ratio below 1 leaves the uncertainty as it is, and no excess is added', () => {
		const close = combine([100, 100.1, 99.9], covarianceOf([3, 3, 3]));
		expect(close.u).toBeCloseTo(3 / Math.sqrt(3), 12);
		expect(mandelPaule([100, 100.1, 99.9], [3, 3, 3])).toMatchObject({ tau2: 0 });
		expect(mandelPaule([100, 100.1, 99.9], [3, 3, 3]).u).toBeCloseTo(close.u, 12);
	});
	it('no modified z where half the values tie', () => {
		expect(modifiedZ([5, 5, 5, 9])).toBeUndefined();
	});
	it('a shared error larger than the smaller uncertainty puts the mean outside the readings', () => {
		const { mean, weights } = combine(
			[10, 12],
			covarianceOf([1, 3], () => 0.9)
		);
		expect(Math.min(...weights)).toBeLessThan(0);
		expect(mean).toBeLessThan(10);
	});
	it('nothing to combine is refused', () => {
		expect(() => combine([], [])).toThrow(/nothing to combine/);
	});
});
