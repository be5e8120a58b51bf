import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, readFile, rm, utimes, writeFile } from 'node:fs/promises';
import { createServer, type AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { acquireLock, type Lock } from '$lib/server/storage/lock';
import { openLockedStore } from '$lib/server/storage/locked-store';
import { bundle, start, type Talker } from './processes';

let root: string;
let script: Awaited<ReturnType<typeof bundle>>;
const held: Lock[] = [];
const writers: Talker[] = [];

beforeAll(async () => {
	script = await bundle('writer.ts');
});
afterAll(() => script.dispose());
beforeEach(async () => {
	root = await mkdtemp(join(tmpdir(), 'wm-lock-'));
});
afterEach(async () => {
	for (const writer of writers.splice(0)) await writer.kill();
	for (const lock of held.splice(0)) await lock.release();
	await rm(root, { recursive: true, force: true });
});

function startWriter() {
	const writer = start(script.path, [root]);
	writers.push(writer);
	return writer;
}

async function take(waitMs: number, waits: string[] = []) {
	const lock = await acquireLock(root, {
		waitMs,
		onWait: (message) => waits.push(message),
		about: 'at port 4870'
	});
	if (lock.ok) held.push(lock.value);
	return lock;
}

/** The file of a lock that somebody else left, with some of it changed. */
async function leave(change: (owner: Record<string, unknown>) => Record<string, unknown>, text?: string) {
	const lock = await acquireLock(root);
	const path = join(root, 'lock', '000001.json');
	const owner = JSON.parse(await readFile(path, 'utf8')) as Record<string, unknown>;
	if (lock.ok) await lock.value.release();
	await writeFile(path, text ?? JSON.stringify(change(owner)));
	return path;
}

const NO_PROCESS = 2 ** 22 + 1; // above the largest process id of Linux

describe('the lock of a data folder', () => {
	it('refuses a second server at once, in words, and is free after the first has closed', async () => {
		const first = await take(0);
		expect(first.ok).toBe(true);
		const second = await take(0);
		expect(!second.ok && second.error.message).toMatch(
			/open in another Witness Mark .*process \d+.*at port 4870/
		);
		await held.pop()!.release();
		expect((await take(0)).ok).toBe(true);
		expect(await readdir(join(root, 'lock'))).toEqual(['000001.json']);
	});

	it('is refused between processes, and free at once when the first was killed', async () => {
		const writer = startWriter();
		await writer.hear((line) => 'ack' in line);
		const second = await openLockedStore(root);
		expect(!second.ok && second.error.message).toContain(`process ${writer.process.pid}`);
		await writer.kill();
		const waits: string[] = [];
		expect((await take(60_000, waits)).ok).toBe(true);
		expect(waits).toEqual([]);
	});

	it('passes from a frozen holder after the wait, and the holder acknowledges nothing when it wakes', async () => {
		const writer = startWriter();
		await writer.hear((line) => 'ack' in line);
		writer.process.kill('SIGSTOP');
		const waits: string[] = [];
		const opened = await openLockedStore(root, { waitMs: 1500, onWait: (message) => waits.push(message) });
		if (!opened.ok) throw new Error(opened.error.message);
		expect(waits).toEqual([expect.stringMatching(/Waiting for the previous server's lock \(up to 2 s\)/)]);
		const store = opened.value;
		const before = await store.open('investigations/one');
		if (!before.ok) throw new Error(before.error.message);

		const told = writer.said.length;
		writer.process.kill('SIGCONT');
		expect(await writer.hear((line) => 'refused' in line)).toMatchObject({
			refused: { kind: 'read-only', message: expect.stringMatching(/taken over this data folder/) as string }
		});
		await writer.ended;
		for (const line of writer.said.slice(told))
			if ('ack' in line) expect(line['ack']).toBeLessThanOrEqual(before.value.rev);

		const { rev } = before.value;
		const command = { baseRev: rev, who: 'Ada', operation: 'note', args: null };
		const change = { collection: 'evidence', id: 'mine', before: null, after: { n: 1 } };
		expect(await store.commit('investigations/one', command, { changes: [change] })).toMatchObject({
			ok: true
		});
		await store.close();
		const again = await openLockedStore(root);
		if (!again.ok) throw new Error(again.error.message);
		expect(await again.value.open('investigations/one')).toMatchObject({ ok: true, value: { rev: rev + 1 } });
		await again.value.close();
	});

	it.each<[string, (owner: Record<string, unknown>) => Record<string, unknown>]>([
		['whose process is gone', (owner) => ({ ...owner, pid: NO_PROCESS })],
		['whose process id now belongs to another', (owner) => ({ ...owner, started: '1' })],
		['from before the last boot', (owner) => ({ ...owner, boot: 'another' })]
	])('of an owner %s is free at once', async (_, change) => {
		await leave(change);
		const waits: string[] = [];
		expect((await take(60_000, waits)).ok).toBe(true);
		expect(waits).toEqual([]);
	});

	it.each<[string, (owner: Record<string, unknown>) => Record<string, unknown>, string?]>([
		['that still runs but does not answer', (owner) => owner],
		['on another machine', (owner) => ({ ...owner, host: 'elsewhere', pid: NO_PROCESS })],
		['in another container', (owner) => ({ ...owner, space: 'pid:[1] net:[2]', pid: NO_PROCESS })],
		['that cannot be read', (owner) => owner, '{"token":']
	])('of an owner %s is free after the wait', async (_, change, text) => {
		await leave(change, text);
		const waits: string[] = [];
		expect((await take(300, waits)).ok).toBe(true);
		expect(waits).toHaveLength(1);
	});

	it('of an owner that does not answer but gives signs of life is refused', async () => {
		const silent = createServer(() => {}).listen(0, '127.0.0.1');
		await new Promise((resolve) => silent.once('listening', resolve));
		const path = await leave((owner) => ({ ...owner, port: (silent.address() as AddressInfo).port }));
		let beat = Date.now();
		const beats = setInterval(() => void utimes(path, new Date(), new Date((beat += 1000))), 100);
		const refused = await take(60_000);
		clearInterval(beats);
		silent.close();
		expect(refused.ok).toBe(false);
	});

	it('goes to one of many that find it abandoned in the same moment', async () => {
		for (let round = 0; round < 5; round++) {
			await leave((owner) => ({ ...owner, pid: NO_PROCESS }));
			const tries = await Promise.all(Array.from({ length: 8 }, () => take(5_000)));
			expect(tries.filter(({ ok }) => ok)).toHaveLength(1);
			expect(held[0]!.check()).toBeNull();
			await held.pop()!.release();
			expect(await readdir(join(root, 'lock'))).toEqual([]);
		}
	});

	it('is lost when its file is gone or someone has taken the next number', async () => {
		await take(0);
		const [lock] = held;
		const mine = JSON.parse(await readFile(join(root, 'lock', '000001.json'), 'utf8')) as { token: string };
		await writeFile(join(root, 'lock', '000002.json'), JSON.stringify({ replaces: 'someone else' }));
		expect(lock!.check()).toBeNull();
		await writeFile(join(root, 'lock', '000002.json'), JSON.stringify({ replaces: mine.token }));
		expect(lock!.check()).toMatch(/taken over/);
		await rm(join(root, 'lock', '000002.json'));
		await rm(join(root, 'lock', '000001.json'));
		expect(lock!.check()).toMatch(/taken over/);
	});

	it('is let go when the store closes, and makes the folder where there was none', async () => {
		await rm(root, { recursive: true });
		await mkdir(root);
		const opened = await openLockedStore(join(root, 'deep', 'data'));
		expect(opened.ok).toBe(true);
		if (opened.ok) await opened.value.close();
		expect(existsSync(join(root, 'deep', 'data', 'lock', '000001.json'))).toBe(false);
	});
});
