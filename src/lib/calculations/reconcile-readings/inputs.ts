import { dimensionNames, DIMENSIONS } from '$lib/quantity/dimensions';
import { HABIT, type Field, type ValuesOf } from '../calculation';

const kindOf = (phrase: string) => phrase.replace(/^an? /, '');
const END = {
	kind: 'quantity',
	dimension: 'length',
	unit: 'm',
	dimensionOf: 'kind',
	help: 'Blank: the span of the readings and five of the largest plus-minus beyond them.'
} as const;

export const INPUTS = [
	{
		kind: 'choice',
		id: 'kind',
		label: 'What the readings are of',
		options: dimensionNames.map((id) => ({
			id,
			label: id === 'length' ? 'height, distance or length' : kindOf(DIMENSIONS[id].phrase)
		})),
		default: { text: 'length', origin: 'altitudes are what is most often in dispute' }
	},
	{ ...END, id: 'least', label: 'Least value that a wrong reading might show' },
	{ ...END, id: 'greatest', label: 'Greatest value that a wrong reading might show' }
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;

export const OBSERVED = [
	{
		kind: 'list',
		id: 'readings',
		label: 'Readings of the same thing',
		item: 'reading',
		role: 'readings',
		min: 2,
		max: 12,
		help: 'Also what was computed without them, such as the apogee from thrust, mass and drag: an independent prediction is one more reading.',
		fields: [
			{ kind: 'text', id: 'name', label: 'name' },
			{
				kind: 'quantity',
				id: 'value',
				label: 'what it says',
				dimension: 'length',
				unit: 'm',
				dimensionOf: 'kind',
				required: true,
				help: 'With its plus-minus, every error that a right reading can have included.'
			},
			{
				kind: 'quantity',
				id: 'wrong',
				label: 'how probable it is that it is wrong, before they are compared',
				dimension: 'ratio',
				unit: '%',
				default: { text: '5 %', origin: `an instrument in ordinary use; ${HABIT}` },
				range: { above: 0, max: 0.99 },
				suggestions: [
					{ label: 'calibrated lately, read twice', text: '1 %', origin: HABIT },
					{ label: 'an instrument in ordinary use', text: '5 %', origin: HABIT },
					{ label: 'from memory, or read in haste', text: '20 %', origin: HABIT },
					{ label: 'damaged, or it has failed before', text: '50 %', origin: HABIT }
				]
			},
			{
				kind: 'choice',
				id: 'errors',
				label: 'its errors are',
				options: [
					{ id: 'own', label: 'all its own' },
					{ id: 'shared', label: 'in part shared with others' }
				],
				default: { text: 'own', origin: 'independent readings' }
			},
			{
				kind: 'text',
				id: 'shares',
				label: 'the error that it shares',
				when: { choice: 'errors', is: ['shared'] },
				help: 'Such as "air temperature": readings that name the same one are wrong together by that much.'
			},
			{
				kind: 'quantity',
				id: 'shared',
				label: 'how much of its plus-minus is that error',
				when: { choice: 'errors', is: ['shared'] },
				required: true,
				dimension: 'length',
				unit: 'm',
				dimensionOf: 'kind',
				difference: true,
				range: { above: 0 },
				help: 'Less than the whole plus-minus.'
			}
		]
	}
] as const satisfies readonly Field[];
export type Row = ValuesOf<typeof OBSERVED>['readings'][number];
