import { beforeEach, describe, expect, it } from 'vitest';
import { beginInvestigation } from '$lib/investigation/start';
import { rules } from '$lib/server/case-rules';
import { doOperation, undoLine } from '$lib/server/cases';
import { openStore } from '$lib/server/open-store';
import { type Asked, historyPage, LINES_A_PAGE } from '$lib/server/record-history';
import { MemoryStore } from '$lib/server/storage/memory-store';
import type { Change } from '$lib/server/storage/types';
import { piece } from '../investigation/workbench';

let rev = 1;

beforeEach(async () => {
	const store = new MemoryStore(rules);
	(globalThis as Record<symbol, unknown>)[Symbol.for('witness-mark.store')] = Promise.resolve(store);
	const begun = beginInvestigation(
		{
			title: 'Harrier 2, second flight',
			vehicleName: 'Harrier 2',
			vehicle: null,
			buildName: '',
			build: null,
			flownAt: '',
			zoneMinutes: 0
		},
		[]
	);
	if (!begun.ok) throw new Error('not begun');
	const first = { who: 'Ada', operation: 'begin', args: null };
	await store.create('investigations/harrier', first, begun.value.changes as Change[]);
	rev = 1;
});

/** Does one operation and gives the revision of its line. */
async function keep(operation: string, args: unknown): Promise<number> {
	const did = await doOperation('investigations', 'harrier', operation, args, { who: 'Ada', baseRev: rev });
	if (!did.ok) throw new Error(JSON.stringify(did.problems));
	return (rev = did.rev);
}

async function refusedToUndo(line: number): Promise<string | undefined> {
	const did = await undoLine('investigations', 'harrier', line, { who: 'Ada', baseRev: rev });
	if (did.ok) throw new Error('it was undone');
	return did.problems[0]?.message;
}

it('an undo that is refused says in words what has changed since', async () => {
	const added = await keep('evidence.add', { id: 'e1', record: piece() });
	await keep('evidence.correct', {
		id: 'e1',
		record: piece({ mass: '208 g', trust: 'low' }),
		reason: 'read again'
	});
	expect(await refusedToUndo(added)).toBe(
		'This can’t be undone: E1 “Nose, dented on one side” has been changed since (trust: high → low; mass: 212 g → 208 g). Undo that first, or change it by hand.'
	);
});

it('and what has been removed since', async () => {
	const added = await keep('hazard.save', {
		record: {
			what: 'aft charge',
			kind: 'charge',
			state: 'notKnown',
			by: '',
			at: '',
			evidence: null,
			note: ''
		}
	});
	const store = await openStore();
	const opened = await store.open('investigations/harrier');
	const [id] = Object.keys(opened.ok ? opened.value.state['hazards']! : {});
	await keep('hazard.remove', { id });
	expect(await refusedToUndo(added)).toBe(
		'This can’t be undone: the hazard “aft charge” has been removed since. Undo that first.'
	);
});

it('a line whose records stand as it left them is taken back, and can be taken back again', async () => {
	const added = await keep('evidence.add', { id: 'e1', record: piece() });
	const undone = await undoLine('investigations', 'harrier', added, { who: 'Ada', baseRev: rev });
	expect(undone).toMatchObject({ ok: true, changes: [{ collection: 'evidence', id: 'e1', after: null }] });
	expect(
		await undoLine('investigations', 'harrier', rev + 1, { who: 'Ada', baseRev: rev + 1 })
	).toMatchObject({ ok: true });
});

