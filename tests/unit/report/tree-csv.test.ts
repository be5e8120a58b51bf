import { describe, expect, it } from 'vitest';
import { csv } from '$lib/report/csv';
import { treeCsv } from '$lib/report/tree-csv';
import { Case } from '../investigation/anomaly-case';

describe('the events of a tree as a table', () => {
	it('one row each, in the order of the tree, with the three probabilities', () => {
		const c = new Case();
		const top = c.state();
		c.add('joint', top, 'the joint, "glued", opens');
		c.do('event.weigh', { event: 'joint', weight: 0.2, weightBasis: 'test', weightNote: '' });
		c.add('open', top, '=SUM(A1)', 'undeveloped');
		const table = treeCsv(c.file, 'a1', { joint: { prior: 0.2, givenTop: 0.4, givenAll: 0.6 } });
		const lines = table.trimEnd().split('\n');
		expect(lines).toHaveLength(5);
		expect(lines[0]).toMatch(
			/^id,event,kind,gate,k,stands on,starting weight,basis,prior,givenTop,givenAll,/
		);
		expect(lines[1]).toBe('TOP,The bulkhead left the bay tube,,OR,,E1 E2 E3,,,,,,open,,');
		expect(lines[2]).toBe('E1,"the joint, ""glued"", opens",basic event,,,,0.2,test,0.2,0.4,0.6,open,,');
		expect(lines[3]).toBe("E2,'=SUM(A1),undeveloped event,,,,,,,,,open,,");
		expect(lines[4]).toMatch(/^E3,.*,not thought of,,,,0.05,guess,/);
	});
	it('a number stays a number, a line break stays in its cell', () => {
		expect(csv([[-1.5, null, 'a\nb', '-x', 'c;d']])).toBe('-1.5,,"a\nb",\'-x,"c;d"\n');
	});
});
