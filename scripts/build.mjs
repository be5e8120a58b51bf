/**
 * Builds everything that runs: the pages and their server (build/server), the two command line tools
 * (build/cli) and the access rules that the server's entry shares with the pages' hooks (build/access).
 */
import { existsSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'vite';
import { root } from './setup.mjs';

process.chdir(root);
await build({ root, logLevel: 'warn' });

/** Built file, without its ending, to source. */
const entries = {
	'cli/calculate': 'src/cli/calculate.ts',
	'cli/weigh': 'src/cli/weigh.ts',
	'access/entry': 'src/lib/server/access/entry.ts'
};
for (const folder of ['cli', 'access', 'shared'])
	rmSync(join(root, 'build', folder), { recursive: true, force: true });
await build({
	root,
	configFile: false,
	logLevel: 'warn',
	publicDir: false,
	resolve: { alias: { $lib: join(root, 'src/lib') } },
	build: {
		ssr: true,
		target: 'node20',
		outDir: 'build',
		emptyOutDir: false,
		rollupOptions: {
			input: Object.fromEntries(
				Object.entries(entries).filter(([, source]) => existsSync(join(root, source)))
			),
			output: { entryFileNames: '[name].js', chunkFileNames: 'shared/[name]-[hash].js' }
		}
	}
});
