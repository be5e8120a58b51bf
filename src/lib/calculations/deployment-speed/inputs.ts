import { HABIT, type Field, type ValuesOf } from '../calculation';
import { AIR } from '../through-wind';

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'offset',
		label: 'Deployment after apogee',
		dimension: 'time',
		unit: 's',
		default: { text: '0 s', origin: 'at apogee, as planned' },
		range: { min: -120, max: 600 },
		help: 'Negative: before apogee.'
	},
	{
		kind: 'quantity',
		id: 'apogeeHeight',
		label: 'Apogee above the pad',
		fromRuns: [{ calculation: 'ascent', output: 'ordinaryApogee' }],
		dimension: 'length',
		unit: 'm',
		role: 'apogee height',
		required: true,
		range: { above: 0, max: 35_000 },
		spread: { text: '5 %', origin: `barometric height without the day’s temperature; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'mass',
		label: 'Mass in coast',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of the vehicle',
		required: true,
		range: { above: 0, max: 10_000 },
		spread: { text: '2 %', origin: HABIT },
		help: 'Propellant burnt.'
	},
	{
		kind: 'quantity',
		id: 'diameter',
		label: 'Greatest diameter of the body',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { above: 0, max: 2 }
	},
	{
		kind: 'quantity',
		id: 'dragCoefficient',
		label: 'Drag coefficient in coast, nose first',
		dimension: 'ratio',
		unit: '1',
		default: { text: '0.5 ± 0.1', origin: `slender, smooth, with fins; ${HABIT}` },
		range: { above: 0, max: 5 },
		spread: { text: '15 %', origin: HABIT }
	},
	{
		kind: 'choice',
		id: 'sidewaysAs',
		label: 'Sideways speed at apogee is known by',
		options: [
			{ id: 'speed', label: 'itself' },
			{ id: 'angle', label: 'speed and angle at burnout' }
		],
		default: { text: 'speed', origin: 'what a record most often tells' }
	},
	{
		kind: 'quantity',
		id: 'sidewaysSpeed',
		label: 'Sideways speed through the air at apogee',
		fromRuns: [{ calculation: 'ascent', output: 'apogeeSpeed' }],
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '0 to 15 m/s', origin: `a flight that leaned a few degrees; ${HABIT}` },
		range: { min: 0, max: 600 },
		when: { choice: 'sidewaysAs', is: ['speed'] },
		help: 'Ground speed less the wind. The ascent gives it for a rod that leaned.'
	},
	{
		kind: 'quantity',
		id: 'burnoutSpeed',
		label: 'Speed at burnout',
		fromRuns: [{ calculation: 'ascent', output: 'burnoutSpeed' }],
		dimension: 'speed',
		unit: 'm/s',
		range: { above: 0, max: 1400 },
		when: { choice: 'sidewaysAs', is: ['angle'] },
		spread: { text: '5 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'burnoutAngle',
		label: 'Angle from upright at burnout',
		dimension: 'angle',
		unit: '°',
		range: { min: 0, max: 1.4 },
		when: { choice: 'sidewaysAs', is: ['angle'] },
		spread: { text: '2 °', origin: HABIT }
	},
	...AIR
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;

export const OBSERVED = [
	{
		kind: 'quantity',
		id: 'speed',
		label: 'Speed at deployment recorded',
		dimension: 'speed',
		unit: 'm/s',
		range: { min: 0, max: 1500 },
		spread: { text: '3 m/s', origin: HABIT },
		help: 'Through the air.'
	},
	{
		kind: 'quantity',
		id: 'heightLost',
		label: 'Height below apogee at deployment',
		dimension: 'length',
		unit: 'm',
		range: { min: 0, max: 35_000 },
		spread: { text: '5 m', origin: `two readings of one barometric recorder; ${HABIT}` },
		help: 'On the way up or down alike.'
	}
] as const satisfies readonly Field[];
