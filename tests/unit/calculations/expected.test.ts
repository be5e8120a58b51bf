import { describe, expect, it } from 'vitest';
import { defineCalculation } from '$lib/calculations/calculation';
import { calculationById } from '$lib/calculations/registry';
import { runCalculation, type Request } from '$lib/calculations/run';
import { FLOOR, KERNEL_DF } from '$lib/probability/density';
import { studentPdf } from '$lib/probability/special';
import { expectedInformation, type TreeModel } from '$lib/reasoning';

/** Two scenarios that predict a number each, and none of these. */
const twoNumbers = (a: number, b: number) =>
	defineCalculation({
		id: 'two-numbers',
		title: 'Two numbers',
		question: 'Which?',
		version: 1,
		inputs: [],
		outputs: [],
		sources: [],
		docs: '',
		model: () => ({}),
		evidence: {
			trials: 'trials',
			observed: [{ kind: 'quantity', id: 'y', label: 'y', dimension: 'length', unit: 'm' }],
			observations: ({ y }, _x, sd) =>
				y === undefined
					? []
					: [
							{
								kind: 'scalar',
								label: 'y',
								dimension: 'length',
								unit: 'm',
								observed: y as number,
								sd: sd('y')
							}
						],
			scenarios: [
				{ id: 'a', label: 'A', help: '', inputs: [], predict: () => [a] },
				{ id: 'b', label: 'B', help: '', inputs: [], predict: () => [b] },
				{ id: 'none-of-these', label: 'None', help: '', inputs: [], predict: () => [b] }
			],
			defaultScenarios: () => [{ id: 'a' }, { id: 'b' }, { id: 'none-of-these' }]
		}
	});

/** One of the two is true, each as probable. */
const either: TreeModel = {
	events: ['A', 'B'].map((id) => ({ id, p: 0.5 })),
	gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B'] }],
	exclusive: [['A', 'B']]
};
const planned = (calculation: Parameters<typeof runCalculation>[0], request: Omit<Request, 'planned'>) => {
	const run = runCalculation(calculation, { ...request, planned: true });
	if (!run.ok) throw new Error(run.error.message);
	return run.value;
};
function bits(a: number, b: number) {
	const { expected } = planned(twoNumbers(a, b), { inputs: {}, observed: { y: '5 ± 1 m' } });
	return expectedInformation(
		either,
		['A', 'B'],
		[{ id: 'y', scenarios: ['A', 'B'], outcomes: expected! }]
	)[0]!;
}

/** The density of a reading with error 1: a t kernel, 2 % of it broad. By Simpson's rule over a stretched line. */
function integral(apart: number): number {
	const density = (y: number, at: number) =>
		(1 - FLOOR) * studentPdf(y - at, KERNEL_DF) + (FLOOR * studentPdf((y - at) / 3, 2)) / 3;
	const h = (p: number) => (p > 0 && p < 1 ? -p * Math.log2(p) - (1 - p) * Math.log2(1 - p) : 0);
	const told = (t: number) => {
		const y = apart / 2 + Math.sinh(t);
		const [one, other] = [density(y, 0) / 2, density(y, apart) / 2];
		return (one + other) * (1 - h(one / (one + other))) * Math.cosh(t);
	};
	const [end, n] = [12, 4000];
	const step = (2 * end) / n;
	let sum = told(-end) + told(end);
	for (let i = 1; i < n; i++) sum += (i % 2 ? 4 : 2) * told(-end + i * step);
	return (sum * step) / 3;
}

describe('what measuring would tell, before it is measured', () => {
	it.each([1, 3, 6, 20])(
		'hand-worked: two predictions %s standard deviations apart, by the integral',
		(apart) => {
			const { bits: told, error } = bits(0, apart);
			expect(error).toBeLessThan(0.03);
			expect(Math.abs(told - integral(apart))).toBeLessThan(4 * error! + 1e-3);
		}
	);

	it('is nothing where both predict the same, and the same on every run', () => {
		expect(bits(7, 7).bits).toBeCloseTo(0, 9);
		expect(bits(0, 3)).toEqual(bits(0, 3));
	});

	it('does not hang on the value that was typed, only on how well it would be measured', () => {
		const at = (y: string) => planned(twoNumbers(0, 3), { inputs: {}, observed: { y } }).expected;
		expect(at('900 ± 1 m')).toEqual(at('5 ± 1 m'));
		expect(at('5 ± 2 m')).not.toEqual(at('5 ± 1 m'));
	});

	it('says what each scenario would let be read', () => {
		const { likelihoods } = planned(twoNumbers(0, 3), { inputs: {}, observed: { y: '5 ± 1 m' } });
		expect(likelihoods!.map(({ density }) => density)).toEqual([1, 1, 1]);
		expect(likelihoods![1]!.words).toBe('B: y would be 3.00\u202fm in 90 of 100 trials.');
	});
});

describe('of the calculations', () => {
	const of = (id: string) => calculationById(id)!;
	it('a canopy that is open or not is told apart by a rate that is measured well, and hardly by one that is not', () => {
		const inputs = { mass: '2 kg', dragArea: '0.7 m²' };
		const scenarios = [
			{ id: 'fully-open' },
			{ id: 'partly-open', from: 0.1, to: 0.5 },
			{ id: 'none-of-these' }
		];
		const told = (rate: string) =>
			expectedInformation(
				either,
				['A', 'B'],
				[
					{
						id: 'rate',
						scenarios: ['A', 'B'],
						outcomes: planned(of('descent'), { inputs, observed: { rate }, scenarios }).expected!
					}
				]
			)[0]!.bits;
		expect(told('7 ± 0.3 m/s')).toBeGreaterThan(0.7);
		expect(told('7 ± 30 m/s')).toBeLessThan(0.1);
	});

	it('an outcome is drawn as it happens or does not', () => {
		const inputs = { charge: '1 g', bore: '75 mm', volume: '1.3 L', pins: 2, pin: 'M2', friction: '60 N' };
		const run = runCalculation(of('deployment-charge'), {
			inputs,
			observed: { flight: 'parted' },
			planned: true,
			samples: 400
		});
		if (!run.ok) throw new Error(`${run.error.path}: ${run.error.message}`);
		const notFired = run.value.expected!.filter(({ from }) => from === 3);
		// Without pressure it never parts: what is drawn speaks against the charge as built.
		expect(notFired.filter(({ likelihood: [asBuilt, , , none] }) => asBuilt! < none!).length).toBeGreaterThan(
			95
		);
	});

	it('refuses in words what can’t be drawn', () => {
		const refused = (id: string, request: Request) => {
			const run = runCalculation(of(id), { ...request, planned: true });
			return run.ok ? '' : run.error.message;
		};
		const inputs = { mass: '2 kg', dragArea: '0.7 m²' };
		expect(refused('descent', { inputs })).toContain('how well you would measure it');
		expect(refused('descent', { inputs, observed: {} })).toContain('how well you would measure it');
		expect(refused('fin-flutter', { inputs: {} })).not.toBe('');
		expect(
			refused('opening-load', {
				inputs: { mass: '2 kg', speed: '20 m/s', diameter: '1 m' },
				observed: { peak: '30 g', saturated: 'yes' }
			})
		).toContain('only a limit');
		expect(
			refused('reconcile-readings', {
				inputs: {},
				observed: { readings: [{ value: '400 ± 5 m' }, { value: '410 ± 5 m' }] }
			})
		).not.toBe('');
	});
});
