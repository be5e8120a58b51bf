import { HABIT, type Field, type ValuesOf } from '../calculation';

const speed = { kind: 'quantity', dimension: 'speed', unit: 'm/s', range: { above: 0, max: 1000 } } as const;

/** Calculations that say how fast it comes down in the end. */
const STEADY = [
	{ calculation: 'descent', output: 'rate' },
	{ calculation: 'opening-load', output: 'steadySpeed' }
] as const;

/** What a damage needs at least, by its kind. */
const needs = (is: string) => ({ choice: 'needs', is: [is] });

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'mass',
		label: 'Mass that hit the ground',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of a piece',
		required: true,
		range: { above: 0, max: 10_000 },
		spread: { text: '3 %', origin: HABIT },
		help: 'Of this piece as it hit, not of the whole vehicle.'
	},
	{
		...speed,
		id: 'speed',
		label: 'Speed downward at the impact',
		fromRuns: STEADY,
		spread: { text: '15 %', origin: HABIT },
		help: 'Or give the height that it fell.'
	},
	{
		kind: 'quantity',
		id: 'drop',
		label: 'Height that it fell, from rest',
		dimension: 'length',
		unit: 'm',
		range: { above: 0, max: 30_000 },
		spread: { text: '10 %', origin: HABIT }
	},
	{
		...speed,
		id: 'terminal',
		label: 'Steady speed at which it falls',
		fromRuns: STEADY,
		spread: { text: '10 %', origin: HABIT },
		help: 'With the height that it fell. Blank: as without air.'
	},
	{
		kind: 'quantity',
		id: 'horizontal',
		label: 'Speed along the ground',
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '0 to 5 m/s', origin: `drift in a light wind; ${HABIT}` },
		range: { min: 0, max: 340 }
	},
	{
		kind: 'quantity',
		id: 'crush',
		label: 'Crush between the ground and what is looked at',
		dimension: 'length',
		unit: 'mm',
		range: { min: 0, max: 20 },
		spread: { text: '15 %', origin: HABIT },
		help: 'Only what shortened between the ground and the sensor or part in question.'
	},
	{
		kind: 'quantity',
		id: 'penetration',
		label: 'Depth that it dug into the ground',
		dimension: 'length',
		unit: 'mm',
		range: { min: 0, max: 20 },
		spread: { text: '20 %', origin: HABIT },
		help: 'It stopped over this way too. On rock or concrete write 0.'
	},
	{
		kind: 'choice',
		id: 'pulse',
		label: 'The force while it stopped was',
		options: [
			{ id: 'unknown', label: 'not known' },
			{ id: 'constant', label: 'constant: a tube that folded' },
			{ id: 'half-sine', label: 'up and down again, half a sine in time' },
			{ id: 'spring', label: 'rising to the stop, as of a spring' }
		],
		default: { text: 'unknown', origin: 'between constant and a spring' }
	},
	{
		kind: 'list',
		id: 'damage',
		label: 'Damage, and what it needs at least',
		item: 'damage',
		min: 0,
		max: 20,
		fields: [
			{ kind: 'text', id: 'name', label: 'name' },
			{
				kind: 'choice',
				id: 'needs',
				label: 'known is',
				options: [
					{ id: 'energy', label: 'the energy that it takes' },
					{ id: 'deceleration', label: 'the deceleration that it takes' },
					{ id: 'force', label: 'the force that it takes' }
				],
				default: { text: 'energy', origin: 'until another is chosen' }
			},
			{
				kind: 'quantity',
				id: 'energy',
				label: 'energy that it takes',
				dimension: 'energy',
				unit: 'J',
				required: true,
				range: { above: 0, max: 1e8 },
				spread: { text: '25 %', origin: HABIT },
				when: needs('energy')
			},
			{
				kind: 'quantity',
				id: 'deceleration',
				label: 'deceleration that it takes',
				dimension: 'acceleration',
				unit: 'g',
				required: true,
				range: { above: 0, max: 1e7 },
				spread: { text: '25 %', origin: HABIT },
				when: needs('deceleration')
			},
			{
				kind: 'quantity',
				id: 'force',
				label: 'force that it takes',
				help: 'On the whole of what hit.',
				dimension: 'force',
				unit: 'N',
				required: true,
				range: { above: 0, max: 1e8 },
				spread: { text: '25 %', origin: HABIT },
				when: needs('force')
			}
		]
	},
	{
		kind: 'quantity',
		id: 'resistance',
		label: 'Mean force that crushes it',
		dimension: 'force',
		unit: 'N',
		range: { above: 0, max: 1e8 },
		spread: { text: '30 %', origin: HABIT },
		help: 'Structure and ground together, from crushing an equal part: to compare a depth of crush.'
	},
	{
		...speed,
		id: 'mainRate',
		label: 'Descent rate under the main',
		role: 'descent rate under main',
		spread: { text: '15 %', origin: HABIT },
		help: 'The three rates say which impacts are compared.'
	},
	{
		...speed,
		id: 'drogueRate',
		label: 'Descent rate under the drogue',
		role: 'descent rate under drogue',
		spread: { text: '15 %', origin: HABIT }
	},
	{
		...speed,
		id: 'ballisticSpeed',
		label: 'Speed at impact if nothing opened',
		spread: { text: '25 %', origin: HABIT }
	}
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;
export type Damage = Inputs['damage'][number];
