import { join } from 'node:path';
import { listIfThere, type Disk } from './disk';
import { lastRevIn } from './line';
import { SnapshotFile } from './snapshot';
import type { Listed } from './types';

const TAIL_BYTES = 65_536;

/**
 * What a folder's files say of it without reading them whole, or null if the snapshot is behind the history and
 * the folder has to be opened to know.
 */
export async function glance(disk: Disk, id: string, directory: string): Promise<Listed | null> {
	const head = await new SnapshotFile(disk, join(directory, 'state.json'), () => ({})).readHead();
	if (!head) return null;
	const last = (await listIfThere(disk, join(directory, 'history'))).at(-1);
	if (last === undefined) return null;
	const tail = await disk.readTail(join(directory, 'history', last), TAIL_BYTES);
	if (lastRevIn(tail) !== head.rev) return null;
	return { id, rev: head.rev, time: head.time, summary: head.summary };
}
