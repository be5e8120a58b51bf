/** Writes docs/file-format.schema.json from the code's own schemas: npm run schema. */
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { runnerImport } from 'vite';
import { root, say } from './setup.mjs';

const { module } = await runnerImport(join(root, 'src/lib/investigation/json-schema.ts'), {
	configFile: false,
	resolve: { alias: { $lib: join(root, 'src/lib') } }
});
const file = join(root, 'docs/file-format.schema.json');
writeFileSync(file, JSON.stringify(module.fileSchema(), null, '\t') + '\n');
say(`Wrote ${file}.`);
