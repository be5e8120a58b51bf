import type { HAZARD_KINDS, Hazard, Part, Site } from '$lib/investigation/schema/record';
import type { EXPECTED_KINDS } from '$lib/investigation/schema/record';
import type { TimelineEntry, Clock } from '$lib/investigation/schema/places-and-times';
import type { Dimension } from '$lib/quantity/dimensions';

const options = <T extends string>(words: Record<T, string>) =>
	(Object.entries(words) as [T, string][]).map(([value, label]) => ({ value, label }));

export const HAZARD_WORDS: Record<(typeof HAZARD_KINDS)[number], string> = {
	charge: 'ejection charge',
	igniter: 'igniter',
	propellant: 'unburnt propellant',
	cell: 'cell or battery',
	pressurised: 'pressurised part',
	hot: 'hot part',
	sharp: 'sharp or sprung part',
	other: 'other'
};

/** The usual caution for each kind of hazard. Common practice, no source; the range's code and the law prevail. */
export const HAZARD_CAUTIONS: Record<(typeof HAZARD_KINDS)[number], string> = {
	charge:
		'Treat it as live. Nobody in line with it or with what it would throw; electronics off before anything is touched.',
	igniter:
		'Treat it as live. Keep radios and static away from its leads; shunt them only if your range’s code has you do it.',
	propellant:
		'No flame, spark or tool that makes heat. Wait as long as the range’s code says, and then longer.',
	cell: 'A bent, punctured, warm or swollen lithium cell can burn hours later. Keep it outdoors, away from everything that burns, and watch it.',
	pressurised: 'Do not loosen a fitting that may hold pressure. Stand out of its line.',
	hot: 'A motor case or nozzle is hot long after it looks cold, and dry grass under it may smoulder.',
	sharp: 'Torn fibre laminate, metal and loaded springs cut. Gloves and eye protection before you kneel.',
	other: 'Say in the notes what can happen and what keeps people from it.'
};

export const HAZARD_STATES: Record<Hazard['state'], string> = {
	notKnown: 'not known to be safe',
	safe: 'safe',
	notRecovered: 'not recovered'
};

export const OUTCOMES: Record<NonNullable<Part['outcome']>, string> = {
	recovered: 'recovered',
	missing: 'missing',
	destroyed: 'destroyed'
};

export const NEXT: Record<NonNullable<Part['next']>, string> = {
	flyAgain: 'fly again',
	repair: 'repair',
	test: 'test',
	retire: 'retire',
	keepAsEvidence: 'keep as evidence'
};

export const TOLD: Record<Site['told'][number]['who'], string> = {
	range: 'range',
	club: 'club',
	authority: 'authority',
	owner: 'owner of the land',
	emergency: 'emergency service',
	other: 'other'
};

export const EXPECTED: Record<
	(typeof EXPECTED_KINDS)[number],
	{ words: string; dimension: Dimension | 'any'; unit: string; example: string }
> = {
	apogee: { words: 'apogee above the pad', dimension: 'length', unit: 'm', example: '640 ± 40 m' },
	timeToApogee: { words: 'time to apogee', dimension: 'time', unit: 's', example: '11.5 s' },
	maxSpeed: { words: 'greatest speed', dimension: 'speed', unit: 'm/s', example: '140 m/s' },
	burnTime: { words: 'burn time', dimension: 'time', unit: 's', example: '2.1 s' },
	drogueRate: { words: 'descent rate under drogue', dimension: 'speed', unit: 'm/s', example: '22 m/s' },
	mainHeight: { words: 'height of main deployment', dimension: 'length', unit: 'm', example: '200 m' },
	mainRate: { words: 'descent rate under main', dimension: 'speed', unit: 'm/s', example: '6 m/s' },
	descentTime: { words: 'time from apogee to landing', dimension: 'time', unit: 's', example: '55 ± 5 s' },
	other: { words: 'something else', dimension: 'any', unit: '', example: '12 ± 1 N' }
};

export const SURE: Record<TimelineEntry['sure'], string> = {
	certain: 'certain',
	likely: 'likely',
	unsure: 'unsure'
};
export const ENTRY_BASIS: Record<TimelineEntry['basis'], string> = {
	observed: 'seen or heard',
	recorded: 'recorded by an instrument',
	reported: 'reported by somebody',
	derived: 'derived',
	assumed: 'assumed'
};
export const CLOCK_KINDS: Record<Clock['kind'], string> = {
	phone: 'phone',
	camera: 'camera',
	recorder: 'recorder',
	watch: 'watch',
	memory: 'memory',
	other: 'other'
};

export const choices = options;
