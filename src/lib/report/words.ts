/** How the report says what the case keeps as keys. The words of dispositions, conclusions and changes are fixed. */
export const HAZARD_STATE = {
	safe: 'safe',
	notKnown: 'not known',
	notRecovered: 'not recovered'
} as const;

export const PART_OUTCOME = {
	recovered: 'recovered',
	missing: 'missing',
	destroyed: 'destroyed',
	notSaid: 'not accounted for'
} as const;

export const PART_NEXT = {
	flyAgain: 'fly again',
	repair: 'repair',
	test: 'test',
	retire: 'retire',
	keepAsEvidence: 'keep as evidence'
} as const;

export const TOLD = {
	range: 'range',
	club: 'club',
	authority: 'authority',
	owner: 'owner of the land',
	emergency: 'emergency services',
	other: 'other'
} as const;

export const ANSWER = { yes: 'yes', no: 'no', notKnown: 'not known' } as const;

export const EXPECTED = {
	apogee: 'Apogee above the pad',
	timeToApogee: 'Time to apogee',
	maxSpeed: 'Greatest speed',
	burnTime: 'Burn time',
	drogueRate: 'Descent rate under the drogue',
	mainHeight: 'Height of main deployment',
	mainRate: 'Descent rate under the main',
	descentTime: 'Descent time',
	other: 'Other'
} as const;

export const EVIDENCE_KIND = {
	piece: 'found piece',
	photo: 'photo',
	reading: 'reading',
	measurement: 'measurement',
	statement: 'statement',
	test: 'test',
	absence: 'absence'
} as const;

export const EVIDENCE_STATE = { asFound: 'as found', disturbed: 'disturbed', notKnown: 'not known' } as const;

export const SEARCH = {
	glance: 'a glance',
	walkedOver: 'walked over',
	gridSearch: 'searched in lines',
	takenApart: 'taken apart'
} as const;

export const TEST_KIND = {
	groundCharge: 'ground charge test',
	staticFiring: 'static firing',
	pull: 'pull test',
	vacuum: 'vacuum test',
	other: 'test'
} as const;

export const PHASE = {
	ground: 'on the ground',
	boost: 'boost',
	coast: 'coast',
	apogee: 'apogee',
	descent: 'descent',
	landing: 'landing',
	recovery: 'recovery',
	notKnown: 'not known'
} as const;

export const GATE = {
	or: 'OR',
	and: 'AND',
	atLeast: 'at least',
	xor: 'exclusive OR',
	inhibit: 'inhibit',
	priorityAnd: 'priority AND',
	not: 'NOT'
} as const;

export const EVENT_KIND = {
	intermediate: '',
	basic: 'basic event',
	undeveloped: 'undeveloped event',
	house: 'house event',
	conditioning: 'conditioning event'
} as const;

export const FINDING_STATE = {
	present: 'present',
	absent: 'absent',
	notExamined: 'not examined'
} as const;

export const WEIGHT_BASIS = {
	guess: 'guess',
	commonPractice: 'common practice',
	ownHistory: 'own history',
	test: 'test',
	published: 'published'
} as const;

export const CONCLUSION = {
	open: 'open',
	probableCause: 'probable cause',
	established: 'established',
	undetermined: 'undetermined'
} as const;

/** Was the failure turned on and off? */
export const TURNED = {
	onAndOff: 'turned on and off: it came with the old state and went with the change',
	offOnly: 'turned off only: it went with the change and was not brought back without it',
	onOnly: 'turned on only: it was reproduced and not yet seen to go',
	neither: 'neither turned on nor off'
} as const;

export const TRUTH = {
	true: 'it was true',
	false: 'it was not true',
	neverKnown: 'will never be known'
} as const;

export const TRUTH_SOURCE = {
	stripDown: 'a strip-down',
	laterTest: 'a later test',
	repeat: 'a repeat of what failed',
	other: 'something else'
} as const;

export const CAUSE_TYPE = {
	proximate: 'Proximate cause',
	intermediate: 'Intermediate cause',
	root: 'Root cause',
	contributing: 'Contributing factor'
} as const;

export const RUNG = {
	eliminate: 'eliminate',
	substitute: 'substitute',
	engineer: 'engineer',
	procedure: 'procedure',
	protect: 'protect'
} as const;

export const CRITERION = { atLeast: 'at least', atMost: 'at most', between: 'between' } as const;

/** Terms that the report uses, for a reader who has not read one before. */
export const GLOSSARY: readonly (readonly [term: string, meaning: string])[] = [
	[
		'Anomaly',
		'A departure from what was expected. Its statement says what was expected and what was observed, and names no cause.'
	],
	['As found, disturbed', 'Whether a thing lay as it fell when it was recorded, or had been moved before.'],
	['Basic event', 'A cause at the foot of a fault tree that is not broken down further.'],
	[
		'Base rate',
		'How often a sign is there anyway, whatever happened. A sign with a high base rate says little.'
	],
	[
		'Confidence',
		'How good the basis of a conclusion is: high, moderate or low. It is not how probable the cause is.'
	],
	[
		'Contributing factor',
		'An event or condition that helped the anomaly along, but whose removal alone would not have prevented it.'
	],
	[
		'Disposition',
		'What was decided on a branch of the tree: open, ruled out (by evidence or by calculation), unlikely, likely, contributed, established, not applicable.'
	],
	[
		'Fault tree',
		'A drawing of which combinations of events produce the event at its top. Events are joined by gates (OR, AND and others), with the symbols of IEC 61025.'
	],
	['Finding', 'A sign that was looked for, and whether it was present, absent or not examined.'],
	[
		'Given the top event',
		'Probability of an event once it is known that the anomaly happened, before any finding is counted.'
	],
	[
		'Given all',
		'Probability of an event given the anomaly, every finding and every calculation used as evidence.'
	],
	[
		'Observation',
		'Something real that is not on the way from cause to anomaly; kept because the next flight may show more of it.'
	],
	['Plus-minus (±)', 'One standard deviation, unless a level such as 95 % stands beside it.'],
	[
		'Proximate cause',
		'The event directly before the anomaly that produced it, and without which it would not have happened.'
	],
	[
		'Root cause',
		'The condition behind the proximate cause which, had it been removed, would have kept the anomaly from happening.'
	],
	[
		'Something nobody has thought of',
		'A branch of every tree that stands for causes not listed, with a weight of its own.'
	],
	['Starting weight', 'Probability of an event before anything about this flight is known.'],
	['Top event', 'The event at the top of a fault tree: the anomaly.'],
	[
		'Waiver',
		'A risk accepted by name, for a stated time, where a build flies although a required change is not verified.'
	]
];

/** Sources of the method as a whole; each calculation names its own. */
export const METHOD_SOURCES: readonly string[] = [
	'Fault trees and their symbols: IEC 61025 (from memory); NUREG-0492, Fault Tree Handbook (in part).',
	'Links between causes and signs (noisy-OR): J. Pearl, Probabilistic Reasoning in Intelligent Systems, 1988 (from memory).',
	'Cause types, findings, observations and corrective action: NASA NPR 8621.1 family (definitions seen).',
	'Order of the report: factual information, analysis, conclusions, recommendations, appendices, as ICAO Annex 13, appendix 1, has it (seen).'
];
