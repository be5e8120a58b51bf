import * as v from 'valibot';
import { id, LIMITS, requiredLine } from './common';

/** A phase or configuration of the flight: how house events of a tree are switched in it. */
export const setting = v.object({
	anomaly: id,
	title: requiredLine('Name the phase or configuration, such as “boost” or “without the second recorder”.'),
	switches: v.pipe(
		v.array(v.object({ event: id, on: v.boolean() })),
		v.minLength(1, 'A setting switches at least one house event.'),
		v.maxLength(LIMITS.list, `A setting switches at most ${LIMITS.list} house events.`)
	)
});
export type Setting = v.InferOutput<typeof setting>;
