import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Linter } from 'eslint';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { alone, digestOf, environmentOfAShell, holdsWhatLockSays, root } from '../../../scripts/setup.mjs';

let folder: string;
beforeEach(() => (folder = mkdtempSync(join(tmpdir(), 'witness-mark-setup-'))));
afterEach(() => rmSync(folder, { recursive: true }));

describe('an old Node', () => {
	const script = join(root, 'scripts/run.cjs');

	test('can read the script that tells it so: no syntax newer than ECMAScript 5', () => {
		const faults = new Linter().verify(readFileSync(script, 'utf8'), {
			languageOptions: { ecmaVersion: 5, sourceType: 'commonjs' }
		});
		expect(faults).toEqual([]);
	});

	test.each(['0.10.48', '8.17.0', '18.20.8', '20.18.3'])('Node %s is told what is needed', (version) => {
		const pretend = `Object.defineProperty(process.versions,'node',{value:'${version}'});require(${JSON.stringify(script)})`;
		const { status, stderr, stdout } = spawnSync(process.execPath, ['-e', pretend], { encoding: 'utf8' });
		expect([status, stdout]).toEqual([1, '']);
		expect(stderr).toMatch(
			new RegExp(`^Witness Mark needs Node 20\\.19 or newer; this is Node ${version}\\.\n`)
		);
	});

	test('the version it asks for is the one of package.json', () => {
		expect(readFileSync(join(root, 'package.json'), 'utf8')).toContain('"node": ">=20.19"');
	});
});

describe('whether the right packages are installed', () => {
	const lock = (packages: Record<string, object>) => JSON.stringify({ packages: { '': {}, ...packages } });
	const wanted = lock({
		'node_modules/a': { version: '1.0.0' },
		'node_modules/b': { version: '2.0.0', optional: true }
	});

	test.each([
		[
			'the same',
			lock({ 'node_modules/a': { version: '1.0.0' }, 'node_modules/b': { version: '2.0.0' } }),
			true
		],
		['without the optional one', lock({ 'node_modules/a': { version: '1.0.0' } }), true],
		['another version', lock({ 'node_modules/a': { version: '1.0.1' } }), false],
		[
			'another version of the optional one',
			lock({ 'node_modules/a': { version: '1.0.0' }, 'node_modules/b': { version: '2.1.0' } }),
			false
		],
		['without a needed one', lock({ 'node_modules/b': { version: '2.0.0' } }), false],
		['nothing', undefined, false]
	])('%s', (_what, installed, verdict) => {
		expect(holdsWhatLockSays(wanted, installed)).toBe(verdict);
	});
});

describe('the digest of the sources', () => {
	const digest = () => digestOf(folder, ['src', 'one-file', 'missing']);
	beforeEach(() => {
		mkdirSync(join(folder, 'src/deep'), { recursive: true });
		writeFileSync(join(folder, 'src/deep/x.ts'), 'x');
		writeFileSync(join(folder, 'one-file'), '1');
	});

	test('stays the same while nothing changes, touched or not', () => {
		const before = digest();
		writeFileSync(join(folder, 'src/deep/x.ts'), 'x');
		expect(digest()).toBe(before);
	});

	test.each<[string, () => void]>([
		['content', () => writeFileSync(join(folder, 'src/deep/x.ts'), 'y')],
		['a new file', () => writeFileSync(join(folder, 'src/y.ts'), '')],
		['a file that is gone', () => rmSync(join(folder, 'one-file'))]
	])('changes with %s', (_what, change) => {
		const before = digest();
		change();
		expect(digest()).not.toBe(before);
	});
});

describe('alone', () => {
	const lock = () => join(folder, 'lock');

	test('two at once work one after the other', async () => {
		let inside = 0;
		const work = async () => {
			expect(++inside).toBe(1);
			await new Promise((done) => setTimeout(done, 20));
			inside--;
		};
		await Promise.all([alone(lock(), work), alone(lock(), work)]);
		expect(existsSync(lock())).toBe(false);
	});

	test('the lock of a process that has ended is taken over', async () => {
		const { pid } = spawnSync(process.execPath, ['-e', '']);
		writeFileSync(lock(), String(pid));
		expect(await alone(lock(), () => 'done')).toBe('done');
	});

	test('work that fails frees the lock', async () => {
		await expect(alone(lock(), () => Promise.reject(new Error('no')))).rejects.toThrow('no');
		expect(existsSync(lock())).toBe(false);
	});
});

test('children get the environment of a shell, not that of the test runner', () => {
	expect(process.env['VITEST']).toBeDefined();
	const env = environmentOfAShell();
	expect(env['PATH']).toBe(process.env['PATH']);
	expect(Object.keys(env).filter((name) => /^(VITEST|NODE_ENV$)/.test(name))).toEqual([]);
});
