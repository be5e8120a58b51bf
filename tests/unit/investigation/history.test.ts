import { describe, expect, it } from 'vitest';
import { applyChanges } from '$lib/investigation/case';
import { operate } from '$lib/investigation/operations';
import { entryOf } from '$lib/investigation/views/history';
import type { Line } from '$lib/investigation/views/versions';
import { Case } from './anomaly-case';
import { piece } from './workbench';

const time = '2031-05-18T09:00:00.000Z';

/** A case with a departure, one cause and the line that a store would keep of the next operation. */
function lineOf(prepare: (bench: Case) => void, operation: string, args: unknown) {
	const bench = new Case();
	bench.add('jam', bench.state(), 'The line jammed');
	prepare(bench);
	const made = operate(bench.file, operation, args, { now: time, who: 'Ada', newId: () => 'fresh' });
	if (!made.ok) throw new Error(JSON.stringify(made.problems));
	const line: Line = { rev: 7, time, who: 'Ada', operation, args, changes: made.value };
	return { line, entry: entryOf(line, applyChanges(bench.file, made.value)) };
}

describe('a line of the history in words', () => {
	it('what a starting weight was before, and on what it rested', () => {
		const { entry } = lineOf(
			(bench) => bench.do('event.weigh', { event: 'jam', weight: '2 %', weightBasis: 'guess' }),
			'event.weigh',
			{ event: 'jam', weight: '5 %', weightBasis: 'ownHistory' }
		);
		expect(entry).toEqual({
			rev: 7,
			time,
			who: 'Ada',
			what: 'Gave an event its starting weight',
			reason: '',
			records: [
				{
					collection: 'events',
					id: 'jam',
					name: 'the event “The line jammed”',
					did: 'changed',
					fields: [
						{ field: 'starting weight', before: '2\u202f%', after: '5\u202f%' },
						{ field: 'starting weight rests on', before: 'guess', after: 'own history' }
					]
				}
			]
		});
	});

	it('what a disposition was before, with what it rests on by name', () => {
		const { entry } = lineOf(
			(bench) => bench.do('evidence.add', { id: 'e1', record: piece() }),
			'disposition.set',
			{ event: 'jam', state: 'unlikely', reason: 'No rub marks.', cites: ['e1'] }
		);
		expect(entry.records[0]!.fields.slice(0, 3)).toEqual([
			{ field: 'disposition, state', before: 'open', after: 'unlikely' },
			{ field: 'disposition, reason', before: '', after: 'No rub marks.' },
			{ field: 'disposition, rests on', before: '', after: 'E1 “Nose, dented on one side”' }
		]);
		expect(entry.records[0]!.fields).toHaveLength(3);
	});

	it('of the links of a finding only the one that changed, with its event by name', () => {
		const { entry } = lineOf(
			(bench) => {
				bench.add('slip', bench.file.anomalies['a1']!.top, 'The knot slipped');
				bench.find('f1', { jam: 0.6, slip: 0.1 });
			},
			'link.set',
			{ finding: 'f1', event: 'jam', negated: false, p: '80 %' }
		);
		expect(entry.records[0]).toMatchObject({
			name: 'F1 “sign f1”',
			fields: [
				{
					field: 'links',
					before: 'event The line jammed, probability 60\u202f%',
					after: 'event The line jammed, probability 80\u202f%'
				}
			]
		});
	});

	it('a statement put better shows the words before', () => {
		const { entry } = lineOf(() => undefined, 'anomaly.change', {
			id: 'a1',
			record: { observed: 'bulkhead 3 m from the tube' }
		});
		expect(entry.records).toMatchObject([
			{
				name: 'A1 “The bulkhead left the bay tube”',
				fields: [
					{ field: 'observed', before: 'bulkhead 2 m from the tube', after: 'bulkhead 3 m from the tube' }
				]
			}
		]);
	});

	it('what was added or removed is named and not spelled out; a reason stands beside it', () => {
		const { entry } = lineOf(
			(bench) => bench.do('evidence.add', { id: 'e1', record: piece() }),
			'evidence.withdraw',
			{ id: 'e1', reason: 'of another flight' }
		);
		expect(entry.reason).toBe('of another flight');
		const added = lineOf(() => undefined, 'evidence.add', { record: piece() }).entry;
		expect(added.records).toMatchObject([
			{ did: 'added', name: 'E1 “Nose, dented on one side”', fields: [] }
		]);
	});

	it('the result of a test stands there as typed; only what was computed says nothing', () => {
		const test = {
			number: 1,
			kind: 'test',
			title: 'pull',
			result: '',
			value: null,
			attachments: [],
			parts: []
		};
		const bench = new Case();
		const line = (collection: string, before: object, after: object): Line => {
			bench.put(collection as 'evidence', 'x1', after);
			return {
				rev: 7,
				time,
				who: 'Ada',
				operation: 'test.result',
				args: {},
				changes: [{ collection, id: 'x1', before, after }]
			};
		};
		const said = (...args: Parameters<typeof line>) => entryOf(line(...args), bench.file).records[0]!.fields;
		expect(said('evidence', test, { ...test, result: 'parts at 90 N' })).toEqual([
			{ field: 'result', before: '', after: 'parts at 90 N' }
		]);
		const run = { number: 1, title: 'load', result: { a: 1 }, gate: null };
		expect(said('calculations', run, { ...run, result: { a: 2 } })).toEqual([
			{ field: 'result', before: '', after: 'computed anew' }
		]);
	});

	it('what one operation does in several ways is told apart, also when it is taken back', () => {
		const changes = [
			{
				collection: 'changes',
				id: 'c1',
				before: { number: 1, state: 'accepted' },
				after: { number: 1, state: 'made' }
			}
		];
		const line = { rev: 7, time, who: 'Ada', operation: 'change.move', args: {}, changes };
		const bench = new Case();
		expect(entryOf(line, bench.file).what).toBe('Marked a design change as made');
		const undo = {
			...line,
			operation: 'undo',
			args: { operation: 'change.move' },
			changes: changes.map((c) => ({ ...c, before: c.after, after: c.before }))
		};
		expect(entryOf(undo, bench.file).what).toBe('Took back: Marked a design change as made');
	});

	it('an undo says what it took back', () => {
		const { line } = lineOf(() => undefined, 'evidence.add', { record: piece() });
		const undo = { ...line, operation: 'undo', args: { rev: 7, operation: 'evidence.add' } };
		expect(entryOf(undo, new Case().file).what).toBe('Took back: Added an item of evidence');
	});
});
