import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { tableOf } from '$lib/components/evidence/table-of-file';

const track = (name: string) =>
	readFileSync(new URL(`../../open-data/recordings/${name}.igc`, import.meta.url), 'latin1');

describe('what a kept log holds', () => {
	// Counted from the file by other means; tests/open-data/README.md. The layout of a record: FAI, A 4.1 (seen).
	it('a logger track of the open format: times and both altitudes, as the README of the data counts them', () => {
		const { rows, columns } = tableOf(track('skytraxx21-2023-04-15'))!;
		expect(rows).toBe(2008);
		expect(columns.map(({ first, last, least, greatest }) => [first, last, least, greatest])).toEqual([
			['07:39:37', '08:13:04', null, null],
			['573', '-50', '-53', '642'],
			['635', '2', expect.any(String), '704']
		]);
		expect(tableOf(track('skydrop-2019-04-15'))).toMatchObject({
			rows: 533,
			columns: [
				{ first: '08:31:44', last: '08:40:42' },
				{ first: '650', last: '115' },
				{ first: '723', last: '163' }
			]
		});
	});

	it('takes names from the line above the numbers, decimal commas, and text in a column', () => {
		const table = tableOf('# a recorder\nclock;height;"supply"\n14:02:10;1,5;8,2\n14:02:11;-3,25;8,1\n\n');
		expect(table?.columns.map(({ name, first, least, greatest }) => [name, first, least, greatest])).toEqual([
			['clock', '14:02:10', null, null],
			['height', '1.5', '-3.25', '1.5'],
			['supply', '8.2', '8.1', '8.2']
		]);
		expect(tableOf('1,5\n2,6\n1e999,4\n3,4')?.columns[0]).toMatchObject({ name: 'column 1', greatest: '3' });
		expect(tableOf('One line of words.\nAnother, with 2, numbers no.\n')).toBeNull();
	});

	it('a peak of one sample stays in the course of a long column', () => {
		const rows = Array.from({ length: 50_000 }, (_, i) => `${i},${i === 31_234 ? 9 : 0}`);
		const { line } = tableOf(rows.join('\n'))!.columns[1]!;
		expect(line.length).toBeLessThan(400);
		expect(Math.max(...line.map(([, y]) => y))).toBe(1);
	});
});
