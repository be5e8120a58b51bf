import { HABIT, type Field, type ValuesOf } from '../calculation';

const width = <const Id extends string>(id: Id, label: string) =>
	({
		kind: 'quantity',
		id,
		label,
		dimension: 'length',
		unit: 'm',
		range: { above: 0, max: 500 },
		spread: { text: '30 %', origin: HABIT }
	}) as const;

const direction = <const Id extends string>(id: Id, label: string) =>
	({
		kind: 'quantity',
		id,
		label,
		dimension: 'angle',
		unit: '°',
		range: { min: -2 * Math.PI, max: 4 * Math.PI }
	}) as const;

const CURVES = [
	{ id: 'random', label: 'without strict order' },
	{ id: 'parallel', label: 'along straight, evenly spaced lines' },
	{ id: 'definite', label: 'all of a strip seen, nothing beyond' }
] as const;

export const INPUTS = [
	{
		kind: 'text',
		id: 'object',
		label: 'What is sought',
		role: 'what is sought',
		help: 'Such as "fin fragment". Its sweep width is smaller than that of a tube: another object is another run.'
	},
	{
		kind: 'list',
		id: 'segments',
		label: 'Segments of ground',
		item: 'segment',
		role: 'segments of ground',
		min: 1,
		max: 12,
		help: 'Each with one kind of ground. Bands of a kept landing footprint can be taken as they are; bands of one descent do not overlap, those of two may. Weigh them by how probable each descent is.',
		fields: [
			{ kind: 'text', id: 'name', label: 'name' },
			{
				kind: 'quantity',
				id: 'area',
				label: 'area',
				dimension: 'area',
				unit: 'ha',
				required: true,
				range: { above: 0, max: 1e9 }
			},
			{
				kind: 'quantity',
				id: 'weight',
				label: 'how probable it is there, before any search',
				dimension: 'ratio',
				unit: '%',
				required: true,
				range: { min: 0, max: 1000 },
				help: 'In proportion to the others; they need not add up. 40 % and 0.4 are the same.'
			},
			{
				...width('width', 'sweep width for this object on this ground'),
				required: true,
				help: 'Measured: hide like objects, count at which distance they are missed as often as found beyond. Not twice the distance of sight. For want of a test, the average distance at which it is first seen.'
			},
			{
				kind: 'quantity',
				id: 'speed',
				label: 'speed of searching there',
				dimension: 'speed',
				unit: 'km/h',
				default: { text: '2 ± 0.5 km/h', origin: `on foot, looking; ${HABIT}` },
				range: { above: 0, max: 60 }
			},
			{
				kind: 'quantity',
				id: 'away',
				label: 'its middle lies so far from the pad',
				dimension: 'length',
				unit: 'm',
				range: { min: 0, max: 1e6 },
				help: 'For bearings only. Leave it blank where the segment is a ring or has no middle.'
			},
			direction('toward', 'in this direction from the pad, true'),
			{
				kind: 'text',
				id: 'ground',
				label: 'or places spread evenly over it',
				help: 'For bearings only: metres east and north of the pad, such as 120 -40, 130 -35. A band of a kept footprint brings its own, so that a ring or a long strip counts as what it is.'
			}
		]
	},
	{
		kind: 'list',
		id: 'bearings',
		label: 'Bearings to where it came down',
		item: 'bearing',
		min: 0,
		max: 12,
		help: 'By hand compass, or read off later from where somebody stood and what it was in line with. Magnetic bearings: add the declination first.',
		fields: [
			{ kind: 'text', id: 'by', label: 'seen by' },
			{ ...direction('bearing', 'bearing to it, true'), required: true },
			{
				kind: 'quantity',
				id: 'within',
				label: 'known to within, one standard deviation',
				dimension: 'angle',
				unit: '°',
				default: { text: '10 °', origin: `pointed out from memory; ${HABIT}` },
				range: { above: 0, max: 1.5 }
			},
			{
				kind: 'quantity',
				id: 'standAway',
				label: 'stood so far from the pad',
				dimension: 'length',
				unit: 'm',
				default: { text: '0 m', origin: 'at the pad' },
				range: { min: 0, max: 1e6 }
			},
			{
				...direction('standToward', 'stood in this direction from the pad, true'),
				default: { text: '0 °', origin: 'at the pad there is none' }
			}
		]
	},
	{
		kind: 'quantity',
		id: 'elsewhere',
		label: 'Probability that it lies in none of them',
		dimension: 'ratio',
		unit: '%',
		default: { text: '10 %', origin: `the rest of the world; ${HABIT}` },
		range: { min: 0, max: 0.99 }
	},
	{
		kind: 'quantity',
		id: 'hidden',
		label: 'Probability that it lies where no such search can see it',
		dimension: 'ratio',
		unit: '%',
		default: { text: '5 %', origin: `buried, under water, up a tree; ${HABIT}` },
		range: { min: 0, max: 0.95 },
		help: 'The same at every search: what is hidden once stays hidden.'
	},
	{
		kind: 'choice',
		id: 'basis',
		label: 'How the sweep widths are known',
		options: [
			{ id: 'stand-in', label: 'average distance at which it is first seen, or a guess' },
			{ id: 'measured', label: 'measured with like objects on like ground' }
		],
		default: { text: 'stand-in', origin: 'the usual case' }
	},
	{
		kind: 'list',
		id: 'searches',
		label: 'Searches that found nothing',
		item: 'search',
		role: 'searches that found nothing',
		min: 0,
		max: 40,
		help: 'Each search of one segment on a line of its own, in any order.',
		fields: [
			{ kind: 'text', id: 'segment', label: 'segment', rowOf: 'segments' },
			{
				kind: 'choice',
				id: 'told',
				label: 'how it was covered',
				options: [
					{ id: 'walked', label: 'by so much way in all' },
					{ id: 'spacing', label: 'whole, along lines so far apart' },
					{ id: 'chance', label: 'with a chance of finding it that somebody states' }
				],
				default: { text: 'walked', origin: 'the least that is known' }
			},
			{
				kind: 'quantity',
				id: 'walked',
				label: 'way in the segment, of all searchers together',
				dimension: 'length',
				unit: 'km',
				range: { min: 0, max: 1e6 },
				when: { choice: 'told', is: ['walked'] },
				required: true
			},
			{
				kind: 'quantity',
				id: 'spacing',
				label: 'distance between lines',
				dimension: 'length',
				unit: 'm',
				range: { above: 0, max: 10_000 },
				when: { choice: 'told', is: ['spacing'] },
				required: true
			},
			{
				kind: 'quantity',
				id: 'chance',
				label: 'chance of finding it had it been in sight there',
				dimension: 'ratio',
				unit: '%',
				range: { min: 0, max: 1 },
				when: { choice: 'told', is: ['chance'] },
				required: true
			},
			{
				kind: 'choice',
				id: 'curve',
				label: 'how strictly',
				options: CURVES,
				default: { text: 'random', origin: 'what effort comes to in practice; Koopman' },
				when: { choice: 'told', is: ['walked', 'spacing'] }
			},
			{
				...width('width', 'sweep width then, if other'),
				help: 'In dusk, rain or with fewer eyes.',
				when: { choice: 'told', is: ['walked', 'spacing'] }
			}
		]
	},
	{
		kind: 'quantity',
		id: 'hours',
		label: 'Time for the next search',
		dimension: 'time',
		unit: 'h',
		default: { text: '1 h', origin: 'an hour, for comparison' },
		range: { above: 0, max: 3.6e6 },
		help: 'Of searching; the way there is not counted.'
	},
	{
		kind: 'quantity',
		id: 'searchers',
		label: 'Searchers',
		dimension: 'ratio',
		unit: '1',
		default: { text: '2', origin: 'for comparison' },
		range: { above: 0, max: 1000 }
	}
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;

export const OBSERVED = [
	{
		kind: 'choice',
		id: 'outcome',
		label: 'As evidence of where it lies',
		options: [
			{ id: 'not used', label: 'not used' },
			{ id: 'nothing', label: 'these searches found nothing' }
		],
		default: { text: 'not used', origin: 'the searches move the probabilities here anyway' }
	}
] as const satisfies readonly Field[];
