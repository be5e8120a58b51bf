/**
 * The checks that come as programs of packages: for each, the program file and its arguments.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { root } from './setup.mjs';

/** The program file of an installed package. @param {string} name @param {string} [program] */
function programOf(name, program = name) {
	const folder = join(root, 'node_modules', name);
	/** @type {{ bin: string | Record<string, string> }} */
	const { bin } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
	const file = typeof bin === 'string' ? bin : bin[program];
	if (!file) throw new Error(`package ${name} has no program ${program}`);
	return join(folder, file);
}

/** Functions, because the packages may not be installed yet when this file is read. */
export const tools = {
	dev: () => [programOf('vite'), 'dev'],
	sync: () => [programOf('@sveltejs/kit', 'svelte-kit'), 'sync'],
	types: () => [programOf('svelte-check'), '--fail-on-warnings', '--output', 'human'],
	format: () => [programOf('prettier'), '--write', '.'],
	formatted: () => [programOf('prettier'), '--check', '.'],
	rules: () => [join(root, 'scripts/rules.mjs')],
	layers: () => [programOf('dependency-cruiser', 'depcruise'), 'src', '--config', '.dependency-cruiser.cjs'],
	unused: () => [programOf('knip')],
	/** @param {readonly string[]} projects @param {string} report @param {string} shard such as '1/2': a part of the files */
	vitest: (projects = [], report = '', shard = '') => [
		programOf('vitest'),
		'run',
		...projects.flatMap((project) => ['--project', project]),
		...(shard ? [`--shard=${shard}`] : []),
		...(report ? ['--reporter=default', '--reporter=json', `--outputFile.json=${report}`] : [])
	]
};
