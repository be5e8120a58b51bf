import { checkTree, type TreeModel } from '$lib/reasoning';
import { applyChanges, type Investigation, INVESTIGATION } from './case';
import { checkWhole } from './check';
import { upgrade } from './migrations';
import { toTreeModel, withResidualLinks } from './views/tree-model';

export type Trees =
	| { ok: true; file: Investigation; trees: { anomaly: string; title: string; model: TreeModel }[] }
	| { ok: false; problems: string[] };

/**
 * The trees of an exported investigation (`investigation.json` of a zip, or its `state` alone), one per anomaly, as
 * the page weighs them. Refuses a file that could not be opened either.
 */
export function treesOf(input: unknown): Trees {
	const { state = input } = input as { state?: unknown };
	if (typeof state !== 'object' || state === null || !('anomalies' in state || 'about' in state))
		return { ok: false, problems: ['an investigation holds "state" with its records; export one as a zip'] };
	const given = state as Record<string, Record<string, unknown>>;
	const whole = Object.fromEntries(Object.keys(INVESTIGATION).map((name) => [name, given[name] ?? {}]));
	const step = upgrade(whole);
	if ('tooNew' in step) return { ok: false, problems: [step.tooNew] };
	const file = applyChanges(whole as unknown as Investigation, step.changes);
	const problems = checkWhole('investigations', file);
	if (problems.length > 0) return { ok: false, problems };
	const trees = Object.entries(file.anomalies)
		.sort(([, a], [, b]) => a.number - b.number)
		.map(([anomaly, { title }]) => ({
			anomaly,
			title,
			model: withResidualLinks(toTreeModel(file, anomaly)).model
		}));
	const faults = trees.flatMap(({ title, model }) => checkTree(model).map((fault) => `${title}: ${fault}`));
	return faults.length > 0 ? { ok: false, problems: faults } : { ok: true, file, trees };
}
