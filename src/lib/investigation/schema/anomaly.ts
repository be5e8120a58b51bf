import * as v from 'valibot';
import { impression, statedNumbers, truth } from './truth';
import { id, ids, line, minutes, probability, requiredLine, text } from './common';

/** One departure from the expected: statement, tree, findings, calculations and conclusion hang on it. */
export const anomaly = v.object({
	number: v.pipe(v.number(), v.integer(), v.minValue(1)),
	/** What departed, with no cause in it. */
	title: requiredLine('State the departure in one line, without a cause.'),
	expected: requiredLine('Say what was expected.'),
	observed: requiredLine('Say what was observed.'),
	when: line,
	consequence: line,
	phase: v.picklist(['ground', 'boost', 'coast', 'apogee', 'descent', 'landing', 'recovery', 'notKnown']),
	/** Top event of its fault tree. */
	top: id,
	/** First impression, written before the evidence is weighed. */
	firstImpression: text,
	/** The top event in its parts: what failed, in what state; its phase stands above. */
	subject: v.optional(line),
	failedState: v.optional(line),
	/** What belongs to the tree and what does not, one line each. */
	boundary: v.optional(v.array(requiredLine('Leave out empty lines.')))
});
export type Anomaly = v.InferOutput<typeof anomaly>;

/** Gates by their IEC 61025 names; priority AND is weighed as its static bound and says so. */
export const GATE_TYPES = ['or', 'and', 'atLeast', 'xor', 'inhibit', 'priorityAnd', 'not'] as const;
export type GateType = (typeof GATE_TYPES)[number];

export const gate = v.object({
	type: v.picklist(GATE_TYPES),
	/** For 'atLeast': how many of the inputs. */
	k: v.nullable(v.pipe(v.number(), v.integer(), v.minValue(1))),
	inputs: v.array(id),
	/** For 'inhibit': the conditioning event. */
	condition: v.nullable(id),
	/** Somebody says that each input is an immediate cause and that together they are complete. */
	complete: v.optional(v.boolean(), false)
});
export type Gate = v.InferOutput<typeof gate>;

export const EVENT_KINDS = ['intermediate', 'basic', 'undeveloped', 'house', 'conditioning'] as const;
export type EventKind = (typeof EVENT_KINDS)[number];

export const DISPOSITIONS = [
	'open',
	'ruledOutByEvidence',
	'ruledOutByCalculation',
	'unlikely',
	'likely',
	'contributed',
	'established',
	'notApplicable'
] as const;
export type DispositionState = (typeof DISPOSITIONS)[number];

/** What brought a part to fail: by itself, by more than it was made for, or as it was told. */
export const FAULT_CLASSES = ['primary', 'secondary', 'command'] as const;
export type FaultClass = (typeof FAULT_CLASSES)[number];

/** A contributing factor is shown to have been there, to have mattered then, and to matter again. */
const factor = v.object({ existed: text, influenced: text, matters: text });
export type Factor = v.InferOutput<typeof factor>;

export const CAUSE_TYPES = ['proximate', 'intermediate', 'root', 'contributing'] as const;

export const disposition = v.object({
	state: v.picklist(DISPOSITIONS),
	reason: text,
	/** Evidence, findings, or calculations that decide it. */
	cites: ids,
	/** Why that was decided against what the evidence gives it. */
	despite: v.optional(text, ''),
	/** What evidence said that was corrected since this was decided. */
	said: v.optional(v.record(id, text)),
	/** Probability given everything when this was decided; null where it was not weighed. */
	weightThen: v.optional(v.nullable(v.pipe(v.number(), v.minValue(0), v.maxValue(1))), null),
	by: line,
	at: v.string(),
	/** Who looked at it besides the one who decided; '' where nobody did. */
	reviewedBy: v.optional(line, '')
});
export type Disposition = v.InferOutput<typeof disposition>;

export const WEIGHT_BASES = ['guess', 'commonPractice', 'ownHistory', 'test', 'published'] as const;

/** One event of a fault tree; an intermediate event carries the gate beneath it. May be an input of several gates. */
export const treeEvent = v.object({
	anomaly: id,
	title: requiredLine('Name the failed state, such as "tether parts at the swivel".'),
	kind: v.picklist(EVENT_KINDS),
	note: text,
	/** Starting weight, the probability before anything is known; null on intermediate events. */
	weight: probability,
	weightBasis: v.picklist(WEIGHT_BASES),
	weightNote: line,
	/** The branch that nobody has thought of: one under each top event. */
	residual: v.boolean(),
	/** For a house event: is it switched on? */
	on: v.boolean(),
	gate: v.nullable(gate),
	causeType: v.nullable(v.picklist(CAUSE_TYPES)),
	disposition,
	/** Of an intermediate event: the state of one part, or of the system. */
	faultOf: v.optional(v.picklist(['component', 'system'])),
	/** Of an event under it: how the part came to fail. */
	faultClass: v.optional(v.picklist(FAULT_CLASSES)),
	/** Of one part: why a class was not gone into. */
	skipped: v.optional(v.object({ primary: line, secondary: line, command: line })),
	factor: v.optional(factor),
	impression: v.optional(impression),
	truth: v.optional(truth)
});
export type TreeEvent = v.InferOutput<typeof treeEvent>;

