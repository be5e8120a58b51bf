import { expect, it } from 'vitest';
import { emptyInvestigation, emptyVehicle, type VehicleFile } from '$lib/investigation/case';
import type { Change, ChangeState } from '$lib/investigation/schema/change';
import { buildRows } from '$lib/investigation/views/builds';
import { changeGroups } from '$lib/investigation/views/change-groups';

const change = (number: number, state: ChangeState, over: Partial<Change> = {}) =>
	({
		number,
		state,
		steps: [],
		required: true,
		buildName: 'build 2',
		vehicle: null,
		build: null,
		...over
	}) as Change;

it('groups changes by what they hold, what holds a build first', () => {
	const changes = {
		a: change(1, 'closed'),
		b: change(2, 'verified'),
		c: change(3, 'made', { required: false }),
		d: change(4, 'made'),
		e: change(5, 'proposed', { buildName: '' }),
		f: change(6, 'reopened'),
		g: change(7, 'rejected'),
		h: change(8, 'flown')
	};
	const groups = changeGroups({ ...emptyInvestigation(), changes });
	expect(groups.map(({ kind, build, changes }) => [kind, build, changes.map(([id]) => id).join('')])).toEqual(
		[
			['holds', 'build 2', 'df'],
			['holds', '', 'e'],
			['open', '', 'c'],
			['waits', '', 'bh'],
			['closed', '', 'a'],
			['rejected', '', 'g']
		]
	);
});

it('lists builds with what holds each, those that may still fly first', () => {
	const build = (name: string, state: 'building' | 'ready' | 'retired') => ({ name, description: '', state });
	const file: VehicleFile = {
		...emptyVehicle(),
		builds: {
			b1: build('build 1', 'retired'),
			b2: build('build 2', 'building'),
			b3: build('build 3', 'ready')
		},
		parts: {
			p1: { build: 'b2', name: 'case', group: '', description: '', mass: null, uses: 7 },
			p2: { build: 'b2', name: 'paint', group: '', description: '', mass: null, uses: null }
		},
		clearances: {
			k: {
				build: 'b3',
				by: 'Ilse',
				at: '2026-05-18T09:00:00.000Z',
				revisions: {},
				waivers: [],
				reasons: [],
				built: [],
				note: '',
				withdrawn: null,
				flown: null
			}
		}
	};
	const held = {
		readable: true as const,
		id: 'f4',
		title: 'Flight 4',
		rev: 3,
		vehicle: 'tern',
		anomalies: {},
		conclusions: {},
		hazards: {}
	};
	const rows = buildRows(file, 'tern', [{ ...held, changes: { c: change(1, 'made') } }]);
	expect(rows.map(({ id }) => id)).toEqual(['b3', 'b2', 'b1']);
	expect(rows[1]).toMatchObject({ parts: 2, mostUses: 7, standing: null });
	expect(rows[0]!.standing?.by).toBe('Ilse');
	expect(rows[0]!.overtaken.holds.map(({ changeId }) => changeId)).toEqual(['c']);
	expect(rows[0]!.overtaken.unsettled.map(({ kind }) => kind)).toEqual(['investigation']);
	expect(rows[2]!.mostUses).toBeNull();
});