describe('the history on a page', () => {
	const page = async (at = 1, record: string | null = null, asked: Asked = {}) => {
		const read = await historyPage('investigations', 'harrier', at, { ...asked, record });
		if (!read.ok) throw new Error(read.error.message);
		return read.value;
	};

	it('has the newest line first, and says which can be taken back', async () => {
		await keep('evidence.add', { id: 'e1', record: piece() });
		await keep('evidence.correct', { id: 'e1', record: piece({ mass: '208 g' }), reason: 'read again' });
		const { entries, pages, record } = await page();
		expect([pages, record]).toEqual([1, null]);
		expect(entries.map(({ rev, who, what, reason, canUndo }) => [rev, who, what, reason, canUndo])).toEqual([
			[3, 'Ada', 'Corrected an item of evidence', 'read again', true],
			[2, 'Ada', 'Added an item of evidence', '', false],
			[1, 'Ada', 'Began the investigation', '', false]
		]);
		expect(entries[0]!.records[0]!.fields).toEqual([{ field: 'mass', before: '212 g', after: '208 g' }]);
	});

	it('of one record has only its lines, also where it is no longer there', async () => {
		await keep('evidence.add', { id: 'e1', record: piece() });
		await keep('evidence.add', { id: 'e2', record: piece({ title: 'Fin' }) });
		const { entries, record } = await page(1, 'evidence/e2');
		expect(entries.map(({ rev }) => rev)).toEqual([3]);
		expect(record).toBe('E2 “Fin”');
		await undoLine('investigations', 'harrier', 3, { who: 'Ada', baseRev: rev });
		expect(await page(1, 'evidence/e2')).toMatchObject({
			record: 'E2 “Fin”',
			entries: [{ rev: 4, what: 'Took back: Added an item of evidence' }, { rev: 3 }]
		});
		expect(await page(1, 'evidence/never')).toMatchObject({ entries: [], pages: 1 });
	});

	it('of one subject, or with these words in it', async () => {
		await keep('evidence.add', { id: 'e1', record: piece() });
		await keep('evidence.correct', { id: 'e1', record: piece({ mass: '208 g' }), reason: 'read again' });
		await keep('clock.add', {
			id: 'c1',
			record: { name: 'Ada’s phone', kind: 'phone', zoneMinutes: 120, ahead: '', note: '' }
		});
		const revs = async (asked: Asked) => (await page(1, null, asked)).entries.map((e) => e.rev);
		expect(await revs({ about: 'evidence' })).toEqual([3, 2]);
		expect(await revs({ about: 'record' })).toEqual([4, 1]);
		expect(await revs({ words: 'NOSE 208' })).toEqual([3]);
		expect(await revs({ words: 'Nose', about: 'record' })).toEqual([]);
	});

	it('comes in pages without a line twice or left out, and a page that is not there is the nearest', async () => {
		const record = { name: 'Ada’s phone', kind: 'phone', zoneMinutes: 120, ahead: '', note: '' };
		const [clock] = [await keep('clock.add', { id: 'c1', record })];
		for (let n = 1; n <= LINES_A_PAGE + 3; n++)
			await keep('clock.change', { id: 'c1', record: { ...record, note: `compared ${n} times` } });
		expect(clock).toBe(2);
		const revs = async (at: number, of: string | null) => (await page(at, of)).entries.map((e) => e.rev);
		for (const of of [null, 'clocks/c1']) {
			const all = [...(await revs(1, of)), ...(await revs(2, of))];
			const least = of === null ? 1 : 2;
			expect(all).toEqual(Array.from({ length: rev - least + 1 }, (_, i) => rev - i));
			expect(await revs(99, of)).toEqual(await revs(2, of));
			expect(await revs(NaN, of)).toEqual(await revs(1, of));
		}
	});
});

it('a second writer is told what the first changed, and saving again puts theirs in its place', async () => {
	await keep('evidence.add', { id: 'e1', record: piece() });
	const seen = rev;
	await keep('evidence.correct', { id: 'e1', record: piece({ mass: '208 g' }), reason: 'read again' });
	const late = { id: 'e1', record: piece({ mass: '205 g' }), reason: 'third scale' };
	const refused = await doOperation('investigations', 'harrier', 'evidence.correct', late, {
		who: 'Ben',
		baseRev: seen
	});
	if (refused.ok) throw new Error('it was overwritten');
	expect(refused.status).toBe(409);
	expect(refused.problems[0]?.message).toContain('Meanwhile Ada changed this: E1');
	expect(refused.problems[0]?.message).toContain('mass: 212 g → 208 g');
	expect(refused.current?.rev).toBe(rev);
	const again = await doOperation('investigations', 'harrier', 'evidence.correct', late, {
		who: 'Ben',
		baseRev: rev
	});
	expect(again.ok).toBe(true);
});

it('a request that came twice is done once and answers with the same changes', async () => {
	const sent = { who: 'Ada', baseRev: rev, key: 'the same' };
	const args = { id: 'e1', record: piece() };
	const first = await doOperation('investigations', 'harrier', 'evidence.add', args, sent);
	const second = await doOperation('investigations', 'harrier', 'evidence.add', args, sent);
	expect(second).toEqual(first);
});
