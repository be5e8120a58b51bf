import * as v from 'valibot';
import { id, line, requiredLine } from './common';

/** One way in which a part as flown can fail, listed apart from the trees to check them against. */
export const failureMode = v.object({
	part: id,
	mode: requiredLine('Say how the part can fail, such as "solder joint opens".'),
	/** Event of a tree in which it is thought of. */
	event: v.nullable(id),
	/** Why it has no place in any tree. */
	notApplicable: line
});
export type FailureMode = v.InferOutput<typeof failureMode>;
