import { createHash, randomUUID } from 'node:crypto';
import { mkdir, open, rm, type FileHandle } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { replay, sameValue, dictionary, valueProblem } from '../storage/values';
import {
	no,
	ok,
	type Answer,
	type CaseStore,
	type HistoryLine,
	type Refusal,
	type Result
} from '../storage/types';
import { ARCHIVE_FORMAT, ARCHIVE_VERSION, type FolderDocument, type Manifest } from './export';
import { BadArchive, readZipDirectory, readZipEntry, type ZipEntry } from './zip-reader';

const MAX_ARCHIVE_BYTES = 4_100_000_000;
const MAX_MANIFEST_BYTES = 20_000_000;
const MAX_DOCUMENT_BYTES = 300_000_000;

export interface Imported {
	/** Folder ids in the archive's order, with the id that each has here. */
	folders: { archiveId: string; title: string; id: string; rev: number; was: 'new' | 'already here' }[];
	/** What the person should know, in sentences. */
	notes: string[];
}

/**
 * Reads an archive that `exportArchive` made. Everything is checked against its list of hashes before a folder
 * appears; a folder that is already here stays as it is, and a different one of the same name comes in beside it.
 */
export async function importArchive(
	store: CaseStore,
	content: AsyncIterable<Uint8Array>,
	{ scratch = tmpdir(), limitBytes = MAX_ARCHIVE_BYTES }: { scratch?: string; limitBytes?: number } = {}
): Answer<Imported> {
	await mkdir(scratch, { recursive: true });
	const path = join(scratch, `import-${randomUUID()}.zip`);
	const file = await open(path, 'wx+');
	try {
		let bytes = 0;
		for await (const chunk of content) {
			bytes += chunk.length;
			if (bytes > limitBytes) throw new BadArchive('This archive is larger than can be taken here (4 GB).');
			await file.appendFile(chunk);
		}
		return await importFile(store, file);
	} catch (error) {
		if (error instanceof BadArchive) return bad(error.message);
		throw error;
	} finally {
		await file.close();
		await rm(path, { force: true });
	}
}

async function importFile(store: CaseStore, file: FileHandle): Answer<Imported> {
	const entries = await readZipDirectory(file);
	const unpacked = [...entries.values()].reduce((sum, { bytes }) => sum + bytes, 0);
	if (unpacked > MAX_ARCHIVE_BYTES)
		return bad('This archive would unpack to more than 4 GB. It was not read.');
	const manifest = await readManifest(file, entries);
	const paths = manifest.folders.map(({ document }) => document);
	await checkHashes(file, entries, manifest, paths);
	const documents: FolderDocument[] = [];
	for (const path of paths) documents.push(await readDocument(file, entries, path));
	const rest = Object.keys(manifest.files).filter((path) => !paths.includes(path));
	await checkHashes(file, entries, manifest, rest, fileNames(documents));

	const imported: Imported = { folders: [], notes: [] };
	// Last first: what the investigation refers to is here before it.
	for (const [i, document] of [...documents.entries()].reverse()) {
		const archiveId = manifest.folders[i]!.id;
		const contents = new Map<string, AsyncIterable<Uint8Array>>();
		for (const { sha256 } of document.files) {
			const path = Object.keys(manifest.files).find((path) => path.startsWith(`files/${sha256}`));
			const entry = path === undefined ? undefined : entries.get(path);
			if (!entry) return bad(`The file ${sha256.slice(0, 12)}… is missing from the archive. Copy it again.`);
			contents.set(sha256, readZipEntry(file, entry));
		}
		const placed = await place(store, archiveId, document.history, contents);
		if (!placed.ok) return placed;
		const { olderBy, ...folder } = placed.value;
		const title = titleOf(document, archiveId);
		imported.folders.unshift({ archiveId, title, ...folder });
		if (folder.was === 'already here')
			imported.notes.push(
				`“${title}” is here already, to the last change, and was left as it is; every file in this zip is whole.`
			);
		else if (olderBy !== undefined)
			imported.notes.push(
				`“${title}” was here as it stood ${olderBy === 1 ? 'one change' : `${olderBy} changes`} earlier, unaltered since. This newer one came in beside it, as ${folder.id.split('/')[1]}: go on with this one.`
			);
		else if (folder.id !== archiveId)
			imported.notes.push(
				`A different “${title}” is here already; this one came in as ${folder.id.split('/')[1]}.`
			);
	}
	return ok(imported);
}

