import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { expect, test } from 'vitest';
import { root } from '../../../scripts/setup.mjs';
import { tools } from '../../../scripts/tools.mjs';

/** A small project that breaks each rule of the layers once; a rule that nothing can break protects nothing. */
const files = {
	'src/lib/quantity/up.ts': "import '$lib/physics/law';",
	'src/lib/physics/law.ts': "import '../reasoning/tree';",
	'src/lib/physics/disk.ts': "import 'node:fs';",
	'src/lib/physics/kit.ts': "import { page } from '$app/state'; export const x = page;",
	'src/lib/physics/type.ts': "import type { Lock } from '$lib/server/lock'; export type X = Lock;",
	'src/lib/physics/lost.ts': "import '$lib/physics/no-such-file';",
	'src/lib/reasoning/tree.ts': "import '$lib/physics/law';",
	'src/lib/server/lock.ts':
		"import Panel from '$lib/components/Panel.svelte'; export type Lock = typeof Panel;",
	'src/lib/server/page.ts': "import '../../routes/load';",
	'src/lib/components/Panel.svelte':
		'<script lang="ts">import { env } from "$env/dynamic/public"; import "$lib/server/page";</script>{env}',
	'src/routes/load.ts': "import { test } from 'vitest'; export const x = test;",
	'tsconfig.json': '{}',
	'package.json': '{ "type": "module", "devDependencies": { "vitest": "1" } }'
};

test('each rule of the layers finds what breaks it', () => {
	const folder = mkdtempSync(join(tmpdir(), 'witness-mark-layers-'));
	for (const [name, text] of Object.entries(files)) {
		mkdirSync(dirname(join(folder, name)), { recursive: true });
		writeFileSync(join(folder, name), text);
	}
	for (const name of ['.dependency-cruiser.cjs', '.dependency-cruiser.aliases.cjs'])
		cpSync(join(root, name), join(folder, name));
	symlinkSync(join(root, 'node_modules'), join(folder, 'node_modules'), 'junction');
	const { stdout } = spawnSync(process.execPath, [...tools.layers(), '--output-type', 'err'], {
		cwd: folder,
		encoding: 'utf8'
	});
	rmSync(folder, { recursive: true });
	const found = [...stdout.matchAll(/error ([\w-]+): (\S+)/g)].map(([, rule, file]) => `${rule} ${file}`);
	expect(new Set(found)).toEqual(
		new Set([
			'layer-quantity src/lib/quantity/up.ts',
			'layer-physics src/lib/physics/law.ts',
			'layer-physics src/lib/physics/type.ts',
			'layer-reasoning src/lib/reasoning/tree.ts',
			'layer-components src/lib/components/Panel.svelte',
			'layer-server src/lib/server/lock.ts',
			'pure-core src/lib/physics/disk.ts',
			'pure-core src/lib/physics/kit.ts',
			'pure-core-builtins src/lib/physics/disk.ts',
			'components-and-kit src/lib/components/Panel.svelte',
			'lib-knows-no-route src/lib/server/page.ts',
			'no-dev-dependency-in-product src/routes/load.ts',
			'no-cycles src/lib/physics/law.ts',
			'resolvable src/lib/physics/lost.ts'
		])
	);
});
