import { THREADS } from '$lib/physics/thread';
import { HABIT, type Field, type ValuesOf } from '../calculation';
import { AIR } from '../through-wind';

/** A smooth rod in place of a screw. */
export const ROD = 'rod';

const JOINT = [
	{
		kind: 'choice',
		id: 'pin',
		label: 'Shear pins are',
		options: [
			{ id: 'none', label: 'none: friction alone' },
			...Object.keys(THREADS).map((id) => ({ id, label: `screws ${id}, threads across the joint` })),
			{ id: ROD, label: 'smooth rods' }
		],
		default: { text: 'none', origin: 'until one is chosen' }
	},
	{
		kind: 'quantity',
		id: 'rod',
		label: 'Diameter of the rod',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { above: 0, max: 0.02 },
		spread: { text: '2 %', origin: HABIT },
		when: { choice: 'pin', is: [ROD] }
	},
	{
		kind: 'quantity',
		id: 'pins',
		label: 'Number of pins',
		dimension: 'ratio',
		unit: '1',
		required: true,
		range: { min: 1, max: 24 },
		when: { choice: 'pin', is: [ROD, ...Object.keys(THREADS)] }
	},
	{
		kind: 'quantity',
		id: 'pinShear',
		label: 'Shear strength of a pin’s material',
		dimension: 'pressure',
		unit: 'MPa',
		default: {
			text: '38 to 71 MPa',
			origin:
				'nylon 6/6: 43 (0.6 of its tensile strength; hobby article, seen) to 66 (a resin maker, from memory), widened to 30 % either way for cold, dry, hot and damp'
		},
		range: { above: 0, max: 1e9 },
		spread: { text: '18 %', origin: `30 % either way in 90 of 100, cold and dry to hot and damp; ${HABIT}` },
		help: 'In shear, not in tension.',
		when: { choice: 'pin', is: [ROD, ...Object.keys(THREADS)] }
	},
	{
		kind: 'quantity',
		id: 'pinScatter',
		label: 'Difference from pin to pin',
		dimension: 'ratio',
		unit: '1',
		default: { text: '8 %', origin: HABIT },
		range: { min: 0, max: 1 },
		help: 'One standard deviation, beside what all of them share.',
		when: { choice: 'pin', is: [ROD, ...Object.keys(THREADS)] }
	},
	{
		kind: 'quantity',
		id: 'friction',
		label: 'Friction of the joint',
		dimension: 'force',
		unit: 'N',
		default: { text: '5 to 40 N', origin: `it slides when shaken; ${HABIT}` },
		range: { min: 0, max: 1e5 },
		spread: { text: '30 %', origin: HABIT },
		help: 'Pull the empty sections apart with a spring scale, without pins or charge.'
	}
] as const satisfies readonly Field[];

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'charge',
		label: 'Mass of the charge that was used',
		dimension: 'mass',
		unit: 'g',
		required: true,
		range: { above: 0, max: 0.1 },
		spread: { text: '5 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'bore',
		label: 'Diameter on which the gas pushes',
		dimension: 'length',
		unit: 'mm',
		required: true,
		range: { above: 0, max: 1 },
		help: 'Inside diameter, or that of the bulkhead.'
	},
	{
		kind: 'quantity',
		id: 'volume',
		label: 'Free volume of the bay',
		dimension: 'volume',
		unit: 'L',
		required: true,
		range: { above: 0, max: 1 },
		spread: { text: '15 %', origin: `cloth and cord take some of it, gas gets into them; ${HABIT}` },
		help: 'Without what the packed parachute and cord displace.'
	},
	...JOINT,
	{
		kind: 'quantity',
		id: 'worth',
		label: 'What the charge was worth: pressure times volume per mass',
		dimension: 'specific energy',
		unit: 'kJ/kg',
		default: {
			text: '30.2 to 271.6 kJ/kg',
			origin: 'black powder, cold gas to no heat lost; Davis, p. 43, gas volume seen'
		},
		range: { above: 0, max: 2e6 },
		spread: { text: '20 %', origin: HABIT },
		help: 'The whole bracket unless a recorded pressure says better; the trade takes 219.'
	},
	{
		kind: 'choice',
		id: 'substance',
		label: 'The charge was',
		options: [
			{ id: 'black-powder', label: 'black powder' },
			{ id: 'other', label: 'a substitute or something else' }
		],
		default: { text: 'black-powder', origin: 'the most common' }
	},
	{
		kind: 'choice',
		id: 'bay',
		label: 'The bay was',
		options: [
			{ id: 'vented', label: 'vented to the outside' },
			{ id: 'sealed', label: 'sealed since the pad' }
		],
		default: { text: 'vented', origin: 'a static vent is usual' }
	},
	{
		kind: 'quantity',
		id: 'height',
		label: 'Height above the pad when it fired',
		dimension: 'length',
		unit: 'm',
		role: 'apogee height',
		default: { text: '0 m', origin: 'near the ground' },
		range: { min: -500, max: 30_000 }
	},
	{
		kind: 'quantity',
		id: 'massA',
		label: 'Mass of the one section',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of a piece',
		range: { above: 0, max: 1000 },
		spread: { text: '5 %', origin: HABIT },
		help: 'For the speed with which they part. Blank: not computed.'
	},
	{
		kind: 'quantity',
		id: 'massB',
		label: 'Mass of the other section',
		dimension: 'mass',
		unit: 'kg',
		role: 'mass of a piece',
		range: { above: 0, max: 1000 },
		spread: { text: '5 %', origin: HABIT }
	},
	{
		kind: 'quantity',
		id: 'stroke',
		label: 'Engaged length of the joint',
		dimension: 'length',
		unit: 'mm',
		range: { above: 0, max: 2 },
		help: 'How far they slide before the joint is out.'
	},
	{
		kind: 'quantity',
		id: 'gamma',
		label: 'Ratio of specific heats of the gas',
		dimension: 'ratio',
		unit: '1',
		default: { text: '1.2 ± 0.05', origin: 'hot powder gas; from memory' },
		range: { above: 1, max: 1.67 }
	},
	...AIR
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;