/** Under its own id, or, if something else has that, under the next free one. */
async function place(
	store: CaseStore,
	archiveId: string,
	lines: readonly HistoryLine[],
	files: ReadonlyMap<string, AsyncIterable<Uint8Array>>
): Answer<{ id: string; rev: number; was: 'new' | 'already here'; olderBy?: number }> {
	let olderBy: number | undefined;
	for (let n = 1; ; n++) {
		const id = n === 1 ? archiveId : `${archiveId}-${n}`;
		const { rev } = lines.at(-1)!;
		const here = await store.history(id, 1, rev);
		if (here.ok && sameValue(here.value, lines)) return ok({ id, rev, was: 'already here' });
		if (here.ok && sameValue(here.value, lines.slice(0, here.value.length)))
			olderBy = lines.length - here.value.length;
		if (here.ok || here.error.kind !== 'not-found') continue;
		const adopted = await store.adopt(id, lines, files);
		return adopted.ok
			? ok({ id, rev: adopted.value.rev, was: 'new', ...(olderBy === undefined ? {} : { olderBy }) })
			: adopted;
	}
}

async function readManifest(file: FileHandle, entries: ReadonlyMap<string, ZipEntry>): Promise<Manifest> {
	const entry = entries.get('manifest.json');
	if (!entry) throw new BadArchive('This zip holds no investigation: it has no manifest.json.');
	const manifest = parse(
		await readWhole(file, entry, MAX_MANIFEST_BYTES),
		'manifest.json'
	) as Partial<Manifest>;
	if (manifest.format !== ARCHIVE_FORMAT) throw new BadArchive('This zip was not made by Witness Mark.');
	if (typeof manifest.version !== 'number' || manifest.version > ARCHIVE_VERSION)
		throw new BadArchive('This archive was made by a later version of Witness Mark: install that version.');
	const { folders, files } = manifest;
	const sound =
		Array.isArray(folders) &&
		folders.length > 0 &&
		folders.every((f) => typeof f?.id === 'string' && typeof f.document === 'string') &&
		isRecord(files) &&
		Object.values(files).every(
			(f) => isRecord(f) && typeof f.bytes === 'number' && typeof f.sha256 === 'string'
		);
	if (!sound) throw new BadArchive('The list of files in this archive is damaged. Copy the archive again.');
	for (const [path, { bytes }] of Object.entries(files)) {
		const found = entries.get(path);
		if (!found) throw new BadArchive(`The archive lacks '${path}', which its list names. Copy it again.`);
		if (found.bytes !== bytes) throw new BadArchive(`'${path}' has not the size that the list gives it.`);
	}
	return manifest as Manifest;
}

/** Whatever is here already: who tries a backup wants to know whether this zip is whole. */
async function checkHashes(
	file: FileHandle,
	entries: ReadonlyMap<string, ZipEntry>,
	{ files }: Manifest,
	paths: readonly string[],
	names: ReadonlyMap<string, string> = new Map()
): Promise<void> {
	for (const path of paths) {
		const listed = Object.hasOwn(files, path) ? files[path] : undefined;
		if (!listed) throw new BadArchive(`The archive lacks '${path}'. Copy it again.`);
		const { sha256 } = listed;
		const called = names.get(sha256) ?? path;
		const hash = createHash('sha256');
		for await (const chunk of readZipEntry(file, { ...entries.get(path)!, path: called })) hash.update(chunk);
		const named = /^files\/([0-9a-f]{64})/.exec(path)?.[1] ?? sha256;
		const found = hash.digest('hex');
		if (found !== sha256 || found !== named)
			throw new BadArchive(
				`'${called}' is not what the list says: its checksum differs. Copy the archive again.`
			);
	}
}

