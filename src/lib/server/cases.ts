import { randomInt } from 'node:crypto';
import type { Change, Investigation, VehicleFile } from '$lib/investigation/case';
import type { FileKind } from '$lib/investigation/check';
import { freshId } from '$lib/investigation/identity';
import { operate, operateVehicle } from '$lib/investigation/operations';
import type { Context } from '$lib/investigation/operations/operation';
import type { Problem } from '$lib/investigation/outcome';
import { ownSteps } from '$lib/investigation/views/own-steps';
import { difference } from '$lib/investigation/views/history';
import { recordName } from '$lib/investigation/views/record-names';
import { filled, investigationOf, vehicleOf } from './case-rules';
import { readInvestigations } from './clearance-reads';
import { openStore } from './open-store';
import { inverseOf } from './storage/undo';
import type {
	CaseStore,
	Change as StoredChange,
	Command,
	ConflictRecord,
	HistoryLine,
	Records,
	Refusal
} from './storage/types';

export const freshIdentity = () => freshId(Date.now(), (into) => into.map(() => randomInt(0, 2 ** 32 - 1)));

export const contextFor = (who: string): Context => ({
	now: new Date().toISOString(),
	who: who.trim(),
	newId: freshIdentity
});

/** What a page sends with 'do' and 'undo'. */
export interface Sent {
	who: string;
	baseRev: number;
	key?: string;
}

export type Answered =
	| { ok: true; rev: number; changes: Change[]; meanwhile?: Change[] }
	| { ok: false; status: number; problems: Problem[]; current?: { rev: number; file: unknown } };

/** The one operation that has to know other files: what any investigation asks of the vehicle. */
const CLEAR = 'clearance.clear';

/** Opens an investigation or says in words why it can't be. */
export async function openFile(kind: FileKind, id: string) {
	const opened = await (await openStore()).open(`${kind}/${id}`);
	if (!opened.ok) return { ok: false as const, status: statusOf(opened.error), refusal: opened.error };
	const { rev, time, state, report } = opened.value;
	return { ok: true as const, rev, time, report, file: filled(kind, state) as unknown };
}

export const openInvestigation = async (id: string) => {
	const opened = await openFile('investigations', id);
	return opened.ok ? { ...opened, file: opened.file as Investigation } : opened;
};

export const openVehicle = async (id: string) => {
	const opened = await openFile('vehicles', id);
	return opened.ok ? { ...opened, file: opened.file as VehicleFile } : opened;
};

/** Runs a named operation on the present state and commits what it changes. */
export async function doOperation(
	kind: FileKind,
	id: string,
	operation: string,
	args: unknown,
	sent: Sent,
	store?: CaseStore
): Promise<Answered> {
	const context: Context = contextFor(sent.who);
	if (kind === 'vehicles' && operation === CLEAR)
		context.vehicle = { id, investigations: await readInvestigations(id) };
	return answer(kind, id, sent, operation, args, store, (state) => {
		const made =
			kind === 'investigations'
				? operate(investigationOf(state), operation, args, context)
				: operateVehicle(vehicleOf(state), operation, args, context);
		return made.ok ? made : { ok: false, error: made.problems };
	});
}

/** Takes one line of the history back, as a new line; refused where a record has changed since. */
export async function undoLine(kind: FileKind, id: string, rev: number, sent: Sent): Promise<Answered> {
	const store = await openStore();
	const lines = await store.history(`${kind}/${id}`, rev, rev);
	const line = lines.ok ? lines.value[0] : undefined;
	if (!line) return refusal(409, 'There is no such line in the history; nothing was undone.');
	return answer(kind, id, sent, 'undo', { rev, operation: line.operation }, store, (state) => {
		const inverse = inverseOf(line, state);
		return inverse.ok
			? { ok: true, value: inverse.value }
			: { ok: false, error: [{ field: '', message: whyNot(line, inverse.error, kind, state) }] };
	});
}

/** How many of the newest lines are looked through for what a person did last. */
const LAST_LINES = 100;

/** What this person did last and could take back, oldest first; empty where the file can't be read. */
export async function lastSteps(kind: FileKind, id: string, who: string): Promise<number[]> {
	const store = await openStore();
	const opened = await store.open(`${kind}/${id}`);
	if (!opened.ok) return [];
	const lines = await store.history(`${kind}/${id}`, Math.max(1, opened.value.rev - LAST_LINES + 1));
	return lines.ok ? ownSteps(lines.value, who.trim(), new Date().toISOString()) : [];
}

/** Why a line can't be taken back, with what has changed since, in words. */
function whyNot(line: HistoryLine, moved: ConflictRecord[], kind: FileKind, state: Records): string {
	if (line.baseline) return 'This line mended the file as a whole; it can’t be undone.';
	const { collection, id, base, present } = moved[0]!;
	const file = filled(kind, state) as unknown as Investigation | VehicleFile;
	const name = recordName(collection, (present ?? base)!, id, file);
	const cant = 'This can’t be undone:';
	if (!present) return `${cant} ${name} has been removed since. Undo that first.`;
	if (!base) return `${cant} ${name} is there again. Remove it first.`;
	return `${cant} ${name} has been changed since (${changesIn(file, collection, base, present)}). Undo that first, or change it by hand.`;
}

