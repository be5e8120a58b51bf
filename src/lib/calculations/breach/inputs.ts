import { HABIT, type Field, type ValuesOf } from '../calculation';

const WITH_PATH = { choice: 'scope', is: ['path'] } as const;

export const INPUTS = [
	{
		kind: 'choice',
		id: 'told',
		label: 'The hole is',
		options: [
			{ id: 'round', label: 'round: its diameter' },
			{ id: 'other', label: 'of another shape: its area' }
		],
		default: { text: 'round', origin: 'a burn-through' }
	},
	{
		kind: 'quantity',
		id: 'hole',
		label: 'Diameter of the hole',
		dimension: 'length',
		unit: 'mm',
		required: true,
		when: { choice: 'told', is: ['round'] },
		range: { above: 0, max: 0.5 },
		spread: { text: '10 %', origin: `edges of a burnt or torn hole; ${HABIT}` },
		help: 'As found. It grew until the burn ended: earlier it was smaller.'
	},
	{
		kind: 'quantity',
		id: 'holeArea',
		label: 'Area of the hole',
		dimension: 'area',
		unit: 'mm²',
		required: true,
		when: { choice: 'told', is: ['other'] },
		range: { above: 0, max: 0.2 },
		spread: { text: '20 %', origin: `edges of a burnt or torn hole; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'discharge',
		label: 'Share of the hole that flows',
		dimension: 'ratio',
		unit: '1',
		default: { text: '0.6 to 0.9', origin: `sharp or rough holes; ${HABIT}` },
		range: { above: 0, max: 1 }
	},
	{
		kind: 'quantity',
		id: 'pressure',
		label: 'Chamber pressure without the hole, absolute',
		fromRuns: [{ calculation: 'chamber-pressure', output: 'mean' }],
		dimension: 'pressure',
		unit: 'MPa',
		required: true,
		range: { above: 0, max: 1e8 },
		spread: { text: '10 %', origin: `computed, not recorded; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'throat',
		label: 'Throat diameter',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { above: 0, max: 1 },
		spread: { text: '1 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'exponent',
		label: 'Pressure exponent n of the burning rate',
		dimension: 'ratio',
		unit: '1',
		required: true,
		range: { min: -0.5, max: 2 },
		spread: { text: '0.02', origin: `fit of strand or motor tests; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'heatRatio',
		label: 'Heat-capacity ratio k of the gas',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1.18 ± 0.04', origin: `1.13 to 1.25 for solid propellants; ${HABIT}` },
		range: { above: 1, max: 1.6 }
	},
	{
		kind: 'quantity',
		id: 'outside',
		label: 'Air pressure outside',
		dimension: 'pressure',
		unit: 'kPa',
		default: { text: '95 ± 5 kPa', origin: 'up to about 1 km' },
		range: { min: 0, max: 110_000 }
	},
	{
		kind: 'quantity',
		id: 'expansion',
		label: 'Exit area of the nozzle over its throat area',
		dimension: 'ratio',
		unit: '1',
		range: { min: 1, max: 100 },
		help: 'Blank: thrust is taken to go with the pressure.'
	},
	{
		kind: 'choice',
		id: 'scope',
		label: 'To be computed',
		options: [
			{ id: 'force', label: 'force and loss only' },
			{ id: 'path', label: 'what it did to the path, too' }
		],
		default: { text: 'force', origin: 'the path needs inertia and normal force of the vehicle' }
	},
	{
		kind: 'quantity',
		id: 'thrust',
		required: true,
		when: WITH_PATH,
		label: 'Mean thrust without the hole',
		dimension: 'force',
		unit: 'N',
		range: { above: 0, max: 1e6 },
		spread: { text: '5 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'burnTime',
		required: true,
		when: WITH_PATH,
		label: 'Burn time',
		fromRuns: [{ calculation: 'chamber-pressure', output: 'burnTime' }],
		dimension: 'time',
		unit: 's',
		range: { above: 0, max: 120 },
		spread: { text: '5 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'burnoutSpeed',
		required: true,
		when: WITH_PATH,
		label: 'Speed at burnout',
		fromRuns: [{ calculation: 'ascent', output: 'burnoutSpeed' }],
		dimension: 'speed',
		unit: 'm/s',
		range: { above: 0, max: 1500 },
		spread: { text: '5 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'railSpeed',
		when: WITH_PATH,
		label: 'Speed at the end of the rail',
		fromRuns: [{ calculation: 'ascent', output: 'rodExitSpeed' }],
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '18 ± 3 m/s', origin: HABIT },
		range: { above: 0, max: 200 },
		help: 'Until then the rail holds it.'
	},
	{
		kind: 'quantity',
		id: 'mass',
		required: true,
		when: WITH_PATH,
		label: 'Mass of the vehicle at mid-burn',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of the vehicle',
		range: { above: 0, max: 10_000 },
		spread: { text: '3 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'inertia',
		required: true,
		when: WITH_PATH,
		label: 'Pitch moment of inertia',
		dimension: 'moment of inertia',
		unit: 'kg·m²',
		range: { above: 0, max: 1e6 },
		spread: { text: '10 %', origin: HABIT },
		help: 'About an axis across the vehicle through its centre of gravity. A uniform rod: mass × length² / 12.'
	},
	{
		kind: 'quantity',
		id: 'behind',
		required: true,
		when: WITH_PATH,
		label: 'Hole behind the centre of gravity by',
		dimension: 'length',
		unit: 'm',
		range: { min: -20, max: 20 },
		spread: { text: '0.02 m', origin: HABIT },
		help: 'Along the axis; negative where it is ahead.'
	},
	{
		kind: 'quantity',
		id: 'margin',
		required: true,
		when: WITH_PATH,
		label: 'Static margin: centre of pressure behind the centre of gravity by',
		dimension: 'length',
		unit: 'm',
		range: { above: 0, max: 20 },
		spread: { text: '20 %', origin: HABIT },
		help: 'A length, not calibers.'
	},
	{
		kind: 'quantity',
		id: 'diameter',
		required: true,
		when: WITH_PATH,
		label: 'Reference diameter',
		dimension: 'length',
		unit: 'mm',
		range: { above: 0, max: 3 }
	},
	{
		kind: 'quantity',
		id: 'forceSlope',
		required: true,
		when: WITH_PATH,
		label: 'Slope of the normal-force coefficient, all of the vehicle',
		dimension: 'force slope',
		unit: '1/rad',
		range: { above: 0, max: 200 },
		spread: { text: '15 %', origin: HABIT },
		help: 'On the area of the reference diameter.'
	},
	{
		kind: 'quantity',
		id: 'damping',
		when: WITH_PATH,
		label: 'Damping ratio of the pitch oscillation',
		dimension: 'ratio',
		unit: '1',
		default: { text: '0.1 ± 0.04', origin: HABIT },
		range: { min: 0, max: 1 }
	},
	{
		kind: 'quantity',
		id: 'rollRate',
		when: WITH_PATH,
		label: 'Roll rate',
		dimension: 'angular rate',
		unit: '°/s',
		default: { text: '0 to 360 °/s', origin: `not known; ${HABIT}` },
		range: { min: 0, max: 300 },
		help: 'Roll turns the force with the vehicle and averages it out.'
	},
	{
		kind: 'quantity',
		id: 'airDensity',
		when: WITH_PATH,
		label: 'Air density during the burn',
		dimension: 'density',
		unit: 'kg/m³',
		default: { text: '1.15 ± 0.05 kg/m³', origin: 'up to about 1 km on a mild day' },
		range: { above: 0, max: 1.6 }
	},
	{
		kind: 'quantity',
		id: 'ordinary',
		when: WITH_PATH,
		label: 'Turn that a sound flight shows anyway, each axis',
		dimension: 'angle',
		unit: '°',
		default: { text: '3°', origin: `wind, thrust and fin misalignment; ${HABIT}` },
		range: { above: 0, max: 1 },
		help: 'One standard deviation. From earlier flights, if there were any.'
	},
	{
		kind: 'quantity',
		id: 'openedAt',
		when: WITH_PATH,
		label: 'Time after ignition at which it opened',
		dimension: 'time',
		unit: 's',
		range: { min: 0, max: 120 },
		help: 'Blank if it is what you want to know; the path is then shown for the end of the rail.'
	}
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;

export const OBSERVED = [
	{
		kind: 'quantity',
		id: 'turn',
		label: 'Turn of the path from the start to burnout',
		dimension: 'angle',
		unit: '°',
		range: { min: 0, max: Math.PI },
		spread: { text: '3°', origin: `read from a video; ${HABIT}` },
		help: '0 if it went straight.'
	},
	{
		kind: 'quantity',
		id: 'drift',
		label: 'Distance at burnout from where it would have been',
		dimension: 'length',
		unit: 'm',
		range: { min: 0, max: 30_000 },
		spread: { text: '10 m', origin: HABIT },
		help: 'Across the first direction of flight, wind taken off.'
	},
	{
		kind: 'choice',
		id: 'side',
		label: 'to which side',
		options: [
			{ id: 'not known', label: 'not known' },
			{ id: 'toward', label: 'toward the side where the hole is' },
			{ id: 'away', label: 'away from the side where the hole is' }
		],
		default: { text: 'not known', origin: 'most often nobody saw' }
	}
] as const satisfies readonly Field[];
