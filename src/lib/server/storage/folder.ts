import { encodeLine } from './line';
import { invalid, readOnly, tooLarge } from './refusals';
import type { FolderData } from './snapshot';
import {
	LIMITS,
	ok,
	type Answer,
	type Change,
	type Command,
	type Committed,
	type ConflictRecord,
	type Decision,
	type HistoryLine,
	type JsonObject,
	type OperationRefusal,
	type RecordRef,
	type Records,
	type Refusal,
	type Result,
	type Rules
} from './types';
import { deepFreeze, dictionary, recordOf, sameValue, setRecord, valueProblem } from './values';

/** Where a folder's lines go; a refusal means that nothing was kept. */
export interface LineSink {
	append(text: string, lines: readonly HistoryLine[]): Promise<Refusal | null>;
	linesSince(rev: number): Promise<HistoryLine[]>;
}

type Decide<R> = (state: Records, rev: number) => Result<Decision, R>;
type Outcome<R> = Result<Committed, Refusal | OperationRefusal<R>>;

interface Waiting {
	command: Command;
	decide: Decide<unknown>;
	ofAnySize: boolean;
	resolve: (answer: Outcome<unknown>) => void;
	reject: (error: unknown) => void;
}

/** A change that is ready to be written, and what it takes to go back. */
interface Prepared {
	line: HistoryLine;
	text: string;
	crc: string;
	bytesDelta: number;
	undo: Pick<FolderData, 'rev' | 'time' | 'chain' | 'bytes'> & { changedAt: (number | undefined)[] };
}

/** One open folder: its state in memory and the single file of people who want to change it. */
export class Folder {
	private waiting: Waiting[] = [];
	private running: Promise<void> | null = null;
	private readonly keys: Map<string, Committed>;
	private view: { rev: number; state: Records } | null = null;
	private dirty = new Set<string>();

	constructor(
		readonly id: string,
		readonly data: FolderData,
		private readonly sink: LineSink,
		private readonly rules: Rules,
		private readonly fileIsHere: (sha256: string) => boolean,
		private readonly now: () => Date = () => new Date()
	) {
		this.keys = new Map(data.keys.map(([key, rev, time]) => [key, { rev, time }]));
		deepFreeze(Object.values(data.state).map((records) => Object.values(records)));
	}

	/** The state of this moment, frozen. Copies only dictionaries that changed since it was last asked for. */
	read(): { rev: number; time: string; state: Records } {
		const { rev, time, state } = this.data;
		if (this.view?.rev !== rev) {
			const next = dictionary<Readonly<Record<string, JsonObject>>>();
			for (const collection of Object.keys(state)) {
				const kept = this.dirty.has(collection) ? undefined : this.view?.state[collection];
				next[collection] = kept ?? Object.freeze(Object.assign(dictionary<JsonObject>(), state[collection]));
			}
			this.view = { rev, state: Object.freeze(next) };
			this.dirty.clear();
		}
		return { rev, time, state: this.view.state };
	}

	change<R>(command: Command, decide: Decide<R>, ofAnySize = false): Promise<Outcome<R>> {
		return new Promise<Outcome<unknown>>((resolve, reject) => {
			this.waiting.push({ command, decide, ofAnySize, resolve, reject });
			this.running ??= this.run().finally(() => (this.running = null));
		}) as Promise<Outcome<R>>;
	}

	/** Commits changes that are known already. */
	async commit(command: Command, decision: Decision, ofAnySize = false): Answer<Committed> {
		return (await this.change<never>(command, () => ok(decision), ofAnySize)) as Result<Committed, Refusal>;
	}

	/** Resolves when nobody waits any more. */
	async settled(): Promise<void> {
		while (this.running) await this.running;
	}

	private async run(): Promise<void> {
		await Promise.resolve(); // those who ask in the same moment share a sync
		while (this.waiting.length > 0) await this.commitTogether(this.waiting.splice(0));
	}