async function answer(
	kind: FileKind,
	id: string,
	sent: Sent,
	operation: string,
	args: unknown,
	given: CaseStore | undefined,
	decide: (state: Records) => { ok: true; value: readonly Change[] } | { ok: false; error: Problem[] }
): Promise<Answered> {
	const store = given ?? (await openStore());
	let changes: readonly Change[] | null = null;
	const command = {
		baseRev: sent.baseRev,
		who: sent.who.trim(),
		operation,
		args,
		...(sent.key ? { key: sent.key } : {})
	};
	const committed = await store.change<Problem[]>(`${kind}/${id}`, command as Command, (state) => {
		const decided = decide(state);
		if (!decided.ok) return decided;
		changes = decided.value;
		return { ok: true, value: { changes: changes as readonly StoredChange[] } };
	});
	if (committed.ok) {
		const { rev } = committed.value;
		const own = [...(changes ?? (await changesOf(store, `${kind}/${id}`, rev)))];
		const others = await changesOf(store, `${kind}/${id}`, sent.baseRev + 1, rev - 1);
		return { ok: true, rev, changes: own, ...(others.length > 0 ? { meanwhile: [...others] } : {}) };
	}
	if (committed.error.kind === 'operation') {
		const problems = committed.error.refusal;
		// What somebody else did meanwhile may be why: the page shows it.
		const present = await store.open(`${kind}/${id}`);
		return present.ok && present.value.rev !== sent.baseRev
			? { ok: false, status: 400, problems, current: currentOf(kind, present.value) }
			: { ok: false, status: 400, problems };
	}
	return refused(kind, id, committed.error, store);
}

/** What somebody else changed since the page was loaded, so that saving once more is a choice made knowingly. */
function meanwhile(records: ConflictRecord[], since: HistoryLine[], kind: FileKind, state: Records): string {
	const file = filled(kind, state) as unknown as Investigation | VehicleFile;
	const told = records.map(({ collection, id, base, present }) => {
		const name = recordName(collection, (present ?? base)!, id, file);
		if (!present) return `${name} was removed`;
		return `${name}: ${base ? changesIn(file, collection, base, present) : 'made new'}`;
	});
	const who = [...new Set(since.map((line) => line.who))].join(', ');
	return `Meanwhile ${who || 'somebody'} changed this: ${told.join('; ')}. Yours is not saved; it still stands here. Press the same button again to put yours in its place.`;
}

const changesIn = (
	file: Investigation | VehicleFile,
	collection: string,
	base: ConflictRecord['base'] & object,
	present: ConflictRecord['present'] & object
) =>
	difference(file, collection, base, present)
		.map(({ field, before, after }) => `${field}: ${before || 'nothing'} → ${after || 'nothing'}`)
		.join('; ');

/**
 * What lines of the history changed. A request that came twice was done once: its changes are those of the line that
 * it made then. And what others did since the page was loaded belongs on the page too.
 */
async function changesOf(store: CaseStore, id: string, from: number, to = from): Promise<readonly Change[]> {
	if (to < from) return [];
	const lines = await store.history(id, from, to);
	return lines.ok ? lines.value.flatMap((line) => line.changes) : [];
}

async function refused(kind: FileKind, id: string, error: Refusal, store: CaseStore): Promise<Answered> {
	const problems =
		error.kind === 'invalid'
			? error.problems.map((message) => ({ field: '', message }))
			: [{ field: '', message: error.message }];
	if (error.kind !== 'conflict') return { ok: false, status: statusOf(error), problems };
	const present = await store.open(`${kind}/${id}`);
	if (!present.ok) return { ok: false, status: 409, problems };
	const { state } = present.value;
	return {
		ok: false,
		status: 409,
		problems: [{ field: '', message: meanwhile(error.records, error.since, kind, state) }],
		current: currentOf(kind, present.value)
	};
}

const currentOf = (kind: FileKind, { rev, state }: { rev: number; state: Records }) => ({
	rev,
	file: filled(kind, state) as unknown
});

const refusal = (status: number, message: string): Answered => ({
	ok: false,
	status,
	problems: [{ field: '', message }]
});

export function statusOf(error: Refusal): number {
	switch (error.kind) {
		case 'not-found':
			return 404;
		case 'exists':
		case 'conflict':
			return 409;
		case 'too-large':
			return 413;
		case 'full':
			return 507;
		case 'damaged':
		case 'too-new':
		case 'read-only':
			return 503;
		case 'bad-file':
		case 'invalid':
			return 400;
	}
}
