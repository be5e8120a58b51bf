/** How an anomaly weighs, computed as the page computes it: with the assumed links from the branch nobody thought of. */
import type { Investigation } from '$lib/investigation/case';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import { checkTree, defaultResidualLink, weigh } from '$lib/reasoning';
import { sameObservation } from '$lib/reasoning/check';

export type Weights = Record<string, number>;

/** Probability of every event given the top event, all findings and all calculations. */
export const asWeighed = (file: Investigation, anomaly: string): Weights =>
	Object.fromEntries(Object.entries(inFull(file, anomaly)).map(([id, { givenAll }]) => [id, givenAll]));

/** The same beside what it was given only that the top event happened. */
export function inFull(
	file: Investigation,
	anomaly: string
): Record<string, { givenTop: number; givenAll: number }> {
	const { model, residual, byDefault } = toTreeModel(file, anomaly);
	const faults = checkTree(model);
	if (faults.length > 0) throw new Error(faults.join('\n'));
	const extra = new Map<string, number>();
	if (residual !== null)
		for (const group of sameObservation(model)) {
			if (!group.every(({ id }) => byDefault.includes(id))) continue;
			const [first] = group;
			const links = group.flatMap((finding) => finding.links ?? []);
			extra.set(
				first!.id,
				defaultResidualLink(model, { id: first!.id, baseRate: first!.baseRate ?? 0, links }, residual).p
			);
		}
	const findings = (model.findings ?? []).map((finding) =>
		extra.has(finding.id)
			? { ...finding, links: [...(finding.links ?? []), { from: residual!, p: extra.get(finding.id)! }] }
			: finding
	);
	const { events, gates, contradiction } = weigh({ ...model, findings }, { contributions: false });
	if (contradiction) throw new Error(`${anomaly}: ${JSON.stringify(contradiction)}`);
	return Object.fromEntries(
		Object.entries({ ...events, ...gates }).map(([id, { givenTop, givenAll }]) => [
			id,
			{ givenTop: givenTop ?? Number.NaN, givenAll: givenAll ?? Number.NaN }
		])
	);
}
