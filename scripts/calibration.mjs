/** Simulates investigations whose truth is known and draws how often the weighing was right: npm run calibration. */
import { join } from 'node:path';
import { runnerImport } from 'vite';
import { root, say } from './setup.mjs';

const { module } = await runnerImport(join(root, 'tests/unit/reasoning/calibration/diagram.ts'), {
	configFile: false,
	resolve: { alias: { $lib: join(root, 'src/lib') } }
});
process.chdir(root);
module.make(say);
