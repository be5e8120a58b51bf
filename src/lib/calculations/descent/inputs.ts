import { HABIT, type Field, type ValuesOf } from '../calculation';
import { AIR } from '../through-wind';

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'mass',
		label: 'Mass hanging from it',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of the vehicle',
		required: true,
		range: { above: 0, max: 10_000 },
		help: 'At landing: propellant burnt.'
	},
	{
		kind: 'quantity',
		id: 'dragArea',
		label: 'Drag area Cd·S as built',
		dimension: 'area',
		unit: 'm²',
		role: 'drag area of a piece',
		range: { above: 0, max: 5000 },
		spread: { text: '10 %', origin: HABIT },
		help: 'Or give the canopy’s diameter and drag coefficient.'
	},
	{
		kind: 'quantity',
		id: 'canopyDiameter',
		label: 'Nominal diameter of the canopy',
		dimension: 'length',
		unit: 'm',
		range: { above: 0, max: 60 },
		help: 'Of all its cloth laid flat, vent included; not the mouth of the open canopy, which is smaller: mixing them up makes the drag 2.2 times wrong.'
	},
	{
		kind: 'quantity',
		id: 'dragCoefficient',
		label: 'Drag coefficient on that area',
		dimension: 'ratio',
		unit: '1',
		default: {
			text: '0.75 ± 0.08',
			origin: 'flat circular canopy; Knacke, NWC TP 6575, table 5-1, from memory'
		},
		range: { above: 0, max: 3 }
	},
	{
		kind: 'quantity',
		id: 'fromHeight',
		label: 'Height at which it was open, above the pad',
		dimension: 'length',
		unit: 'm',
		role: 'main deployment height',
		range: { above: 0, max: 30_000 },
		help: 'For the time of the descent.'
	},
	{
		kind: 'quantity',
		id: 'recordedRate',
		label: 'Recorded descent rate, for the drag area that it implies',
		dimension: 'speed',
		unit: 'm/s',
		range: { above: 0, max: 400 },
		spread: { text: '5 %', origin: HABIT },
		help: 'Or give a height lost and its time. To weigh fully open against partly open, give it under what was observed.'
	},
	{
		kind: 'quantity',
		id: 'heightLost',
		label: 'Height lost',
		dimension: 'length',
		unit: 'm',
		range: { above: 0, max: 30_000 },
		spread: { text: '5 %', origin: `barometric height without the day’s temperature; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'timeTaken',
		label: 'in a time of',
		dimension: 'time',
		unit: 's',
		role: 'descent time',
		range: { above: 0, max: 100_000 },
		spread: { text: '1 s', origin: `hand-timed; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'rateHeight',
		label: 'Height above the pad where that was',
		dimension: 'length',
		unit: 'm',
		default: { text: '0 m', origin: 'near the ground' },
		range: { min: -500, max: 30_000 }
	},
	{
		kind: 'quantity',
		id: 'verticalAir',
		label: 'Vertical motion of the air, upward',
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '0 ± 1 m/s', origin: `thermals of a fair day; ${HABIT}` },
		range: { min: -15, max: 15 }
	},
	...AIR
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;
