/**
 * The npm scripts, each of which first sets the checkout up. Called by run.cjs once Node is known to be new enough.
 */
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { SetupError, root, say, setUp } from './setup.mjs';
import { tools } from './tools.mjs';

/** @typedef {{ build?: boolean, file?: string, tools?: (keyof typeof tools)[] }} Command */

/** @type {Record<string, Command>} */
const commands = {
	start: { build: true, file: 'scripts/serve.mjs' },
	dev: { tools: ['dev'] },
	build: { build: true },
	calculate: { build: true, file: 'build/cli/calculate.js' },
	weigh: { build: true, file: 'build/cli/weigh.js' },
	test: { file: 'scripts/test.mjs' },
	schema: { file: 'scripts/schema.mjs' },
	example: { file: 'scripts/example.mjs' },
	calibration: { file: 'scripts/calibration.mjs' },
	bench: { build: true, file: 'scripts/bench.mjs' },
	check: { tools: ['sync', 'types'] },
	lint: { tools: ['sync', 'rules', 'layers', 'unused'] },
	format: { tools: ['format'] }
};

/** @param {string | undefined} name @param {string[]} args */
export async function run(name, args) {
	const command = commands[name ?? ''];
	if (!command) {
		say(`Unknown command "${name}". There are: ${Object.keys(commands).join(', ')}.`);
		process.exitCode = 2;
		return;
	}
	try {
		await setUp({ build: command.build ?? false });
	} catch (error) {
		if (!(error instanceof SetupError)) throw error;
		say(error.message);
		process.exitCode = 1;
		return;
	}
	for (const tool of command.tools ?? []) {
		const { status } = spawnSync(process.execPath, [...tools[tool](), ...args], {
			cwd: root,
			stdio: 'inherit'
		});
		if (status !== 0) process.exitCode = status ?? 1;
	}
	if (command.file) {
		const file = join(root, command.file);
		process.argv = [process.execPath, file, ...args];
		await import(pathToFileURL(file).href);
	}
}
