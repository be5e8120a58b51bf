import { expect, it } from 'vitest';
import { versionsOf } from '$lib/investigation/views/versions';

const line = (rev: number, operation: string, args: unknown, before: unknown, after: unknown) => ({
	rev,
	time: `2031-05-17T14:0${rev}:00.000Z`,
	who: 'Ada',
	operation,
	args,
	changes: [{ collection: 'evidence', id: 'e1', before, after }]
});

it('every version of a record has its reason and what it changed, oldest first', () => {
	const first = { title: 'Nose', mass: { value: 212 } };
	const second = { ...first, mass: { value: 218 } };
	const versions = versionsOf(
		[
			line(1, 'evidence.add', {}, null, first),
			line(2, 'evidence.correct', { reason: ' weighed again ' }, first, second),
			line(3, 'undo', { rev: 2 }, second, first),
			{ ...line(4, 'part.add', {}, null, {}), changes: [] }
		],
		'evidence',
		'e1'
	);
	expect(versions.map((v) => [v.rev, v.reason, v.changed])).toEqual([
		[1, '', []],
		[2, 'weighed again', [{ field: 'mass', before: { value: 212 }, after: { value: 218 } }]],
		[3, '', [{ field: 'mass', before: { value: 218 }, after: { value: 212 } }]]
	]);
	expect(versions[2]?.record).toEqual(first);
});

it('a record that was taken away and came back keeps both lines', () => {
	const versions = versionsOf(
		[line(1, 'evidence.add', {}, null, { title: 'x' }), line(2, 'undo', {}, { title: 'x' }, null)],
		'evidence',
		'e1'
	);
	expect(versions.map((v) => v.record)).toEqual([{ title: 'x' }, null]);
});
