import { HABIT, type Field, type ValuesOf } from '../calculation';
import { HEATING } from './heating';

const OTHER = { choice: 'material', is: ['other'] } as const;

const LAYERS = {
	kind: 'list',
	id: 'layers',
	label: 'Layers of the wall, from the hot face outward',
	item: 'layer',
	min: 1,
	max: 4,
	help: 'The last one carries the load.',
	fields: [
		{ kind: 'text', id: 'name', label: 'name' },
		{
			kind: 'quantity',
			id: 'thickness',
			label: 'thickness',
			dimension: 'length',
			unit: 'mm',
			required: true,
			range: { above: 0, max: 0.5 },
			spread: { text: '3 %', origin: HABIT }
		},
		{
			kind: 'choice',
			id: 'material',
			label: 'material',
			options: [
				{ id: 'steel', label: 'carbon steel' },
				{ id: 'aluminium', label: 'aluminium alloy like 6061' },
				{ id: 'graphite', label: 'fine-grain graphite' },
				{ id: 'phenolic', label: 'paper or linen phenolic' },
				{ id: 'other', label: 'other: typed' }
			],
			default: { text: 'other', origin: 'nothing is assumed' }
		},
		{
			kind: 'quantity',
			id: 'conductivity',
			label: 'conductivity',
			dimension: 'conductivity',
			unit: 'W/(m·K)',
			required: true,
			when: OTHER,
			range: { above: 0, max: 2000 },
			suggestions: [
				{ label: 'silica phenolic', text: '0.6 W/(m·K)', origin: 'NASA SP-8115, from memory, not verified' },
				{
					label: 'carbon phenolic',
					text: '1.0 to 1.5 W/(m·K)',
					origin: 'NASA SP-8115, from memory, not verified'
				},
				{ label: '4130 steel', text: '42.7 W/(m·K)', origin: 'MIL-HDBK-5J, from memory' }
			]
		},
		{
			kind: 'quantity',
			id: 'heat',
			label: 'specific heat',
			dimension: 'specific heat',
			unit: 'J/(kg·K)',
			required: true,
			when: OTHER,
			range: { above: 0, max: 20_000 },
			suggestions: [
				{
					label: 'silica or carbon phenolic',
					text: '1000 to 1600 J/(kg·K)',
					origin: 'NASA SP-8115, from memory, not verified'
				}
			]
		},
		{
			kind: 'quantity',
			id: 'density',
			label: 'density',
			dimension: 'density',
			unit: 'kg/m³',
			required: true,
			when: OTHER,
			range: { above: 0, max: 25_000 },
			suggestions: [
				{
					label: 'silica phenolic',
					text: '1750 kg/m³',
					origin: 'NASA SP-8115, from memory, not verified'
				},
				{
					label: 'carbon phenolic',
					text: '1450 kg/m³',
					origin: 'NASA SP-8115, from memory, not verified'
				}
			]
		},
		{
			kind: 'quantity',
			id: 'meltsAt',
			label: 'begins to melt at',
			dimension: 'temperature',
			unit: '°C',
			when: OTHER,
			range: { min: 300, max: 4000 },
			help: 'Blank: it does not melt.'
		},
		{
			kind: 'quantity',
			id: 'latent',
			label: 'latent heat',
			dimension: 'specific energy',
			unit: 'kJ/kg',
			when: OTHER,
			range: { above: 0, max: 2e7 }
		},
		{
			kind: 'quantity',
			id: 'erosion',
			label: 'recession while the gas flows, other than melting',
			dimension: 'speed',
			unit: 'mm/s',
			default: { text: '0 mm/s', origin: 'not measured' },
			when: { choice: 'material', is: ['graphite', 'phenolic', 'other'] },
			range: { min: 0, max: 0.05 },
			help: 'Oxidised graphite, charred phenolic: as measured in earlier firings. It is not computed.'
		}
	]
} as const satisfies Field;

export const INPUTS = [
	LAYERS,
	...HEATING,
	{
		kind: 'quantity',
		id: 'innerRadius',
		label: 'Radius of the hot face around the axis',
		dimension: 'length',
		unit: 'mm',
		range: { above: 0, max: 5 },
		help: 'Blank: that of the flow area with Bartz, a flat wall else.'
	},
	{
		kind: 'quantity',
		id: 'burnTime',
		label: 'Burn time',
		fromRuns: [{ calculation: 'chamber-pressure', output: 'burnTime' }],
		dimension: 'time',
		unit: 's',
		required: true,
		range: { above: 0, max: 600 },
		spread: { text: '3 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'firings',
		label: 'Firings, the last one included',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1', origin: 'new hardware' },
		range: { min: 1, max: 20 },
		help: 'All alike; each begins with the wall that the one before has left.'
	},
	{
		kind: 'quantity',
		id: 'pause',
		label: 'Time between firings',
		dimension: 'time',
		unit: 'min',
		default: { text: '60 min', origin: 'the wall is cold again' },
		range: { min: 1, max: 1e6 }
	},
	{
		kind: 'quantity',
		id: 'soak',
		label: 'Time watched after the burn',
		dimension: 'time',
		unit: 's',
		default: { text: '120 s', origin: 'the outside is hottest within it, as a rule' },
		range: { above: 0, max: 36_000 }
	},
	{
		kind: 'quantity',
		id: 'start',
		label: 'Temperature of wall and air before',
		dimension: 'temperature',
		unit: '°C',
		role: 'site temperature',
		default: { text: '20 ± 5 °C', origin: HABIT },
		range: { min: 223, max: 400 }
	},
	{
		kind: 'quantity',
		id: 'backCoefficient',
		label: 'Coefficient at the outside, without radiation',
		dimension: 'heat-transfer coefficient',
		unit: 'W/(m²·K)',
		default: { text: '10 ± 4 W/(m²·K)', origin: `still air; ${HABIT}` },
		range: { min: 0, max: 10_000 },
		help: 'In flight about 50 to 200. After the burn the hot face has the same.'
	},
	{
		kind: 'quantity',
		id: 'emissivity',
		label: 'Emissivity of the outside',
		dimension: 'ratio',
		unit: '1',
		default: { text: '0.5 ± 0.2', origin: `0.1 bright, 0.9 painted or oxidised; ${HABIT}` },
		range: { min: 0, max: 1 }
	},
	{
		kind: 'quantity',
		id: 'conductivityFactor',
		label: 'Real over tabled conductivity',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1 ± 0.1', origin: `alloys differ; ${HABIT}` },
		range: { above: 0, max: 5 }
	},
	{
		kind: 'quantity',
		id: 'heatFactor',
		label: 'Real over tabled heat capacity and latent heat',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1 ± 0.05', origin: `latent heats of textbooks differ by 10 %; ${HABIT}` },
		range: { above: 0, max: 5 }
	},
	{
		kind: 'quantity',
		id: 'softAt',
		label: 'Mean temperature at which the layer that carries the load is too soft',
		dimension: 'temperature',
		unit: '°C',
		range: { min: 273, max: 4000 },
		help: 'Blank: where half the cold proof strength is left (steel 358 °C, 6061-T6 260 °C).'
	},
	{
		kind: 'quantity',
		id: 'margin',
		label: 'Margin on the thickness needed',
		dimension: 'ratio',
		unit: '%',
		default: { text: '25 %', origin: HABIT },
		range: { min: 0, max: 10 }
	}
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;
