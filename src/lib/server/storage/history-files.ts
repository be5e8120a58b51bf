import { join } from 'node:path';
import { codeOf, isFull, listIfThere, sameStamp, type Disk, type DiskFile, type Stamp } from './disk';
import { readSegment, type Segment } from './line';
import { diskFull, readOnly } from './refusals';
import type { HistoryLine, Refusal } from './types';

const NAME = /^(\d{12})\.ndjson$/;
const nameOf = (firstRev: number) => `${String(firstRev).padStart(12, '0')}.ndjson`;

export interface SegmentFile {
	firstRev: number;
	path: string;
	/** First revision that the next segment holds; lines from there on in this file do not count. */
	untilRev: number;
}

/**
 * The history of one folder: files of lines, each named by its first revision. Only the newest is appended to,
 * and only while it is exactly as we left it.
 */
export class HistoryFiles {
	private active: { path: string; file: DiskFile; stamp: Stamp | null } | null = null;
	private broken: string | null = null;
	private full = false;

	private constructor(
		private readonly disk: Disk,
		private readonly directory: string,
		private firstRevs: number[]
	) {}

	static async open(disk: Disk, directory: string): Promise<HistoryFiles> {
		const names = (await listIfThere(disk, directory)).map((name) => NAME.exec(name)?.[1]);
		return new HistoryFiles(disk, directory, names.filter((x) => x !== undefined).map(Number));
	}

	segments(): SegmentFile[] {
		return this.firstRevs.map((firstRev, i) => ({
			firstRev,
			path: join(this.directory, nameOf(firstRev)),
			untilRev: this.firstRevs[i + 1] ?? Infinity
		}));
	}

	/** Why nothing more may be written, if so. */
	get fault(): string | null {
		return this.broken;
	}

	stop(reason: string): void {
		this.broken ??= reason;
	}

	/** Appends and syncs. A refusal means that disk and memory are as before, or that we stop for good. */
	async append(text: string, firstRev: number): Promise<Refusal | null> {
		if (this.broken !== null) return readOnly(this.broken);
		if (this.full && this.active?.stamp?.size) await this.close();
		this.full = false;
		if (!this.active) {
			try {
				await this.begin(firstRev);
			} catch (error) {
				return this.refuse('A new history file could not be made', error);
			}
		}
		const { path, file, stamp } = this.active!;
		if (!sameStamp(this.disk.stamp(path), stamp)) {
			this.stop(`${path} was changed by another program`);
			return readOnly(this.broken!);
		}
		try {
			await file.append(Buffer.from(text));
		} catch (error) {
			return this.takeBack(error);
		}
		try {
			await file.sync();
		} catch (error) {
			// After a failed sync nobody knows what is on the disk; trying again would only hide it.
			this.stop(`the disk did not confirm a write (${codeOf(error)})`);
			await file.truncate(stamp?.size ?? 0).catch(() => {});
			return readOnly(this.broken!);
		}
		this.active!.stamp = this.disk.stamp(path);
		return null;
	}

	/** The next append begins a new file. */
	rotate(): void {
		this.full = true;
	}

	async close(): Promise<void> {
		const file = this.active?.file;
		this.active = null;
		await file?.close();
	}

	/** A file was moved away or removed. */
	forget(firstRev: number): void {
		this.firstRevs = this.firstRevs.filter((rev) => rev !== firstRev);
	}

	async read(segment: SegmentFile, fromRev: number): Promise<Segment> {
		const { lines, ...rest } = readSegment(await this.disk.read(segment.path), fromRev);
		return { lines: lines.filter(({ rev }) => rev < segment.untilRev), ...rest };
	}

	/** Lines from..to as far as they can be read, and the file in which reading stopped short. */
	async lines(fromRev: number, toRev: number): Promise<{ lines: HistoryLine[]; damagedFile: string | null }> {
		const lines: HistoryLine[] = [];
		for (const segment of this.segments()) {
			if (segment.firstRev > toRev || segment.untilRev <= fromRev) continue;
			const { lines: read, rest } = await this.read(segment, fromRev);
			for (const { rev, line } of read) if (line && rev <= toRev) lines.push(line);
			const last = read.at(-1)?.rev ?? segment.firstRev - 1;
			if (rest === 'damaged' && last < Math.min(toRev, segment.untilRev - 1))
				return { lines, damagedFile: segment.path };
		}
		return { lines, damagedFile: null };
	}

	private async begin(firstRev: number): Promise<void> {
		const path = join(this.directory, nameOf(firstRev));
		const file = await this.disk.openToAppend(path, 'new');
		this.active = { path, file, stamp: this.disk.stamp(path) };
		this.firstRevs.push(firstRev);
		try {
			await this.disk.syncDirectory(this.directory);
		} catch (error) {
			this.stop(`the disk did not confirm a new file (${codeOf(error)})`);
			throw error;
		}
	}

	/** Without this, lines acknowledged after a failed append would stand behind a torn one, unreadable. */
	private async takeBack(cause: unknown): Promise<Refusal> {
		const { path, file, stamp } = this.active!;
		try {
			await file.truncate(stamp?.size ?? 0);
			await file.sync();
			this.active!.stamp = this.disk.stamp(path);
		} catch (error) {
			this.stop(`a failed write could not be taken back (${codeOf(error)})`);
		}
		return this.refuse('The change could not be written', cause);
	}

	private refuse(what: string, error: unknown): Refusal {
		if (this.broken === null && isFull(error)) return diskFull();
		this.stop(`${what} (${codeOf(error) || String(error)})`);
		return readOnly(this.broken!);
	}
}
