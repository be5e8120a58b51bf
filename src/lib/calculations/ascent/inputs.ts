import { WIND_AND_AIR } from '../through-wind';
import { HABIT, type Field, type ValuesOf } from '../calculation';

const [WIND, ...REST] = WIND_AND_AIR;

const VEHICLE = [
	{
		kind: 'quantity',
		id: 'liftoffMass',
		label: 'Mass ready to fly, propellant and all',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of the vehicle',
		required: true,
		range: { above: 0, max: 10_000 },
		spread: { text: '1 %', origin: `weighed whole; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'propellantMass',
		label: 'Mass of propellant in it',
		dimension: 'mass',
		unit: 'kg',
		required: true,
		range: { min: 0, max: 8000 },
		spread: { text: '2 %', origin: `weighed grains; ${HABIT}` },
		help: 'Burnt in step with the impulse.'
	},
	{
		kind: 'choice',
		id: 'motorAs',
		label: 'The motor is known by',
		options: [
			{ id: 'totals', label: 'total impulse and burn time' },
			{ id: 'curve', label: 'its thrust curve' }
		],
		default: { text: 'totals', origin: 'the least that is known of a motor' }
	},
	{
		kind: 'quantity',
		id: 'totalImpulse',
		label: 'Total impulse',
		dimension: 'impulse',
		unit: 'N·s',
		range: { above: 0, max: 2e6 },
		when: { choice: 'motorAs', is: ['totals'] }
	},
	{
		kind: 'quantity',
		id: 'burnTime',
		label: 'Burn time',
		fromRuns: [{ calculation: 'chamber-pressure', output: 'burnTime' }],
		dimension: 'time',
		unit: 's',
		role: 'burn time',
		range: { above: 0, max: 200 },
		when: { choice: 'motorAs', is: ['totals'] }
	},
	{
		kind: 'choice',
		id: 'thrustShape',
		label: 'Form of the thrust',
		options: [
			{ id: 'even', label: 'even' },
			{ id: 'falling', label: 'falling, from 1.5 to 0.6 of its mean' },
			{ id: 'rising', label: 'rising, from 0.6 to 1.5 of its mean' }
		],
		default: { text: 'even', origin: HABIT },
		when: { choice: 'motorAs', is: ['totals'] }
	},
	{
		kind: 'list',
		id: 'thrust',
		label: 'Thrust curve',
		item: 'point of the thrust curve',
		min: 0,
		max: 500,
		ascending: 'time',
		help: 'Straight lines between the points, from ignition to the end of the burn.',
		when: { choice: 'motorAs', is: ['curve'] },
		fields: [
			{
				kind: 'quantity',
				id: 'time',
				label: 'time after ignition',
				dimension: 'time',
				unit: 's',
				required: true,
				range: { min: 0, max: 200 }
			},
			{
				kind: 'quantity',
				id: 'force',
				label: 'thrust',
				dimension: 'force',
				unit: 'N',
				required: true,
				range: { min: 0, max: 1e6 }
			}
		]
	},
	{
		kind: 'quantity',
		id: 'impulseFactor',
		label: 'Impulse delivered over what is stated',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1 ± 0.05', origin: `from one home-made motor to the next; ${HABIT}` },
		range: { above: 0, max: 3 }
	},
	{
		kind: 'quantity',
		id: 'timeFactor',
		label: 'Burn time over what is stated',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1 ± 0.05', origin: `from one home-made motor to the next; ${HABIT}` },
		range: { min: 0.2, max: 5 }
	},
	{
		kind: 'quantity',
		id: 'diameter',
		label: 'Greatest diameter of the body',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { above: 0, max: 2 },
		help: 'The drag coefficient stands on its circle.'
	},
	{
		kind: 'quantity',
		id: 'dragCoefficient',
		label: 'Drag coefficient in slow flight',
		dimension: 'ratio',
		unit: '1',
		default: { text: '0.5', origin: `slender, smooth, with fins; ${HABIT}` },
		range: { above: 0, max: 5 },
		help: 'Taken at every speed, unless you give a table.'
	},
	{
		kind: 'list',
		id: 'dragTable',
		label: 'Drag coefficient by Mach number',
		item: 'point of the drag table',
		min: 0,
		max: 100,
		ascending: 'mach',
		help: 'Goes before the one number. Straight lines between the points, constant outside them.',
		fields: [
			{
				kind: 'quantity',
				id: 'mach',
				label: 'Mach number',
				dimension: 'ratio',
				unit: '1',
				required: true,
				range: { min: 0, max: 10 }
			},
			{
				kind: 'quantity',
				id: 'coefficient',
				label: 'drag coefficient',
				dimension: 'ratio',
				unit: '1',
				required: true,
				range: { above: 0, max: 5 }
			}
		]
	},
	{
		kind: 'quantity',
		id: 'dragFactor',
		label: 'Drag as built over what is stated',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1 ± 0.12', origin: `a drag that was computed, not measured; ${HABIT}` },
		range: { above: 0, max: 5 }
	},
	{
		kind: 'quantity',
		id: 'rodLength',
		label: 'Length over which rod or rail guides it',
		dimension: 'length',
		unit: 'm',
		default: { text: '1.5 m', origin: HABIT },
		range: { above: 0, max: 50 },
		help: 'Until the last guide leaves it.'
	},
	{
		kind: 'quantity',
		id: 'rodAngle',
		label: 'Angle of the rod from upright',
		dimension: 'angle',
		unit: '°',
		default: { text: '0 °', origin: 'upright' },
		range: { min: 0, max: Math.PI / 3 }
	},
	{
		kind: 'quantity',
		id: 'rodToward',
		label: 'Direction it leans toward, true',
		dimension: 'angle',
		unit: '°',
		default: { text: '0 °', origin: 'north, for want of the true one' },
		range: { min: -2 * Math.PI, max: 4 * Math.PI }
	}
] as const satisfies readonly Field[];

export const INPUTS = [
	...VEHICLE,
	{ ...WIND, min: 0, help: `${WIND.help} None: still air.` },
	...REST,
	{
		kind: 'quantity',
		id: 'ordinaryShare',
		label: 'Share of the computed apogee that an ordinary flight reaches',
		dimension: 'ratio',
		unit: '1',
		default: {
			text: '0.94 ± 0.05',
			origin: `a flight with nothing wrong falls 0 to 15 % short of a simulation; ${HABIT}`
		},
		range: { min: 0.3, max: 1.3 },
		help: 'Rail friction, wobble, roughness, a lean that nobody saw. Replace it by your own flights against your own simulations.'
	},
	{
		kind: 'quantity',
		id: 'simulatedApogee',
		label: 'Apogee that was expected before the flight',
		dimension: 'length',
		unit: 'm',
		role: 'apogee height',
		range: { above: 0, max: 40_000 },
		help: 'Of another program or a table, to compare with. Nothing is computed from it.'
	},
	{
		kind: 'quantity',
		id: 'moment',
		label: 'Moment to look at, after lift-off',
		dimension: 'time',
		unit: 's',
		range: { min: 0, max: 1000 },
		help: 'For height and speed then. After apogee it is taken to fall nose first with the same drag.'
	}
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;

export const OBSERVED = [
	{
		kind: 'quantity',
		id: 'apogee',
		label: 'Apogee recorded or measured, above the pad',
		dimension: 'length',
		unit: 'm',
		range: { min: 0, max: 40_000 },
		spread: { text: '3 %', origin: `barometric height put right for the day’s temperature; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'timeToApogee',
		label: 'Time from lift-off to apogee',
		dimension: 'time',
		unit: 's',
		range: { above: 0, max: 1000 },
		spread: { text: '0.5 s', origin: `read from a record or a video; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'maxSpeed',
		label: 'Greatest speed recorded',
		dimension: 'speed',
		unit: 'm/s',
		range: { above: 0, max: 3000 },
		spread: { text: '5 %', origin: `an accelerometer integrated over the burn; ${HABIT}` }
	}
] as const satisfies readonly Field[];
