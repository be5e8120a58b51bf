import { HABIT, type Field, type QuantityField } from '../calculation';

const BARTZ = { choice: 'heating', is: ['bartz'] } as const;
const TYPED = { choice: 'heating', is: ['typed'] } as const;

const gas = <const I extends string, const D extends QuantityField['dimension']>(
	id: I,
	label: string,
	dimension: D,
	unit: string
) => ({ kind: 'quantity', id, label, dimension, unit, required: true, when: BARTZ }) as const;

/** The gas side: Bartz's formula, or a typed coefficient. */
export const HEATING = [
	{
		kind: 'choice',
		id: 'heating',
		label: 'Heat from the gas',
		options: [
			{ id: 'bartz', label: 'computed (Bartz)' },
			{ id: 'typed', label: 'typed coefficient' }
		],
		default: { text: 'bartz', origin: 'chamber or nozzle' }
	},
	{
		...gas('pressure', 'Chamber pressure', 'pressure', 'MPa'),
		fromRuns: [{ calculation: 'chamber-pressure', output: 'mean' }],
		range: { above: 0, max: 1e8 },
		spread: { text: '5 %', origin: HABIT }
	},
	{
		...gas('characteristicVelocity', 'Characteristic velocity c*', 'speed', 'm/s'),
		range: { above: 0, max: 3000 },
		spread: { text: '3 %', origin: HABIT }
	},
	{
		...gas('gasTemperature', 'Temperature in the chamber', 'temperature', 'K'),
		range: { min: 400, max: 4100 },
		spread: { text: '50 K', origin: HABIT }
	},
	{ ...gas('ratio', 'Heat-capacity ratio k of the gas', 'ratio', '1'), range: { min: 1.01, max: 1.67 } },
	{
		...gas('molarMass', 'Mean molar mass of the gas, g/mol', 'ratio', '1'),
		range: { min: 2, max: 150 }
	},
	{ ...gas('throat', 'Throat diameter', 'length', 'mm'), range: { above: 0, max: 2 } },
	{
		kind: 'quantity',
		id: 'curvature',
		label: 'Radius of curvature of the throat, along the axis',
		dimension: 'length',
		unit: 'mm',
		when: BARTZ,
		range: { above: 0, max: 5 },
		help: 'Blank: the throat’s diameter. It matters little.'
	},
	{
		kind: 'choice',
		id: 'place',
		label: 'Where',
		when: BARTZ,
		options: [
			{ id: 'throat', label: 'at the throat' },
			{ id: 'before', label: 'before the throat' },
			{ id: 'behind', label: 'behind the throat' }
		],
		default: { text: 'throat', origin: 'the hottest place' }
	},
	{
		...gas('areaRatio', 'Flow area there over the throat’s', 'ratio', '1'),
		when: { choice: 'place', is: ['before', 'behind'] },
		range: { min: 1, max: 1000 }
	},
	{
		kind: 'quantity',
		id: 'bartzFactor',
		label: 'Measured over computed coefficient',
		dimension: 'ratio',
		unit: '1',
		when: BARTZ,
		default: {
			text: '1 ± 0.25',
			origin: `Bartz tends to be high (Hahm and Kang 2012, abstract seen); ${HABIT}`
		},
		range: { above: 0, max: 10 },
		suggestions: [
			{ label: 'gas full of smoke or slag (KNO₃ with sugar, aluminised)', text: '0.5 to 2', origin: HABIT }
		]
	},
	{
		kind: 'quantity',
		id: 'coefficient',
		label: 'Heat-transfer coefficient',
		dimension: 'heat-transfer coefficient',
		unit: 'W/(m²·K)',
		required: true,
		when: TYPED,
		range: { above: 0, max: 1e6 },
		spread: { text: '25 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'recovery',
		label: 'Temperature of the gas at the wall (recovery)',
		dimension: 'temperature',
		unit: 'K',
		required: true,
		when: TYPED,
		range: { min: 260, max: 4100 },
		spread: { text: '50 K', origin: HABIT }
	}
] as const satisfies readonly Field[];
