/** The branch that nobody has thought of. */
import { readLiteral } from './literal';
import type { TreeFinding, TreeLink, TreeModel } from './model';
import { weigh } from './weigh';

/**
 * The link by which a finding neither speaks for nor against a cause that nobody has thought of: with it, the sign is
 * as probable under that cause alone as under the tree's other causes together at their starting weights, given the
 * top event and that the cause is not at work. As links are noisy-OR beside the base rate b, p = (P - b) / (1 - b).
 */
export function defaultResidualLink(model: TreeModel, finding: TreeFinding, residualEvent: string): TreeLink {
	const { baseRate = 0, links = [] } = finding;
	const known = links.filter(({ from }) => readLiteral(from).id !== residualEvent);
	const absent = weigh(
		{
			...model,
			findings: [{ id: finding.id, state: 'absent', baseRate, links: known }],
			origins: [],
			likelihoods: [],
			given: { ...topOf(model), [residualEvent]: false }
		},
		{ contributions: false }
	);
	// Impossible means that the sign is certain under the other causes.
	const present = absent.logEvidence === null ? 1 : -Math.expm1(absent.logEvidence);
	const p = baseRate < 1 ? (present - baseRate) / (1 - baseRate) : 0;
	return { from: residualEvent, p: Math.min(1, Math.max(0, p)) };
}

function topOf(model: TreeModel): Record<string, boolean> {
	const { top } = weigh({ ...model, findings: [], likelihoods: [], given: {} }, { contributions: false });
	return top === null ? {} : { [top]: true };
}
