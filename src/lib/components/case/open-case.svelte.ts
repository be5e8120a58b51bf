import { getContext, setContext } from 'svelte';
import { applyChanges, type Change, type Investigation, type VehicleFile } from '$lib/investigation/case';
import type { Problem } from '$lib/investigation/outcome';
import { worker } from './worker.svelte';

/** How the last change fared, for the line at the top of the page. */
type Saving =
	| { state: 'idle' }
	| { state: 'saving' }
	| { state: 'saved'; at: number }
	| { state: 'refused'; problems: Problem[] };

/** The same request again within this time is the second press of a double press. */
const DOUBLE_PRESS_MS = 700;

export type Did = { ok: true; ids: string[]; changes: Change[] } | { ok: false; problems: Problem[] };

/**
 * The page's copy of one investigation or vehicle. Everything on screen is derived from `file`;
 * every change goes to the server as a named operation and comes back as changed records.
 */
export class OpenFile<F extends Investigation | VehicleFile> {
	readonly id: string;
	readonly #address: string;
	file = $state.raw() as F;
	rev = $state(0);
	saving = $state.raw<Saving>({ state: 'idle' });
	/** Revisions made on this page, or by this person before it was loaded, newest last: what undo and redo walk along. */
	#done = $state.raw<number[]>([]);
	#undone = $state.raw<number[]>([]);
	#queue: Promise<unknown> = Promise.resolve();
	/** While a form is saved: the revision that it was typed against (`typedNow`). */
	typedAt: number | null = null;
	#last: { asked: string; at: number; did: Promise<Did> } | null = null;

	constructor(kind: 'investigations' | 'vehicles', id: string, rev: number, file: F) {
		this.id = id;
		this.#address = `/${kind}/${id}`;
		this.file = file;
		this.rev = rev;
	}

	get canUndo() {
		return this.#done.length > 0;
	}

	get canRedo() {
		return this.#undone.length > 0;
	}

	/** A page loaded anew goes on offering what this person did last. Without an answer it offers what it does itself. */
	async recall(who: string) {
		const from = this.rev;
		try {
			const answer = await fetch(`${this.#address}/undo?who=${encodeURIComponent(who)}`);
			if (!answer.ok) return;
			const { steps } = (await answer.json()) as { steps: number[] };
			if (this.#undone.length > 0) return;
			this.#done = [...steps.filter((rev) => rev <= from && !this.#done.includes(rev)), ...this.#done];
		} catch {
			// The history still has every line.
		}
	}

	/** Does one operation; one at a time, in the order asked. A double press is one. */
	do(operation: string, args: unknown): Promise<Did> {
		const asked = JSON.stringify([operation, args]);
		if (asked === this.#last?.asked && Date.now() - this.#last.at < DOUBLE_PRESS_MS) return this.#last.did;
		const did = this.#send(
			'do',
			() => ({ operation, args }),
			(rev) => {
				this.#done = [...this.#done, rev];
				this.#undone = [];
			}
		);
		this.#last = { asked, at: Date.now(), did };
		return did;
	}

	/** Does what follows from the case by itself: no step that undo would walk along, as it would follow again at once. */
	follow(operation: string, args: unknown): Promise<Did> {
		return this.#send(
			'do',
			() => ({ operation, args }),
			() => undefined
		);
	}

