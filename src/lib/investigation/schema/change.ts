import * as v from 'valibot';
import { emptyOr, id, ids, line, localTime, requiredLine, text } from './common';
import { quantity } from './quantity-field';

export const CHANGE_STATES = [
	'proposed',
	'accepted',
	'rejected',
	'made',
	'verified',
	'flown',
	'closed',
	'reopened'
] as const;
export type ChangeState = (typeof CHANGE_STATES)[number];

/** The number against which a change is verified. */
export const criterion = v.object({
	what: requiredLine('Say what is measured or counted.'),
	is: v.picklist(['atLeast', 'atMost', 'between']),
	value: quantity('any', ''),
	upper: v.nullable(quantity('any', ''))
});

/** Whether the failure came with the old state and went with the change. */
export const TURNED = ['onAndOff', 'offOnly', 'onOnly', 'neither'] as const;

/** One step of a change's life: who moved it, when, on what evidence. */
export const changeStep = v.object({
	state: v.picklist(CHANGE_STATES),
	by: line,
	at: v.string(),
	reason: text,
	/** Measured value, for 'verified'. */
	value: v.nullable(quantity('any', '')),
	cites: ids,
	/** What each cited test or measurement said then; the proof holds as long as it says the same. */
	said: v.optional(v.record(id, text)),
	/** Flight that confirmed it, for 'flown'. */
	flight: line,
	/** For 'closed': was the failure turned on and off? */
	turned: v.optional(v.picklist(TURNED))
});

/** A change to the design or a procedure that a conclusion asks for. */
export const change = v.object({
	number: v.pipe(v.number(), v.integer(), v.minValue(1)),
	anomaly: id,
	/** Cause (event of the tree) that it answers. */
	answers: v.nullable(id),
	title: requiredLine('Say what changes, in one line.'),
	part: requiredLine('Name the part or procedure.'),
	oldValue: line,
	newValue: requiredLine('Say what it becomes.'),
	responsible: requiredLine('Say who does it.'),
	due: emptyOr(localTime, 'Write the day as 2026-06-14; leave it empty if there is none.'),
	vehicle: v.nullable(id),
	/** Which build must have it. */
	build: v.nullable(id),
	buildName: line,
	/** True: the build may not be cleared to fly without it. */
	required: v.boolean(),
	/** Rung of the hierarchy of controls, strongest first. */
	rung: v.picklist(['eliminate', 'substitute', 'engineer', 'procedure', 'protect']),
	how: requiredLine('Say how it will be verified.'),
	criterion: v.nullable(criterion),
	newRisk: text,
	state: v.picklist(CHANGE_STATES),
	steps: v.array(changeStep)
});
export type Change = v.InferOutput<typeof change>;
export type ChangeStep = v.InferOutput<typeof changeStep>;
