import { readdirSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { realDisk, type Disk } from '$lib/server/storage/disk';
import { FileStore } from '$lib/server/storage/file-store';

type Fault = 'append' | 'sync' | 'truncate' | 'openToAppend' | 'rename' | 'syncDirectory' | 'link';

/** A disk that fails when it is told to; a failing append leaves half of its bytes, as a full disk does. */
class SickDisk {
	faults = new Map<Fault, { code: string; path: RegExp }>();
	free = Infinity;

	fail(fault: Fault, code: string, path = /history/) {
		this.faults.set(fault, { code, path });
	}

	disk: Disk = {
		...realDisk,
		openToAppend: async (path, mode) => {
			this.check('openToAppend', path);
			const file = await realDisk.openToAppend(path, mode);
			return {
				append: async (bytes) => {
					if (this.fails('append', path)) await file.append(bytes.subarray(0, bytes.length / 2));
					this.check('append', path);
					await file.append(bytes);
				},
				sync: () => this.unless('sync', path, () => file.sync()),
				truncate: (size) => this.unless('truncate', path, () => file.truncate(size)),
				close: () => file.close()
			};
		},
		rename: (from, to) => this.unless('rename', to, () => realDisk.rename(from, to)),
		link: (from, to) => this.unless('link', to, () => realDisk.link(from, to)),
		syncDirectory: (path) => this.unless('syncDirectory', path, () => realDisk.syncDirectory(path)),
		freeBytes: () => Promise.resolve(this.free)
	};

	private fails = (fault: Fault, path: string) => this.faults.get(fault)?.path.test(path) ?? false;

	private check(fault: Fault, path: string) {
		if (!this.fails(fault, path)) return;
		const { code } = this.faults.get(fault)!;
		throw Object.assign(new Error(`${code}: invented for a test`), { code });
	}

	private async unless(fault: Fault, path: string, action: () => Promise<void>) {
		this.check(fault, path);
		return action();
	}
}

const ID = 'investigations/one';
let root: string;
let sick: SickDisk;
let store: FileStore;
let lost: string | null;

beforeEach(async () => {
	root = await mkdtemp(join(tmpdir(), 'wm-sick-'));
	sick = new SickDisk();
	lost = null;
	store = await FileStore.open(root, { disk: sick.disk, guard: () => lost, idleMs: 60_000 });
	await store.create(ID, { who: 'Ada', operation: 'begin', args: null }, [
		{ collection: 'evidence', id: 'a', before: null, after: { n: 1 } }
	]);
	expect(await note('b')).toMatchObject({ ok: true });
});
afterEach(async () => {
	sick.faults.clear();
	await store.close();
	await rm(root, { recursive: true });
});

function note(id: string, text = '') {
	const change = { collection: 'evidence', id, before: null, after: { text } };
	const command = { baseRev: 1, who: 'Ada', operation: 'note', args: null };
	return store.commit(ID, command, { changes: [change] });
}

async function ids(): Promise<string[]> {
	const opened = await store.open(ID);
	if (!opened.ok) throw new Error(opened.error.message);
	return Object.keys(opened.value.state['evidence']!);
}

async function reopen() {
	sick.faults.clear();
	await store.close();
	store = await FileStore.open(root, { disk: sick.disk, guard: () => lost });
}

describe('a full disk', () => {
	it('refuses, keeps what was there, and goes on when there is room: nothing stands behind a torn line', async () => {
		sick.fail('append', 'ENOSPC');
		for (const id of ['c', 'd'])
			expect(await note(id)).toMatchObject({
				ok: false,
				error: { kind: 'full', message: expect.stringMatching(/disk is full.*free some space/) as string }
			});
		expect(await ids()).toEqual(['a', 'b']);
		sick.faults.clear();
		for (let i = 0; i < 40; i++)
			expect(await note(`after-${i}`)).toMatchObject({ ok: true, value: { rev: 3 + i } });
		await reopen();
		expect(await ids()).toHaveLength(42);
		expect(await store.verify(ID)).toMatchObject({ ok: true, value: { rev: 42, problems: [] } });
	});

	it('refuses all that wait together, and none of them stays', async () => {
		sick.fail('append', 'ENOSPC');
		const answers = await Promise.all(['c', 'c', 'd'].map((id) => note(id)));
		expect(answers.map((answer) => !answer.ok && answer.error.kind)).toEqual(['full', 'full', 'full']);
		sick.faults.clear();
		expect(await note('d')).toMatchObject({ ok: true, value: { rev: 3 } });
		await reopen();
		expect(await ids()).toEqual(['a', 'b', 'd']);
	});

	it('refuses a new history file in the same way', async () => {
		await reopen();
		sick.fail('openToAppend', 'ENOSPC');
		expect(await note('c')).toMatchObject({ ok: false, error: { kind: 'full' } });
		sick.faults.clear();
		expect(await note('c')).toMatchObject({ ok: true });
	});

	it('only delays the state file: the history has everything', async () => {
		sick.fail('append', 'ENOSPC', /state\.json/);
		for (let i = 0; i < 10; i++)
			expect(await note(`big-${i}`, 'x'.repeat(60_000))).toMatchObject({ ok: true });
		await new Promise((resolve) => setImmediate(resolve));
		expect(await note('more')).toMatchObject({ ok: true });
		await store.close();
		expect(readdirSync(join(root, ID)).filter((name) => name.endsWith('.tmp'))).toEqual([]);
		await reopen();
		expect(await ids()).toHaveLength(13);
	});

	it('takes no file, before its first byte or in the middle, and leaves nothing of it', async () => {
		const send = (expectedBytes?: number) =>
			store.putFile(ID, Readable.from([Buffer.alloc(1000)]), {
				limitBytes: 1e6,
				...(expectedBytes ? { expectedBytes } : {})
			});
		sick.free = 1000;
		expect(await send(1000)).toMatchObject({ ok: false, error: { kind: 'full' } });
		sick.free = Infinity;
		sick.fail('append', 'ENOSPC', /files/);
		expect(await send()).toMatchObject({ ok: false, error: { kind: 'full' } });
		sick.faults.clear();
		sick.fail('sync', 'EIO', /files/);
		await expect(send()).rejects.toThrow('EIO');
		expect(readdirSync(join(root, ID, 'files'))).toEqual([]);
		sick.faults.clear();
		expect(await send()).toMatchObject({ ok: true });
	});

	it('makes no half folder', async () => {
		const create = () =>
			store.create('vehicles/heron', { who: 'Ada', operation: 'begin', args: null }, [
				{ collection: 'parts', id: 'a', before: null, after: {} }
			]);
		sick.fail('append', 'ENOSPC');
		expect(await create()).toMatchObject({ ok: false, error: { kind: 'full' } });
		expect(await store.list('vehicles')).toEqual([]);
		expect(readdirSync(join(root, 'incoming'))).toEqual([]);
		sick.faults.clear();
		expect(await create()).toMatchObject({ ok: true });
	});
});

describe('a disk that does not keep its word', () => {
	it.each<[string, () => void]>([
		['a sync fails', () => sick.fail('sync', 'EIO')],
		['a write fails for another reason than room', () => sick.fail('append', 'EIO')],
		[
			'a failed write cannot be taken back',
			() => {
				sick.fail('append', 'ENOSPC');
				sick.fail('truncate', 'EIO');
			}
		],
		[
			'taking back cannot be synced',
			() => {
				sick.fail('append', 'ENOSPC');
				sick.fail('sync', 'EIO');
			}
		]
	])(
		'stops all saving when %s, in words, and what was acknowledged is there after a restart',
		async (_, make) => {
			make();
			expect((await note('c')).ok).toBe(false);
			sick.faults.clear();
			expect(await note('d')).toMatchObject({
				ok: false,
				error: {
					kind: 'read-only',
					message: expect.stringMatching(/Saving has stopped: .*Restart/) as string
				}
			});
			expect(await ids()).toEqual(['a', 'b']);
			await reopen();
			expect(await ids()).toEqual(['a', 'b']);
			expect(await note('d')).toMatchObject({ ok: true, value: { rev: 3 } });
		}
	);

	it('stops when a new history file is not confirmed', async () => {
		await reopen();
		sick.fail('syncDirectory', 'EIO');
		expect(await note('c')).toMatchObject({ ok: false, error: { kind: 'read-only' } });
		await reopen();
		expect(await ids()).toEqual(['a', 'b']);
		expect(await note('c')).toMatchObject({ ok: true });
	});

	it.each<Fault>(['sync', 'rename', 'link', 'syncDirectory'])(
		'stops when the state file meets a failing %s; the state before it stays',
		async (fault) => {
			sick.fail(
				fault,
				'EIO',
				fault === 'link' ? /backups/ : fault === 'syncDirectory' ? /one$/ : /state\.json/
			);
			for (let i = 0; i < 10; i++) await note(`big-${i}`, 'x'.repeat(60_000));
			// The state file is written behind the commits, at once or, on a busy machine, a little later.
			let n = 0;
			await expect
				.poll(() => note(`c-${n++}`), { timeout: 10_000 })
				.toMatchObject({ ok: false, error: { kind: 'read-only' } });
			const acknowledged = await ids();
			await reopen();
			expect(await ids()).toEqual(acknowledged);
		}
	);
});

describe('a lock that was lost', () => {
	it('is noticed after the sync, before anything is acknowledged', async () => {
		lost = 'another has taken over';
		expect(await note('c')).toMatchObject({ ok: false, error: { kind: 'read-only' } });
		expect(await ids()).toEqual(['a', 'b']);
	});
});
