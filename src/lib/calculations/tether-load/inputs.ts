import { HABIT, type Field, type Stated, type ValuesOf } from '../calculation';

const STRETCH: Record<string, Stated> = {
	nylon: { text: '25 ± 6 %', origin: `nylon webbing or cord; ${HABIT}` },
	polyester: { text: '14 ± 3 %', origin: `polyester; ${HABIT}` },
	aramid: { text: '4 ± 1 %', origin: `aramid; ${HABIT}` },
	polyethylene: { text: '4 ± 1 %', origin: `high-modulus polyethylene; ${HABIT}` },
	elastic: { text: '120 ± 30 %', origin: `covered rubber; ${HABIT}` }
};

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'speed',
		label: 'Speed at which the ends part when the line comes taut',
		fromRuns: [{ calculation: 'deployment-charge', output: 'apart' }],
		dimension: 'speed',
		unit: 'm/s',
		range: { above: 0, max: 300 },
		spread: { text: '15 %', origin: HABIT },
		help: 'Of the one against the other, not of either over the ground. Or give the energy.'
	},
	{
		kind: 'quantity',
		id: 'energy',
		label: 'Energy that goes into the line',
		fromRuns: [{ calculation: 'deployment-charge', output: 'energy' }],
		dimension: 'energy',
		unit: 'J',
		range: { above: 0, max: 1e6 },
		spread: { text: '30 %', origin: HABIT },
		help: 'Such as that of the sections parting, from the deployment charge.'
	},
	{
		kind: 'quantity',
		id: 'massA',
		label: 'Mass on the one end',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of a piece',
		required: true,
		range: { above: 0, max: 10_000 },
		spread: { text: '5 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'massB',
		label: 'Mass on the other end',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of a piece',
		required: true,
		range: { above: 0, max: 10_000 },
		spread: { text: '5 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'length',
		label: 'Length of the line',
		dimension: 'length',
		unit: 'm',
		required: true,
		range: { above: 0, max: 500 },
		spread: { text: '2 %', origin: HABIT },
		help: 'What comes taut between the two masses.'
	},
	{
		kind: 'choice',
		id: 'material',
		label: 'The line is',
		options: [
			{ id: 'nylon', label: 'Nylon' },
			{ id: 'polyester', label: 'Polyester' },
			{ id: 'aramid', label: 'Aramid' },
			{ id: 'polyethylene', label: 'High-modulus polyethylene' },
			{ id: 'elastic', label: 'Covered rubber' }
		],
		default: { text: 'nylon', origin: 'until another is chosen' }
	},
	{
		kind: 'quantity',
		id: 'lineStrength',
		label: 'Breaking strength of the line',
		dimension: 'force',
		unit: 'N',
		required: true,
		range: { above: 0, max: 1e7 },
		spread: { text: '10 %', origin: HABIT },
		help: 'New and straight, as its maker states it.'
	},
	{
		kind: 'quantity',
		id: 'keeps',
		label: 'Share that knots or stitches leave',
		dimension: 'ratio',
		unit: '1',
		default: { text: '0.5 ± 0.1', origin: `a knot; sewn ends 0.8; ${HABIT}` },
		range: { above: 0, max: 1 }
	},
	{
		kind: 'quantity',
		id: 'strength',
		label: 'Strength of the weakest other link',
		fromRuns: [{ calculation: 'attachment-strength', output: 'pathStrength' }],
		dimension: 'force',
		unit: 'N',
		range: { above: 0, max: 1e7 },
		spread: { text: '20 %', origin: HABIT },
		help: 'From the strength of the attachment. Blank: only the line itself is looked at.'
	},
	{
		kind: 'quantity',
		id: 'stretchAtBreak',
		label: 'Stretch at which it breaks',
		dimension: 'ratio',
		unit: '%',
		default: STRETCH['nylon']!,
		defaultOf: { choice: 'material', texts: STRETCH },
		range: { above: 0, max: 8 },
		help: 'With its strength it gives the stiffness.'
	},
	{
		kind: 'quantity',
		id: 'stiffness',
		label: 'Stiffness of the whole line, if measured',
		dimension: 'stiffness',
		unit: 'N/m',
		range: { above: 0, max: 1e8 },
		spread: { text: '15 %', origin: HABIT },
		help: 'Force per stretch, over this length; it takes the place of strength over stretch.'
	},
	{
		kind: 'quantity',
		id: 'dynamic',
		label: 'How much stiffer when pulled fast',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1.3 ± 0.2', origin: `of textiles against a slow pull; ${HABIT}` },
		defaultWith: {
			field: 'stiffness',
			stated: { text: '1', origin: 'a measured stiffness is taken as it is' }
		},
		range: { min: 0.5, max: 5 },
		help: 'Where the stiffness was measured by a slow pull, type it: about 1.3.'
	},
	{
		kind: 'quantity',
		id: 'lineMass',
		label: 'Mass of the line',
		dimension: 'mass',
		unit: 'g',
		range: { above: 0, max: 1000 },
		help: 'For the wave that runs through a heavy line before the ends feel each other.'
	}
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;
