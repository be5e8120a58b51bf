import type { Dimension } from '$lib/quantity/dimensions';
import type { Evidence, EvidenceKind } from '$lib/investigation/schema/evidence';

type Options = readonly { value: string; label: string }[];

/** One field of a kind of evidence: how it is asked for, and how it is called on the sheet. */
export type Field = { name: string; label: string; hint?: string; placeholder?: string } & (
	| { as: 'line' | 'text'; optional?: boolean }
	| { as: 'quantity'; dimension: Dimension | 'any'; unit: string; optional?: boolean }
	| { as: 'choice'; options: Options; first: string }
);

const choice = (name: string, label: string, options: Options, hint?: string): Field => ({
	name,
	label,
	as: 'choice',
	options,
	first: options[0]!.value,
	...(hint ? { hint } : {})
});

/** What is asked for each kind beyond what every item has, in the order of the form. */
export const FIELDS: Record<EvidenceKind, readonly Field[]> = {
	piece: [
		{
			name: 'damage',
			label: 'Damage, as it lay',
			as: 'text',
			optional: true,
			hint: 'Where, which way bent, clean or torn, burnt or not.'
		},
		{
			name: 'mass',
			label: 'Mass',
			as: 'quantity',
			dimension: 'mass',
			unit: 'g',
			optional: true,
			placeholder: '212 ± 1 g'
		},
		{
			name: 'ballisticCoefficient',
			label: 'Mass over drag area as it fell',
			as: 'quantity',
			dimension: 'ballistic coefficient',
			unit: '',
			optional: true,
			placeholder: '3 to 12 kg/m²',
			hint: 'For a tumbling piece a range is the honest answer.'
		}
	],
	photo: [
		{ name: 'subject', label: 'What it shows', as: 'line', optional: true },
		{
			name: 'view',
			label: 'Seen from',
			as: 'line',
			optional: true,
			placeholder: 'from the north, at knee height'
		},
		{ name: 'scale', label: 'What gives the scale', as: 'line', optional: true, placeholder: 'ruler, 15 cm' },
		choice('moved', 'Taken', [
			{ value: 'notKnown', label: 'not known whether it had been moved' },
			{ value: 'beforeMoved', label: 'before anything was moved' },
			{ value: 'afterMoved', label: 'after it had been moved' }
		])
	],
	reading: [
		choice('readingKind', 'Kind of reading', [
			{ value: 'firstPowerUp', label: 'recorder at first power-up' },
			{ value: 'display', label: 'display' },
			{ value: 'log', label: 'log file' },
			{ value: 'video', label: 'video' },
			{ value: 'other', label: 'other' }
		]),
		{ name: 'device', label: 'Recorder or instrument', as: 'line' },
		{
			name: 'wiredToCharges',
			label: 'Is it wired to charges?',
			as: 'choice',
			first: '',
			options: [
				{ value: '', label: 'choose' },
				{ value: 'no', label: 'no, they are parted from it' },
				{ value: 'notApplicable', label: 'it never was' },
				{ value: 'yes', label: 'yes' }
			]
		},
		{
			name: 'tones',
			label: 'Tones, as counted',
			as: 'text',
			optional: true,
			placeholder: '4, then 1, then 10; pause; 3',
			hint: 'Write the count, not what you think it means. Have a video running.'
		},
		{ name: 'display', label: 'Display, as it read', as: 'text', optional: true }
	],
	measurement: [
		{ name: 'what', label: 'What was measured, and where on the part', as: 'line' },
		{
			name: 'value',
			label: 'Value',
			as: 'quantity',
			dimension: 'any',
			unit: '',
			placeholder: '3.02 ± 0.05 mm'
		},
		{ name: 'instrument', label: 'Instrument', as: 'line', optional: true, placeholder: 'caliper, 0.02 mm' }
	],
	statement: [
		{ name: 'from', label: 'Who says it, or in what role', as: 'line' },
		{
			name: 'words',
			label: 'The words, as they were said',
			as: 'text',
			hint: 'They are locked once kept: what is said later is another statement.'
		},
		choice('beforeDiscussion', 'Written down before it was talked over?', [
			{ value: 'notKnown', label: 'not known' },
			{ value: 'yes', label: 'yes, before' },
			{ value: 'no', label: 'no, after' }
		])
	],
	test: [
		choice('testKind', 'Kind of test', [
			{ value: '', label: 'choose' },
			{ value: 'pull', label: 'pull test' },
			{ value: 'groundCharge', label: 'ground charge test' },
			{ value: 'staticFiring', label: 'static firing' },
			{ value: 'vacuum', label: 'vacuum test' },
			{ value: 'other', label: 'other' }
		]),
		{
			name: 'predicted',
			label: 'Expected beforehand, not locked',
			as: 'text',
			optional: true
		},
		{
			name: 'result',
			label: 'Result',
			as: 'text',
			optional: true,
			hint: 'Leave it empty if the test is still to be done: keep it, and lock what each cause would show first.'
		},
		{
			name: 'value',
			label: 'Measured value',
			as: 'quantity',
			dimension: 'any',
			unit: '',
			optional: true,
			placeholder: '1.9 ± 0.1 kN'
		},
		{ name: 'noPrediction', label: 'Why nothing was predicted', as: 'line' },
		{
			name: 'costMinutes',
			label: 'Time it takes',
			as: 'line',
			optional: true,
			placeholder: '1.5 h',
			hint: 'To rank it by what it tells an hour, before it is done.'
		},
		choice('reversible', 'Can it be taken back?', [
			{ value: 'yes', label: 'yes, nothing is cut, cleaned or taken apart' },
			{ value: 'no', label: 'no' }
		]),
		{ name: 'purpose', label: 'What it is done for', as: 'text' },
		{ name: 'makesImpossible', label: 'What can’t be examined any more after it', as: 'text' }
	],
	absence: [
		{
			name: 'lookedFor',
			label: 'What was looked for',
			as: 'line',
			placeholder: 'soot on the aft face of the bulkhead'
		},
		choice('howThoroughly', 'How thoroughly', [
			{ value: 'glance', label: 'a glance' },
			{ value: 'walkedOver', label: 'walked over' },
			{ value: 'gridSearch', label: 'searched in lanes' },
			{ value: 'takenApart', label: 'taken apart and looked at' }
		]),
		{
			name: 'detection',
			label: 'Chance of seeing it, had it been there',
			as: 'line',
			optional: true,
			placeholder: '90 %',
			hint: 'A lane search in tall grass finds less than one thinks.'
		}
	]
};

