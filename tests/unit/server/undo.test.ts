import { beforeEach, expect, it } from 'vitest';
import { beginInvestigation } from '$lib/investigation/start';
import { rules } from '$lib/server/case-rules';
import { doOperation, undoLine } from '$lib/server/cases';
import { openStore } from '$lib/server/open-store';
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