	/**
	 * Each decision is taken on the state that the ones before it will have made; then all of that is taken back,
	 * written with one sync, and made again, so that no reader ever sees what is not yet on the disk.
	 */
	private async commitTogether(batch: Waiting[]): Promise<void> {
		const prepared: Prepared[] = [];
		const answers: (() => void)[] = [];
		for (const each of batch) {
			try {
				const outcome = this.prepare(each);
				if ('line' in outcome) {
					prepared.push(outcome);
					const { rev, time } = outcome.line;
					answers.push(() => each.resolve({ ok: true, value: { rev, time } }));
				} else {
					answers.push(() => void outcome.answer().then(each.resolve, each.reject));
				}
			} catch (error) {
				answers.push(() => each.reject(error));
			}
		}
		if (prepared.length > 0) {
			for (const one of [...prepared].reverse()) this.takeBack(one);
			let refusal: Refusal | null;
			try {
				refusal = await this.sink.append(
					prepared.map(({ text }) => text).join(''),
					prepared.map(({ line }) => line)
				);
			} catch (error) {
				refusal = readOnly(String(error));
			}
			if (refusal) {
				// Also for those that were refused: they were judged by a state that did not come to be.
				for (const { resolve } of batch) resolve({ ok: false, error: refusal });
				return;
			}
			for (const one of prepared) this.apply(one);
		}
		for (const answer of answers) answer();
	}

	private prepare({
		command,
		decide,
		ofAnySize
	}: Waiting): Prepared | { answer: () => Promise<Outcome<unknown>> } {
		const { data } = this;
		const say = (answer: Outcome<unknown>) => ({ answer: () => Promise.resolve(answer) });
		const no = (error: Refusal) => say({ ok: false, error });

		const known = command.key === undefined ? undefined : this.keys.get(command.key);
		if (known) return say({ ok: true, value: known });

		const decision = decide(data.state, data.rev);
		if (!decision.ok) return say({ ok: false, error: { kind: 'operation', refusal: decision.error } });
		const { changes, reads = [] } = decision.value;

		const problem = valueProblem([command.args, changes.map(({ after }) => after)]);
		if (problem) return no(invalid(['A value cannot be stored: ' + problem]));

		const merged = new Map<string, Change>();
		const conflicts: RecordRef[] = reads.filter((ref) => this.isStale(ref, command.baseRev));
		for (const { collection, id, before, after } of changes) {
			const key = JSON.stringify([collection, id]);
			const earlier = merged.get(key);
			const present = recordOf(data.state, collection, id);
			const stale = !earlier && this.isStale({ collection, id }, command.baseRev);
			if (stale || !sameValue(before, earlier ? earlier.after : present)) conflicts.push({ collection, id });
			merged.set(key, { collection, id, before: present, after });
		}
		if (conflicts.length > 0 || command.baseRev > data.rev)
			return { answer: () => this.explainConflict(conflicts, command.baseRev) };
		const real = [...merged.values()].filter(({ before, after }) => !sameValue(before, after));
		if (real.length === 0) return say({ ok: true, value: { rev: data.rev, time: data.time } });

		const { rev, time, chain, bytes } = data;
		const { text, crc, body } = encodeLine({
			...command,
			rev: rev + 1,
			prev: chain,
			time: this.now().toISOString(),
			changes: real
		});
		const line = deepFreeze(JSON.parse(body) as HistoryLine); // our own copy: callers may keep theirs
		const size = (value: unknown) => (value === null ? 0 : JSON.stringify(value).length);
		const added = line.changes.reduce((sum, { after }) => sum + size(after), 0);
		const prepared: Prepared = {
			line,
			text,
			crc,
			bytesDelta: added - line.changes.reduce((sum, { before }) => sum + size(before), 0),
			undo: { rev, time, chain, bytes, changedAt: line.changes.map((c) => this.changedAt(c)) }
		};
		const refusal = this.objection(prepared, ofAnySize ? 0 : size(line.args) + added);
		return refusal ? no(refusal) : prepared;
	}

