import * as v from 'valibot';
import { id, instant, line, probability, requiredLine, text } from './common';

/** How often a test shows what it is to show in one case. */
export const howOften = v.pipe(probability, v.nonNullable(v.number(), 'Say how often it would show that.'));

/** What a test would show under each cause, locked before its result is known. */
export const prediction = v.object({
	/** The item of evidence, of kind 'test'. */
	test: id,
	under: v.pipe(
		v.array(
			v.object({
				/** Event of a tree; null where the case is put in words alone. */
				event: v.nullable(id),
				/** The case in the words of the moment: they stay when the event is renamed or removed. */
				cause: requiredLine('Say in which case.'),
				expected: v.pipe(text, v.nonEmpty('Say what the test would show then.')),
				/** How often it would, in that case; left out, as ranking assumes. */
				p: v.optional(howOften)
			})
		),
		v.minLength(2, 'Say what the test would show in at least two cases: one alone tells nothing apart.'),
		v.maxLength(50, 'At most 50 cases can be told apart by one test.')
	),
	by: line,
	at: instant,
	/** When the result was entered; from then on the prediction stays. */
	resultAt: v.nullable(instant),
	withdrawn: v.nullable(v.object({ reason: requiredLine('Say why it is withdrawn.'), by: line, at: instant }))
});
export type Prediction = v.InferOutput<typeof prediction>;
