import * as v from 'valibot';
import { id, ids, instant, line, minutes, probability, requiredLine, text } from './common';
import { moment, position } from './places-and-times';
import { optionalQuantity, quantity } from './quantity-field';

/** A file kept with the case under its SHA-256; the bytes are never rewritten. */
export const attachment = v.object({
	sha256: v.pipe(v.string(), v.regex(/^[0-9a-f]{64}$/)),
	name: line,
	bytes: v.pipe(v.number(), v.integer(), v.minValue(1)),
	type: v.string(),
	/** What the file is to the investigator, decided from its content. */
	kind: v.picklist(['photo', 'video', 'recording', 'text', 'document', 'other']),
	width: v.nullable(v.number()),
	height: v.nullable(v.number()),
	/** What the file itself says of when and where; used only where a person says so. */
	taken: v.nullable(
		v.object({
			localTime: v.nullable(v.string()),
			zoneMinutes: v.nullable(v.number()),
			latitude: v.nullable(v.number()),
			longitude: v.nullable(v.number()),
			accuracyM: v.nullable(v.number())
		})
	),
	/** Plain words on what could not be done with it ('kept; add a JPEG beside it to see it here'). */
	remark: line
});
export type Attachment = v.InferOutput<typeof attachment>;

export const EVIDENCE_KINDS = [
	'piece',
	'photo',
	'reading',
	'measurement',
	'statement',
	'test',
	'absence'
] as const;
export type EvidenceKind = (typeof EVIDENCE_KINDS)[number];

const BASIS = v.picklist(
	['observed', 'derived', 'assumed', 'reported'],
	'Say whether this was observed, reported by somebody, derived from something else, or assumed.'
);
const TRUST = v.picklist(['high', 'moderate', 'low'], 'Say how far this can be trusted.');

/** Who, when, where, how, as found or disturbed, how far it can be trusted, with which files. */
const common = {
	/** Running number, shown as E7; given once and never given again. */
	number: v.pipe(v.number(), v.integer(), v.minValue(1)),
	title: requiredLine('Say in one line what this is.'),
	description: text,
	by: line,
	at: v.nullable(moment),
	position: v.nullable(position),
	state: v.picklist(['asFound', 'disturbed', 'notKnown']),
	basis: BASIS,
	trust: TRUST,
	trustReason: line,
	attachments: ids,
	parts: ids,
	/** An item is never deleted: one that should not count is withdrawn, with the reason beside it. */
	withdrawn: v.nullable(
		v.object({ reason: requiredLine('Say why it no longer counts.'), by: line, at: instant })
	)
};

/** A test: what it showed, and what was written down before. */
const testFields = {
	testKind: v.picklist(
		['groundCharge', 'staticFiring', 'pull', 'vacuum', 'other'],
		'Say what kind of test this is.'
	),
	/** Expected beforehand in free words, not locked; predictions.ts holds what is. */
	predicted: text,
	result: text,
	value: v.nullable(quantity('any', '')),
	/** Why nothing was locked before the result. */
	noPrediction: v.optional(line, ''),
	/** When the result last became another one. */
	corrected: v.optional(v.object({ by: line, at: instant })),
	/** The change that it is to prove. */
	proves: v.optional(v.nullable(id)),
	/** What it would take to do it. */
	costMinutes: v.optional(minutes),
	reversible: v.picklist(['yes', 'no']),
	/** For a step that can't be taken back: why it is taken, and what can't be examined any more after it. */
	purpose: text,
	makesImpossible: text
};

/** What is entered once a test is done; who, when and how far to trust it where nothing was said of that before. */
export const testResult = v.object({
	...v.pick(v.object(testFields), ['result', 'value', 'noPrediction']).entries,
	...v.partial(v.pick(v.object(common), ['by', 'at', 'basis', 'trust', 'trustReason'])).entries
});

export const evidence = v.variant('kind', [
	v.object({
		...common,
		kind: v.literal('piece'),
		mass: optionalQuantity('mass', 'g', { min: 0 }),
		/** Mass over drag area as it fell; a range is the honest answer for a tumbling piece. */
		ballisticCoefficient: optionalQuantity('ballistic coefficient', 'kg/m²'),
		/** Key of the table of typical tumbling pieces, or '' when none fits. */
		pieceType: line,
		damage: text
	}),
	v.object({
		...common,
		kind: v.literal('photo'),
		/** What it shows, seen from where, with what for scale, and whether the thing had been moved. */
		subject: line,
		view: line,
		scale: line,
		/** The found piece in it. */
		shows: v.optional(v.nullable(id), null),
		moved: v.picklist(['beforeMoved', 'afterMoved', 'notKnown'])
	}),
	v.object({
		...common,
		kind: v.literal('reading'),
		device: requiredLine('Name the recorder or instrument.'),
		readingKind: v.picklist(['firstPowerUp', 'log', 'display', 'video', 'other']),
		/** Charges must be out of the circuit before power is put on; 'yes' is refused. */
		wiredToCharges: v.picklist(
			['no', 'notApplicable'],
			'Never power a recorder that is still wired to charges. Part the charges from it first.'
		),
		tones: text,
		display: text,
		values: v.array(v.object({ label: requiredLine('Name the quantity.'), value: quantity('any', '') }))
	}),
	v.object({
		...common,
		kind: v.literal('measurement'),
		what: requiredLine('Say what was measured, and where on the part.'),
		value: quantity('any', ''),
		instrument: line
	}),
	v.object({
		...common,
		kind: v.literal('statement'),
		from: requiredLine('Say who said it, or in what role.'),
		words: v.pipe(text, v.nonEmpty('Write down the words as they were said.')),
		beforeDiscussion: v.picklist(['yes', 'no', 'notKnown'])
	}),
	v.object({
		...common,
		kind: v.literal('test'),
		...testFields,
		/** Null until its result is in: nothing was observed, and nothing is to be trusted yet. */
		basis: v.nullable(BASIS),
		trust: v.nullable(TRUST)
	}),
	v.object({
		...common,
		kind: v.literal('absence'),
		lookedFor: requiredLine('Say what was looked for.'),
		howThoroughly: v.picklist(['glance', 'walkedOver', 'gridSearch', 'takenApart']),
		/** Chance that it would have been seen had it been there. */
		detection: probability
	})
]);
export type Evidence = v.InferOutput<typeof evidence>;
export type EvidenceOf<K extends EvidenceKind> = Extract<Evidence, { kind: K }>;

/** Two items that cannot both be true. The conflict stays on record, also once it is resolved. */
export const conflict = v.object({
	between: v.tuple([id, id]),
	what: requiredLine('Say what cannot both be true.'),
	/** Who sees to it. */
	owner: line,
	state: v.picklist(['unresolved', 'resolved']),
	resolution: text
});
export type Conflict = v.InferOutput<typeof conflict>;
