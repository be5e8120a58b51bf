import { beforeEach, describe, expect, it } from 'vitest';
import { findIn } from '$lib/investigation/views/find';
import { learned } from '$lib/investigation/views/learned';
import { Case } from './anomaly-case';

let c: Case;
beforeEach(() => {
	c = new Case();
	c.add('bolt', c.state(), 'U-bolt tore out');
	c.put('conclusions', 'a1', { state: 'open', statement: 'a draft' });
	c.put('changes', 'c1', { number: 1, title: '8 mm bulkhead', state: 'verified', part: 'nose bulkhead' });
	c.put('changes', 'c2', { number: 2, title: 'two U-bolts', state: 'rejected', part: 'nose bulkhead' });
});

describe('what an investigation came to', () => {
	it('is each conclusion but a draft, and the changes but those rejected', () => {
		expect(learned(c.file)).toMatchObject({ concluded: [], whole: false, changed: [{ number: 1 }] });
		const statement = `The nose bulkhead tore. ${'It was thin. '.repeat(40)}`;
		c.put('conclusions', 'a1', { state: 'probableCause', statement });
		const { concluded, whole } = learned(c.file);
		expect(concluded).toMatchObject([{ id: 'a1', number: 1, state: 'probableCause' }]);
		expect(concluded[0]!.statement).toMatch(/^The nose bulkhead tore.*…$/);
		expect(concluded[0]!.statement.length).toBeLessThanOrEqual(240);
		expect(whole).toBe(true);
		c.state('a2');
		expect(learned(c.file).whole).toBe(false);
	});
});

describe('words in an investigation', () => {
	it('lead to the records in which all of them stand, conclusions and changes first', () => {
		c.put('conclusions', 'a1', {
			state: 'probableCause',
			statement: 'The nose bulkhead tore round its U-bolt.'
		});
		expect(findIn(c.file, 'BULKHEAD nose')).toMatchObject([
			{
				name: 'the conclusion of A1',
				path: 'anomalies/a1/conclusion',
				around: 'The nose bulkhead tore round its U-bolt.'
			},
			{ name: 'C1 “8 mm bulkhead”', path: 'changes?change=c1' },
			{ path: 'changes?change=c2' }
		]);
		expect(findIn(c.file, 'u-bolt').map(({ path }) => path)).toContain('anomalies/a1/tree?event=bolt');
		expect(findIn(c.file, 'bulkhead parachute')).toEqual([]);
		expect(findIn(c.file, ' ')).toEqual([]);
	});
});
