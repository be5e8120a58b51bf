/**
 * How many checks passed, failed and were skipped, from the test runner's own report.
 */
import { existsSync, readFileSync } from 'node:fs';

/** @typedef {{ passed: number, failed: number, skipped: number }} Count */

/** One check. @param {boolean} passed @returns {Count} */
export const countOf = (passed) => ({ passed: passed ? 1 : 0, failed: passed ? 0 : 1, skipped: 0 });

/** @param {Count} count */
export function inWords({ passed, failed, skipped }) {
	return `${passed} passed, ${failed} failed${skipped ? `, ${skipped} skipped` : ''}`;
}

/**
 * @typedef {object} Report the part of Vitest's JSON report that counts
 * @property {number} numPassedTests
 * @property {number} numFailedTests
 * @property {number} numPendingTests
 * @property {number} numTodoTests
 * @property {{ status: string, assertionResults: { status: string }[] }[]} testResults
 */

/**
 * A file that could not be read, and a runner that ended badly although no test failed (an error between tests, no
 * tests at all), are failures too: one each.
 * @param {Report} report @param {boolean} endedWell @returns {Count}
 */
export function countReport(report, endedWell) {
	const brokenFiles = report.testResults.filter(
		(file) => file.status === 'failed' && !file.assertionResults.some((test) => test.status === 'failed')
	).length;
	const failed = report.numFailedTests + brokenFiles;
	return {
		passed: report.numPassedTests,
		failed: failed || (endedWell ? 0 : 1),
		skipped: report.numPendingTests + report.numTodoTests
	};
}

/** @param {string} file @param {boolean} endedWell @returns {Count} */
export function readReport(file, endedWell) {
	// No report: the runner did not get as far as running a test.
	return existsSync(file) ? countReport(JSON.parse(readFileSync(file, 'utf8')), endedWell) : countOf(false);
}