/** Events that cannot be true together. */
export const exclusion = v.object({
	anomaly: id,
	events: v.pipe(v.array(id), v.minLength(2, 'Name at least two events that exclude each other.')),
	reason: requiredLine('Say why they cannot both have happened.')
});
export type Exclusion = v.InferOutput<typeof exclusion>;

/** Probability that this event by itself shows the sign. */
export const link = v.object({
	event: id,
	/** True: the link starts from the event *not* having happened. */
	negated: v.boolean(),
	p: v.pipe(probability, v.nonNullable(v.number(), 'Give the link a probability.'))
});
export type Link = v.InferOutput<typeof link>;

/** A sign that could be looked for. */
export const finding = v.object({
	anomaly: id,
	number: v.pipe(v.number(), v.integer(), v.minValue(1)),
	statement: requiredLine('Name the sign, such as "soot on the aft face of the bulkhead".'),
	state: v.picklist(['present', 'absent', 'notExamined']),
	/** How often the sign is there anyway. */
	baseRate: v.pipe(
		probability,
		v.nonNullable(v.number(), 'Say how often the sign is there anyway; 1 in 1000 if hardly ever.')
	),
	links: v.pipe(v.array(link), v.maxLength(200, 'At most 200 events can be linked to one finding.')),
	/**
	 * The sign is the result of a test: of the linked events the first that is true decides, its number the whole
	 * probability, and the base rate is for where none is.
	 */
	firstDecides: v.optional(v.boolean()),
	/** What evidence said that was corrected since this was looked at. */
	said: v.optional(v.record(id, text)),
	/** Link from the branch nobody has thought of; null: as probable as under the other causes together. */
	residualLink: probability,
	origin: v.nullable(id),
	/** The finding that is the very same observation in other words. */
	sameAs: v.nullable(id),
	evidence: ids,
	/** What it would take to look: minutes, and whether looking destroys something. */
	costMinutes: minutes,
	destructive: v.boolean(),
	/** The minutes came with a ready tree: common practice, no source, until somebody says otherwise. */
	costPractice: v.optional(v.boolean()),
	note: text
});
export type Finding = v.InferOutput<typeof finding>;

/** One person, sensor or photo that several findings rest on. */
export const origin = v.object({
	name: requiredLine('Name the person, sensor or photo.'),
	/** Probability that it tells what is there. */
	reliability: v.pipe(probability, v.nonNullable(v.number(), 'Give a reliability between 0 and 1.')),
	/** Probability that it says 'present' when it does not. */
	saysAnyway: v.pipe(probability, v.nonNullable(v.number(), 'Give a probability between 0 and 1.')),
	note: text
});
export type Origin = v.InferOutput<typeof origin>;

export const CONFIDENCE = ['high', 'moderate', 'low'] as const;

/** What was concluded on one anomaly; its id is the anomaly's. */
export const conclusion = v.object({
	state: v.picklist(['open', 'probableCause', 'established', 'undetermined']),
	statement: text,
	/** How good the basis is; a separate thing from how probable the cause is. */
	confidence: v.nullable(v.picklist(CONFIDENCE)),
	confidenceReason: text,
	counterArgument: text,
	/** For 'undetermined': the test that would settle it. */
	nextTest: text,
	/** What would reopen it. */
	tripwires: text,
	/** Why no change follows, when none does. */
	noChangeReason: text,
	/** What was stated of every branch when it was last concluded; scored once the truth is known. */
	numbers: v.optional(v.array(statedNumbers)),
	/** What those numbers rested on: none of it can also show how good they were. */
	weighed: v.optional(ids),
	/** Each branch given everything when this was written: what the present weighing is held against. */
	stood: v.optional(v.record(id, v.pipe(v.number(), v.minValue(0), v.maxValue(1)))),
	by: line,
	at: v.string()
});
export type Conclusion = v.InferOutput<typeof conclusion>;

/** Real, but off the causal chain; kept so that weak signals stay alive. */
export const observation = v.object({
	number: v.pipe(v.number(), v.integer(), v.minValue(1)),
	statement: requiredLine('Say what was noticed.'),
	evidence: ids,
	watch: v.boolean()
});
export type Observation = v.InferOutput<typeof observation>;
