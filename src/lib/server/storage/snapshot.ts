import { createHash, randomUUID } from 'node:crypto';
import { basename, dirname, join } from 'node:path';
import type { Adapter } from 'lowdb';
import { listIfThere, type Disk } from './disk';
import type { JsonObject, Records } from './types';
import { toDictionaries, type MutableRecords } from './values';

const FORMAT = 'witness-mark state';
const VERSION = 1;
const HEAD_BYTES = 16_384;
const NEWEST_KEPT = 5;
const DAYS_KEPT = 30;

/** All that a folder holds in memory: the state, and what is needed to go on from it. */
export interface FolderData {
	rev: number;
	time: string;
	/** Checksum of the last line: says which history this state belongs to. */
	chain: string;
	/** Revision of the last change of each record, also of those that are gone. */
	changedAt: Record<string, Record<string, number>>;
	/** Recent idempotency keys, oldest first. */
	keys: [key: string, rev: number, time: string][];
	/** JSON length of all records. */
	bytes: number;
	state: MutableRecords;
}

export interface SnapshotHead {
	version: number;
	rev: number;
	time: string;
	summary: JsonObject;
}

/** The file cannot be what we wrote. */
export class DamagedFile extends Error {}
/** The file comes from a later version of the tool. */
export class NewerFile extends Error {}

/** lowdb's way to the snapshot: synced, checked by its own hash, the last good ones kept. */
export class SnapshotFile implements Adapter<FolderData> {
	constructor(
		private readonly disk: Disk,
		readonly path: string,
		private readonly summary: (state: Records) => JsonObject
	) {}

	/** @throws DamagedFile, NewerFile; null only when there is no file */
	async read(path = this.path): Promise<FolderData | null> {
		if (!this.disk.stamp(path)) return null;
		const bytes = await this.disk.read(path);
		const end = bytes.indexOf(10);
		const head = parseHead(bytes.subarray(0, Math.max(end, 0)), path);
		const body = bytes.subarray(end + 1);
		if (body.length !== head.bytes || hashOf(body) !== head.sha256)
			throw new DamagedFile(`${basename(path)} does not match its own checksum`);
		const data = JSON.parse(body.toString()) as FolderData;
		return { ...data, state: toDictionaries(data.state), changedAt: dictionaries(data.changedAt) };
	}

	async readHead(): Promise<SnapshotHead | null> {
		if (!this.disk.stamp(this.path)) return null;
		const bytes = await this.disk.readHead(this.path, HEAD_BYTES);
		return parseHead(bytes.subarray(0, Math.max(bytes.indexOf(10), 0)), this.path);
	}

	/** The text is made at once, so commits may go on while it is written. */
	async write(data: FolderData): Promise<void> {
		const body = Buffer.from(JSON.stringify(data));
		const head = {
			format: FORMAT,
			version: VERSION,
			rev: data.rev,
			time: data.time,
			bytes: body.length,
			sha256: hashOf(body),
			summary: this.summary(data.state)
		};
		const headLine = Buffer.from(`${JSON.stringify(head)}\n`);
		if (headLine.length > HEAD_BYTES) throw new RangeError('a folder summary must stay under 8 KB');
		const temporary = `${this.path}.${randomUUID()}.tmp`;
		try {
			const file = await this.disk.openToAppend(temporary, 'new');
			try {
				await file.append(Buffer.concat([headLine, body]));
				await file.sync();
			} finally {
				await file.close();
			}
			await this.keepOutgoing();
			await this.disk.rename(temporary, this.path);
		} catch (error) {
			await this.disk.remove(temporary).catch(() => {});
			throw error;
		}
		await this.disk.syncDirectory(dirname(this.path));
	}

	/** The newest backup that can be read. */
	async newestBackup(): Promise<FolderData | null> {
		for (const name of (await listIfThere(this.disk, this.backupFolder)).reverse()) {
			try {
				return await this.read(join(this.backupFolder, name));
			} catch (error) {
				if (!(error instanceof DamagedFile)) throw error; // a damaged backup is no backup
			}
		}
		return null;
	}

	private get backupFolder() {
		return join(dirname(this.path), 'backups');
	}

	private async keepOutgoing(): Promise<void> {
		const outgoing = await this.readHead().catch(() => null);
		if (!outgoing) return;
		const name = `state-${String(outgoing.rev).padStart(12, '0')}-${outgoing.time.slice(0, 10)}.json`;
		await this.disk.makeDirectory(this.backupFolder);
		const target = join(this.backupFolder, name);
		if (!this.disk.stamp(target)) await this.disk.link(this.path, target);

		const names = (await this.disk.list(this.backupFolder)).sort().reverse();
		const days = new Set<string>();
		for (const [i, old] of names.entries()) {
			const day = old.slice(-15, -5);
			const newDay = !days.has(day);
			days.add(day);
			if (i >= NEWEST_KEPT && !(newDay && days.size <= DAYS_KEPT))
				await this.disk.remove(join(this.backupFolder, old));
		}
	}
}

const hashOf = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest('hex');

function dictionaries(parsed: FolderData['changedAt']): FolderData['changedAt'] {
	return toDictionaries(parsed as unknown as Records) as unknown as FolderData['changedAt'];
}

function parseHead(line: Buffer, path: string): SnapshotHead & { bytes: number; sha256: string } {
	let head: (SnapshotHead & { format?: string; bytes: number; sha256: string }) | null;
	try {
		head = JSON.parse(line.toString()) as typeof head;
	} catch {
		head = null;
	}
	if (head?.format !== FORMAT) throw new DamagedFile(`${basename(path)} does not begin as a state file does`);
	if (head.version > VERSION)
		throw new NewerFile('This folder was written by a later version of Witness Mark: install that version.');
	return head;
}
