import { describe, expect, it } from 'vitest';
import { applyChanges, emptyVehicle, type VehicleFile } from '$lib/investigation/case';
import { operateVehicle } from '$lib/investigation/operations';
import type { Anomaly, Conclusion } from '$lib/investigation/schema/anomaly';
import type { Change } from '$lib/investigation/schema/change';
import type { Hazard } from '$lib/investigation/schema/record';
import {
	clearancesOf,
	type InvestigationRead,
	overtakenBy,
	readOf,
	standingClearance,
	toWatch,
	whatHolds
} from '$lib/investigation/views/clearance';
import { partsSince } from '$lib/investigation/views/vehicle-parts';
import { Workbench } from './workbench';

const file: VehicleFile = {
	...emptyVehicle(),
	vehicle: { main: { name: 'Tern', description: '' } },
	builds: {
		b1: { name: 'build 1', description: '', state: 'building' },
		b2: { name: 'build 2', description: '', state: 'building' },
		old: { name: 'build 0', description: '', state: 'retired' }
	}
};
const change = (number: number, over: Partial<Change> = {}) =>
	({
		number,
		title: `change ${number}`,
		required: true,
		state: 'made',
		vehicle: null,
		build: null,
		...over
	}) as Change;
const read = (id: string, rev: number, changes: Record<string, Change>, vehicle: string | null = 'tern') =>
	({
		readable: true,
		id,
		title: id,
		rev,
		vehicle,
		changes,
		...withAnomaly,
		hazards: {},
		observations: {}
	}) satisfies InvestigationRead;
const withAnomaly = {
	anomalies: { a1: { number: 1, title: 'main stayed in its bag' } as Anomaly },
	conclusions: { a1: { state: 'undetermined' } as Conclusion }
};
const torn: InvestigationRead = {
	readable: false,
	id: 'torn',
	title: 'Flight 2',
	problem: 'Its history is damaged.'
};

let made = 0;
function clear(investigations: InvestigationRead[], args: object = {}, on = file, build = 'b1') {
	return operateVehicle(
		on,
		'clearance.clear',
		{ build, by: 'Ilse', waivers: [], note: '', ...args },
		{
			who: 'Ilse',
			now: `2026-05-18T09:00:0${made}.000Z`,
			newId: () => `n${++made}`,
			vehicle: { id: 'tern', investigations }
		}
	);
}
function cleared(investigations: InvestigationRead[], args: object = {}): VehicleFile {
	const outcome = clear(investigations, args);
	if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
	return applyChanges(file, outcome.value);
}
const problems = (outcome: ReturnType<typeof clear>) => (outcome.ok ? [] : outcome.problems);
const waiver = (over: object = {}) => ({
	investigation: 'f4',
	change: 'c1',
	by: 'Ilse',
	risk: 'the joint may part at opening',
	until: 'flight 5',
	...over
});

describe('[V1] what holds a build', () => {
	const holds = (changes: Record<string, Change>, vehicle: string | null = 'tern', build = 'b1') =>
		whatHolds('tern', build, [read('f4', 9, changes, vehicle)]).holds.map((hold) => hold.changeId);

	it('is every required change that is not verified', () => {
		expect(
			holds({
				c1: change(1, { state: 'proposed' }),
				c2: change(2, { state: 'verified' }),
				c3: change(3, { required: false }),
				c4: change(4, { state: 'reopened' }),
				c5: change(5, { state: 'rejected' }),
				c6: change(6, { state: 'closed' })
			})
		).toEqual(['c1', 'c4']);
	});

	it('concerns the build it names, or all where it names none', () => {
		expect(holds({ c1: change(1, { build: 'b2' }), c2: change(2, { build: 'b1' }), c3: change(3) })).toEqual([
			'c2',
			'c3'
		]);
	});

	it('concerns the vehicle that the change names, else the one of its investigation', () => {
		expect(holds({ c1: change(1) }, 'gull')).toEqual([]);
		expect(holds({ c1: change(1, { vehicle: 'tern' }) }, 'gull')).toEqual(['c1']);
		expect(holds({ c1: change(1, { vehicle: 'gull' }) }, 'tern')).toEqual([]);
	});

	it('comes from any investigation of the vehicle', () => {
		const { holds, revisions } = whatHolds('tern', 'b1', [
			read('f2', 3, {}),
			read('f3', 41, { c1: change(1) }),
			read('f4', 9, { c1: change(1) })
		]);
		expect(holds.map((hold) => hold.investigation)).toEqual(['f3', 'f4']);
		expect(revisions).toEqual({ f2: 3, f3: 41, f4: 9 });
	});
});

