/**
 * `npm test`: every check there is, each stage run even if one before it failed, then a summary. The count of what
 * passed, failed and was skipped goes to build/test-results/count.txt.
 */
import { spawn } from 'node:child_process';
import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { findBrowser } from './browser.mjs';
import { countOf, inWords, readReport } from './count.mjs';
import { environmentOfAShell, root, SetupError, setUp } from './setup.mjs';
import { tools } from './tools.mjs';

/** @typedef {import('./count.mjs').Count} Count */
/** @typedef {{ name: string, count: Count, seconds: number }} Result */

const results = join(root, 'build/test-results');
rmSync(results, { recursive: true, force: true });
mkdirSync(results, { recursive: true });

/** Runs a program to its end; its output is printed in one piece, so that stages side by side don't mix. @param {string[]} args @returns {Promise<boolean>} whether it ended well */
function runProgram(args) {
	return new Promise((done, fail) => {
		const child = spawn(process.execPath, args, { cwd: root, env: environmentOfAShell() });
		/** @type {Buffer[]} */
		const output = [];
		child.stdout.on('data', (chunk) => output.push(chunk));
		child.stderr.on('data', (chunk) => output.push(chunk));
		child.once('error', fail);
		child.once('close', (code) => {
			process.stdout.write(Buffer.concat(output));
			done(code === 0);
		});
	});
}

/** A stage that counts as one test. @param {string} name @param {() => Promise<boolean>} work @returns {Promise<Result>} */
async function stage(name, work) {
	const start = Date.now();
	const passed = await work().catch((error) => {
		console.error(error instanceof SetupError ? error.message : error);
		return false;
	});
	console.log(`${passed ? 'passed' : 'FAILED'}: ${name}`);
	return { name, count: countOf(passed), seconds: (Date.now() - start) / 1000 };
}

/** @param {keyof typeof tools} tool */
const runTool = (tool) => runProgram(tools[tool]());

/** Tests count one by one. @param {string} name @param {string[]} projects @param {string} [shard] @returns {Promise<Result>} */
async function tests(name, projects, shard) {
	const report = join(results, `${name}.json`);
	const { seconds, count } = await stage(`tests: ${name}`, () =>
		runProgram(tools.vitest(projects, report, shard))
	);
	return { name: `tests: ${name}`, seconds, count: readReport(report, count.failed === 0) };
}

/** Two at a time: these stages use one core each and write no common file. @param {(() => Promise<Result>)[]} stages */
async function sideBySide(stages) {
	/** @type {Result[]} */
	const done = [];
	const worker = async () => {
		for (let next = stages.shift(); next; next = stages.shift()) done.push(await next());
	};
	await Promise.all([worker(), worker()]);
	return done;
}

/** @type {Promise<Result> | undefined} */
let built;
/** @type {Result[]} */
const all = [];
all.push(
	await stage('browser found', async () => {
		console.log((await findBrowser()).executablePath);
		return true;
	})
);
all.push(await stage('routes and types generated', () => runTool('sync')));
all.push(
	...(await sideBySide([
		// The longest first: the others go beside them.
		() => tests('unit', ['unit', 'published']),
		() => stage('lint', () => runTool('rules')),
		() => (built = stage('build', () => setUp({ build: true }).then(() => true))),
		() => stage('types', () => runTool('types')),
		() => stage('format', () => runTool('formatted')),
		() => stage('layers', () => runTool('layers')),
		() => stage('nothing unused', () => runTool('unused')),
		() => tests('storage', ['storage']),
		// In four parts, as no two take equally long; each has a server and a browser of its own.
		...[1, 2, 3, 4].map((part) => async () => {
			await built;
			return tests(`browser-${part}`, ['browser'], `${part}/4`);
		})
	]))
);

console.log('');
for (const { name, count, seconds } of all) {
	console.log(`${count.failed ? 'FAILED' : 'passed'}  ${name} (${inWords(count)}, ${seconds.toFixed(1)} s)`);
}
const sum = (/** @type {keyof Count} */ key) => all.reduce((total, { count }) => total + count[key], 0);
const total = { passed: sum('passed'), failed: sum('failed'), skipped: sum('skipped') };
writeFileSync(join(results, 'count.txt'), `${inWords(total)}\n`);
console.log(inWords(total));
process.exitCode = total.failed ? 1 : 0;
