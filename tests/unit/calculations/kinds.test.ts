import { describe, expect, it } from 'vitest';
import { defineCalculation } from '$lib/calculations/calculation';
import { NONE_OF_THESE } from '$lib/calculations/likelihood';
import { runCalculation, type Request } from '$lib/calculations/run';

/** A made-up calculation whose rows are of two kinds, and which compares an outcome and a limit. */
const shapes = defineCalculation({
	id: 'shapes',
	title: 'Shapes',
	question: 'How large?',
	version: 1,
	inputs: [
		{
			kind: 'list',
			id: 'shapes',
			label: 'Shapes',
			item: 'shape',
			min: 1,
			max: 9,
			fields: [
				{
					kind: 'choice',
					id: 'kind',
					label: 'kind',
					options: [
						{ id: 'circle', label: 'Circle' },
						{ id: 'square', label: 'Square' }
					],
					default: { text: 'circle', origin: 'a test' }
				},
				{
					kind: 'quantity',
					id: 'radius',
					label: 'radius',
					dimension: 'length',
					unit: 'm',
					required: true,
					range: { above: 0 },
					when: { choice: 'kind', is: ['circle'] }
				},
				{
					kind: 'quantity',
					id: 'side',
					label: 'side',
					dimension: 'length',
					unit: 'm',
					default: { text: '2 m', origin: 'a test' },
					when: { choice: 'kind', is: ['square'] }
				},
				{
					kind: 'quantity',
					id: 'copies',
					label: 'copies',
					dimension: 'ratio',
					unit: '1',
					default: { text: '1', origin: 'a test' },
					defaultOf: { choice: 'kind', texts: { square: { text: '3', origin: 'squares come in threes' } } }
				}
			]
		}
	],
	outputs: [{ id: 'area', label: 'Area', dimension: 'area', unit: 'm²' }],
	sources: [{ text: 'none', basis: 'hand-worked' }],
	docs: 'methods/quantities.md',
	model: (x) => ({
		area: x.shapes.reduce(
			(sum, s) => sum + s.copies * (s.kind === 'circle' ? Math.PI * s.radius! ** 2 : s.side! ** 2),
			0
		)
	}),
	evidence: {
		trials: 'trials',
		observed: [
			{ kind: 'quantity', id: 'atLeast', label: 'at least', dimension: 'length', unit: 'm', required: true }
		],
		observations: (values) => [
			{ kind: 'outcome', label: 'it would be found', among: 2, happened: 1 },
			{
				kind: 'scalar',
				label: 'it',
				dimension: 'length',
				unit: 'm',
				observed: values['atLeast'] as number,
				sd: 0.1,
				beyond: 'above'
			}
		],
		scenarios: [
			{
				id: 'large',
				label: 'Large',
				help: '',
				inputs: [],
				predict: (_x, _p, _o, random) => [0.9, 8 + random()]
			},
			{
				id: 'small',
				label: 'Small',
				help: '',
				inputs: [],
				predict: (_x, _p, _o, random) => [0.3, 1 + random()]
			},
			{
				id: NONE_OF_THESE,
				label: 'None of these',
				help: '',
				inputs: [],
				predict: (_x, _p, _o, random) => [0.5, 10 * random()]
			}
		],
		defaultScenarios: () => [{ id: 'large' }, { id: 'small' }, { id: NONE_OF_THESE }]
	}
});
const run = (request: Request) => runCalculation(shapes, { samples: 300, ...request });

describe('rows of different kinds', () => {
	it('each row takes the numbers that its own kind needs; the others are neither asked nor assumed', () => {
		const r = run({ inputs: { shapes: [{ kind: 'square' }, { radius: '1 m' }] } });
		if (!r.ok) throw new Error(r.error.message);
		expect(r.value.outputs['area']!.nominal).toBeCloseTo(12 + Math.PI, 12);
		expect(r.value.notes).toEqual([
			'shape 1: side: 2 m is assumed (a test).',
			'shape 1: copies: 3 is assumed (squares come in threes).',
			'shape 2: copies: 1 is assumed (a test).'
		]);
		expect(r.value.inputs['shapes']).toMatchObject([{ kind: 'square' }, { kind: 'circle' }]);
		expect((r.value.inputs['shapes'] as object[])[0]).not.toHaveProperty('radius');
	});
	it('a number that its kind needs is missed by name; one that it does not need is said to be unused', () => {
		const r = run({ inputs: { shapes: [{ kind: 'circle', side: '3 m' }] } });
		expect(r.ok ? '' : `${r.error.path}: ${r.error.message}`).toMatch(
			/^shapes\.1\.radius: shape 1: radius is missing/
		);
		const square = run({ inputs: { shapes: [{ kind: 'square', side: '3 m', radius: '1 m', copies: '1' }] } });
		expect(square.ok && square.value.notes).toEqual(['shape 1: radius: not used with this choice.']);
	});
});

describe('a number that no instrument shows', () => {
	it('is refused before it can overflow', () => {
		const r = run({ inputs: { shapes: [{ radius: { value: 1e-100, unit: 'm' } }] } });
		expect(r.ok ? '' : r.error.message).toMatch(/too small to be meant/);
	});
});

describe('an outcome and a limit as evidence', () => {
	it('densities are probabilities, and the sentence says how often it comes about', () => {
		const r = run({ inputs: { shapes: [{ kind: 'square' }] }, observed: { atLeast: '6 m' } });
		if (!r.ok) throw new Error(r.error.message);
		const [large, small, none] = r.value.likelihoods!;
		expect(large!.density).toBeGreaterThan(0.85);
		expect(large!.density).toBeLessThan(0.92);
		expect(small!.density).toBeLessThan(0.01);
		expect(none!.density).toBeGreaterThan(0.15);
		expect(none!.density).toBeLessThan(0.25);
		expect(large!.words.replace(/\u202f/g, ' ')).toMatch(
			/^Large: it would be found in 90 of 100 trials, as it happened\. It would be 8\.\d\d m to 8\.9\d m in 90 of 100 trials; at least 6\.00 m is known, which comes about in more than 99 of 100 trials\. No scenario/
		);
	});
});
