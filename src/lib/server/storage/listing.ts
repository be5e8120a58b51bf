import { join } from 'node:path';
import { listIfThere, sameStamp, type Disk, type Stamp } from './disk';
import { lastRevIn } from './line';
import { SnapshotFile } from './snapshot';
import type { Listed } from './types';

const TAIL_BYTES = 65_536;

/** What folders that are not open say of themselves; remembered as long as their state file stays the same. */
export class Listing {
	private readonly seen = new Map<string, { stamp: Stamp | null; listed: Listed }>();

	constructor(private readonly disk: Disk) {}

	/** Null if the snapshot is behind the history, and the folder has to be opened to know. */
	async glance(id: string, directory: string): Promise<Listed | null> {
		const path = join(directory, 'state.json');
		const stamp = this.disk.stamp(path);
		const seen = this.seen.get(directory);
		if (seen && sameStamp(seen.stamp, stamp)) return seen.listed;
		const head = await new SnapshotFile(this.disk, path, () => ({})).readHead();
		const last = (await listIfThere(this.disk, join(directory, 'history'))).at(-1);
		if (!head || last === undefined) return null;
		const tail = await this.disk.readTail(join(directory, 'history', last), TAIL_BYTES);
		if (lastRevIn(tail) !== head.rev) return null;
		const listed = { id, rev: head.rev, time: head.time, summary: head.summary };
		this.seen.set(directory, { stamp, listed });
		return listed;
	}
}
