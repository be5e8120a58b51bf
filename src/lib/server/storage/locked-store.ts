import { mkdir } from 'node:fs/promises';
import { FileStore } from './file-store';
import { acquireLock, type LockOptions } from './lock';
import type { Settings } from './open-folder';
import { ok, type Answer } from './types';

/** Locks the data folder and opens its store; closing the store lets the lock go. A refusal is a sentence to show. */
export async function openLockedStore(
	root: string,
	options: LockOptions & Partial<Settings> = {}
): Answer<FileStore, { kind: 'locked'; message: string }> {
	await mkdir(root, { recursive: true });
	const lock = await acquireLock(root, options);
	if (!lock.ok) return lock;
	const { rules, disk, now, idleMs } = options;
	const given = Object.fromEntries(
		Object.entries({ rules, disk, now, idleMs }).filter(([, x]) => x !== undefined)
	);
	try {
		return ok(await FileStore.open(root, { ...given, guard: lock.value.check }, lock.value.release));
	} catch (error) {
		await lock.value.release();
		throw error;
	}
}