describe('clearing a build to fly', () => {
	it('[V4] is refused while a required change is open, and says which and where', () => {
		const said = problems(clear([read('f4', 9, { c1: change(1) })]));
		expect(said).toEqual([{ field: '', message: 'C1 “change 1” of “f4” is made, not verified.' }]);
	});

	it('keeps the revisions that were read, and makes the build ready', () => {
		const after = cleared([
			read('f3', 41, {}),
			read('f4', 9, { c1: change(1, { state: 'verified', required: false }) })
		]);
		expect(standingClearance(after, 'b1')?.[1]).toMatchObject({
			revisions: { f3: 41, f4: 9 },
			by: 'Ilse',
			withdrawn: null
		});
		expect(after.builds['b1']?.state).toBe('ready');
		expect(after.builds['b2']?.state).toBe('building');
	});

	it('[V4] accepts a risk by name, for each change that holds it', () => {
		const two = [read('f4', 9, { c1: change(1), c2: change(2) })];
		expect(problems(clear(two, { waivers: [waiver()] }))).toHaveLength(1);
		const after = cleared(two, { waivers: [waiver(), waiver({ change: 'c2' })] });
		expect(standingClearance(after, 'b1')?.[1].waivers).toHaveLength(2);
	});

	it.each([
		['nobody', { by: ' ' }, 'waivers.0.by'],
		['no risk', { risk: '' }, 'waivers.0.risk'],
		['no end', { until: '' }, 'waivers.0.until']
	])('[V4] refuses a waiver that names %s', (_, over, field) => {
		const said = problems(clear([read('f4', 9, { c1: change(1) })], { waivers: [waiver(over)] }));
		expect(said.map((p) => p.field)).toContain(field);
	});

	it('refuses a waiver for what does not hold it, and one given twice', () => {
		const open = [read('f4', 9, { c1: change(1) })];
		expect(problems(clear([], { waivers: [waiver()] }))[0]?.field).toBe('waivers.0');
		expect(problems(clear(open, { waivers: [waiver(), waiver()] }))[0]?.message).toContain('twice');
	});

	it('[V2] [V5] an investigation that cannot be read blocks, waiver or not', () => {
		expect(problems(clear([torn]))).toMatchObject([
			{ field: '', message: expect.stringContaining('can’t be read') as string }
		]);
		const said = problems(clear([torn], { waivers: [waiver({ investigation: 'torn' })] }));
		expect(said.map((p) => p.message).join()).toContain('“Flight 2” can’t be read');
	});

	it('refuses a retired build', () => {
		expect(problems(clear([], {}, file, 'old'))[0]?.field).toBe('build');
	});

	it('cannot be done without having read the investigations', () => {
		const context = { who: 'Ilse', now: '', newId: () => 'x' };
		const args = { build: 'b1', by: 'Ilse', waivers: [], note: '' };
		expect(() => operateVehicle(file, 'clearance.clear', args, context)).toThrow('needs the investigations');
	});
});

