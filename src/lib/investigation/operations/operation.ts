import * as v from 'valibot';
import type { Change, Investigation, VehicleFile } from '../case';
import { type Outcome, type Problem, refused } from '../outcome';
import type { InvestigationRead } from '../views/clearance';

/** What an operation may know besides the file and its arguments; passed in, so that operations stay pure. */
export interface Context {
	/** Moment of the operation, ISO 8601 UTC. */
	now: string;
	/** Who does it, as typed. */
	who: string;
	/** A fresh identity for a record. */
	newId: () => string;
	/** For operations on a vehicle: which one, and every investigation that may name it, as read just now. */
	vehicle?: { id: string; investigations: readonly InvestigationRead[] };
}

/**
 * A named, pure change: file and arguments in, changed records or a refusal in words out.
 * Undo, history, server, import and tests use nothing else.
 */
export interface Operation<File, Args> {
	name: string;
	/** What the history shows: 'Added a found piece'. */
	label: string;
	args: v.GenericSchema<unknown, Args>;
	apply: (file: File, args: Args, context: Context) => Outcome<Change[]>;
}

export type AnyOperation<File> = Operation<File, never>;

/** Ties the types of schema and function together at the point of definition. */
export function operation<File extends Investigation | VehicleFile, S extends v.GenericSchema>(definition: {
	name: string;
	label: string;
	args: S;
	apply: (file: File, args: v.InferOutput<S>, context: Context) => Outcome<Change[]>;
}): Operation<File, v.InferOutput<S>> {
	return definition;
}

/** Faults of unknown input as a list of problems, each with the path of its field. */
export function problemsOf(issues: readonly v.BaseIssue<unknown>[]): Problem[] {
	return issues.map((issue) => ({ field: v.getDotPath(issue) ?? '', message: sentence(issue) }));
}

/** The library's own wording is for programmers; where no message of ours stands, say it for people. */
function sentence(issue: v.BaseIssue<unknown>): string {
	if (!/^Invalid (type|key)/.test(issue.message)) return issue.message;
	if (issue.received === 'undefined') return 'This is missing.';
	return `This can't be read: expected ${issue.expected ?? 'something else'}, got ${issue.received}.`;
}

/** Reads the arguments, then applies the operation. */
export function run<File, Args>(
	op: Operation<File, Args>,
	file: File,
	args: unknown,
	context: Context
): Outcome<Change[]> {
	if (context.who.trim() === '')
		return refused('Say who you are first: your name goes beside every change.', 'who');
	const read = v.safeParse(op.args, args, { abortPipeEarly: true });
	if (!read.success) return { ok: false, problems: problemsOf(read.issues) };
	return op.apply(file, read.output, context);
}
