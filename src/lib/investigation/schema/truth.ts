import * as v from 'valibot';
import { id, ids, instant, line, text } from './common';

const share = v.pipe(v.number(), v.minValue(0), v.maxValue(1));

/** A first impression of one branch in a number, sealed before any evidence was weighed. */
export const impression = v.object({ p: share, by: line, at: instant });

/** How it came out. */
export const TRUTH_SOURCES = ['laterTest', 'stripDown', 'repeat', 'other'] as const;

/** What turned out to be true of one branch, once that is known. */
export const truth = v.object({
	is: v.picklist(['true', 'false', 'neverKnown']),
	how: v.picklist(TRUTH_SOURCES),
	cites: ids,
	note: text,
	by: line,
	at: instant
});
export type Truth = v.InferOutput<typeof truth>;

/** The three numbers of a branch as they stood at the conclusion; null where there was none. */
export const statedNumbers = v.object({
	event: id,
	impression: v.nullable(share),
	/** Its starting weight, given that the top event happened and before any evidence. */
	start: v.nullable(share),
	/** Given everything. */
	end: v.nullable(share)
});
export type StatedNumbers = v.InferOutput<typeof statedNumbers>;
