import { HABIT, type Field, type ValuesOf } from '../calculation';
import { AIR } from '../through-wind';

const distance = <const Id extends string>(id: Id, label: string, help: string) =>
	({
		kind: 'quantity',
		id,
		label,
		dimension: 'length',
		unit: 'm',
		range: { min: 0, max: 50_000 },
		spread: { text: '3 %', origin: `paced, or read from a map; ${HABIT}` },
		help
	}) as const;

/** Places above the pad: how far the pad is must be known too. */
const HEIGHT = {
	idleWithout: 'padDistance',
	spread: { text: '3 %', origin: `of heights by air pressure; ${HABIT}` }
} as const;

export const INPUTS = [
	{
		kind: 'quantity',
		id: 'delay',
		label: 'Time from seeing it to hearing it',
		dimension: 'time',
		unit: 's',
		range: { above: 0, max: 150 },
		help: 'For the distance. Blank: the delay to expect from each place given below. To weigh where it came from, give it under what was observed.'
	},
	{
		kind: 'quantity',
		id: 'height',
		label: 'Height of the event above the listener',
		dimension: 'length',
		unit: 'm',
		default: { text: '0 m', origin: 'on the ground' },
		range: { min: 0, max: 30_000 },
		spread: { text: '10 %', origin: HABIT }
	},
	{
		kind: 'choice',
		id: 'timedBy',
		label: 'Timed by',
		options: [
			{ id: 'video', label: 'a video with sound' },
			{ id: 'hand', label: 'hand, or counting' }
		],
		default: { text: 'video', origin: 'what can be looked at again' }
	},
	{
		kind: 'quantity',
		id: 'frameRate',
		label: 'Pictures a second',
		dimension: 'frequency',
		unit: 'Hz',
		default: { text: '30 Hz', origin: HABIT },
		range: { min: 1, max: 2000 },
		when: { choice: 'timedBy', is: ['video'] }
	},
	{
		kind: 'quantity',
		id: 'syncError',
		label: 'Sound late against the picture in the file',
		dimension: 'time',
		unit: 'ms',
		default: { text: '0 ± 40 ms', origin: `phones as they come; ${HABIT}` },
		range: { min: -1, max: 1 },
		when: { choice: 'timedBy', is: ['video'] },
		help: 'Clap before the camera from a metre away and look.'
	},
	{
		kind: 'quantity',
		id: 'reactionError',
		label: 'Reaction to the sound less that to the sight',
		dimension: 'time',
		unit: 's',
		default: { text: '0 ± 0.2 s', origin: `each reaction takes 0.2 to 0.3 s; ${HABIT}` },
		range: { min: -2, max: 2 },
		when: { choice: 'timedBy', is: ['hand'] }
	},
	{
		kind: 'quantity',
		id: 'seenLate',
		label: 'It was seen later than it happened, by',
		dimension: 'time',
		unit: 's',
		default: { text: '0 s', origin: 'seen at once' },
		range: { min: 0, max: 10 },
		help: 'As where smoke was seen and not the flash: the event was then farther away.'
	},
	{
		kind: 'quantity',
		id: 'windAlong',
		label: 'Wind along the path, toward the listener',
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '0 ± 3 m/s', origin: `a breeze from anywhere; ${HABIT}` },
		range: { min: -60, max: 60 }
	},
	...AIR,
	distance('padDistance', 'Listener to the pad, along the ground', 'For what happened on or above the pad.'),
	{
		...distance('deploymentHeight', 'Height of the planned deployment', 'Above the listener.'),
		...HEIGHT,
		role: 'main deployment height'
	},
	{
		...distance('apogeeHeight', 'Height of apogee', 'Above the listener.'),
		...HEIGHT,
		role: 'apogee height'
	},
	distance('impactDistance', 'Listener to where it hit the ground', 'For a bang at impact.')
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;

export const OBSERVED = [
	{
		kind: 'quantity',
		id: 'delay',
		label: 'Delay from sight to sound, to weigh where it came from',
		dimension: 'time',
		unit: 's',
		range: { above: 0, max: 150 },
		spread: { text: '0.03 s', origin: `besides what is asked for above; ${HABIT}` }
	}
] as const satisfies readonly Field[];
