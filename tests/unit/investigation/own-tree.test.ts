import { beforeEach, expect, it } from 'vitest';
import { applyChanges, emptyVehicle, type VehicleFile } from '$lib/investigation/case';
import { checkWhole } from '$lib/investigation/check';
import { operateVehicle } from '$lib/investigation/operations';
import type { ReadyTree } from '$lib/investigation/schema/ready-tree';
import { keepable } from '$lib/investigation/views/own-tree';
import { eventsOf } from '$lib/investigation/views/tree';
import { discreet } from '$lib/report/discretion';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
beforeEach(() => {
	c = new Case();
	top = c.state();
	c.add('joint', top);
	c.add('glue', 'joint', 'Glue that Marit mixed lets go');
	c.add('wet', 'joint', 'Joint got wet');
	c.do('event.setGate', { event: 'joint', type: 'and' });
	c.do('event.weigh', { event: 'glue', weight: 0.2, weightBasis: 'test', weightNote: '2 of 10 pulled' });
	c.put('evidence', 'e1', { number: 1, kind: 'piece', title: 'ring', by: 'Marit', position: null });
	c.find('bare', { glue: 0.8 }, { state: 'present', evidence: ['e1'], costMinutes: 30, note: 'look aslant' });
	c.find('loose', {}, {});
	c.do('disposition.set', { event: 'glue', state: 'likely', reason: 'so it looks', cites: ['e1'] });
});

const plant = (tree: ReadyTree, under?: string) => {
	const other = new Case();
	const place = other.state();
	other.do('anomaly.plant', { anomaly: 'a1', tree, ...(under ? { under: place } : {}) });
	expect(checkWhole('investigations', other.file)).toEqual([]);
	return other;
};

it('a kept tree has events, gates, weights and signs, and nothing that was found or decided', () => {
	const other = plant(keepable(c.file, top)!);
	const byTitle = new Map(eventsOf(other.file, 'a1').map(([id, event]) => [event.title, { id, event }]));
	expect(byTitle.get('joint lets go')!.event.gate).toMatchObject({ type: 'and', complete: false });
	expect(byTitle.get('Glue that Marit mixed lets go')!.event).toMatchObject({
		weight: 0.2,
		weightBasis: 'test',
		weightNote: '2 of 10 pulled',
		disposition: { state: 'open', cites: [], by: '' }
	});
	expect(Object.values(other.file.findings)).toMatchObject([
		{
			statement: 'sign bare',
			state: 'notExamined',
			evidence: [],
			costMinutes: 30,
			note: 'look aslant',
			links: [{ event: byTitle.get('Glue that Marit mixed lets go')!.id, p: 0.8 }]
		}
	]);
});

it('a branch is kept whole, with its own name, and what nobody has thought of is not', () => {
	const tree = keepable(c.file, 'joint')!;
	expect(tree.causes.map((name) => tree.events.find((e) => e.name === name)!.title)).toEqual([
		'joint lets go'
	]);
	plant(tree, 'top');
	expect(keepable(c.file, c.inputs(top).at(-1)!)).toBeNull();
	expect(keepable(new Case().file, 'gone')).toBeNull();
});

it('names of people stay behind', () => {
	const { file } = discreet(c.file, [], { names: false, positions: false });
	expect(JSON.stringify(keepable(file, top))).not.toContain('Marit');
});

it('is kept with the vehicle, renamed, and removed; two of one name are refused', () => {
	let vehicle: VehicleFile = emptyVehicle();
	let n = 0;
	const context = { who: 'Ada', now: '2031-05-18T09:00:00.000Z', newId: () => `t${++n}` };
	const run = (name: string, args: unknown) => {
		const did = operateVehicle(vehicle, name, args, context);
		if (did.ok) vehicle = applyChanges(vehicle, did.value);
		return did;
	};
	const record = {
		title: 'Joint of the bay',
		takeIt: '',
		from: 'A1 of Harrier',
		tree: keepable(c.file, top)!
	};
	expect(run('ownTree.save', { record }).ok).toBe(true);
	expect(checkWhole('vehicles', vehicle)).toEqual([]);
	expect(run('ownTree.save', { record })).toMatchObject({ ok: false, problems: [{ field: 'title' }] });
	expect(run('ownTree.save', { id: 't1', record: { ...record, title: 'Bay joint' } }).ok).toBe(true);
	expect(vehicle.trees['t1']).toMatchObject({ title: 'Bay joint', at: context.now });
	expect(run('ownTree.save', { record: { ...record, tree: { ...record.tree, causes: [] } } }).ok).toBe(false);
	expect(run('ownTree.remove', { id: 't1' }).ok).toBe(true);
	expect(run('ownTree.remove', { id: 't1' }).ok).toBe(false);
});
