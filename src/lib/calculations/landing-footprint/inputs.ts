import { HABIT, type Field, type ValuesOf } from '../calculation';
import { WIND_AND_AIR } from '../through-wind';

const RATE_SPREAD = { text: '15 %', origin: `drag of a canopy or of a tumbling body; ${HABIT}` };

function rate<const Id extends string>(id: Id, label: string, help: string) {
	return {
		kind: 'quantity',
		id,
		label,
		dimension: 'speed',
		unit: 'm/s',
		range: { above: 0, max: 400 },
		spread: RATE_SPREAD,
		help: `In air of sea-level density (1.225 kg/m³). ${help}`
	} as const;
}

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'apogeeHeight',
		label: 'Apogee above the pad',
		fromRuns: [{ calculation: 'ascent', output: 'ordinaryApogee' }],
		dimension: 'length',
		unit: 'm',
		role: 'apogee height',
		required: true,
		range: { above: 0, max: 30_000 },
		spread: { text: '5 %', origin: `barometric height without the day’s temperature; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'apogeeEast',
		label: 'Apogee east of the pad',
		fromRuns: [{ calculation: 'ascent', output: 'east' }],
		dimension: 'length',
		unit: 'm',
		default: { text: '0 ± 30 m', origin: `straight above the pad; ${HABIT}` },
		range: { min: -30_000, max: 30_000 },
		spread: { text: '30 m', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'apogeeNorth',
		label: 'Apogee north of the pad',
		fromRuns: [{ calculation: 'ascent', output: 'north' }],
		dimension: 'length',
		unit: 'm',
		default: { text: '0 ± 30 m', origin: `straight above the pad; ${HABIT}` },
		range: { min: -30_000, max: 30_000 },
		spread: { text: '30 m', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'groundSpeed',
		label: 'Horizontal speed over the ground at apogee',
		fromRuns: [{ calculation: 'ascent', output: 'apogeeSpeed' }],
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '0 to 15 m/s', origin: HABIT },
		range: { min: 0, max: 1000 }
	},
	{
		kind: 'quantity',
		id: 'heading',
		label: 'Direction of that speed, toward',
		dimension: 'angle',
		unit: '°',
		range: { min: -2 * Math.PI, max: 4 * Math.PI },
		help: 'Blank: any direction is equally probable, and the nominal result takes no speed.'
	},
	{
		kind: 'quantity',
		id: 'mainHeight',
		label: 'Height at which the main opens, above the pad',
		dimension: 'length',
		unit: 'm',
		role: 'main deployment height',
		range: { min: 0, max: 30_000 }
	},
	{
		...rate('drogueRate', 'Descent rate under the drogue', 'Needed for the plan and for drogue only.'),
		role: 'descent rate under drogue'
	},
	{
		...rate('mainRate', 'Descent rate under the main', 'Needed for the plan and for main at apogee.'),
		role: 'descent rate under main'
	},
	rate(
		'bareRate',
		'Speed with no parachute at all',
		'Steady speed of the tumbling or nose-down vehicle; blank leaves this scenario out.'
	),
	rate('separatedRate', 'Speed of the piece by itself, once separated', 'Blank leaves this scenario out.'),
	rate(
		'tangledRate',
		'Descent rate with a tangled parachute',
		'Blank: anything from the main’s rate to no parachute is equally probable, by ratio.'
	),
	...WIND_AND_AIR
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;

const PLACE = {
	kind: 'quantity',
	dimension: 'length',
	unit: 'm',
	range: { min: -200_000, max: 200_000 },
	spread: {
		text: '3.3 m',
		origin: 'a phone fix of 4.9 m (68 %); GPS.gov after van Diggelen and Enge 2015, from memory'
	}
} as const;
export const OBSERVED = [
	{ ...PLACE, id: 'east', label: 'Found east of the pad', role: 'offset from the pad' },
	{ ...PLACE, id: 'north', label: 'Found north of the pad', role: 'offset from the pad' },
	{
		kind: 'quantity',
		id: 'descentTime',
		label: 'Time from apogee to landing',
		dimension: 'time',
		unit: 's',
		role: 'descent time',
		range: { above: 0, max: 100_000 },
		spread: { text: '2 s', origin: `hand-timed or read from a video; ${HABIT}` }
	}
] as const satisfies readonly Field[];
