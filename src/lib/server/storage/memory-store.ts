import { Readable } from 'node:stream';
import { take } from './attachments';
import { absentFiles, chainProblems, historyProblems, stateFrom } from './checks';
import { Folder } from './folder';
import { encodeLine } from './line';
import { badFile, exists, invalid, noFile, notFound, nothingToRestore, notItsName } from './refusals';
import { advance, emptyFolder } from './recover';
import {
	no,
	ok,
	type Answer,
	type CaseStore,
	type Change,
	type Command,
	type Committed,
	type Decision,
	type FileLimits,
	type HistoryLine,
	type Listed,
	type OperationRefusal,
	type Records,
	type Refusal,
	type Result,
	type Rules,
	type StoredFile,
	type VerifyReport
} from './types';
import { deepFreeze } from './values';

interface MemoryFolder {
	folder: Folder;
	lines: HistoryLine[];
	files: Map<string, Buffer>;
}

/** The same promises as the store on disk, less durability: for tests, and the measure of the contract suite. */
export class MemoryStore implements CaseStore {
	private readonly folders = new Map<string, MemoryFolder>();
	private readonly away = new Map<string, MemoryFolder>();

	constructor(private readonly rules: Rules = {}) {}

	async open(id: string) {
		return this.with(id, ({ folder }) => ok({ ...folder.read(), report: [] }));
	}

	async create(id: string, command: Omit<Command, 'baseRev'>, changes: readonly Change[]): Answer<Committed> {
		if (this.folders.has(id)) return no(exists(id));
		const made = this.make(id, [], new Map());
		const done = await made.folder.commit({ ...command, baseRev: 0 }, { changes });
		if (this.folders.has(id)) return no(exists(id));
		if (done.ok) this.folders.set(id, made);
		return done;
	}

	async commit(id: string, command: Command, decision: Decision): Answer<Committed> {
		return this.with(id, ({ folder }) => folder.commit(command, decision));
	}

	async change<R>(
		id: string,
		command: Command,
		decide: (state: Records, rev: number) => Result<Decision, R>
	): Answer<Committed, Refusal | OperationRefusal<R>> {
		return this.folders.get(id)?.folder.change(command, decide) ?? no(notFound(id));
	}

	async history(id: string, from = 1, to = Infinity): Answer<HistoryLine[]> {
		return this.with(id, ({ lines }) => ok(lines.filter(({ rev }) => rev >= from && rev <= to)));
	}

	async stateAt(id: string, rev: number): Answer<Records> {
		const lines = await this.history(id, 1, rev);
		return lines.ok ? stateFrom(lines.value, rev) : lines;
	}

	list(kind: string, { archived = false } = {}): Promise<Listed[]> {
		const listed = [...(archived ? this.away : this.folders)]
			.filter(([id]) => id.startsWith(`${kind}/`))
			.map(([id, { folder }]) => {
				const { rev, time, state } = folder.read();
				return { id, rev, time, summary: this.rules.summary?.(id, state) ?? {} };
			});
		return Promise.resolve(listed);
	}

	archive(id: string): Answer<null> {
		return Promise.resolve(move(id, this.folders, this.away));
	}

	unarchive(id: string): Answer<null> {
		return Promise.resolve(move(id, this.away, this.folders));
	}

	async restore(id: string): Answer<Committed & { report: string[] }> {
		return this.with(id, () => no(nothingToRestore()));
	}

	async adopt(
		id: string,
		lines: readonly HistoryLine[],
		files: ReadonlyMap<string, AsyncIterable<Uint8Array>>
	): Answer<Committed> {
		if (this.folders.has(id)) return no(exists(id));
		const broken = chainProblems(lines);
		if (broken.length > 0) return no(badFile(broken.join(' ')));
		const kept = new Map<string, Buffer>();
		for (const [sha256, content] of files) {
			const put = await keep(kept, content, { limitBytes: Infinity });
			if (!put.ok) return put;
			if (put.value.sha256 !== sha256) return no(notItsName(sha256));
		}
		const made = this.make(id, lines, kept);
		const { rev, time, state } = made.folder.read();
		const { tooNew, problems = [] } = this.rules.opened?.(id, state) ?? {};
		if (tooNew !== undefined) return no({ kind: 'too-new', message: tooNew });
		const absent = absentFiles(this.rules, state, (sha256) => kept.has(sha256));
		if (problems.length + absent.length > 0) return no(invalid([...problems, ...absent]));
		this.folders.set(id, made);
		return ok({ rev, time });
	}
	async putFile(id: string, content: AsyncIterable<Uint8Array>, limits: FileLimits): Answer<StoredFile> {
		return this.with(id, ({ files }) => keep(files, content, limits));
	}

	async getFile(id: string, sha256: string): Answer<{ bytes: number; content: AsyncIterable<Uint8Array> }> {
		return this.with(id, ({ files }) => {
			const found = files.get(sha256);
			if (!found) return no(noFile());
			return ok({ bytes: found.length, content: Readable.from([found]) });
		});
	}

	derived(_id: string, _name: string, make: () => Answer<Uint8Array>): Answer<Uint8Array> {
		return make();
	}

	hasFile(id: string, sha256: string): Promise<boolean> {
		return Promise.resolve(this.folders.get(id)?.files.has(sha256) ?? false);
	}

	async listFiles(id: string): Answer<StoredFile[]> {
		return this.with(id, ({ files }) =>
			ok([...files].map(([sha256, content]) => ({ sha256, bytes: content.length })))
		);
	}

	async verify(id: string): Answer<VerifyReport> {
		return this.with(id, ({ folder, lines, files }) => {
			const { rev, state } = folder.read();
			const absent = absentFiles(this.rules, state, (sha256) => files.has(sha256));
			const problems = [...historyProblems(lines, state), ...absent];
			return ok({ rev, lines: lines.length, files: files.size, problems });
		});
	}

	close(): Promise<void> {
		return Promise.resolve();
	}

	private async with<T>(id: string, use: (found: MemoryFolder) => Result<T, Refusal> | Answer<T>): Answer<T> {
		const found = this.folders.get(id);
		return found ? use(found) : no(notFound(id));
	}

	private make(id: string, past: readonly HistoryLine[], files: Map<string, Buffer>): MemoryFolder {
		const data = emptyFolder();
		const lines = past.map((line) => deepFreeze(structuredClone(line)));
		for (const line of lines) advance(data, { ...encodeLine(line), line });
		const sink = {
			append: (_text: string, made: readonly HistoryLine[]) => {
				lines.push(...made);
				return Promise.resolve(null);
			},
			linesSince: (rev: number) => Promise.resolve(lines.filter((line) => line.rev > rev))
		};
		return { folder: new Folder(id, data, sink, this.rules, (sha256) => files.has(sha256)), lines, files };
	}
}

function move(
	id: string,
	from: Map<string, MemoryFolder>,
	to: Map<string, MemoryFolder>
): Result<null, Refusal> {
	const found = from.get(id);
	if (!found) return no(notFound(id));
	if (to.has(id)) return no(exists(id));
	from.delete(id);
	to.set(id, found);
	return ok(null);
}

async function keep(
	files: Map<string, Buffer>,
	content: AsyncIterable<Uint8Array>,
	limits: FileLimits
): Answer<StoredFile> {
	const chunks: Uint8Array[] = [];
	const taken = await take(content, limits, (chunk) => void chunks.push(chunk));
	if (taken.ok) files.set(taken.value.sha256, Buffer.concat(chunks));
	return taken;
}
