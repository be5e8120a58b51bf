import { basename, dirname, join } from 'node:path';
import { Low } from 'lowdb';
import { listIfThere, type Disk } from './disk';
import { HistoryFiles } from './history-files';
import { encodeLine, NO_LINE, type ReadLine } from './line';
import { DamagedFile, NewerFile, SnapshotFile, type FolderData } from './snapshot';
import { LIMITS, type JsonObject, type Records, type Refusal } from './types';
import { dictionary, replay, wholeAsChanges } from './values';

export interface Damage {
	message: string;
	/** First revision of the history file in which the trouble begins, and how much of it is good. */
	from: number;
	goodBytes: number;
}

export interface Recovered {
	low: Low<FolderData>;
	history: HistoryFiles;
	/** Revision of the snapshot on disk. */
	savedRev: number;
	/** What was found and done, in sentences. */
	report: string[];
	/** Set when acknowledged lines cannot be reached; `low.data` is then the last good state. */
	damage: Damage | null;
}

export const emptyFolder = (): FolderData => ({
	rev: 0,
	time: '',
	chain: NO_LINE,
	changedAt: dictionary(),
	keys: [],
	bytes: 0,
	state: dictionary()
});

/**
 * Brings a folder back from disk: the snapshot, or else the newest good backup, or else nothing, and every
 * line after it. Only the holder of the lock may call this. Files are moved aside, never overwritten; a line cut
 * off by a crash (never acknowledged) is removed, kept aside and reported.
 */
export async function recover(
	disk: Disk,
	directory: string,
	summary: (state: Records) => JsonObject
): Promise<Recovered | Refusal> {
	const snapshot = new SnapshotFile(disk, join(directory, 'state.json'), summary);
	const low = new Low<FolderData>(snapshot, emptyFolder());
	const report: string[] = [];
	let savedRev = 0;
	for (const name of await disk.list(directory))
		if (name.endsWith('.tmp')) await disk.remove(join(directory, name));
	try {
		await low.read(); // leaves the empty folder where there is no file
		savedRev = low.data.rev;
		if (savedRev === 0) low.data = (await snapshot.newestBackup()) ?? low.data;
	} catch (error) {
		if (error instanceof NewerFile) return { kind: 'too-new', message: error.message };
		if (!(error instanceof DamagedFile)) throw error;
		const aside = await setAside(disk, directory, snapshot.path);
		low.data = (await snapshot.newestBackup()) ?? emptyFolder();
		report.push(`${error.message}. It was set aside as ${aside}; the state was rebuilt from the history.`);
	}

	const { data } = low;
	const history = await HistoryFiles.open(disk, join(directory, 'history'));
	let damage: Damage | null = null;
	let joined = data.rev === 0; // whether the history is known to be the one that this state came from
	for (const segment of history.segments()) {
		if (segment.untilRev <= data.rev) continue;
		const { lines, goodBytes, rest } = await history.read(segment, data.rev + 1);
		const isLast = segment.untilRev === Infinity;
		let fits = true;
		let fitting = 0;
		for (const read of lines) {
			if (read.rev >= data.rev) {
				if (read.rev === data.rev) fits = read.crc === data.chain;
				else fits = continues(data, read);
				if (!fits) break;
				if (read.rev > data.rev) advance(data, read);
				joined = true;
			}
			fitting = read.end;
		}
		const complete = data.rev === segment.untilRev - 1;
		if (!fits || (rest === 'damaged' && !complete) || !(complete || isLast)) {
			const message = `${basename(segment.path)} is damaged after revision ${data.rev}`;
			damage = { message, from: segment.firstRev, goodBytes: fitting };
			break;
		}
		if (rest === 'torn' && isLast) {
			const aside = await cutTail(disk, directory, segment.path, goodBytes);
			report.push(
				`The last change was cut off while it was being saved, before it was acknowledged. ` +
					`It does not count; its beginning is kept as ${aside}.`
			);
		}
		if (isLast && goodBytes === 0) {
			await disk.remove(segment.path);
			history.forget(segment.firstRev);
		}
	}
	if (!damage && data.rev === 0) damage = { message: 'The folder holds no history', from: 1, goodBytes: 0 };
	if (!damage && !joined)
		damage = { message: `The history does not reach revision ${data.rev}`, from: data.rev + 1, goodBytes: 0 };
	return { low, history, savedRev, report, damage };
}

