import { describe, expect, it } from 'vitest';
import { asTheyStood, inOrder, isIdle } from '$lib/components/anomaly/finding-order';
import { Case } from '../investigation/anomaly-case';

const c = new Case();
c.state();
c.find('f1', {}, { statement: 'Soot 10', state: 'present' });
c.find('f2', {}, { statement: 'Soot 9' });
c.find('f3', {}, { statement: 'Bent pin', state: 'absent' });
c.find('f4', {}, { statement: 'Ash', state: 'present' });
const findings = Object.entries(c.file.findings);
const told = (id: string, db: number) => [id, { most: Math.abs(db), db, branch: 'a' }] as const;
const tells = new Map([told('f1', 0.01), told('f3', -7), told('f4', Infinity)]);
const ids = (list: [string, unknown][]) => list.map(([id]) => id);

describe('the order of findings', () => {
	it('is as written, by what tells most, by name, or with what nobody looked at first', () => {
		expect(ids(inOrder(findings, 'number', tells))).toEqual(['f1', 'f2', 'f3', 'f4']);
		expect(ids(inOrder(findings, 'telling', tells))).toEqual(['f4', 'f3', 'f1', 'f2']);
		expect(ids(inOrder(findings, 'name', tells))).toEqual(['f4', 'f3', 'f2', 'f1']);
		expect(ids(inOrder(findings, 'state', tells))).toEqual(['f2', 'f1', 'f4', 'f3']);
		const both = new Map([...tells, told('f1', -Infinity)]);
		expect(ids(inOrder(findings, 'telling', both))).toEqual(['f1', 'f4', 'f3', 'f2']);
	});
	it('is kept while numbers change; a new finding comes last', () => {
		expect(ids(asTheyStood(findings, ['f3', 'f1', 'f4']))).toEqual(['f3', 'f1', 'f4', 'f2']);
	});
	it('what was looked at and moves nothing is idle; what nobody looked at is not', () => {
		expect(findings.map(([id, f]) => isIdle(f, tells.get(id)))).toEqual([true, false, false, false]);
	});
});
