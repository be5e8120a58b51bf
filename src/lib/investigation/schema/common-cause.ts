import * as v from 'valibot';
import { WEIGHT_BASES } from './anomaly';
import { id, ids, line, probability, requiredLine } from './common';

export const COMMON_CAUSE_MODELS = ['beta', 'multiLetter', 'alpha'] as const;

/** Similar events that one cause could make true together; how often is shared out by factors (docs/methods/weighing.md). */
export const commonCause = v.object({
	anomaly: id,
	/** What they share. */
	title: requiredLine('Name what they share, such as “one battery”.'),
	events: v.pipe(ids, v.minLength(2, 'Choose at least two events that it could make true together.')),
	model: v.picklist(COMMON_CAUSE_MODELS),
	factors: v.array(
		v.pipe(probability, v.nonNullable(v.number(), 'Say how often; 10 % is common among like parts.'))
	),
	/** For 'alpha': the factors come from staggered testing. */
	staggered: v.optional(v.boolean(), false),
	/** What the factors rest on. */
	basis: v.picklist(WEIGHT_BASES),
	basisNote: line
});
export type CommonCause = v.InferOutput<typeof commonCause>;
