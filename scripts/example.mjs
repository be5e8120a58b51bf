/** Makes examples/lantern-2-flight-3.zip from the story in scripts/example/: npm run example. */
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { runnerImport } from 'vite';
import { root, say } from './setup.mjs';

const { module } = await runnerImport(join(root, 'scripts/example/make.ts'), {
	configFile: false,
	resolve: { alias: { $lib: join(root, 'src/lib') } }
});
mkdirSync(join(root, 'examples'), { recursive: true });
const file = join(root, 'examples/lantern-2-flight-3.zip');
await module.makeExample(file, say);
say(`Wrote ${file}.`);