export const COMMON = {
	state: [
		{ value: 'asFound', label: 'as found' },
		{ value: 'disturbed', label: 'disturbed' },
		{ value: 'notKnown', label: 'not known' }
	],
	basis: [
		{ value: 'observed', label: 'observed' },
		{ value: 'reported', label: 'reported' },
		{ value: 'derived', label: 'derived' },
		{ value: 'assumed', label: 'assumed' }
	],
	trust: [
		{ value: 'high', label: 'high' },
		{ value: 'moderate', label: 'moderate' },
		{ value: 'low', label: 'low' }
	]
} as const;

/** Titles of the forms, by kind. */
export const ADD_VERBS: Record<EvidenceKind, string> = {
	piece: 'Found piece',
	photo: 'Photos',
	reading: 'Reading',
	measurement: 'Measurement',
	statement: 'Statement',
	test: 'Test',
	absence: 'Absence'
};

/** Words for a stored choice; '' where the value is not one of the options. */
export function choiceWords(field: Field, value: unknown): string {
	return field.as === 'choice' ? (field.options.find((o) => o.value === value)?.label ?? '') : '';
}

export const commonWords = (item: Evidence) => ({
	state: COMMON.state.find((o) => o.value === item.state)!.label,
	basis: COMMON.basis.find((o) => o.value === item.basis)?.label ?? '',
	trust: COMMON.trust.find((o) => o.value === item.trust)?.label ?? ''
});
