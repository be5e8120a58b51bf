import { randomUUID } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { absentFiles, historyProblems, stateFrom } from './checks';
import { isFull, isTaken, listIfThere, realDisk } from './disk';
import { firstLines, writeDraft } from './draft';
import { Listing } from './listing';
import { OpenFolder, type Settings } from './open-folder';
import { writeNew } from './recover';
import { diskFull, exists, invalid, notFound, readOnly } from './refusals';
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
	type StoredFile,
	type VerifyReport
} from './types';

const FOLDER_ID = /^[a-z]+\/[a-z0-9][a-z0-9-]{0,79}$/;

/** The store on disk. Whoever makes one holds the lock of `root` (lock.ts) until it is closed. */
export class FileStore implements CaseStore {
	private readonly folders = new Map<string, Answer<OpenFolder>>();
	private readonly incoming: string;
	private readonly listing: Listing;
	private closed = false;

	private constructor(
		private readonly root: string,
		private readonly settings: Settings,
		private readonly afterClose: () => Promise<void>
	) {
		this.incoming = join(root, 'incoming');
		this.listing = new Listing(settings.disk);
	}

	static async open(
		root: string,
		options: Partial<Settings> = {},
		afterClose = () => Promise.resolve()
	): Promise<FileStore> {
		const settings = { rules: {}, disk: realDisk, guard: () => null, now: () => new Date(), idleMs: 10_000 };
		await realDisk.makeDirectory(root);
		await rm(join(root, 'incoming'), { recursive: true, force: true }); // half-made folders of a crash
		return new FileStore(root, { ...settings, ...options }, afterClose);
	}

	async open(id: string) {
		const open = await this.whole(id);
		if (!open.ok) return open;
		const { folder, report, problems } = open.value;
		return ok({ ...folder.read(), report: [...report, ...problems] });
	}

	async create(id: string, command: Omit<Command, 'baseRev'>, changes: readonly Change[]): Answer<Committed> {
		const { rules, now } = this.settings;
		const lines = await firstLines(id, command, changes, rules, now);
		return lines.ok ? this.adopt(id, lines.value, new Map()) : lines;
	}

	async commit(id: string, command: Command, decision: Decision): Answer<Committed> {
		const open = await this.whole(id);
		return open.ok ? open.value.folder.commit(command, decision) : open;
	}

	async change<R>(
		id: string,
		command: Command,
		decide: (state: Records, rev: number) => Result<Decision, R>
	): Answer<Committed, Refusal | OperationRefusal<R>> {
		const open = await this.whole(id);
		return open.ok ? open.value.folder.change(command, decide) : open;
	}

	async history(id: string, from = 1, to = Infinity): Answer<HistoryLine[]> {
		const open = await this.any(id);
		return open.ok ? open.value.lines(from, to) : open;
	}

	async stateAt(id: string, rev: number): Answer<Records> {
		const lines = await this.history(id, 1, rev);
		if (!lines.ok) return lines;
		return stateFrom(lines.value, rev);
	}

	async list(kind: string, { archived = false } = {}): Promise<Listed[]> {
		const names = await listIfThere(this.settings.disk, join(this.root, archived ? 'archived' : '', kind));
		const ids = names.map((name) => `${kind}/${name}`).filter((id) => FOLDER_ID.test(id));
		const listed: Listed[] = [];
		for (let i = 0; i < ids.length; i += 32)
			listed.push(...(await Promise.all(ids.slice(i, i + 32).map((id) => this.describe(id, archived)))));
		return listed;
	}

	archive(id: string): Answer<null> {
		return this.move(id, this.path(id), this.path(id, true));
	}

	unarchive(id: string): Answer<null> {
		return this.move(id, this.path(id, true), this.path(id));
	}

	async restore(id: string, who: string): Answer<Committed & { report: string[] }> {
		const open = await this.any(id);
		if (!open.ok) return open;
		const repaired = await open.value.repair(who);
		this.folders.delete(id);
		return repaired;
	}

	async adopt(
		id: string,
		lines: readonly HistoryLine[],
		files: ReadonlyMap<string, AsyncIterable<Uint8Array>>
	): Answer<Committed> {
		if (!FOLDER_ID.test(id)) return no(notFound(id));
		const { disk, rules } = this.settings;
		const target = this.path(id);
		if (disk.stamp(target)) return no(exists(id));
		const draft = join(this.incoming, randomUUID());
		try {
			const refusal = await writeDraft(disk, draft, lines, files);
			if (refusal) return no(refusal);
			const open = await OpenFolder.open(id, draft, this.settings);
			if (!open.ok) return open;
			const { folder, problems, damaged, files: kept } = open.value;
			const { rev, time, state } = folder.read();
			const absent = absentFiles(rules, state, (sha256) => kept.has(sha256));
			await open.value.close();
			if (damaged) return no(damaged);
			if (problems.length + absent.length > 0) return no(invalid([...problems, ...absent]));

			await disk.makeDirectory(dirname(target));
			if (disk.stamp(target)) return no(exists(id));
			await disk.rename(draft, target);
			await disk.syncDirectory(dirname(target));
			await disk.syncDirectory(this.root);
			return ok({ rev, time });
		} catch (error) {
			if (isFull(error)) return no(diskFull());
			if (isTaken(error)) return no(exists(id));
			throw error;
		} finally {
			await rm(draft, { recursive: true, force: true });
		}
	}

