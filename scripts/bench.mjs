/**
 * `npm run bench` measures the very functions that the tool uses and prints one JSON line per workload:
 *   {"name","size","ms","firstMs","runs","check"}   ms: median of the runs, after those to warm up; firstMs: the first
 * `npm run bench -- <name> ...` runs those of that name, or with a name that ends in a dash (page-) all that begin so.
 * Each file in scripts/bench/ but the helpers exports a list of workloads by default, and may export `end`, which is
 * called at the end. Times are for reading; nothing asserts them.
 */
import { readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { build } from 'vite';
import { root, say } from './setup.mjs';

/** @typedef {import('./bench/workload').Workload} Workload */

const fewestRuns = 5;
const helpers = [
	'inputs.ts',
	'fall-pieces.ts',
	'kept-case.ts',
	'large-case.ts',
	'page-session.ts',
	'tree-models.ts',
	'workload.ts'
];
const names = new Set(process.argv.slice(2));
const sources = join(root, 'scripts/bench');
const built = join(root, 'build/bench');

/** The scripts beside this one find the checkout by where they lie, so they are not bundled. */
const scriptsStayOutside = {
	name: 'scripts-stay-outside',
	enforce: /** @type {const} */ ('pre'),
	/** @param {string} id */
	resolveId: (id) =>
		/^\.\.\/[a-z]+\.mjs$/.test(id)
			? { id: pathToFileURL(join(sources, id)).href, external: /** @type {const} */ (true) }
			: null
};

const files = readdirSync(sources).filter((file) => file.endsWith('.ts') && !helpers.includes(file));
/** @type {Workload[]} */
const workloads = [];
/** @type {(() => Promise<void>)[]} */
const ends = [];
if (files.length) {
	rmSync(built, { recursive: true, force: true });
	await build({
		root,
		configFile: false,
		logLevel: 'warn',
		publicDir: false,
		plugins: [scriptsStayOutside],
		resolve: { alias: { $lib: join(root, 'src/lib') } },
		build: {
			ssr: true,
			target: 'node20',
			outDir: built,
			rollupOptions: {
				input: Object.fromEntries(files.map((file) => [file.slice(0, -3), join(sources, file)]))
			}
		}
	});
	for (const file of files) {
		const module = await import(pathToFileURL(join(built, file.replace(/ts$/, 'js'))).href);
		workloads.push(...module.default);
		if (module.end) ends.push(module.end);
	}
}

/** @param {string} asked @param {Workload} workload */
const isMeant = (asked, { name }) => name === asked || (asked.endsWith('-') && name.startsWith(asked));
const chosen = names.size
	? workloads.filter((one) => [...names].some((asked) => isMeant(asked, one)))
	: workloads;
const unknown = [...names].filter((asked) => !workloads.some((one) => isMeant(asked, one)));
if (unknown.length || chosen.length === 0) {
	const known = [...new Set(workloads.map(({ name }) => name))].join(', ') || 'none yet';
	say(`${unknown.length ? `No workload is called ${unknown.join(', ')}. ` : ''}Workloads: ${known}.`);
	process.exit(unknown.length ? 2 : 0);
}

/** @param {Workload} workload */
async function measure({ name, size, prepare, run, elapsedMs, finish, runs = fewestRuns, warmUpMs = 0 }) {
	await prepare?.();
	const timed = async () => {
		const start = performance.now();
		const found = await run();
		return { found, ms: elapsedMs?.() ?? performance.now() - start };
	};
	const begin = performance.now();
	const first = await timed();
	while (performance.now() - begin < warmUpMs) await run();
	let check = first.found;
	/** @type {number[]} */
	const times = [];
	for (let i = 0; i < Math.max(runs, fewestRuns); i++) {
		const { found, ms } = await timed();
		check = found;
		times.push(ms);
	}
	check = { ...check, ...(await finish?.()) };
	times.sort((a, b) => a - b);
	const middle = times.length / 2;
	const median = ((times[Math.ceil(middle) - 1] ?? 0) + (times[Math.floor(middle)] ?? 0)) / 2;
	const [ms, firstMs] = [median, first.ms].map((time) => Number(time.toPrecision(4)));
	console.log(JSON.stringify({ name, size, ms, firstMs, runs: times.length, check }));
}

try {
	for (const workload of chosen) await measure(workload);
} finally {
	for (const end of ends) await end();
}
