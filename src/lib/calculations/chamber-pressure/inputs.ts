import { HABIT, type Field, type ValuesOf } from '../calculation';
import { CASE } from './case';

const GRAINS = {
	kind: 'list',
	id: 'grains',
	label: 'Grains',
	item: 'grain',
	min: 1,
	max: 10,
	help: 'A tube of propellant with a cylindrical core; equal ones in one row.',
	fields: [
		{ kind: 'text', id: 'name', label: 'name' },
		{
			kind: 'quantity',
			id: 'count',
			label: 'how many of these',
			dimension: 'ratio',
			unit: '1',
			default: { text: '1', origin: 'a single one' },
			range: { min: 1, max: 50 }
		},
		{
			kind: 'quantity',
			id: 'outer',
			label: 'outer diameter',
			dimension: 'length',
			unit: 'mm',
			required: true,
			range: { above: 0, max: 2 }
		},
		{
			kind: 'quantity',
			id: 'core',
			label: 'core diameter',
			dimension: 'length',
			unit: 'mm',
			required: true,
			range: { min: 0, max: 2 },
			spread: { text: '0.2 mm', origin: `cast or drilled core; ${HABIT}` },
			help: '0 for a solid grain that burns from its ends.'
		},
		{
			kind: 'quantity',
			id: 'length',
			label: 'length',
			dimension: 'length',
			unit: 'mm',
			required: true,
			range: { above: 0, max: 10 },
			spread: { text: '0.5 mm', origin: HABIT }
		},
		{
			kind: 'choice',
			id: 'ends',
			label: 'end faces that burn',
			options: [
				{ id: '2', label: 'both' },
				{ id: '1', label: 'one' },
				{ id: '0', label: 'none' }
			],
			default: { text: '2', origin: 'neither inhibited' }
		},
		{
			kind: 'choice',
			id: 'outside',
			label: 'outside',
			options: [
				{ id: 'inhibited', label: 'inhibited or bonded' },
				{ id: 'burns', label: 'burns' }
			],
			default: { text: 'inhibited', origin: 'bonded or in a sleeve' }
		},
		{
			kind: 'choice',
			id: 'slots',
			label: 'slots from the core through the wall',
			options: [
				{ id: '0', label: 'none' },
				...['1', '2', '3', '4', '5', '6'].map((id) => ({ id, label: id }))
			],
			default: { text: '0', origin: 'plain core' },
			help: 'Along the whole length, evenly around.'
		},
		{
			kind: 'quantity',
			id: 'slotWidth',
			label: 'width of a slot',
			when: { choice: 'slots', is: ['1', '2', '3', '4', '5', '6'] },
			required: true,
			dimension: 'length',
			unit: 'mm',
			range: { above: 0, max: 0.5 }
		}
	]
} as const satisfies Field;

export const INPUTS = [
	GRAINS,
	{
		kind: 'quantity',
		id: 'density',
		label: 'Density of the propellant as cast',
		dimension: 'density',
		unit: 'kg/m³',
		required: true,
		range: { above: 100, max: 5000 },
		spread: { text: '2 %', origin: `voids; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'rate',
		label: 'Burning rate',
		dimension: 'speed',
		unit: 'mm/s',
		required: true,
		range: { above: 0, max: 1 },
		spread: { text: '5 %', origin: `from batch to batch; ${HABIT}` },
		help: 'At the pressure below. A coefficient a in mm/(s·MPaⁿ) is the rate in mm/s at 1 MPa; in in/(s·psiⁿ), the rate in in/s at 1 psi.'
	},
	{
		kind: 'quantity',
		id: 'ratePressure',
		label: 'at a pressure of',
		dimension: 'pressure',
		unit: 'MPa',
		required: true,
		range: { above: 0, max: 1e8 }
	},
	{
		kind: 'quantity',
		id: 'exponent',
		label: 'Pressure exponent n',
		dimension: 'ratio',
		unit: '1',
		required: true,
		range: { min: -0.5, max: 2 },
		spread: { text: '0.01', origin: `fit of strand or motor tests; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'fittedFrom',
		label: 'Rate and exponent hold from a pressure of',
		dimension: 'pressure',
		unit: 'MPa',
		range: { min: 0, max: 1e8 },
		help: 'Where they were measured; blank if not known.'
	},
	{
		kind: 'quantity',
		id: 'fittedTo',
		label: 'to a pressure of',
		dimension: 'pressure',
		unit: 'MPa',
		range: { above: 0, max: 1e8 }
	},
	{
		kind: 'quantity',
		id: 'temperature',
		label: 'Temperature of the grain less that of the rate’s measurement',
		dimension: 'temperature difference',
		unit: 'K',
		default: { text: '0 ± 5 K', origin: HABIT },
		range: { min: -80, max: 80 }
	},
	{
		kind: 'quantity',
		id: 'temperatureSensitivity',
		label: 'Change of the rate with it',
		dimension: 'thermal expansion',
		unit: '1/K',
		default: { text: '0.002 1/K', origin: `0.1 to 0.4 % per kelvin; ${HABIT}` },
		range: { min: 0, max: 0.02 }
	},
	{
		kind: 'quantity',
		id: 'characteristicVelocity',
		label: 'Characteristic velocity c*',
		dimension: 'speed',
		unit: 'm/s',
		required: true,
		range: { above: 0, max: 3000 }
	},
	{
		kind: 'quantity',
		id: 'efficiency',
		label: 'Share of it that is delivered',
		dimension: 'ratio',
		unit: '1',
		default: { text: '0.9 ± 0.03', origin: `0.85 to 0.95 of the computed c*; ${HABIT}` },
		range: { above: 0, max: 1.05 },
		help: '1 ± 0 if c* was measured in a firing.'
	},
	{
		kind: 'quantity',
		id: 'throat',
		label: 'Throat diameter before the firing',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { above: 0, max: 1 },
		spread: { text: '0.05 mm', origin: `caliper; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'throatGrowth',
		label: 'Growth of the throat’s diameter',
		dimension: 'speed',
		unit: 'mm/s',
		default: { text: '0 mm/s', origin: 'as designed' },
		range: { min: -0.02, max: 0.1 },
		help: 'Below zero: slag closes it.'
	},
	{
		kind: 'quantity',
		id: 'throatGrowthFrom',
		label: 'Growth begins at',
		dimension: 'time',
		unit: 's',
		default: { text: '0 s', origin: 'ignition' },
		range: { min: 0, max: 600 }
	},
	{
		kind: 'quantity',
		id: 'added',
		label: 'Burning area added by a crack, void or unbonded face',
		dimension: 'area',
		unit: 'cm²',
		default: { text: '0 cm²', origin: 'as designed' },
		range: { min: 0, max: 10 },
		help: 'Both faces of the crack.'
	},
	{
		kind: 'quantity',
		id: 'addedFrom',
		label: 'It burns from',
		dimension: 'time',
		unit: 's',
		default: { text: '0 s', origin: 'ignition' },
		range: { min: 0, max: 600 }
	},
	...CASE
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;
