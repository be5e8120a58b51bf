import { HABIT, type Field, type ValuesOf } from '../calculation';
import { LINK } from './link-fields';

const FACTORS = 'NASA-STD-5001B, from memory';

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'load',
		label: 'Greatest load on the path',
		role: 'peak load',
		dimension: 'force',
		unit: 'N',
		required: true,
		range: { above: 0, max: 1e7 },
		spread: { text: '25 %', origin: HABIT },
		help: 'The peak: of the opening, the tether or the charge. Not the weight, not the mean.'
	},
	{
		kind: 'list',
		id: 'links',
		label: 'Links of the load path, in order',
		item: 'link',
		min: 1,
		max: 20,
		fields: LINK
	},
	{
		kind: 'choice',
		id: 'basis',
		label: 'The strengths are',
		options: [
			{ id: 'typical', label: 'typical or mean values' },
			{ id: 'least', label: 'least values that nearly all parts reach' }
		],
		default: { text: 'typical', origin: 'most data sheets' }
	},
	{
		kind: 'quantity',
		id: 'factor',
		label: 'Factor of safety asked for',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1.4', origin: `ultimate, metal; bonded joints 2.0; ${FACTORS}` },
		range: { min: 1, max: 20 },
		help: 'It stands in the margin only; the probability takes the load and strengths as they are.'
	},
	{
		kind: 'quantity',
		id: 'fitting',
		label: 'Fitting factor of joints',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1', origin: 'none; 1.15 is common (NASA-STD-5020B, from memory)' },
		range: { min: 1, max: 5 }
	},
	{
		kind: 'quantity',
		id: 'temperature',
		label: 'Temperature of the warmest joint',
		dimension: 'temperature',
		unit: '°C',
		range: { min: 200, max: 1500 },
		help: 'Beside a motor, or in a dark airframe in the sun. No strength is reduced for it: bonds above 60 °C and prints above 50 °C get none, unless theirs was measured there.'
	}
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;
export type Link = Inputs['links'][number];
