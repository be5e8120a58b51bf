import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { countReport, inWords, readReport } from '../../../scripts/count.mjs';
import { root } from '../../../scripts/setup.mjs';

const file = (status: string, ...tests: string[]) => ({
	status,
	assertionResults: tests.map((s) => ({ status: s }))
});
const report = (
	passed: number,
	failed: number,
	testResults: ReturnType<typeof file>[] = [],
	pending = 0,
	todo = 0
) => ({
	numPassedTests: passed,
	numFailedTests: failed,
	numPendingTests: pending,
	numTodoTests: todo,
	testResults
});

describe('counting', () => {
	test('tests count one by one, skipped and planned ones as skipped', () => {
		const count = countReport(report(3, 2, [file('failed', 'passed', 'failed', 'failed')], 4, 1), false);
		expect(inWords(count)).toBe('3 passed, 2 failed, 5 skipped');
	});
	test('a file that could not be read is a failure', () => {
		expect(countReport(report(3, 0, [file('passed', 'passed'), file('failed')]), false).failed).toBe(1);
	});
	test('a runner that ended badly without a failed test is a failure', () => {
		expect(countReport(report(3, 0), false).failed).toBe(1);
		expect(countReport(report(3, 0), true).failed).toBe(0);
	});
	test('a report that was never written is a failure', () => {
		expect(readReport(join(tmpdir(), 'no-such-report.json'), true)).toEqual({
			passed: 0,
			failed: 1,
			skipped: 0
		});
	});
});

describe.skipIf(process.platform === 'win32')('.ci/run', () => {
	let folder: string;
	beforeEach(() => {
		folder = mkdtempSync(join(tmpdir(), 'witness-mark-ci-'));
		mkdirSync(join(folder, '.ci'));
		cpSync(join(root, '.ci/run'), join(folder, '.ci/run'));
	});
	afterEach(() => rmSync(folder, { recursive: true }));

	/** Runs it in a project whose `npm test` is the given shell command. */
	function run(test: string) {
		writeFileSync(join(folder, 'package.json'), JSON.stringify({ scripts: { test } }));
		const { status, stdout } = spawnSync('bash', ['.ci/run'], { cwd: folder, encoding: 'utf8' });
		return [status, stdout.trimEnd().split('\n').at(-1)];
	}
	const writeCount = (line: string) =>
		`mkdir -p build/test-results && echo '${line}' > build/test-results/count.txt`;

	test('prints the count last', () => {
		expect(run(writeCount('12 passed, 0 failed'))).toEqual([0, '12 passed, 0 failed']);
		expect(run(`${writeCount('12 passed, 3 failed, 1 skipped')} && exit 1`)).toEqual([
			1,
			'12 passed, 3 failed, 1 skipped'
		]);
	});
	test('never says passed when the tests did not run', () => {
		expect(run('exit 3')).toEqual([3, '0 passed, 1 failed']);
		expect(run('true')).toEqual([1, '0 passed, 1 failed']);
		expect(run(`${writeCount('12 passed, 0 failed')} && exit 1`)).toEqual([1, '0 passed, 1 failed']);
	});
	test('a count of an earlier run is not believed', () => {
		run(writeCount('12 passed, 0 failed'));
		expect(run('exit 1')).toEqual([1, '0 passed, 1 failed']);
	});
});
