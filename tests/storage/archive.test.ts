import { mkdtemp, rm } from 'node:fs/promises';
import { readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { strToU8, unzipSync, zipSync, type Zippable } from 'fflate';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { exportArchive, type Manifest } from '$lib/server/archive/export';
import { importArchive } from '$lib/server/archive/import';
import { FileStore } from '$lib/server/storage/file-store';
import { MemoryStore } from '$lib/server/storage/memory-store';
import type { CaseStore } from '$lib/server/storage/types';

const photo = readFileSync(new URL('../open-data/photos/with-gps.png', import.meta.url));
const CASE = 'investigations/long-fall';
const VEHICLE = 'vehicles/heron';
const command = (baseRev: number) => ({ baseRev, who: 'Ada', operation: 'note', args: { n: baseRev } });

function value<T>(result: { ok: true; value: T } | { ok: false; error: unknown }): T {
	if (!result.ok) throw new Error(JSON.stringify(result.error));
	return result.value;
}

let root: string;
let from: CaseStore;
let to: CaseStore;
let zip: Uint8Array;
let sha256: string;

beforeEach(async () => {
	root = await mkdtemp(join(tmpdir(), 'wm-archive-'));
	from = new MemoryStore();
	to = await FileStore.open(join(root, 'data'));
	const begin = { who: 'Ada', operation: 'begin', args: null };
	const make = (id: string) =>
		from.create(id, begin, [
			{ collection: 'about', id: 'main', before: null, after: { name: `Ünïcode ${id}` } }
		]);
	value(await make(CASE));
	value(await make(VEHICLE));
	sha256 = value(await from.putFile(CASE, Readable.from([photo]), { limitBytes: 1e6 })).sha256;
	for (let rev = 1; rev < 20; rev++) {
		const change = {
			collection: 'evidence',
			id: `e${rev % 5}`,
			before: rev > 5 ? { rev: rev - 5 } : null,
			after: { rev }
		};
		value(await from.commit(CASE, command(rev), { changes: [change] }));
	}
	zip = await exported();
});
afterEach(async () => {
	await to.close();
	await rm(root, { recursive: true });
});

async function exported(): Promise<Uint8Array> {
	const archive = value(
		await exportArchive(from, [CASE, VEHICLE], { now: new Date(), nameOf: () => 'Fin.PNG' })
	);
	const chunks: Uint8Array[] = [];
	for await (const chunk of archive) chunks.push(chunk);
	return Buffer.concat(chunks);
}

const take = (bytes: Uint8Array) => importArchive(to, Readable.from([Buffer.from(bytes)]), { scratch: root });

async function refused(bytes: Uint8Array): Promise<string> {
	const result = await take(bytes);
	if (result.ok) throw new Error('it was taken');
	expect(await to.list('investigations')).toEqual([]);
	return result.error.message;
}

/** The archive packed anew by another program, with some files exchanged. */
function repacked(change: (files: Zippable) => void): Uint8Array {
	const files: Zippable = unzipSync(zip);
	change(files);
	return zipSync(files);
}

const manifestOf = (files: Zippable) =>
	JSON.parse(Buffer.from(files['manifest.json'] as Uint8Array).toString()) as Manifest;

describe('an archive', () => {
	it('brings the whole history, the files and the vehicle to another engine, and says that it holds positions', async () => {
		const files = unzipSync(zip);
		expect(Object.keys(files).sort()).toEqual(
			['README.txt', `files/${sha256}.png`, 'investigation.json', 'manifest.json', 'vehicle.json'].sort()
		);
		expect(manifestOf(files).statement).toMatch(/contains positions/);
		expect(Buffer.from(files['README.txt']!).toString()).toMatch(/contains positions/);

		expect(value(await take(zip))).toMatchObject({
			folders: [{ id: CASE, rev: 20, was: 'new' }, { id: VEHICLE }]
		});
		for (const id of [CASE, VEHICLE]) {
			expect(value(await to.history(id))).toEqual(value(await from.history(id)));
			expect(value(await to.open(id)).state).toEqual(value(await from.open(id)).state);
			expect(value(await to.verify(id)).problems).toEqual([]);
		}
		expect(await to.hasFile(CASE, sha256)).toBe(true);
	});

	it('taken twice changes nothing; a different one of the same name comes in beside it', async () => {
		value(await take(zip));
		const again = value(await take(zip));
		expect(again.folders.map(({ was }) => was)).toEqual(['already here', 'already here']);
		expect(again.notes[0]).toMatch(/already, to the last change.*every file in this zip is whole/);

		from = new MemoryStore();
		await from.create(CASE, { who: 'Bo', operation: 'begin', args: null }, [
			{ collection: 'about', id: 'main', before: null, after: { name: 'Another' } }
		]);
		value(
			await from.create(VEHICLE, { who: 'Bo', operation: 'begin', args: null }, [
				{ collection: 'about', id: 'main', before: null, after: { name: 'Another' } }
			])
		);
		const other = value(await take(await exported()));
		expect(other.folders[0]).toMatchObject({ archiveId: CASE, id: `${CASE}-2`, was: 'new' });
		expect(other.notes.join()).toMatch(/came in as/);
	});

	it('that is newer than what is here, unaltered since, says so and by how much', async () => {
		value(await take(zip));
		const change = { collection: 'evidence', id: 'e9', before: null, after: { rev: 21 } };
		value(await from.commit(CASE, command(20), { changes: [change] }));
		const newer = value(await take(await exported()));
		expect(newer.folders.map(({ was }) => was)).toEqual(['new', 'already here']);
		expect(newer.notes.join()).toMatch(
			/was here as it stood one change earlier.*This newer one came in beside it/
		);
	});

	it('that is damaged is refused as such even when all that it holds is here already', async () => {
		value(await take(zip));
		const flipped = Buffer.from(zip);
		flipped[flipped.indexOf(Buffer.from(photo)) + 100]! ^= 1;
		for (const bytes of [
			flipped,
			repacked((files) => (files[`files/${sha256}.png`] = strToU8('x'.repeat(photo.length)))),
			repacked((files) => (files['README.txt'] = (files['README.txt'] as Uint8Array).map((b) => b ^ 1)))
		]) {
			const result = await take(bytes);
			expect(!result.ok && result.error.message).toMatch(/is damaged in the archive|checksum differs/);
		}
	});

	it('is also read when another program has packed it', async () => {
		value(await take(repacked((files) => (files['__MACOSX/._x'] = strToU8('x')))));
	});

	it('that is no zip at all is called so', async () => {
		expect(await refused(photo)).toMatch(/^This is not a zip archive. Choose the zip/);
	});

	it('cut off anywhere is refused, and nothing appears', async () => {
		for (const part of [0, 0.1, 0.5, 0.9, 0.999]) {
			expect(await refused(zip.subarray(0, Math.floor(zip.length * part)))).toMatch(/end is missing|Copy/);
		}
	});

	it('with any byte of its content changed is refused or means the same', async () => {
		for (let at = 40; at < zip.length; at += 997) {
			const altered = Buffer.from(zip);
			altered[at]! ^= 0x10;
			const result = await take(altered);
			if (!result.ok) continue;
			// names, times and other trimmings of the zip are not content
			expect(value(await to.verify(CASE)).problems).toEqual([]);
			expect(value(await to.history(CASE))).toEqual(value(await from.history(CASE)));
			await to.close();
			await rm(join(root, 'data'), { recursive: true });
			to = await FileStore.open(join(root, 'data'));
		}
	});

	it.each<[string, (files: Zippable) => void, RegExp]>([
		['a missing photo', (files) => delete files[`files/${sha256}.png`], /lacks 'files/],
		[
			'an exchanged photo',
			(files) => (files[`files/${sha256}.png`] = strToU8('x'.repeat(photo.length))),
			/png' is not what the list says: its checksum differs/
		],
		[
			'an altered record',
			(files) => alter(files, 'investigation.json', 'Ünïcode', 'Unicode'),
			/checksum differs|size/
		],
		['a foreign zip', (files) => delete files['manifest.json'], /no manifest/],
		[
			'a later format',
			(files) => alter(files, 'manifest.json', '"version": 1', '"version": 9'),
			/later version/
		],
		['a broken list', (files) => (files['manifest.json'] = strToU8('{"format"')), /not whole JSON/],
		['a path that leads out', (files) => (files['../../evil'] = strToU8('x')), /outside itself/],
		['an absolute path', (files) => (files['/etc/evil'] = strToU8('x')), /outside itself/]
	])('with %s is refused in words', async (_, change, message) => {
		expect(await refused(repacked(change))).toMatch(message);
	});

	it('whose history and state disagree is refused, even when its list of hashes was made to fit', async () => {
		const { createHash } = await import('node:crypto');
		const forged = repacked((files) => {
			alter(
				files,
				'investigation.json',
				'"name": "Ünïcode investigations/long-fall"',
				'"name": "Forged investigations/long-fall"'
			);
			const bytes = files['investigation.json'] as Uint8Array;
			const manifest = manifestOf(files);
			manifest.files['investigation.json'] = {
				bytes: bytes.length,
				sha256: createHash('sha256').update(bytes).digest('hex')
			};
			files['manifest.json'] = strToU8(JSON.stringify(manifest));
		});
		expect(await refused(forged)).toMatch(/was altered/);
	});

	it('that unpacks to more than it says stops at what it says', async () => {
		const bomb = Buffer.from(zipSync({ 'manifest.json': [new Uint8Array(50_000_000), { level: 9 }] }));
		expect(await refused(bomb)).toMatch(/larger than it can be/);
		const central = bomb.lastIndexOf(Buffer.from([0x50, 0x4b, 1, 2]));
		bomb.writeUInt32LE(100, central + 24); // claims 100 bytes
		expect(await refused(bomb)).toMatch(/is damaged in the archive/);
	});
});

function alter(files: Zippable, path: string, from: string, to: string): void {
	const text = Buffer.from(files[path] as Uint8Array).toString();
	if (!text.includes(from)) throw new Error(`${path} does not hold ${from}`);
	files[path] = strToU8(text.replace(from, to));
}
