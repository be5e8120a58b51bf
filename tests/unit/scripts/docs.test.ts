import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { root } from '../../../scripts/setup.mjs';

const read = (path: string) => readFileSync(join(root, path), 'utf8');
const filesIn = (folder: string) =>
	readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' }).filter((file) =>
		file.endsWith('.ts')
	);
const numbers = (text: string) => [...text.matchAll(/\[[A-Z]\d+\]/g)].map(([rule]) => rule);

describe('docs/rules.md', () => {
	const rows = [...read('docs/rules.md').matchAll(/^\| (\[[A-Z]\d+\]) \| .+ \| (.+) \|$/gm)];

	it('lists each rule of the code once, and no other', () => {
		const folder = 'src/lib/investigation';
		const kept = new Set(filesIn(folder).flatMap((file) => numbers(read(join(folder, file)))));
		expect(rows.map(([, rule]) => rule).sort()).toEqual([...kept].sort());
	});
	it.each(rows.map(([, rule, test]) => [rule, test] as const))('%s is quoted by %s', (rule, test) => {
		expect(numbers(read(`tests/unit/investigation/${test}.test.ts`))).toContain(rule);
	});
});

describe('docs/coverage.md', () => {
	const page = read('docs/coverage.md');

	it('has all 93 rows, each with where it stands', () => {
		const rows = [...page.matchAll(/^\| (\d+) \| .+$/gm)];
		expect(rows.map(([, number]) => Number(number))).toEqual(Array.from({ length: 93 }, (_, i) => i + 1));
		expect(rows.filter(([row]) => !/\*\*(Done|In part|Not yet)/.test(row)).map(([row]) => row)).toEqual([]);
	});
	it('names tests that exist', () => {
		const named = [...page.matchAll(/`((?:unit|published|storage|browser)\/[a-z/.-]+)`/g)].map(
			([, test]) => test
		);
		expect(named.length).toBeGreaterThan(50);
		expect(named.filter((test) => !existsSync(join(root, `tests/${test}.test.ts`)))).toEqual([]);
	});
});
