import { error, json, type RequestEvent } from '@sveltejs/kit';
import * as v from 'valibot';
import type { FileKind } from '$lib/investigation/check';
import { type Answered, doOperation, lastSteps, undoLine } from './cases';

const sent = {
	who: v.pipe(v.string(), v.maxLength(100, 'Keep the name to 100 characters.')),
	baseRev: v.pipe(v.number(), v.integer(), v.minValue(0)),
	key: v.optional(v.pipe(v.string(), v.maxLength(100)))
};
const Do = v.object({ ...sent, operation: v.pipe(v.string(), v.maxLength(60)), args: v.unknown() });
const Undo = v.object({ ...sent, rev: v.pipe(v.number(), v.integer(), v.minValue(1)) });

/** POST …/do: one named operation. */
export async function takeOperation(kind: FileKind, event: RequestEvent<{ id: string }>): Promise<Response> {
	const { operation, args, ...from } = await read(Do, event.request);
	return respond(await doOperation(kind, event.params.id, operation, args, from as never));
}

/** POST …/undo: takes one line of the history back. */
export async function takeUndo(kind: FileKind, event: RequestEvent<{ id: string }>): Promise<Response> {
	const { rev, ...from } = await read(Undo, event.request);
	return respond(await undoLine(kind, event.params.id, rev, from as never));
}

/** GET …/undo?who=…: what this person did last and could take back, so that a page loaded anew can offer it. */
export async function giveSteps(
	kind: FileKind,
	{ params, url }: RequestEvent<{ id: string }>
): Promise<Response> {
	return json({ steps: await lastSteps(kind, params.id, url.searchParams.get('who') ?? '') });
}

function respond(answered: Answered): Response {
	if (answered.ok) return json(answered);
	const { status, ...body } = answered;
	return json(body, { status });
}

async function read<S extends v.GenericSchema>(schema: S, request: Request): Promise<v.InferOutput<S>> {
	let body: unknown;
	try {
		body = await request.json();
	} catch {
		error(400, {
			message: 'This request could not be read; nothing was changed.',
			next: 'Load the page again.'
		});
	}
	const parsed = v.safeParse(schema, body);
	if (!parsed.success)
		error(400, {
			message: 'This request lacks something; nothing was changed.',
			next: 'Load the page again.'
		});
	return parsed.output;
}
