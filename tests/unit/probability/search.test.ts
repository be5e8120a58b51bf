import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { afterNoFind, bestDivision, detection } from '$lib/probability/search';

const places = fc.array(
	fc.record({
		present: fc.double({ min: 0.001, max: 0.3, noNaN: true }),
		perHour: fc.double({ min: 0.05, max: 4, noNaN: true })
	}),
	{ minLength: 1, maxLength: 6 }
);

describe('the best division of effort', () => {
	it('spends all hours, and one common gain per hour is left wherever it searches', () => {
		fc.assert(
			fc.property(places, fc.double({ min: 0.1, max: 20, noNaN: true }), (list, total) => {
				const [present, perHour] = [list.map((p) => p.present), list.map((p) => p.perHour)];
				const { hours } = bestDivision(present, perHour, total);
				expect(hours.reduce((s, h) => s + h)).toBeCloseTo(total, 9);
				const gains = hours.map((h, i) => present[i]! * perHour[i]! * Math.exp(-perHour[i]! * h));
				const used = gains.filter((_, i) => hours[i]! > 1e-9);
				for (const g of used) expect(g / used[0]!).toBeCloseTo(1, 8);
				gains.forEach((g, i) => {
					if (!(hours[i]! > 1e-9)) expect(g).toBeLessThanOrEqual(used[0]! * (1 + 1e-9));
				});
			})
		);
	});
	it('no small shift of time from one place to another finds more, nor any other division that was tried', () => {
		fc.assert(
			fc.property(
				places,
				fc.array(fc.double({ min: 0.01, max: 1, noNaN: true }), { minLength: 6, maxLength: 6 }),
				(list, shares) => {
					const [present, perHour] = [list.map((p) => p.present), list.map((p) => p.perHour)];
					const best = bestDivision(present, perHour, 3);
					const sum = list.reduce((s, _, i) => s + shares[i]!, 0) || 1;
					const other = list.reduce(
						(s, { present: p, perHour: k }, i) => s + p * detection('random', (k * 3 * shares[i]!) / sum),
						0
					);
					expect(best.success).toBeGreaterThanOrEqual(other - 1e-12);
				}
			)
		);
	});
	it('nothing to find gives no hours', () => {
		expect(bestDivision([0, 0], [1, 1], 2)).toEqual({ hours: [0, 0], success: 0 });
	});
});

describe('impossible searches are refused', () => {
	it.each<[() => unknown, RegExp]>([
		[() => detection('random', -1), /coverage must be zero or more/],
		[() => detection('parallel', NaN), /coverage/],
		[() => afterNoFind([0.5, 0.2], [0, 0]), /must add up to 1/],
		[() => afterNoFind([1], [1]), /nothing is left/]
	])('%#', (run, message) => expect(run).toThrow(message));
});
