import { readFileSync } from 'node:fs';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { FORMAT_VERSION, INVESTIGATION } from '$lib/investigation/case';
import { checkChanges, checkWhole } from '$lib/investigation/check';
import { fileSchema } from '$lib/investigation/json-schema';
import { type Migration, MIGRATIONS, upgrade } from '$lib/investigation/migrations';
import { piece, Workbench } from './workbench';

describe('the file format', () => {
	it('is described by a JSON Schema made from the code (npm run schema writes it)', () => {
		expect(JSON.parse(readFileSync('docs/file-format.schema.json', 'utf8'))).toEqual(
			JSON.parse(JSON.stringify(fileSchema()))
		);
	});

	it('reads again what it has read: a stored record passes its own schema unchanged', () => {
		const bench = new Workbench();
		bench.do('site.save', {
			record: {
				...bench.file.site['main'],
				pad: { kind: 'typed', typed: "45° 45.756' N 12 30 W", circle: { radius: '8 m', level: 0.95 } },
				elevation: '350 ± 5 ft'
			}
		});
		bench.do('evidence.add', { record: piece() });
		for (const [collection, records] of Object.entries(bench.file))
			for (const record of Object.values(records as Record<string, unknown>))
				expect(
					v.parse(INVESTIGATION[collection as keyof typeof INVESTIGATION] as v.GenericSchema, record)
				).toEqual(record);
		expect(checkWhole('investigations', bench.file as never)).toEqual([]);
	});

	it('refuses a record that names another which is not there', () => {
		const bench = new Workbench();
		const [id] = bench.do('evidence.add', { record: piece() });
		const after = { ...bench.file.evidence[id!]!, parts: ['nowhere'] };
		const problems = checkChanges('investigations', [{ collection: 'evidence', id: id!, after }], {
			...bench.file,
			evidence: { [id!]: after }
		});
		expect(problems).toEqual([`evidence/${id} names parts/nowhere, which is not there.`]);
	});

	it('has a migration for each step of the format', () => {
		expect(MIGRATIONS.map((m) => m.from)).toEqual(
			Array.from({ length: FORMAT_VERSION - 1 }, (_, i) => i + 1)
		);
	});

	it('carries an old file through every step, and tells of one that is too new', () => {
		const steps: Migration[] = [
			{
				from: 1,
				why: 'titles became upper case',
				apply: (file) => [{ collection: 'a', id: 'x', before: file['a']!['x'], after: { t: 'ONE' } }]
			},
			{
				from: 2,
				why: 'titles became a list',
				apply: (file) => [
					{
						collection: 'a',
						id: 'x',
						before: file['a']!['x'],
						after: { t: [(file['a']!['x'] as { t: string }).t] }
					}
				]
			}
		];
		const file = { format: { main: { version: 1 } }, a: { x: { t: 'one' } } };
		expect(upgrade(file, steps, 3)).toEqual({
			changes: [
				{ collection: 'a', id: 'x', before: { t: 'one' }, after: { t: ['ONE'] } },
				{ collection: 'format', id: 'main', before: { version: 1 }, after: { version: 3 } }
			]
		});
		expect(upgrade({ format: { main: { version: 4 } } }, steps, 3)).toMatchObject({
			tooNew: expect.stringContaining('format 4') as string
		});
	});
});
