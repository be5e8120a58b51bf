import { describe, expect, it } from 'vitest';
import { ownSteps } from '$lib/investigation/views/own-steps';

const now = '2031-05-17T20:00:00.000Z';
const line = (rev: number, operation: string, over: { who?: string; time?: string; rev?: number } = {}) => ({
	rev,
	time: over.time ?? '2031-05-17T18:00:00.000Z',
	who: over.who ?? 'Ada',
	operation,
	args: over.rev === undefined ? {} : { rev: over.rev, operation: 'event.add' },
	changes: []
});

describe('what a person did last and could take back', () => {
	it('is their own lines, oldest first; what began the file and what followed by itself is none', () => {
		const lines = [
			line(1, 'begin'),
			line(2, 'event.add'),
			line(3, 'event.add', { who: 'Ben' }),
			line(4, 'event.move'),
			line(5, 'calculation.follow')
		];
		expect(ownSteps(lines, 'Ada', now)).toEqual([2, 4]);
		expect(ownSteps(lines, 'Cleo', now)).toEqual([]);
	});
	it('is less what was taken back since, by anybody, and with what was done again', () => {
		const lines = [line(2, 'event.add'), line(3, 'event.add'), line(4, 'undo', { rev: 3 })];
		expect(ownSteps(lines, 'Ada', now)).toEqual([2]);
		expect(ownSteps([...lines, line(5, 'undo', { rev: 4 })], 'Ada', now)).toEqual([2, 5]);
		const both = [...lines, line(5, 'undo', { rev: 4 }), line(6, 'undo', { rev: 5, who: 'Ben' })];
		expect(ownSteps(both, 'Ada', now)).toEqual([2]);
		// What it took back lies further back than was looked.
		expect(ownSteps([line(9, 'undo', { rev: 1 })], 'Ada', now)).toEqual([]);
	});
	it('is of this sitting', () => {
		const lines = [line(2, 'event.add', { time: '2031-05-16T18:00:00.000Z' }), line(3, 'event.add')];
		expect(ownSteps(lines, 'Ada', now)).toEqual([3]);
	});
});