const continues = (data: FolderData, { rev, line }: ReadLine) =>
	line?.baseline === true || (rev === data.rev + 1 && line?.prev === data.chain);

/** Adds one line to the data. */
export function advance(data: FolderData, { crc, line }: Omit<ReadLine, 'rev' | 'end'>): void {
	if (!line) throw new TypeError('the line was checked but not parsed');
	replay(data.state, [line]);
	for (const { collection, id, before, after } of line.changes) {
		(data.changedAt[collection] ??= dictionary())[id] = line.rev;
		data.bytes += sizeOf(after) - (line.baseline ? 0 : sizeOf(before));
	}
	if (line.baseline) data.bytes = line.changes.reduce((sum, { after }) => sum + sizeOf(after), 0);
	if (line.key !== undefined)
		data.keys = [...data.keys.slice(-2 * LIMITS.keys), [line.key, line.rev, line.time]];
	Object.assign(data, { rev: line.rev, time: line.time, chain: crc });
}

const sizeOf = (record: JsonObject | null) => (record ? JSON.stringify(record).length : 0);

/**
 * Goes on from the last good state: moves history files aside from the damage on, keeps the good beginning of the
 * first, and writes one line that holds the whole state. Returns what was done, in sentences.
 */
export async function repair(
	disk: Disk,
	directory: string,
	{ low: { data }, history }: Recovered,
	damage: Damage,
	by: { who: string; time: string }
): Promise<{ refusal: Refusal | null; report: string[] }> {
	const report: string[] = [];
	for (const { firstRev, path } of history.segments()) {
		if (firstRev < damage.from) continue;
		const good = (await disk.read(path)).subarray(0, firstRev === damage.from ? damage.goodBytes : 0);
		report.push(`${basename(path)} was set aside as ${await setAside(disk, directory, path)}.`);
		if (good.length > 0) await writeNew(disk, path, good);
		else history.forget(firstRev);
	}
	const rev = data.rev + 1;
	const operation = 'restore the last good state';
	const args = { lastGoodRev: data.rev, setAside: report };
	const line = {
		rev,
		prev: data.chain,
		baseRev: data.rev,
		...by,
		operation,
		args,
		changes: wholeAsChanges(data.state),
		baseline: true as const
	};
	await disk.makeDirectory(join(directory, 'history'));
	const refusal = await history.append(encodeLine(line).text, rev);
	return { refusal, report };
}

/** Moves a file out of the way under a name of its own; returns that name, relative to the folder. */
async function setAside(disk: Disk, directory: string, path: string): Promise<string> {
	const aside = await freeName(disk, directory, basename(path));
	await disk.rename(path, join(directory, aside));
	await disk.syncDirectory(directory);
	return aside;
}

async function cutTail(disk: Disk, directory: string, path: string, goodBytes: number): Promise<string> {
	const aside = await freeName(disk, directory, `cut-${basename(path)}`);
	await writeNew(disk, join(directory, aside), (await disk.read(path)).subarray(goodBytes));
	const file = await disk.openToAppend(path, 'existing');
	await file.truncate(goodBytes);
	await file.sync();
	await file.close();
	return aside;
}

export async function writeNew(disk: Disk, path: string, bytes: Uint8Array): Promise<void> {
	const file = await disk.openToAppend(path, 'new');
	await file.append(bytes);
	await file.sync();
	await file.close();
	await disk.syncDirectory(dirname(path));
}

async function freeName(disk: Disk, directory: string, name: string): Promise<string> {
	const folder = join(directory, 'set-aside');
	await disk.makeDirectory(folder);
	const taken = await listIfThere(disk, folder);
	for (let i = 1; ; i++) if (!taken.includes(`${i}-${name}`)) return join('set-aside', `${i}-${name}`);
}