	/** Each press takes back one more line, also when the press before is still on its way. */
	undo(): Promise<Did> {
		const body = () => lastOf(this.#done, 'There is nothing to undo.');
		return this.#send('undo', body, (made) => {
			this.#done = this.#done.slice(0, -1);
			this.#undone = [...this.#undone, made];
		});
	}

	redo(): Promise<Did> {
		const body = () => lastOf(this.#undone, 'There is nothing to redo.');
		return this.#send('undo', body, (made) => {
			this.#undone = this.#undone.slice(0, -1);
			this.#done = [...this.#done, made];
		});
	}

	/** Takes back any one line of the history; undo on this page then takes that back. */
	takeBack(rev: number): Promise<Did> {
		return this.#send(
			'undo',
			() => ({ rev }),
			(made) => {
				this.#done = [...this.#done, made];
				this.#undone = [];
			}
		);
	}

	/** Takes over what the server has, after another page or person changed it. */
	replace(rev: number, file: F) {
		this.rev = rev;
		this.file = file;
	}

	/** @param body  what is asked, once those before it are done; words where there is nothing to ask */
	#send(
		verb: 'do' | 'undo',
		body: () => Record<string, unknown> | string,
		remember: (rev: number) => void
	): Promise<Did> {
		// What was taken back can be done again at once: that is no double press.
		if (verb === 'undo') this.#last = null;
		const typedAt = this.typedAt;
		const job = this.#queue.then(async (): Promise<Did> => {
			const sent = body();
			if (typeof sent === 'string') return { ok: false, problems: [{ field: '', message: sent }] };
			if (!(await worker.ask()))
				return this.#refuse([{ field: 'who', message: 'Say who you are; then try again.' }]);
			this.saving = { state: 'saving' };
			const key = crypto.getRandomValues(new Uint32Array(4)).join('-');
			const request = JSON.stringify({ ...sent, who: worker.name, baseRev: typedAt ?? this.rev, key });
			let answer: Answer;
			let conflict: boolean;
			try {
				const response = await fetch(`${this.#address}/${verb}`, {
					method: 'POST',
					headers: { 'content-type': 'application/json' },
					body: request,
					// A page that is left at once still sends what was pressed last.
					keepalive: request.length < KEPT_ALIVE
				});
				answer = (await response.json()) as Answer;
				conflict = response.status === 409;
			} catch {
				return this.#refuse([
					{
						field: '',
						message:
							'The tool does not answer, so this was not saved. What you typed is still here; see whether it still runs, then try again.'
					}
				]);
			}
			if (!answer.ok) {
				if (answer.current) {
					this.replace(answer.current.rev, answer.current.file as F);
					// Only what was told of may be written over.
					if (typedAt !== null && conflict) this.typedAt = answer.current.rev;
				}
				return this.#refuse(answer.problems);
			}
			this.file = applyChanges(applyChanges(this.file, answer.meanwhile ?? []), answer.changes);
			this.rev = answer.rev;
			this.saving = { state: 'saved', at: Date.now() };
			remember(answer.rev);
			return { ok: true, ids: answer.changes.map((change) => change.id), changes: answer.changes };
		});
		this.#queue = job.catch(() => undefined);
		return job;
	}

	#refuse(problems: Problem[]): Did {
		this.saving = { state: 'refused', problems };
		return { ok: false, problems };
	}
}

/** Characters up to which a browser sends on what a page that is gone has asked: 64 KiB, of 3 bytes at most each. */
const KEPT_ALIVE = 20_000;

const lastOf = (revisions: readonly number[], nothing: string) => {
	const rev = revisions.at(-1);
	return rev === undefined ? nothing : { rev };
};

/**
 * What the server answers to 'do' and 'undo'. `meanwhile` is what others changed since the page was loaded, `current`
 * comes with a refusal where the page is behind: the file as it stands now.
 */
export type Answer =
	| { ok: true; rev: number; changes: Change[]; meanwhile?: Change[] }
	| { ok: false; problems: Problem[]; current?: { rev: number; file: unknown } };

export type OpenInvestigation = OpenFile<Investigation>;
export type OpenVehicle = OpenFile<VehicleFile>;

const KEY = Symbol('open file');
export const provideInvestigation = (open: () => OpenInvestigation) => setContext(KEY, open);
export const provideVehicle = (open: () => OpenVehicle) => setContext(KEY, open);
/** The investigation that this page is about. Read it inside markup or $derived: it changes with the address. */
export const useInvestigation = (): OpenInvestigation => getContext<() => OpenInvestigation>(KEY)();

/**
 * For a form, called as it is made: what it saves was typed against the file as it stood then. Where somebody changed
 * that record since, saving is refused once and shows what they did, even if the page has learned of it in between.
 */
export function typedNow(): <D extends { ok: boolean }>(save: () => Promise<D>) => Promise<D> {
	const open = getContext<(() => OpenFile<Investigation | VehicleFile>) | undefined>(KEY);
	if (!open) return (save) => save();
	let at = open().rev;
	return async (save) => {
		const file = open();
		file.typedAt = at;
		try {
			const did = await save();
			at = did.ok ? file.rev : (file.typedAt ?? at);
			return did;
		} finally {
			file.typedAt = null;
		}
	};
}

/** Problems by field, for the controls of a form; the first one of each field. */
export function byField(problems: readonly Problem[]): Record<string, string> {
	const fields: Record<string, string> = {};
	for (const { field, message } of problems) fields[field] ??= message;
	return fields;
}
