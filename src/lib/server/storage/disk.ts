import { statSync, writeSync } from 'node:fs';
import * as fs from 'node:fs/promises';
import { dirname } from 'node:path';

/** What tells whether a file is still the one that we wrote last. */
export interface Stamp {
	inode: number;
	size: number;
	mtimeMs: number;
}

export const sameStamp = (a: Stamp | null, b: Stamp | null) =>
	a?.inode === b?.inode && a?.size === b?.size && a?.mtimeMs === b?.mtimeMs;

export interface DiskFile {
	append(bytes: Uint8Array): Promise<void>;
	/** Contents and length are on the disk when this returns. */
	sync(): Promise<void>;
	truncate(size: number): Promise<void>;
	close(): Promise<void>;
}

/** Every touch of the disk goes through here, so that a test can let the disk be full or sick. */
export interface Disk {
	/** Opens for appending; 'new' refuses an existing file. */
	openToAppend(path: string, mode: 'new' | 'existing'): Promise<DiskFile>;
	read(path: string): Promise<Buffer>;
	/** The first bytes of a file. */
	readHead(path: string, bytes: number): Promise<Buffer>;
	/** The last bytes of a file. */
	readTail(path: string, bytes: number): Promise<Buffer>;
	list(path: string): Promise<string[]>;
	makeDirectory(path: string): Promise<void>;
	rename(from: string, to: string): Promise<void>;
	/** A second name for the same bytes; copies where the file system knows no links. */
	link(from: string, to: string): Promise<void>;
	remove(path: string): Promise<void>;
	stamp(path: string): Stamp | null;
	syncDirectory(path: string): Promise<void>;
	freeBytes(path: string): Promise<number>;
}

export const codeOf = (error: unknown): string =>
	(error instanceof Error && 'code' in error && String(error.code)) || '';

/** Somebody else was faster: a folder of this name stands there. */
export const isTaken = (error: unknown) => ['ENOTEMPTY', 'EEXIST'].includes(codeOf(error));

/** No room left, by device or by quota. */
export const isFull = (error: unknown) => ['ENOSPC', 'EDQUOT', 'EFBIG'].includes(codeOf(error));

const windows = process.platform === 'win32';

/** Virus scanners and indexers on Windows hold files for moments. */
async function patiently(action: () => Promise<void>): Promise<void> {
	for (let attempt = 1; ; attempt++) {
		try {
			return await action();
		} catch (error) {
			if (!windows || attempt === 10 || !['EPERM', 'EACCES', 'EBUSY'].includes(codeOf(error))) throw error;
			await new Promise((resolve) => setTimeout(resolve, 50 * attempt));
		}
	}
}

async function readPart(path: string, from: (size: number) => number, bytes: number): Promise<Buffer> {
	const handle = await fs.open(path, 'r');
	try {
		const buffer = Buffer.alloc(bytes);
		const { bytesRead } = await handle.read(buffer, 0, bytes, from((await handle.stat()).size));
		return buffer.subarray(0, bytesRead);
	} finally {
		await handle.close();
	}
}

export const realDisk: Disk = {
	async openToAppend(path, mode) {
		const handle = await fs.open(path, mode === 'new' ? 'ax' : 'a');
		return {
			async append(bytes) {
				// A short line goes to the page cache faster than a thread can be asked to put it there.
				if (bytes.length > 65_536) return handle.appendFile(bytes);
				for (let done = 0; done < bytes.length;) done += writeSync(handle.fd, bytes, done);
			},
			sync: () => handle.datasync(),
			truncate: (size) => handle.truncate(size),
			close: () => handle.close()
		};
	},
	read: (path) => fs.readFile(path),
	readHead: (path, bytes) => readPart(path, () => 0, bytes),
	readTail: (path, bytes) => readPart(path, (size) => Math.max(0, size - bytes), bytes),
	list: (path) => fs.readdir(path),
	async makeDirectory(path) {
		const first = await fs.mkdir(path, { recursive: true });
		// A new directory is as durable as its name in the one above it.
		for (let made = path; first !== undefined && made.length >= first.length; made = dirname(made))
			await this.syncDirectory(dirname(made));
	},
	rename: (from, to) => patiently(() => fs.rename(from, to)),
	async link(from, to) {
		try {
			await fs.link(from, to);
		} catch (error) {
			if (!['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS'].includes(codeOf(error))) throw error;
			await fs.copyFile(from, to);
		}
	},
	remove: (path) => patiently(() => fs.rm(path, { force: true })),
	stamp(path) {
		const found = statSync(path, { throwIfNoEntry: false });
		return found ? { inode: found.ino, size: found.size, mtimeMs: found.mtimeMs } : null;
	},
	async syncDirectory(path) {
		if (windows) return; // a directory cannot be synced there
		const handle = await fs.open(path, 'r');
		try {
			await handle.sync();
		} finally {
			await handle.close();
		}
	},
	async freeBytes(path) {
		const { bavail, bsize } = await fs.statfs(path);
		return bavail * bsize;
	}
};

/** The names in a directory, none if it is not there. */
export async function listIfThere(disk: Disk, path: string): Promise<string[]> {
	return disk.stamp(path) ? (await disk.list(path)).sort() : [];
}
