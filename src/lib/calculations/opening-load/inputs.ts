import { HABIT, type Field, type ValuesOf } from '../calculation';
import { AIR } from '../through-wind';
import { CANOPY_TYPES, DRAG, FILL, GROWTH, OVERSHOOT } from './canopies';

const FIRST = 'flat-circular';

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'mass',
		label: 'Mass that hangs from it',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of the vehicle',
		required: true,
		range: { above: 0, max: 10_000 },
		spread: { text: '3 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'speed',
		label: 'Speed when the lines came taut',
		fromRuns: [
			{ calculation: 'deployment-speed', output: 'speed' },
			{ calculation: 'descent', output: 'rate' }
		],
		dimension: 'speed',
		unit: 'm/s',
		required: true,
		range: { above: 0, max: 340 },
		spread: { text: '10 %', origin: HABIT },
		help: 'Through the air, not only downward: a late or early opening has speed across too.'
	},
	{
		kind: 'quantity',
		id: 'diameter',
		label: 'Nominal diameter of the canopy',
		dimension: 'length',
		unit: 'm',
		required: true,
		range: { above: 0, max: 60 },
		spread: { text: '2 %', origin: HABIT },
		help: 'Of all its cloth, vent included: √(4 S/π). Not the mouth of the open canopy: mixing them up makes the drag 2.2 times wrong.'
	},
	{
		kind: 'choice',
		id: 'type',
		label: 'Type of canopy',
		options: CANOPY_TYPES,
		default: { text: FIRST, origin: 'the most common' }
	},
	{
		kind: 'quantity',
		id: 'strength',
		label: 'Strength of the weakest link',
		fromRuns: [{ calculation: 'attachment-strength', output: 'pathStrength' }],
		dimension: 'force',
		unit: 'N',
		range: { above: 0, max: 1e7 },
		spread: { text: '20 %', origin: HABIT },
		help: 'From the strength of the attachment: it is drawn beside the load.'
	},
	{
		kind: 'quantity',
		id: 'dive',
		label: 'Flight path below the horizontal',
		dimension: 'angle',
		unit: '°',
		default: { text: '60 to 90 °', origin: `falling, under a drogue or bare; ${HABIT}` },
		range: { min: 0, max: Math.PI / 2 },
		help: '0° at the top of a flat arc.'
	},
	{
		kind: 'quantity',
		id: 'dragCoefficient',
		label: 'Drag coefficient on the nominal area',
		dimension: 'ratio',
		unit: '1',
		default: DRAG[FIRST]!,
		defaultOf: { choice: 'type', texts: DRAG },
		range: { above: 0, max: 3 }
	},
	{
		kind: 'quantity',
		id: 'overshoot',
		label: 'Opening force coefficient Cx',
		dimension: 'ratio',
		unit: '1',
		default: OVERSHOOT[FIRST]!,
		defaultOf: { choice: 'type', texts: OVERSHOOT },
		range: { min: 1, max: 3 },
		help: 'How far the force overshoots the steady drag when nothing slows down (infinite mass).'
	},
	{
		kind: 'quantity',
		id: 'fill',
		label: 'Filling distance in nominal diameters',
		dimension: 'ratio',
		unit: '1',
		default: FILL[FIRST]!,
		defaultOf: { choice: 'type', texts: FILL },
		range: { min: 0.5, max: 60 }
	},
	{
		kind: 'quantity',
		id: 'fillingTime',
		label: 'Filling time, if it was seen',
		dimension: 'time',
		unit: 's',
		range: { above: 0, max: 30 },
		spread: { text: '20 %', origin: HABIT },
		help: 'From video or a recorded force. It takes the place of the filling distance.'
	},
	{
		kind: 'quantity',
		id: 'growth',
		label: 'Exponent with which the drag area grows',
		dimension: 'ratio',
		unit: '1',
		default: GROWTH[FIRST]!,
		defaultOf: { choice: 'type', texts: GROWTH },
		range: { min: 0.3, max: 6 }
	},
	{
		kind: 'quantity',
		id: 'height',
		label: 'Height above the pad',
		fromRuns: [{ calculation: 'deployment-speed', output: 'height' }],
		dimension: 'length',
		unit: 'm',
		role: 'main deployment height',
		default: { text: '0 m', origin: 'near the ground' },
		range: { min: -500, max: 30_000 },
		help: 'Thinner air slows it less while it fills: at 10 km the same dynamic pressure loads twice as much.'
	},
	...AIR
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;