	/** Limits, files and rules; where there is no objection the change stays applied. */
	private objection(prepared: Prepared, commandBytes: number): Refusal | null {
		const { changes } = prepared.line;
		const documentBytes = this.data.bytes + prepared.bytesDelta;
		if (commandBytes > LIMITS.commandBytes)
			return tooLarge('This change is too large to be one step', LIMITS.commandBytes, commandBytes);
		if (prepared.bytesDelta > 0 && documentBytes > LIMITS.documentBytes)
			return tooLarge('This would grow beyond what one folder can hold', LIMITS.documentBytes, documentBytes);
		const absent = (this.rules.filesNamed?.(changes) ?? []).filter((sha256) => !this.fileIsHere(sha256));
		if (absent.length > 0)
			return invalid(
				absent.map((sha256) => `The file ${sha256.slice(0, 12)}… has not arrived: send it again.`)
			);

		this.apply(prepared);
		let problems = ['The check itself failed.'];
		try {
			problems = this.rules.check?.(this.id, changes, this.data.state) ?? [];
		} finally {
			if (problems.length > 0) this.takeBack(prepared);
		}
		return problems.length > 0 ? invalid(problems) : null;
	}

	private apply({ line, crc, bytesDelta }: Prepared): void {
		const { data } = this;
		for (const { collection, id, after } of line.changes) {
			setRecord(data.state, collection, id, after);
			(data.changedAt[collection] ??= dictionary())[id] = line.rev;
			this.dirty.add(collection);
		}
		Object.assign(data, { rev: line.rev, time: line.time, chain: crc, bytes: data.bytes + bytesDelta });
		if (line.key === undefined) return;
		this.keys.set(line.key, { rev: line.rev, time: line.time });
		data.keys.push([line.key, line.rev, line.time]);
		if (data.keys.length > 2 * LIMITS.keys)
			for (const [key] of data.keys.splice(0, LIMITS.keys)) this.keys.delete(key);
	}

	private takeBack({ line, undo }: Prepared): void {
		const { data } = this;
		for (const [i, { collection, id, before }] of line.changes.entries()) {
			setRecord(data.state, collection, id, before);
			const changedAt = undo.changedAt[i];
			if (changedAt === undefined) delete data.changedAt[collection]![id];
			else data.changedAt[collection]![id] = changedAt;
		}
		Object.assign(data, { rev: undo.rev, time: undo.time, chain: undo.chain, bytes: undo.bytes });
		if (line.key !== undefined && this.keys.delete(line.key)) data.keys.pop();
	}

	private changedAt({ collection, id }: RecordRef): number | undefined {
		return this.data.changedAt[collection]?.[id];
	}

	private isStale(ref: RecordRef, baseRev: number): boolean {
		return (this.changedAt(ref) ?? 0) > baseRev;
	}

	private async explainConflict(refs: RecordRef[], baseRev: number): Promise<Outcome<never>> {
		const { rev, state } = this.read();
		const touches = (line: HistoryLine, ref: RecordRef) =>
			line.changes.find((c) => c.collection === ref.collection && c.id === ref.id);
		const since = (await this.sink.linesSince(baseRev)).filter((line) =>
			refs.some((ref) => touches(line, ref))
		);
		const records = refs.map(({ collection, id }): ConflictRecord => {
			const present = recordOf(state, collection, id);
			const first = since.map((line) => touches(line, { collection, id })).find((c) => c);
			return { collection, id, base: first ? first.before : present, present };
		});
		const who = [...new Set(since.map((line) => line.who))].join(', ');
		const message =
			baseRev > rev
				? `Your page shows revision ${baseRev}, but the folder stands at ${rev}: it was restored. Reload the page.`
				: `This was changed ${who ? `by ${who} ` : ''}after you opened it. ` +
					'Nothing was saved: look at both versions and decide which one holds.';
		return { ok: false, error: { kind: 'conflict', message, currentRev: rev, records, since } };
	}
}
