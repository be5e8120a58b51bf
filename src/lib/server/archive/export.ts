import { createHash } from 'node:crypto';
import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';
import {
	no,
	ok,
	type Answer,
	type CaseStore,
	type HistoryLine,
	type Records,
	type StoredFile
} from '../storage/types';

export const ARCHIVE_FORMAT = 'witness-mark archive';
export const ARCHIVE_VERSION = 1;
/** Above this the zip format needs its 64-bit form, which many programs do not read. */
const MAX_BYTES = 4_000_000_000;

/** `investigation.json` (and `vehicle.json`): one folder, complete. */
export interface FolderDocument {
	kind: string;
	formatVersion: number;
	id: string;
	rev: number;
	state: Records;
	/** Every line from the first; `state` is what they lead to. */
	history: HistoryLine[];
	files: StoredFile[];
}

export interface Manifest {
	format: typeof ARCHIVE_FORMAT;
	version: number;
	made: string;
	statement: string;
	folders: { id: string; document: string }[];
	files: Record<string, { bytes: number; sha256: string }>;
}

const STATEMENT =
	'This archive holds a whole investigation: every record and its history, and every original file. ' +
	'It contains positions (of the pad, of what was found, and inside the photos) and the names of those who wrote. ' +
	'Give it only to people who may know them.';

/**
 * One zip of whole folders, the investigation first. Files are stored as they are, named by their hash and the
 * ending that `nameOf` knows; documents are deflated. The content is made while it is read.
 */
export async function exportArchive(
	store: CaseStore,
	ids: readonly string[],
	options: { now: Date; nameOf?: (sha256: string) => string | undefined }
): Answer<AsyncIterable<Uint8Array>> {
	const documents: FolderDocument[] = [];
	for (const id of ids) {
		const opened = await store.open(id);
		if (!opened.ok) return opened;
		const { rev, state } = opened.value;
		const history = await store.history(id, 1, rev);
		if (!history.ok) return history;
		const files = await store.listFiles(id);
		if (!files.ok) return files;
		const kind = kindOf(id);
		documents.push({
			kind,
			formatVersion: ARCHIVE_VERSION,
			id,
			rev,
			state,
			history: history.value,
			files: files.value
		});
	}
	const bytes = documents.flatMap(({ files }) => files).reduce((sum, file) => sum + file.bytes, 0);
	if (bytes > MAX_BYTES)
		return no({
			kind: 'too-large',
			message:
				'The files of this investigation are more than one zip can hold (4 GB). Copy its folder instead.',
			limit: MAX_BYTES,
			size: bytes
		});
	return ok(write(store, documents, options));
}

/** 'investigations/x' holds an investigation. */
export const kindOf = (id: string) => id.split('/')[0]!.replace(/s$/, '');

async function* write(
	store: CaseStore,
	documents: FolderDocument[],
	{ now, nameOf }: Parameters<typeof exportArchive>[2]
): AsyncGenerator<Uint8Array> {
	let ready: Uint8Array[] = [];
	const zip = new Zip((error, chunk) => {
		if (error) throw error;
		ready.push(chunk);
	});
	const manifest: Manifest = {
		format: ARCHIVE_FORMAT,
		version: ARCHIVE_VERSION,
		made: now.toISOString(),
		statement: STATEMENT,
		folders: [],
		files: {}
	};
	const take = () => {
		const taken = ready;
		ready = [];
		return taken;
	};
	const addText = (path: string, text: string) => {
		const bytes = Buffer.from(text);
		const entry = new ZipDeflate(path, { level: 6 });
		entry.mtime = now;
		zip.add(entry);
		entry.push(bytes, true);
		manifest.files[path] = { bytes: bytes.length, sha256: createHash('sha256').update(bytes).digest('hex') };
	};

	addText('README.txt', `${STATEMENT}\n\nmanifest.json names every file with its SHA-256.\n`);
	for (const document of documents) {
		const name = `${document.kind}.json`;
		const path = manifest.files[name] ? document.id.replace('/', '-') + '.json' : name;
		addText(path, JSON.stringify(document, null, '\t'));
		manifest.folders.push({ id: document.id, document: path });
		yield* take();
	}
	const seen = new Set<string>();
	for (const { id, files } of documents)
		for (const { sha256, bytes } of files) {
			if (seen.has(sha256)) continue;
			seen.add(sha256);
			const path = `files/${sha256}${/\.[a-z0-9]{1,8}$/i.exec(nameOf?.(sha256) ?? '')?.[0].toLowerCase() ?? ''}`;
			const file = await store.getFile(id, sha256);
			if (!file.ok) throw new Error(file.error.message);
			const entry = new ZipPassThrough(path);
			entry.mtime = now;
			zip.add(entry);
			for await (const chunk of file.value.content) {
				entry.push(chunk);
				yield* take();
			}
			entry.push(new Uint8Array(0), true);
			manifest.files[path] = { bytes, sha256 };
		}
	addText('manifest.json', JSON.stringify(manifest, null, '\t'));
	zip.end();
	yield* take();
}
