import { expect, test } from 'vitest';
import { randomStream } from '$lib/probability/generator';
import { normalQuantile } from '$lib/probability/special';
import { expectedInformation, type TreeModel } from '$lib/reasoning';

/** One of the two is true, each as probable: one bit of doubt. */
const either: TreeModel = {
	events: [
		{ id: 'A', p: 0.5 },
		{ id: 'B', p: 0.5 }
	],
	gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B'] }],
	exclusive: [['A', 'B']]
};
const density = (y: number, mean: number) => Math.exp(-((y - mean) ** 2) / 2) / Math.sqrt(2 * Math.PI);

/** Readings with a normal error of one, drawn under each scenario, and how probable either makes each. */
function reading(means: readonly [number, number], draws: number) {
	const random = randomStream(1, 'readings');
	const outcomes = means.flatMap((mean, from) =>
		Array.from({ length: draws }, () => {
			const y = mean + normalQuantile(random());
			return { from, likelihood: means.map((other) => density(y, other)) };
		})
	);
	return { id: 'reading', scenarios: ['A'], outcomes };
}

/**
 * I = integral over y of the mean density times (1 - entropy of the two shares at y): the closed integral of a reading
 * that is one of two normal ones (Simpson's rule, 2,000 steps; hand-worked).
 */
function integral(apart: number): number {
	const at = (y: number) => {
		const [a, b] = [density(y, 0) / 2, density(y, apart) / 2];
		const h = (p: number) => (p > 0 ? -p * Math.log2(p) : 0);
		return a + b > 0 ? (a + b) * (1 - h(a / (a + b)) - h(b / (a + b))) : 0;
	};
	const [low, high, n] = [-12, apart + 12, 2000];
	const step = (high - low) / n;
	let sum = at(low) + at(high);
	for (let i = 1; i < n; i++) sum += (i % 2 ? 4 : 2) * at(low + i * step);
	return (sum * step) / 3;
}

test('hand-worked: the integral itself, at the limits that are known', () => {
	expect(integral(0)).toBeCloseTo(0, 12);
	expect(integral(20)).toBeCloseTo(1, 9);
	// From memory: an antipodal signal of signal-to-noise ratio 1 in normal noise carries 0.486 bit.
	expect(integral(2)).toBeCloseTo(0.486, 3);
});

test.each([0.5, 1, 2, 3, 5])(
	'hand-worked: two scenarios whose normal readings lie %s standard deviations apart',
	(apart) => {
		const [told] = expectedInformation(either, ['A', 'B'], [reading([0, apart], 2000)]);
		expect(told!.error).toBeLessThan(0.012);
		expect(Math.abs(told!.bits - integral(apart))).toBeLessThan(3 * told!.error!);
	}
);

test('hand-worked: two scenarios that predict the same are told apart by nothing', () => {
	const [told] = expectedInformation(either, ['A', 'B'], [reading([3, 3], 200)]);
	expect(told!.bits).toBeCloseTo(0, 12);
	expect(told!.probabilitySettles).toBe(0);
});
