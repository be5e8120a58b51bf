/**
 * Finds a browser for the tests and the pictures:
 *   1. the one that WITNESS_MARK_BROWSER names,
 *   2. a Chromium, Chrome or Edge on this machine,
 *   3. the Chromium that comes as an npm package, unpacked once to a cache folder with its own libraries and
 *      fonts, so that it runs on a bare machine.
 * Finding none is an error, never a reason to skip.
 */
import {
	accessSync,
	constants,
	existsSync,
	mkdirSync,
	mkdtempSync,
	readFileSync,
	renameSync,
	rmSync
} from 'node:fs';
import { chmodSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { delimiter, dirname, join } from 'node:path';
import { promisify } from 'node:util';
import { brotliDecompress } from 'node:zlib';
import { root, say, SetupError } from './setup.mjs';

/** @typedef {{ executablePath: string, env: Record<string, string>, args: string[] }} Browser */

/** The tests look for faults of ours, so nothing of the browser's own may go out or get in the way. */
const quiet = [
	'--disable-background-networking',
	'--disable-component-update',
	'--disable-sync',
	'--no-first-run',
	'--disable-quic'
];

/** @param {string} file */
function isProgram(file) {
	try {
		accessSync(file, constants.X_OK);
		return true;
	} catch {
		return false;
	}
}

/** @returns {string | undefined} */
function onThisMachine() {
	const names = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'microsoft-edge'];
	const folders = (process.env['PATH'] ?? '').split(delimiter).filter(Boolean);
	const programs = [
		process.env['PROGRAMFILES'],
		process.env['PROGRAMFILES(X86)'],
		process.env['LOCALAPPDATA']
	];
	return [
		...folders.flatMap((folder) => names.map((name) => join(folder, name))),
		'/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
		'/Applications/Chromium.app/Contents/MacOS/Chromium',
		'/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge',
		...programs.flatMap((folder) =>
			folder
				? [
						join(folder, 'Google/Chrome/Application/chrome.exe'),
						join(folder, 'Microsoft/Edge/Application/msedge.exe')
					]
				: []
		)
	].find(isProgram);
}

/** Writes the files of a tar archive (plain files, folders and links; names of up to 100 characters). @param {Buffer} tar @param {string} to */
function untar(tar, to) {
	/** @param {number} at @param {number} length */
	const text = (at, length) => tar.toString('utf8', at, at + length).split('\0', 1)[0] ?? '';
	for (let at = 0; at + 512 <= tar.length && tar[at] !== 0;) {
		const size = parseInt(text(at + 124, 12), 8) || 0;
		const name = text(at, 100);
		const kind = text(at + 156, 1) || '0';
		const file = join(to, name);
		if (!file.startsWith(to)) throw new Error(`archive entry "${name}" leads out of its folder`);
		if (kind === '0') {
			mkdirSync(dirname(file), { recursive: true });
			writeFileSync(file, tar.subarray(at + 512, at + 512 + size));
		} else if (kind !== '5') throw new Error(`archive entry "${name}" is of the unexpected kind ${kind}`);
		at += 512 * (1 + Math.ceil(size / 512));
	}
}

/** The packaged Chromium, unpacked into a folder named for its version. @returns {Promise<Browser>} */
async function fromPackage() {
	const shipped = join(root, 'node_modules/@sparticuz/chromium');
	if (!existsSync(shipped) || process.platform !== 'linux' || process.arch !== 'x64') {
		throw new SetupError(
			'No browser was found for the browser tests. Install Chromium, Chrome or Edge, ' +
				'or name one in WITNESS_MARK_BROWSER.'
		);
	}
	/** @type {{ version: string }} */
	const { version } = JSON.parse(readFileSync(join(shipped, 'package.json'), 'utf8'));
	const caches = join(process.env['XDG_CACHE_HOME'] || join(homedir(), '.cache'), 'witness-mark');
	const folder = join(caches, `chromium-${version}`);
	if (!existsSync(folder)) {
		say('Unpacking the packaged Chromium for the browser tests (once).');
		mkdirSync(caches, { recursive: true });
		const draft = mkdtempSync(join(caches, 'unpacking-'));
		const unpack = promisify(brotliDecompress);
		/** @param {string} name */
		const archive = (name) => unpack(readFileSync(join(shipped, 'bin', name)));
		writeFileSync(join(draft, 'chromium'), await archive('chromium.br'));
		chmodSync(join(draft, 'chromium'), 0o755);
		for (const name of ['al2023', 'fonts', 'swiftshader']) {
			const to = name === 'swiftshader' ? draft : join(draft, name);
			untar(await archive(`${name}.tar.br`), to);
		}
		writeFileSync(join(draft, 'fonts.conf'), fontSettings(folder));
		try {
			renameSync(draft, folder);
		} catch (error) {
			rmSync(draft, { recursive: true, force: true });
			if (!existsSync(folder)) throw error; // else another process was quicker
		}
	}
	return {
		executablePath: join(folder, 'chromium'),
		env: { LD_LIBRARY_PATH: join(folder, 'al2023/lib'), FONTCONFIG_FILE: join(folder, 'fonts.conf') },
		args: []
	};
}

/** Fontconfig's settings: the packaged fonts, and those of the machine where there are any. @param {string} folder */
function fontSettings(folder) {
	return `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
	<dir>${join(folder, 'fonts')}</dir>
	<dir>/usr/share/fonts</dir>
	<cachedir>${join(folder, 'fontconfig-cache')}</cachedir>
</fontconfig>
`;
}

/**
 * @returns {Promise<Browser>} what playwright's `chromium.launch` takes
 * @throws {SetupError} when there is none
 */
export async function findBrowser() {
	const named = process.env['WITNESS_MARK_BROWSER'];
	if (named && !isProgram(named))
		throw new SetupError(`WITNESS_MARK_BROWSER names "${named}", which can't be run.`);
	const path = named || onThisMachine();
	/** @type {Browser} */
	const browser = path ? { executablePath: path, env: {}, args: [] } : await fromPackage();
	const inherited = Object.fromEntries(
		Object.entries(process.env).flatMap(([k, v]) => (v === undefined ? [] : [[k, v]]))
	);
	// Chromium's sandbox refuses to work for root; for everyone else it stays on.
	const sandbox = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
	return {
		executablePath: browser.executablePath,
		env: { ...inherited, ...browser.env },
		args: [...quiet, ...sandbox]
	};
}