/** What people call the files that the investigations name. */
const fileNames = (documents: readonly FolderDocument[]): ReadonlyMap<string, string> =>
	new Map(
		documents.flatMap(({ state }) =>
			Object.values(state['attachments'] ?? {}).flatMap((kept) =>
				isRecord(kept) && typeof kept['sha256'] === 'string' && typeof kept['name'] === 'string'
					? [[kept['sha256'], kept['name']] as const]
					: []
			)
		)
	);

/** What people call a folder: the title of the investigation or the name of the vehicle, else the folder's own. */
function titleOf({ state }: FolderDocument, id: string): string {
	const { title } = (state['about']?.['main'] ?? {}) as { title?: unknown };
	const { name } = (state['vehicle']?.['main'] ?? {}) as { name?: unknown };
	return [title, name].find((text): text is string => typeof text === 'string' && text !== '') ?? id;
}

async function readDocument(
	file: FileHandle,
	entries: ReadonlyMap<string, ZipEntry>,
	path: string
): Promise<FolderDocument> {
	const entry = entries.get(path);
	if (!entry) throw new BadArchive(`The archive lacks '${path}'. Copy it again.`);
	const document = parse(await readWhole(file, entry, MAX_DOCUMENT_BYTES), path) as Partial<FolderDocument>;
	const { history, files, state } = document;
	if (
		!Array.isArray(history) ||
		history.length === 0 ||
		!history.every(isLine) ||
		!Array.isArray(files) ||
		!files.every(isFile) ||
		!isRecord(state)
	)
		throw new BadArchive(`'${path}' does not hold a history as Witness Mark writes it.`);
	if (!sameValue(replay(dictionary(), history), state))
		throw new BadArchive(
			`In '${path}' the history does not lead to the state beside it: one of them was altered.`
		);
	return document as FolderDocument;
}

async function readWhole(file: FileHandle, entry: ZipEntry, limit: number): Promise<Buffer> {
	if (entry.bytes > limit) throw new BadArchive(`'${entry.path}' is larger than it can be. It was not read.`);
	const chunks: Uint8Array[] = [];
	for await (const chunk of readZipEntry(file, entry)) chunks.push(chunk);
	return Buffer.concat(chunks);
}

function parse(bytes: Buffer, path: string): unknown {
	try {
		return JSON.parse(bytes.toString());
	} catch {
		throw new BadArchive(`'${path}' is not whole JSON. Copy the archive again.`);
	}
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
	typeof value === 'object' && value !== null && !Array.isArray(value);

const isFile = (file: unknown) =>
	isRecord(file) && typeof file['sha256'] === 'string' && /^[0-9a-f]{64}$/.test(file['sha256']);

const texts = ['prev', 'time', 'who', 'operation'] as const;
const isLine = (line: unknown): line is HistoryLine =>
	isRecord(line) &&
	Number.isSafeInteger(line['rev']) &&
	Number(line['rev']) < 1e9 &&
	Number.isSafeInteger(line['baseRev']) &&
	texts.every((key) => typeof line[key] === 'string') &&
	'args' in line &&
	valueProblem(line) === null &&
	Array.isArray(line['changes']) &&
	line['changes'].every(
		(change: unknown) =>
			isRecord(change) &&
			typeof change['collection'] === 'string' &&
			typeof change['id'] === 'string' &&
			[change['before'], change['after']].every((record) => record === null || isRecord(record))
	);

const bad = (message: string): Result<never, Refusal> => no({ kind: 'bad-file', message });