	async putFile(id: string, content: AsyncIterable<Uint8Array>, limits: FileLimits): Answer<StoredFile> {
		const open = await this.whole(id);
		return open.ok ? open.value.files.put(content, limits) : open;
	}

	async getFile(id: string, sha256: string): Answer<{ bytes: number; content: AsyncIterable<Uint8Array> }> {
		const open = await this.any(id);
		return open.ok ? open.value.files.get(sha256) : open;
	}

	async derived(id: string, name: string, make: () => Answer<Uint8Array>): Answer<Uint8Array> {
		const open = await this.any(id);
		if (!open.ok) return open;
		if (!/^[a-z0-9][a-z0-9.-]*$/.test(name)) throw new RangeError('not a name for a derived file');
		const { disk } = this.settings;
		const directory = join(this.path(id), 'derived');
		const path = join(directory, name);
		if (disk.stamp(path)) return ok(await disk.read(path));
		const made = await make();
		if (made.ok) {
			await disk.makeDirectory(directory);
			const draft = `${path}.${randomUUID()}.tmp`;
			await writeNew(disk, draft, made.value).then(
				() => disk.rename(draft, path),
				() => disk.remove(draft) // a full disk: it can be made again
			);
		}
		return made;
	}

	async hasFile(id: string, sha256: string): Promise<boolean> {
		const open = await this.any(id);
		return open.ok && open.value.files.has(sha256);
	}

	async listFiles(id: string): Answer<StoredFile[]> {
		const open = await this.any(id);
		return open.ok ? ok(open.value.files.all()) : open;
	}

	async verify(id: string): Answer<VerifyReport> {
		const open = await this.whole(id);
		if (!open.ok) return open;
		const { folder, files } = open.value;
		const { rev, state } = folder.read();
		const lines = await open.value.lines(1, rev);
		const problems = [
			...(lines.ok ? historyProblems(lines.value, state) : [lines.error.message]),
			...(await open.value.verifySnapshot()),
			...(await files.verify()),
			...absentFiles(this.settings.rules, state, (sha256) => files.has(sha256))
		];
		return ok({ rev, lines: lines.ok ? lines.value.length : 0, files: files.all().length, problems });
	}

	async close(): Promise<void> {
		this.closed = true;
		const opened = await Promise.allSettled(this.folders.values());
		for (const open of opened)
			if (open.status === 'fulfilled' && open.value.ok) await open.value.value.close();
		this.folders.clear();
		await this.afterClose();
	}

	/** The folder, also if it is damaged: its past can be read. */
	private any(id: string): Answer<OpenFolder> {
		if (!FOLDER_ID.test(id) || !this.settings.disk.stamp(this.path(id)))
			return Promise.resolve(no(notFound(id)));
		if (this.closed) return Promise.resolve(no(readOnly('Witness Mark is closing')));
		let opening = this.folders.get(id);
		if (!opening) {
			opening = OpenFolder.open(id, this.path(id), this.settings);
			this.folders.set(id, opening);
			const forget = () => this.folders.delete(id);
			opening.then((open) => open.ok || forget(), forget);
		}
		return opening;
	}

	/** The folder, if it is whole. */
	private async whole(id: string): Answer<OpenFolder> {
		const open = await this.any(id);
		const damaged = open.ok ? open.value.damaged : null;
		return damaged ? no(damaged) : open;
	}

	private path(id: string, archived = false): string {
		return join(this.root, archived ? 'archived' : '', id);
	}

	private async describe(id: string, archived: boolean): Promise<Listed> {
		const { rules } = this.settings;
		try {
			const seen =
				this.folders.has(id) && !archived ? null : await this.listing.glance(id, this.path(id, archived));
			if (seen) return seen;
			if (archived) return { id, rev: 0, time: '', summary: {} };
			const open = await this.whole(id);
			if (!open.ok) return { id, rev: 0, time: '', summary: {}, problem: open.error.message };
			const { rev, time, state } = open.value.folder.read();
			return { id, rev, time, summary: rules.summary?.(id, state) ?? {} };
		} catch (error) {
			return { id, rev: 0, time: '', summary: {}, problem: String(error) };
		}
	}

	private async move(id: string, from: string, to: string): Answer<null> {
		const { disk } = this.settings;
		if (!FOLDER_ID.test(id) || !disk.stamp(from)) return no(notFound(id));
		if (disk.stamp(to)) return no(exists(id));
		const opening = this.folders.get(id);
		this.folders.delete(id);
		const open = await opening;
		if (open?.ok) await open.value.close();
		await disk.makeDirectory(dirname(to));
		await disk.rename(from, to);
		await disk.syncDirectory(dirname(from));
		await disk.syncDirectory(dirname(to));
		return ok(null);
	}
}
