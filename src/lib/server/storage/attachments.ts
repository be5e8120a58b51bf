import { createHash, randomUUID } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { join } from 'node:path';
import { isFull, listIfThere, type Disk } from './disk';
import { badFile, diskFull, noFile, tooLarge } from './refusals';
import { no, ok, type Answer, type FileLimits, type Refusal, type Result, type StoredFile } from './types';

const SHA256 = /^[0-9a-f]{64}$/;
/** Left free for the history, which matters more than one more photo. */
const RESERVE_BYTES = 64_000_000;

/** The files of one folder, each under its SHA-256; written once, never again. */
export class Attachments {
	private constructor(
		private readonly disk: Disk,
		private readonly directory: string,
		private readonly known: Set<string>
	) {}

	/** Removes what interrupted uploads left; only the holder of the lock may call this. */
	static async open(disk: Disk, directory: string): Promise<Attachments> {
		const names = await listIfThere(disk, directory);
		for (const name of names) if (name.endsWith('.part')) await disk.remove(join(directory, name));
		return new Attachments(disk, directory, new Set(names.filter((name) => SHA256.test(name))));
	}

	has(sha256: string): boolean {
		return this.known.has(sha256);
	}

	all(): StoredFile[] {
		return [...this.known].map((sha256) => ({
			sha256,
			bytes: this.disk.stamp(this.path(sha256))?.size ?? 0
		}));
	}

	/** Streams to disk; on return bytes and name are on the disk. Nothing stays of a refused file. */
	async put(content: AsyncIterable<Uint8Array>, limits: FileLimits): Answer<StoredFile> {
		const { disk, directory } = this;
		await disk.makeDirectory(directory);
		const expected = Math.min(limits.expectedBytes ?? 0, limits.limitBytes);
		if ((await disk.freeBytes(directory)) < expected + RESERVE_BYTES) return no(diskFull());

		const part = join(directory, `${randomUUID()}.part`);
		try {
			const file = await disk.openToAppend(part, 'new');
			let taken: Result<StoredFile, Refusal>;
			try {
				taken = await take(content, limits, (chunk) => file.append(chunk));
				if (taken.ok) await file.sync();
			} finally {
				await file.close();
			}
			if (taken.ok && !this.known.has(taken.value.sha256)) {
				await disk.rename(part, this.path(taken.value.sha256));
				await disk.syncDirectory(directory);
				this.known.add(taken.value.sha256);
			}
			return taken;
		} catch (error) {
			if (isFull(error)) return no(diskFull());
			throw error;
		} finally {
			await disk.remove(part).catch(() => {}); // opening the folder removes it then
		}
	}

	get(sha256: string): Result<{ bytes: number; content: AsyncIterable<Uint8Array> }, Refusal> {
		const stamp = this.known.has(sha256) ? this.disk.stamp(this.path(sha256)) : null;
		if (!stamp) return no(noFile());
		const content: AsyncIterable<Uint8Array> = createReadStream(this.path(sha256));
		return ok({ bytes: stamp.size, content });
	}

	/** Sentences for files whose bytes no longer give their name. */
	async verify(): Promise<string[]> {
		const problems: string[] = [];
		for (const sha256 of this.known) {
			const found = this.get(sha256);
			const hash = createHash('sha256');
			if (found.ok) for await (const chunk of found.value.content) hash.update(chunk);
			if (hash.digest('hex') !== sha256)
				problems.push(
					`The file ${sha256} is not what it was: its checksum differs. Bring it back from a backup.`
				);
		}
		return problems;
	}

	private path(sha256: string): string {
		return join(this.directory, sha256);
	}
}

/** Hashes a file on its way and holds it to its limits; `keep` gets every chunk. */
export async function take(
	content: AsyncIterable<Uint8Array>,
	{ limitBytes, expectedBytes = 0, inspect }: FileLimits,
	keep: (chunk: Uint8Array) => Promise<void> | void
): Answer<StoredFile> {
	const over = (size: number) => no(tooLarge('This file is too large', limitBytes, size));
	if (expectedBytes > limitBytes) return over(expectedBytes);
	const hash = createHash('sha256');
	let bytes = 0;
	for await (const chunk of content) {
		bytes += chunk.length;
		if (bytes > limitBytes) return over(bytes);
		const objection = inspect?.chunk(chunk);
		if (objection) return no(badFile(objection));
		hash.update(chunk);
		await keep(chunk);
	}
	if (expectedBytes > 0 && bytes !== expectedBytes)
		return no(badFile(`Only ${bytes} of ${expectedBytes} bytes arrived: send the file again.`));
	const verdict = await inspect?.verdict();
	return verdict ? no(badFile(verdict)) : ok({ sha256: hash.digest('hex'), bytes });
}
