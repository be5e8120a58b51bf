import type { FileHandle } from 'node:fs/promises';
import { crc32, createInflateRaw } from 'node:zlib';
import { pipeline, Readable } from 'node:stream';

/** The archive is not what it should be; the message is for the person who sent it. */
export class BadArchive extends Error {}

export interface ZipEntry {
	path: string;
	bytes: number;
	packedBytes: number;
	method: number;
	crc: number;
	offset: number;
}

const END = 0x06054b50;
const CENTRAL = 0x02014b50;
const LOCAL = 0x04034b50;
const END_BYTES = 22;
const MAX_ENTRIES = 50_000;

/**
 * The table of contents, read from the end of the file, so that half an archive is known at once. Names that could
 * lead out of a folder, packing that is not plain or deflated, encryption and the 64-bit form are refused.
 * Source: PKWARE APPNOTE.TXT, sections 4.3.7, 4.3.12 and 4.3.16 (from memory).
 */
export async function readZipDirectory(file: FileHandle): Promise<Map<string, ZipEntry>> {
	const { size } = await file.stat();
	const tail = await readAt(file, Math.max(0, size - 65_557), Math.min(size, 65_557));
	let at = tail.length - END_BYTES;
	while (
		at >= 0 &&
		!(tail.readUInt32LE(at) === END && at + END_BYTES + tail.readUInt16LE(at + 20) === tail.length)
	)
		at--;
	if (at < 0 && size >= 4 && (await readAt(file, 0, 4)).readUInt32LE(0) !== LOCAL)
		throw new BadArchive(
			'This is not a zip archive. Choose the zip that was saved with “Export the investigation as a zip”.'
		);
	if (at < 0)
		throw new BadArchive('This is not a whole zip archive: its end is missing. Copy the file again.');
	const count = tail.readUInt16LE(at + 10);
	const length = tail.readUInt32LE(at + 12);
	const start = tail.readUInt32LE(at + 16);
	if (count === 0xffff || start === 0xffffffff)
		throw new BadArchive('This archive is larger than 4 GB or 65,000 files, which cannot be read here.');
	if (count > MAX_ENTRIES || start + length > size)
		throw new BadArchive('The table of contents of this archive is damaged. Copy the file again.');

	const table = await readAt(file, start, length);
	const entries = new Map<string, ZipEntry>();
	for (let i = 0, p = 0; i < count; i++) {
		if (p + 46 > table.length || table.readUInt32LE(p) !== CENTRAL)
			throw new BadArchive('The table of contents of this archive is damaged. Copy the file again.');
		const [nameLength, extra, comment] = [28, 30, 32].map((o) => table.readUInt16LE(p + o)) as [
			number,
			number,
			number
		];
		const path = table.toString('utf8', p + 46, p + 46 + nameLength);
		const entry: ZipEntry = {
			path,
			method: table.readUInt16LE(p + 10),
			crc: table.readUInt32LE(p + 16),
			packedBytes: table.readUInt32LE(p + 20),
			bytes: table.readUInt32LE(p + 24),
			offset: table.readUInt32LE(p + 42)
		};
		if (/^[/\\]|\\|\0|:|(^|\/)\.\.(\/|$)/.test(path))
			throw new BadArchive(
				`The archive names a file outside itself ('${path.slice(0, 80)}'). It was not read.`
			);
		if (entries.has(path)) throw new BadArchive(`The archive holds '${path}' twice. It was not read.`);
		if ((table.readUInt16LE(p + 8) & 1) === 1)
			throw new BadArchive('The archive is encrypted. Unlock it first.');
		if (entry.method !== 0 && entry.method !== 8)
			throw new BadArchive(`'${path}' is packed in a way that cannot be read here (${entry.method}).`);
		entries.set(path, entry);
		p += 46 + nameLength + extra + comment;
	}
	return entries;
}

/** The content of one entry; fails as soon as it is longer than announced, and at the end if it is not what it was. */
export async function* readZipEntry(file: FileHandle, entry: ZipEntry): AsyncGenerator<Uint8Array> {
	const damaged = () => new BadArchive(`'${entry.path}' is damaged in the archive. Copy the file again.`);
	const head = await readAt(file, entry.offset, 30);
	if (head.length < 30 || head.readUInt32LE(0) !== LOCAL) throw damaged();
	const start = entry.offset + 30 + head.readUInt16LE(26) + head.readUInt16LE(28);
	const packed = readRange(file, start, entry.packedBytes);
	const content: AsyncIterable<Uint8Array> =
		// A fault comes out of the stream's end, where it is read.
		entry.method === 0 ? packed : pipeline(Readable.from(packed), createInflateRaw(), () => {});
	let bytes = 0;
	let crc = 0;
	try {
		for await (const chunk of content) {
			bytes += chunk.length;
			if (bytes > entry.bytes) throw damaged();
			crc = crc32(chunk, crc);
			yield chunk;
		}
	} catch (error) {
		throw error instanceof Error && 'code' in error && String(error.code).startsWith('Z_')
			? damaged()
			: error;
	}
	if (bytes !== entry.bytes || crc !== entry.crc) throw damaged();
}

async function* readRange(file: FileHandle, start: number, length: number): AsyncGenerator<Buffer> {
	for (let done = 0; done < length;) {
		const chunk = await readAt(file, start + done, Math.min(65_536, length - done));
		if (chunk.length === 0) return;
		done += chunk.length;
		yield chunk;
	}
}

async function readAt(file: FileHandle, position: number, length: number): Promise<Buffer> {
	const buffer = Buffer.alloc(length);
	const { bytesRead } = await file.read(buffer, 0, length, position);
	return buffer.subarray(0, bytesRead);
}
