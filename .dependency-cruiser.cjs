/**
 * The layers of src/lib, lowest first. A folder may import itself and folders before it in this list,
 * less the pairs that `except` names. DEVELOPERS.md draws the same picture in words.
 */
const layers = [
	'quantity',
	'probability',
	'physics',
	'reasoning',
	'calculations',
	'investigation',
	'templates',
	'report',
	'components',
	'server'
];
/** Physics knows nothing of reasoning and reasoning nothing of physics; the server draws no components. */
const except = {
	reasoning: ['physics'],
	physics: ['reasoning'],
	calculations: ['reasoning'],
	server: ['components']
};
const pure = '^src/lib/(quantity|probability|physics|reasoning|calculations|investigation|templates|report)/';

const layerRules = layers.flatMap((layer, i) => {
	const forbidden = [...layers.slice(i + 1), ...(except[layer] ?? [])];
	if (forbidden.length === 0) return [];
	return [
		{
			name: `layer-${layer}`,
			comment: `src/lib/${layer} may not import: ${forbidden.join(', ')}`,
			severity: 'error',
			from: { path: `^src/lib/${layer}/` },
			to: { path: `^src/lib/(${forbidden.join('|')})/` }
		}
	];
});

module.exports = {
	forbidden: [
		...layerRules,
		{
			name: 'pure-core',
			comment: 'The pure layers know no Svelte, no kit, no disk and no network.',
			severity: 'error',
			from: { path: pure },
			to: {
				path: '^(node:|svelte($|/)|\\$app|\\$env|fs$|path$|http$)|node_modules/(svelte|@sveltejs|lowdb|sharp|cytoscape)/',
				dependencyTypesNot: ['type-only']
			}
		},
		{
			name: 'pure-core-builtins',
			severity: 'error',
			from: { path: pure },
			to: { dependencyTypes: ['core'] }
		},
		{
			name: 'lib-knows-no-route',
			severity: 'error',
			from: { path: '^src/lib/' },
			to: { path: '^src/(routes|cli)/' }
		},
		{
			name: 'components-and-kit',
			comment: 'Of SvelteKit, components may use forms, navigation and state only.',
			severity: 'error',
			from: { path: '^src/lib/components/' },
			to: { path: '^\\$app/(?!forms|navigation|state)|^\\$env|node_modules/@sveltejs/' }
		},
		{
			name: 'resolvable',
			comment: 'What is not found is not checked by the other rules either.',
			severity: 'error',
			from: {},
			to: { couldNotResolve: true, pathNot: '^\\$(app|env)/|^\\$service-worker$|/\\$types$' }
		},
		{ name: 'no-cycles', severity: 'error', from: {}, to: { circular: true } },
		{
			name: 'no-dev-dependency-in-product',
			severity: 'error',
			from: { path: '^src/' },
			to: { dependencyTypes: ['npm-dev'], pathNot: 'node_modules/(svelte|@sveltejs|@types|vite|esm-env)/' }
		}
	],
	options: {
		doNotFollow: { path: 'node_modules' },
		tsConfig: { fileName: 'tsconfig.json' },
		webpackConfig: { fileName: '.dependency-cruiser.aliases.cjs' },
		tsPreCompilationDeps: true,
		enhancedResolveOptions: {
			exportsFields: ['exports'],
			conditionNames: ['svelte', 'import', 'node', 'default']
		}
	}
};
