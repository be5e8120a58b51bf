import {
	copyFileSync,
	readdirSync,
	readFileSync,
	rmSync,
	truncateSync,
	writeFileSync,
	appendFileSync
} from 'node:fs';
import { cp, mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { FileStore } from '$lib/server/storage/file-store';
import type { Opened, Refusal, Result } from '$lib/server/storage/types';

const ID = 'investigations/one';
let root: string;
let folder: string;
let store: FileStore;

beforeEach(async () => {
	root = await mkdtemp(join(tmpdir(), 'wm-damage-'));
	folder = join(root, 'data', ID);
	store = await FileStore.open(join(root, 'data'));
	await store.create(ID, { who: 'Ada', operation: 'begin', args: null }, [
		{ collection: 'evidence', id: 'a', before: null, after: { n: 1 } }
	]);
});
afterEach(async () => {
	await store.close();
	await rm(root, { recursive: true });
});

async function write(upTo: number) {
	const opened = await store.open(ID);
	if (!opened.ok) throw new Error(opened.error.message);
	for (let { rev } = opened.value; rev < upTo; rev++) {
		const change = { collection: 'evidence', id: `e${rev + 1}`, before: null, after: { n: rev + 1 } };
		const command = { baseRev: rev, who: 'Ada', operation: 'note', args: null };
		expect(await store.commit(ID, command, { changes: [change] })).toMatchObject({ ok: true });
	}
}

/** Closes as a crash would: without a snapshot. */
async function crash() {
	const state = join(folder, 'state.json');
	const before = readFileSync(state);
	await store.close();
	writeFileSync(state, before);
	for (const name of readdirSync(join(folder, 'backups'))) rmSync(join(folder, 'backups', name));
}

async function reopen(): Promise<Result<Opened, Refusal>> {
	await store.close();
	store = await FileStore.open(join(root, 'data'));
	return store.open(ID);
}

const segments = () => readdirSync(join(folder, 'history')).map((name) => join(folder, 'history', name));
const newest = () => segments().at(-1)!;
const aside = () => readdirSync(join(folder, 'set-aside'));
const stateFile = () => join(folder, 'state.json');
const revOf = (opened: Result<Opened, Refusal>) => (opened.ok ? opened.value.rev : opened.error);

describe('a line cut off by a crash', () => {
	it('at any byte costs only itself, is reported, kept aside, and does not stand in the way', async () => {
		await write(4);
		await crash();
		const whole = readFileSync(newest());
		const lastLine = whole.lastIndexOf(10, whole.length - 2) + 1;
		for (let at = lastLine; at < whole.length; at++) {
			writeFileSync(newest(), whole.subarray(0, at));
			const opened = await reopen();
			expect(revOf(opened)).toBe(3);
			expect(opened.ok && opened.value.report).toEqual(
				at === lastLine ? [] : [expect.stringMatching(/cut off while it was being saved/)]
			);
			if (at % 10 === 0) {
				await write(4);
				expect(revOf(await reopen())).toBe(4);
			}
			await store.close();
			for (const name of segments().slice(2)) rmSync(name);
			for (const name of readdirSync(folder))
				if (name === 'backups') rmSync(join(folder, name), { recursive: true });
			rmSync(stateFile());
		}
		expect(aside().length).toBe(whole.length - lastLine - 1);
	});

	it('as a block of zeros counts as cut off too', async () => {
		await write(3);
		await crash();
		appendFileSync(newest(), Buffer.alloc(4096));
		expect(await reopen()).toMatchObject({ ok: true, value: { rev: 3, report: [/cut off/] as unknown[] } });
	});

	it('as the first of a new file leaves no file behind that stands in the way', async () => {
		await write(3);
		await store.close();
		writeFileSync(join(folder, 'history', '000000000004.ndjson'), '');
		expect(revOf(await reopen())).toBe(3);
		await write(5);
		expect(revOf(await reopen())).toBe(5);
	});
});

describe('a flipped bit', () => {
	it('anywhere in lines that the state needs is never passed over: the last good state is offered', async () => {
		await write(5);
		await crash();
		const whole = readFileSync(newest());
		const starts = [0];
		for (let at = 0; (at = whole.indexOf(10, at) + 1) > 0;) starts.push(at);
		for (let at = 0; at < whole.length; at += 7) {
			const flipped = Buffer.from(whole);
			flipped[at]! ^= 1 << (at % 8);
			writeFileSync(newest(), flipped);
			const lastGoodRev = 1 + starts.filter((start) => start <= at).length - 1;
			const opened = await reopen();
			expect(revOf(opened)).toMatchObject({ kind: 'damaged', lastGoodRev });
			expect(await store.stateAt(ID, lastGoodRev)).toMatchObject({ ok: true });
			expect(
				await store.commit(ID, { baseRev: 9, who: '', operation: '', args: null }, { changes: [] })
			).toMatchObject({
				ok: false,
				error: { kind: 'damaged' }
			});
			expect(readFileSync(newest()).equals(flipped)).toBe(true);
		}
	});

	it('in the last newline is damage, not a line that may be dropped', async () => {
		await write(3);
		await crash();
		const whole = readFileSync(newest());
		whole[whole.length - 1]! ^= 2;
		writeFileSync(newest(), whole);
		expect(revOf(await reopen())).toMatchObject({ kind: 'damaged', lastGoodRev: 2 });
	});

	it('in the state file costs nothing: it is set aside and made again from the history', async () => {
		await write(6);
		await reopen();
		await store.close();
		const whole = readFileSync(stateFile());
		for (let at = 0; at < whole.length; at += 11) {
			const flipped = Buffer.from(whole);
			flipped[at]! ^= 1 << (at % 8);
			writeFileSync(stateFile(), flipped);
			const opened = await reopen();
			expect(revOf(opened)).toBe(6);
			if (opened.ok && opened.value.report.length > 0) expect(opened.value.report[0]).toMatch(/set aside/);
			else expect(at).toBeLessThan(whole.indexOf(10)); // trimmings of the first line, such as its time
			await store.close();
			expect(readFileSync(join(folder, 'set-aside', aside().at(-1)!)).length).toBe(whole.length);
		}
	});

	it('in the history below the state is found by verify, and the folder still opens', async () => {
		await write(4);
		await reopen();
		await write(6);
		await store.close();
		const first = readFileSync(segments()[1]!);
		first[30]! ^= 4;
		writeFileSync(segments()[1]!, first);
		expect(revOf(await reopen())).toBe(6);
		const verified = await store.verify(ID);
		expect(verified).toMatchObject({
			ok: true,
			value: { problems: [/000000000002.ndjson is damaged after revision 1/] as unknown[] }
		});
		expect(await store.history(ID, 5)).toMatchObject({ ok: true });
		expect(await store.history(ID, 2)).toMatchObject({ ok: false, error: { kind: 'damaged' } });
	});

	it('in a photo is found by verify', async () => {
		const put = await store.putFile(ID, Readable.from([Buffer.from('picture')]), { limitBytes: 99 });
		if (!put.ok) throw new Error();
		writeFileSync(join(folder, 'files', put.value.sha256), 'pictures');
		expect(await store.verify(ID)).toMatchObject({
			ok: true,
			value: { problems: [/not what it was/] as unknown[] }
		});
	});
});

describe('the last good state', () => {
	it('is taken up when asked: damaged files are set aside, the history goes on, and stays readable', async () => {
		await write(6);
		await crash();
		const whole = readFileSync(newest());
		const damaged = Buffer.from(whole);
		damaged[damaged.indexOf('"rev":4')]! ^= 1;
		writeFileSync(newest(), damaged);
		await reopen();
		const restored = await store.restore(ID, 'Bo');
		expect(restored).toMatchObject({ ok: true, value: { rev: 4, report: [/set aside/] as unknown[] } });
		expect(readFileSync(join(folder, 'set-aside', aside()[0]!)).equals(damaged)).toBe(true);
		for (const opened of [await store.open(ID), await reopen()]) {
			expect(opened).toMatchObject({ ok: true, value: { rev: 4, report: [] } });
			expect(opened.ok && Object.keys(opened.value.state['evidence']!)).toEqual(['a', 'e2', 'e3']);
		}
		await write(6);
		expect(revOf(await reopen())).toBe(6);
		const lines = await store.history(ID);
		expect(lines.ok && lines.value.map(({ rev, who }) => [rev, who])).toEqual([
			[1, 'Ada'],
			[2, 'Ada'],
			[3, 'Ada'],
			[4, 'Bo'],
			[5, 'Ada'],
			[6, 'Ada']
		]);
		expect(await store.verify(ID)).toMatchObject({ ok: true, value: { problems: [] } });
		expect(await store.restore(ID, 'Bo')).toMatchObject({ ok: false });
	});

	it('is the state file itself when the history has been lost', async () => {
		await write(5);
		await reopen();
		await store.close();
		rmSync(join(folder, 'history'), { recursive: true });
		expect(revOf(await reopen())).toMatchObject({ kind: 'damaged', lastGoodRev: 5 });
		expect(await store.restore(ID, 'Bo')).toMatchObject({ ok: true, value: { rev: 6 } });
		await write(8);
		const opened = await reopen();
		expect(opened.ok && opened.value.state['evidence']).toMatchObject({
			a: { n: 1 },
			e5: { n: 5 },
			e8: { n: 8 }
		});
		expect(await store.verify(ID)).toMatchObject({ ok: true, value: { rev: 8, problems: [] } });
	});

	it.each(['first', 'middle', 'last'])(
		'is kept when the %s history file is missing and the state is behind',
		async (which) => {
			await write(3);
			await reopen();
			await write(6);
			await reopen();
			await write(9);
			await crash();
			rmSync(stateFile());
			const files = segments();
			expect(files).toHaveLength(4);
			rmSync({ first: files[0]!, middle: files[2]!, last: files[3]! }[which]!);
			const lastGood = { first: 0, middle: 3, last: 6 }[which];
			// The last file leaves no trace of itself: nothing but a state or a backup could tell.
			expect(revOf(await reopen())).toEqual(
				which === 'last' ? 6 : expect.objectContaining({ kind: 'damaged', lastGoodRev: lastGood })
			);
		}
	);
});

describe('backups', () => {
	it('keep the states of old; one put back by hand leads to the present through the history', async () => {
		for (let upTo = 3; upTo <= 30; upTo += 3) {
			await write(upTo);
			await reopen();
		}
		const backups = readdirSync(join(folder, 'backups'));
		expect(backups.length).toBe(5);
		await store.close();
		copyFileSync(join(folder, 'backups', backups[0]!), stateFile());
		expect(revOf(await reopen())).toBe(30);
	});

	it('stand in for a damaged state when the beginning of the history is gone', async () => {
		await write(5);
		await reopen();
		await write(8);
		await reopen();
		await store.close();
		truncateSync(stateFile(), 200);
		rmSync(segments()[0]!);
		const opened = await reopen();
		expect(opened).toMatchObject({ ok: true, value: { rev: 8, report: [/set aside/] as unknown[] } });
	});

	it('of the whole data folder are a copy of it', async () => {
		await write(5);
		await store.close();
		await cp(join(root, 'data'), join(root, 'copy'), { recursive: true });
		await rm(join(root, 'data'), { recursive: true });
		await cp(join(root, 'copy'), join(root, 'data'), { recursive: true });
		expect(revOf(await reopen())).toBe(5);
		expect(await store.verify(ID)).toMatchObject({ ok: true, value: { problems: [] } });
	});
});

describe('what others do to the files', () => {
	it('a folder that is missing is an error, never a new one', async () => {
		await store.close();
		rmSync(folder, { recursive: true });
		expect(revOf(await reopen())).toMatchObject({ kind: 'not-found' });
		expect(readdirSync(join(root, 'data', 'investigations'))).toEqual([]);
	});

	it('an empty folder is damaged, not new', async () => {
		await store.close();
		for (const name of readdirSync(folder)) rmSync(join(folder, name), { recursive: true });
		expect(revOf(await reopen())).toMatchObject({ kind: 'damaged', lastGoodRev: 0 });
		expect(await store.list('investigations')).toMatchObject([
			{ id: ID, problem: expect.any(String) as string }
		]);
	});

	it('a history that another program touched stops the writing', async () => {
		await write(2);
		appendFileSync(newest(), ' ');
		const command = { baseRev: 2, who: 'Ada', operation: 'note', args: null };
		const change = { collection: 'evidence', id: 'x', before: null, after: {} };
		expect(await store.commit(ID, command, { changes: [change] })).toMatchObject({
			ok: false,
			error: {
				kind: 'read-only',
				message: expect.stringMatching(/changed by another program.*Restart/) as string
			}
		});
		expect((await store.open(ID)).ok).toBe(true);
	});

	it('a state of another history is not mixed with this one', async () => {
		await write(3);
		await store.create('investigations/two', { who: 'Bo', operation: 'begin', args: null }, [
			{ collection: 'evidence', id: 'b', before: null, after: { n: 2 } }
		]);
		await store.close();
		copyFileSync(join(root, 'data', 'investigations/two', 'state.json'), stateFile());
		expect(revOf(await reopen())).toMatchObject({ kind: 'damaged' });
	});

	it('a state from a later version is not touched', async () => {
		await store.close();
		const text = readFileSync(stateFile(), 'utf8').replace('"version":1', '"version":2');
		writeFileSync(stateFile(), text);
		expect(revOf(await reopen())).toMatchObject({ kind: 'too-new' });
		expect(readFileSync(stateFile(), 'utf8')).toBe(text);
	});
});
