/**
 * Brings the checkout to the point where a command can run: packages installed as the lock file says, and
 * (if asked) the tool built from the sources that lie here. Does nothing twice, says on stderr what it does,
 * and uses Node's built-ins only, because it runs before anything is installed.
 */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { fileURLToPath } from 'node:url';

export const root = resolve(fileURLToPath(import.meta.url), '../..');

/** What the build is made from; a change in any of it makes the build stale. */
const sources = [
	'src',
	'static',
	'package-lock.json',
	'svelte.config.js',
	'vite.config.ts',
	'tsconfig.json',
	'scripts/build.mjs'
];

/** A refusal in words: the command ends with this sentence and no stack. */
export class SetupError extends Error {}

/** @param {string} text */
export function say(text) {
	process.stderr.write(`${text}\n`);
}

/** @param {string} file @returns {string | undefined} */
function readIfThere(file) {
	try {
		return readFileSync(file, 'utf8');
	} catch (error) {
		if (/** @type {NodeJS.ErrnoException} */ (error).code === 'ENOENT') return undefined;
		throw error;
	}
}

/**
 * Whether the folder holds what the lock file asks for. npm writes what it installed into a lock file of its
 * own, so an install made by hand counts too. Optional packages may be missing: they fit other platforms.
 * @param {string} lockText @param {string | undefined} installedText
 */
export function holdsWhatLockSays(lockText, installedText) {
	if (installedText === undefined) return false;
	/** @typedef {Record<string, { version?: string, optional?: boolean, devOptional?: boolean }>} Packages */
	/** @type {Packages} */
	const wanted = JSON.parse(lockText).packages;
	/** @type {Packages} */
	const have = JSON.parse(installedText).packages;
	return Object.entries(wanted).every(
		([path, { version, optional, devOptional }]) =>
			path === '' || (have[path] ? have[path].version === version : optional || devOptional)
	);
}

/** A digest of the names and contents of files and folders. @param {string} base @param {readonly string[]} paths */
export function digestOf(base, paths) {
	const hash = createHash('sha256');
	/** @param {string} path */
	const add = (path) => {
		const full = join(base, path);
		const stat = statSync(full, { throwIfNoEntry: false });
		if (!stat) return;
		if (stat.isDirectory()) {
			for (const name of readdirSync(full).sort()) add(`${path}/${name}`);
		} else {
			hash.update(`${path}\0${stat.size}\0`).update(readFileSync(full));
		}
	};
	paths.forEach(add);
	return hash.digest('hex');
}

/** @param {number} pid */
function isRunning(pid) {
	try {
		process.kill(pid, 0);
		return true;
	} catch (error) {
		return /** @type {NodeJS.ErrnoException} */ (error).code === 'EPERM';
	}
}

/**
 * Runs `work` while no other process runs its own under the same lock file. A lock whose owner has ended is
 * taken over.
 * @template T
 * @param {string} file @param {() => T | Promise<T>} work @returns {Promise<T>}
 */
export async function alone(file, work) {
	for (let waits = 0; ; waits++) {
		try {
			writeFileSync(file, String(process.pid), { flag: 'wx' });
			break;
		} catch (error) {
			if (/** @type {NodeJS.ErrnoException} */ (error).code !== 'EEXIST') throw error;
		}
		const owner = Number(readIfThere(file) ?? 'gone');
		// An empty file is one whose owner is about to write its number: give it a second.
		if ((owner > 0 && !isRunning(owner)) || (owner === 0 && waits > 5)) rmSync(file, { force: true });
		else {
			if (waits === 0) say(`Another set-up is running here; waiting for it. (If none is, delete ${file}.)`);
			await sleep(200);
		}
	}
	try {
		return await work();
	} finally {
		rmSync(file, { force: true });
	}
}

/**
 * The environment without what npm and the test runner added to it, which would make children build or run
 * otherwise than from a shell: a test build instead of the real one, or an install that fails in silence.
 * @returns {NodeJS.ProcessEnv}
 */
export function environmentOfAShell() {
	const added = /^(NODE_ENV|DEV|PROD|SSR|MODE|BASE_URL|TEST|VITEST.*|npm_config_loglevel)$/;
	return Object.fromEntries(Object.entries(process.env).filter(([name]) => !added.test(name)));
}

/** npm's own program file where npm started us, so that the same npm installs. @param {string[]} args */
function npm(args) {
	/** @type {import('node:child_process').SpawnSyncOptions} */
	const options = { cwd: root, env: environmentOfAShell(), stdio: ['ignore', 2, 2] };
	const program = process.env['npm_execpath'];
	return program?.endsWith('.js')
		? spawnSync(process.execPath, [program, ...args], options)
		: spawnSync('npm', args, { ...options, shell: process.platform === 'win32' });
}

function install() {
	const lockText = readFileSync(join(root, 'package-lock.json'), 'utf8');
	const stampFile = join(root, 'node_modules/.witness-mark-install');
	// Some packages carry binaries, so another platform or Node major needs its own install.
	const machine = `${process.platform} ${process.arch} ${process.versions.modules}`;
	const stamp = `${machine}\n${createHash('sha256').update(lockText).digest('hex')}\n`;
	const before = readIfThere(stampFile);
	if (before === stamp) return;
	const sameMachine = before === undefined || before.startsWith(`${machine}\n`);
	if (
		!sameMachine ||
		!holdsWhatLockSays(lockText, readIfThere(join(root, 'node_modules/.package-lock.json')))
	) {
		say('Installing the packages that the lock file names (once; this needs the network or npm’s cache).');
		const { status, error } = npm(['ci', '--include=dev', '--include=optional', '--prefer-offline']);
		if (error || status !== 0) {
			throw new SetupError(
				`The install did not finish${error ? ` (${error.message})` : ''}. npm’s own words stand above.\n` +
					'If there is no network here: connect once and run the same command again. Your data is not touched.'
			);
		}
	}
	writeFileSync(stampFile, stamp);
}

function build() {
	const stampFile = join(root, 'build/stamp');
	const stamp = digestOf(root, sources);
	if (readIfThere(stampFile) === stamp) return;
	say('Building the tool from its sources (once after each change).');
	rmSync(stampFile, { force: true });
	const { status, output } = spawnSync(process.execPath, [join(root, 'scripts/build.mjs')], {
		cwd: root,
		env: environmentOfAShell(),
		encoding: 'utf8'
	});
	if (status !== 0) {
		say(output.join(''));
		throw new SetupError('The build failed; the reason stands above.');
	}
	// The digest from before the build: what changed meanwhile makes the next start build again.
	writeFileSync(stampFile, stamp);
}

/**
 * @param {{ build?: boolean }} needs
 * @throws {SetupError} when the install or the build fails
 */
export async function setUp(needs = {}) {
	mkdirSync(join(root, 'build'), { recursive: true });
	await alone(join(root, 'build/.setup-lock'), () => {
		install();
		if (needs.build) build();
	});
}

if (process.argv[1] && resolve(process.argv[1]) === fileURLToPath(import.meta.url)) {
	try {
		await setUp({ build: true });
	} catch (error) {
		if (!(error instanceof SetupError)) throw error;
		say(error.message);
		process.exitCode = 1;
	}
}