describe('[V6] what is unsettled', () => {
	const hazard = (what: string, state: Hazard['state']) => ({ what, state }) as Hazard;
	const anomaly = (number: number, title: string) => ({ number, title }) as Anomaly;
	const unsettled = (over: Partial<InvestigationRead>, vehicle: string | null = 'tern') =>
		whatHolds('tern', 'b1', [{ ...read('f4', 9, {}, vehicle), ...over } as InvestigationRead]).unsettled;
	const charge = { hazards: { h1: hazard('second charge', 'notRecovered') } };
	const reason = (over: object = {}) => ({
		investigation: 'f4',
		kind: 'hazard',
		id: 'h1',
		reason: 'it went down with the bay of build 1',
		...over
	});

	it('is what is not known safe, and each anomaly that has no ending', () => {
		const words = unsettled({
			hazards: {
				h1: hazard('second charge', 'notRecovered'),
				h2: hazard('beacon cell', 'notKnown'),
				h3: hazard('first charge', 'safe')
			},
			anomalies: { a3: anomaly(3, 'late'), a2: anomaly(2, 'fast'), a1: anomaly(1, 'silent') },
			conclusions: { a1: { state: 'undetermined' } as Conclusion, a2: { state: 'open' } as Conclusion }
		}).map((thing) => thing.words);
		expect(words).toEqual([
			'“second charge” is not recovered',
			'“beacon cell” is not known safe',
			'A2 “fast” is not concluded',
			'A3 “late” is not concluded'
		]);
	});

	it('is an investigation that states no anomaly yet', () => {
		expect(unsettled({ anomalies: {}, conclusions: {} }).map(({ words }) => words)).toEqual([
			'“f4” states no anomaly yet'
		]);
	});

	it('comes from investigations of this vehicle only', () => {
		expect(unsettled(charge, 'gull')).toEqual([]);
		expect(unsettled({ hazards: {}, anomalies: {} }, null)).toEqual([]);
	});

	it('is answered in words before the build is cleared, and the words are kept', () => {
		const reads = [{ ...read('f4', 9, {}), ...charge }];
		expect(problems(clear(reads))).toEqual([
			{
				field: 'reasons f4 hazard h1',
				message: '“second charge” is not recovered. Say why the build may fly all the same.'
			}
		]);
		expect(problems(clear(reads, { reasons: [reason({ reason: ' ' })] }))[0]?.field).toBe('reasons.0.reason');
		const after = cleared(reads, { reasons: [reason()] });
		expect(standingClearance(after, 'b1')![1].reasons).toEqual([reason()]);
	});

	it('is not answered when it is settled', () => {
		const said = problems(clear([read('f4', 9, {})], { reasons: [reason()] }));
		expect(said).toEqual([
			{ field: 'reasons f4 hazard h1', message: 'This is settled meanwhile; leave the reason out.' }
		]);
	});

	it('comes up again on a cleared build only where it is new', () => {
		const ready = cleared([{ ...read('f4', 9, {}), ...charge }], { reasons: [reason()] });
		const later = whatHolds('tern', 'b1', [
			{ ...read('f4', 12, {}), hazards: { ...charge.hazards, h2: hazard('cell', 'notKnown') } }
		]);
		const clearance = standingClearance(ready, 'b1')![1];
		expect(overtakenBy(clearance, later).unsettled.map(({ id }) => id)).toEqual(['h2']);
	});
});

describe('[V7] what is verified', () => {
	const reads = [
		read('f4', 9, {
			c1: change(1, { state: 'verified' }),
			c2: change(2, { state: 'closed', required: false })
		})
	];
	const built = [{ investigation: 'f4', change: 'c1' }];
	const part = {
		build: 'b1',
		name: 'nose bulkhead',
		group: '',
		description: '8 mm ply',
		mass: null,
		uses: null
	};
	const withParts = { ...file, parts: { p1: part } };

	it('is found built into the build, or missing by name, before it is cleared', () => {
		const [problem] = problems(clear(reads));
		expect(problem).toMatchObject({ field: 'built f4 c1' });
		expect(problem?.message).toContain('is built into build 1');
		expect(cleared(reads, { built }).clearances['n' + made]?.built).toEqual(built);
		expect(clear(reads, { waivers: [waiver()] }).ok).toBe(true);
		expect(problems(clear([read('f4', 9, { c1: change(1) })], { built }))[1]?.message).toContain(
			'not verified any more'
		);
	});

	it('comes up on a build that was cleared without it', () => {
		const ready = standingClearance(cleared([]), 'b1')![1];
		expect(overtakenBy(ready, whatHolds('tern', 'b1', reads)).toBeIn.map(({ changeId }) => changeId)).toEqual(
			['c1']
		);
	});

	it('shows when the parts list was altered after it was cleared', () => {
		const outcome = clear(reads, { built }, withParts);
		if (!outcome.ok) throw new Error('refused');
		const ready = applyChanges(withParts, outcome.value);
		const standing = standingClearance(ready, 'b1')![1];
		expect(partsSince(ready, standing)).toEqual([]);
		expect(
			partsSince(
				{ ...ready, parts: { p1: { ...part, uses: 3 }, p2: { ...part, description: '4 mm ply' } } },
				standing
			)
		).toEqual(['“nose bulkhead, 4 mm ply” was added']);
	});
});

