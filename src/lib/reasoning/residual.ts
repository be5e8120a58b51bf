/** The branch that nobody has thought of. */
import type { Compiled } from './compile';
import { readLiteral } from './literal';
import type { TreeFinding, TreeLink, TreeModel } from './model';
import { resolve, type Resolved } from './resolve';
import { Sweep } from './sweep';
import { diagramsFor } from './exact';
import { weigh } from './weigh';
import { weightsOf } from './weights';

/**
 * The link by which a finding neither speaks for nor against a cause that nobody has thought of: with it, the sign is
 * as probable under that cause alone as under the tree's other causes together at their starting weights, given the
 * top event and that the cause is not at work. As links are noisy-OR beside the base rate b, p = (P - b) / (1 - b).
 */
export function defaultResidualLink(model: TreeModel, finding: TreeFinding, residualEvent: string): TreeLink {
	const { baseRate = 0, links = [] } = finding;
	const known = links.filter(({ from }) => readLiteral(from).id !== residualEvent);
	const logAbsent = logOfAbsence(model, known, residualEvent) + Math.log1p(-baseRate);
	// Not finite: the other causes are impossible, or the sign is certain under them.
	const present = Number.isNaN(logAbsent) ? baseRate : -Math.expm1(logAbsent);
	const p = baseRate < 1 ? (present - baseRate) / (1 - baseRate) : 0;
	return { from: residualEvent, p: Math.min(1, Math.max(0, p)) };
}

interface Prepared {
	tree: Resolved;
	compiled: Compiled;
	sweep: Sweep;
}
/** One model is asked about all of its findings. */
const prepared = new WeakMap<TreeModel, Prepared>();

/** ln of the probability that no link fires, given the top event and not the residual one. */
function logOfAbsence(model: TreeModel, links: readonly TreeLink[], residualEvent: string): number {
	const { tree, compiled, sweep } = prepared.get(model) ?? prepare(model) ?? {};
	const sources = links.map(({ from, p }) => {
		const { id, negated } = readLiteral(from);
		const node = tree?.index.get(id) ?? -1;
		return { node, link: { from: node * 2 + Number(negated), p } };
	});
	const isWeighed = (node: number) =>
		(compiled?.levels.node[node] ?? -1) >= 0 || tree?.house[node] !== undefined;
	if (!tree || !compiled || !sweep || !sources.every(({ node }) => isWeighed(node)))
		return logBySearch(model, links, residualEvent);
	const observation = { reports: [], baseRate: 0, links: sources.map(({ link }) => link) };
	const asked = { ...tree, observations: [observation] };
	const held = new Map([[tree.index.get(residualEvent) ?? -1, false]]);
	if (tree.top !== undefined) held.set(tree.top, true);
	const all = sweep.log(weightsOf(asked, compiled.levels, { held }));
	return sweep.log(weightsOf(asked, compiled.levels, { held, alsoAbsent: 0 })) - all;
}

function prepare(model: TreeModel): Prepared | undefined {
	const tree = resolve({ ...model, findings: [], origins: [], likelihoods: [], given: {} });
	const compiled = diagramsFor(tree, {});
	if (!compiled) return undefined;
	const made = { tree, compiled, sweep: new Sweep(compiled.prior) };
	prepared.set(model, made);
	return made;
}

/** The same by weighing the one finding: where the tree is too large for the short way. */
function logBySearch(model: TreeModel, links: readonly TreeLink[], residualEvent: string): number {
	const { top, ids } = resolve(model);
	const { logEvidence } = weigh(
		{
			...model,
			findings: [{ id: 'sign', state: 'absent', links: [...links] }],
			origins: [],
			likelihoods: [],
			given: { ...(top === undefined ? {} : { [ids[top] as string]: true }), [residualEvent]: false }
		},
		{ contributions: false }
	);
	return logEvidence ?? -Infinity;
}
