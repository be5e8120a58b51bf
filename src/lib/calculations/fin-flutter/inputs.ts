import { HABIT, type Field, type ValuesOf } from '../calculation';
import { AIR } from '../through-wind';

const MEMORY = 'typical of the material, from memory';

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'rootChord',
		label: 'Root chord',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { above: 0, max: 3 }
	},
	{
		kind: 'quantity',
		id: 'tipChord',
		label: 'Tip chord',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { min: 0, max: 3 }
	},
	{
		kind: 'quantity',
		id: 'span',
		label: 'Span of one fin, from the body out',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { above: 0, max: 3 }
	},
	{
		kind: 'quantity',
		id: 'thickness',
		label: 'Thickness at the root',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { above: 0, max: 0.2 },
		spread: { text: '3 %', origin: `calipers on sheet; ${HABIT}` },
		help: 'Twice the thickness is 2.83 times the flutter speed: measure it.'
	},
	{
		kind: 'quantity',
		id: 'shearModulus',
		label: 'Shear modulus of the fin',
		dimension: 'pressure',
		unit: 'GPa',
		required: true,
		range: { above: 0, max: 2e11 },
		spread: { text: '20 %', origin: `a typical value of the material; ${HABIT}` },
		help: 'In torsion of the whole plate. Of a sandwich, airfoil or laminate: the effective one.',
		suggestions: [
			{ label: 'glass cloth laminate, in plane', text: '3 to 5 GPa', origin: MEMORY },
			{ label: 'birch plywood', text: '0.6 to 0.8 GPa', origin: MEMORY },
			{ label: 'aluminium alloy', text: '26 GPa', origin: MEMORY },
			{ label: 'carbon cloth laminate, in plane 0/90', text: '3 to 6 GPa', origin: MEMORY },
			{ label: 'printed PLA', text: '0.8 to 1.3 GPa', origin: MEMORY }
		]
	},
	{
		kind: 'quantity',
		id: 'tipShift',
		label: 'Tip set back from the root, at mid chord',
		dimension: 'length',
		unit: 'mm',
		default: { text: '0 mm', origin: 'unswept' },
		range: { min: -3, max: 3 },
		help: 'From the middle of the root chord back to the middle of the tip chord.'
	},
	{
		kind: 'choice',
		id: 'section',
		label: 'The fin is',
		options: [
			{ id: 'plate', label: 'a flat plate of one material' },
			{ id: 'laminate', label: 'a flat laminate or plywood' },
			{ id: 'sandwich', label: 'a sandwich, hollow or built up' },
			{ id: 'airfoil', label: 'airfoiled or tapered in thickness' }
		],
		default: { text: 'plate', origin: 'what the formula is made for' }
	},
	{
		kind: 'choice',
		id: 'tipWeight',
		label: 'Anything heavy at the tip',
		options: [
			{ id: 'no', label: 'no' },
			{ id: 'yes', label: 'yes' }
		],
		default: { text: 'no', origin: HABIT }
	},
	{
		kind: 'list',
		id: 'ascent',
		label: 'Speed by height on the way up',
		item: 'point of the ascent',
		min: 1,
		max: 200,
		ascending: 'height',
		help: 'From the recorder or the ascent: at least where it was fastest. Straight lines between the points.',
		fields: [
			{
				kind: 'quantity',
				id: 'height',
				label: 'height above the pad',
				fromRuns: [{ calculation: 'ascent', output: 'burnoutHeight' }],
				dimension: 'length',
				unit: 'm',
				required: true,
				range: { min: 0, max: 35_000 }
			},
			{
				kind: 'quantity',
				id: 'speed',
				label: 'speed',
				fromRuns: [{ calculation: 'ascent', output: 'maxSpeed' }],
				dimension: 'speed',
				unit: 'm/s',
				required: true,
				range: { min: 0, max: 2000 },
				spread: { text: '5 %', origin: `an accelerometer integrated, or a simulation; ${HABIT}` }
			}
		]
	},
	...AIR
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;