it('[V6] asks for words that somebody can judge', () => {
	const reads = [{ ...read('f4', 9, {}), conclusions: {} }];
	const said = (reason: string) =>
		clear(reads, { reasons: [{ investigation: 'f4', kind: 'anomaly', id: 'a1', reason }] });
	expect(problems(said('x'))[0]?.message).toContain('A few words');
	expect(said('only the new build flies').ok).toBe(true);
});

it('[V6] the build that came down and a conclusion to be looked at again are not settled', () => {
	const bench = new Workbench();
	const about = { ...bench.file.about['main']!, vehicle: 'tern', build: 'b1' };
	const [part] = bench.do('part.addSeveral', {
		records: [
			{
				name: 'nose',
				vehiclePart: null,
				group: '',
				description: '',
				mass: null,
				uses: null,
				outcome: null,
				next: null,
				note: ''
			}
		]
	});
	const down = { ...bench.file, about: { main: about }, ...withAnomaly };
	const unsettled = (on: typeof down, build: string) =>
		whatHolds('tern', build, [readOf('f4', 3, on, () => true)]).unsettled.map(({ words }) => words);
	expect(unsettled(down, 'b1')).toEqual([
		expect.stringContaining('of its 1 part 1 is not said to fly again: “nose”'),
		'A1 “main stayed in its bag” was concluded, but is to be looked at again'
	]);
	const whole = {
		...down,
		parts: { [part!]: { ...down.parts[part!]!, outcome: 'recovered', next: 'flyAgain' } }
	} as never;
	expect(unsettled(whole, 'b1')).toHaveLength(1);
	expect(unsettled(down, 'b2')).toHaveLength(1);
});

describe('after it was cleared', () => {
	const context = { who: 'Tomas', now: '2026-05-19T07:00:00.000Z', newId: () => 'later' };

	it('is withdrawn with a reason, and the build is no longer ready', () => {
		const ready = cleared([]);
		const refused = operateVehicle(ready, 'clearance.withdraw', { build: 'b1', reason: '' }, context);
		expect(refused.ok).toBe(false);
		const outcome = operateVehicle(
			ready,
			'clearance.withdraw',
			{ build: 'b1', reason: 'cracked fin' },
			context
		);
		if (!outcome.ok) throw new Error('refused');
		const after = applyChanges(ready, outcome.value);
		expect(standingClearance(after, 'b1')).toBeNull();
		expect(after.builds['b1']?.state).toBe('building');
		expect(clearancesOf(after, 'b1')[0]?.[1].withdrawn).toMatchObject({ by: 'Tomas', reason: 'cracked fin' });
	});

	it('is used up by a flight', () => {
		const ready = cleared([]);
		const outcome = operateVehicle(ready, 'build.flew', { build: 'b1', flight: 'flight 5' }, context);
		if (!outcome.ok) throw new Error('refused');
		const after = applyChanges(ready, outcome.value);
		expect(standingClearance(after, 'b1')).toBeNull();
		expect(after.builds['b1']?.state).toBe('building');
	});

	it('is overtaken by what has come to hold the build since, waived changes apart', () => {
		const ready = cleared([read('f4', 9, { c1: change(1) })], { waivers: [waiver()] });
		const clearance = standingClearance(ready, 'b1')![1];
		const later = whatHolds('tern', 'b1', [read('f4', 12, { c1: change(1), c2: change(2) })]);
		expect(overtakenBy(clearance, later).holds.map((hold) => hold.changeId)).toEqual(['c2']);
	});

	it('cannot be edited away: the state of a cleared build changes by withdrawing', () => {
		const ready = cleared([]);
		const record = { ...ready.builds['b1']!, state: 'retired' };
		const outcome = operateVehicle(ready, 'build.save', { id: 'b1', record }, context);
		expect(outcome.ok ? [] : outcome.problems[0]?.field).toBe('state');
	});
});

it('what was noticed and is to be watched comes up with the vehicle that it was noticed on', () => {
	const seen = (number: number, watch: boolean) => ({
		number,
		statement: `sign ${number}`,
		evidence: [],
		watch
	});
	const observations = { o2: seen(2, true), o1: seen(1, true), o3: seen(3, false) };
	const reads = [
		{ ...read('f4', 9, {}), observations },
		{ ...read('g1', 2, {}, 'gull'), observations },
		torn
	];
	expect(
		toWatch('tern', reads).map(({ investigation, statement }) => `${investigation} ${statement}`)
	).toEqual(['f4 sign 1', 'f4 sign 2']);
});
