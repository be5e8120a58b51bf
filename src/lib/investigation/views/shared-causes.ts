import { jointProbability, partsOf, type TreeModel, weigh, type WeighOptions } from '$lib/reasoning';

/** What a group does to the top event. */
export interface SharedCause {
	/** Probability of the top event before anything is known, with the group and were its events independent. */
	together: number | null;
	apart: number | null;
	/** Probability, given everything, that something took several of them at once; null where it can't be had. */
	atWork: number | null;
}

/** By group. */
export function sharedCauses(model: TreeModel, options: WeighOptions = {}): Record<string, SharedCause> {
	const { commonCause = [] } = model;
	if (commonCause.length === 0) return {};
	const before = (groups: typeof commonCause) =>
		weigh(
			{ ...model, commonCause: groups, findings: [], origins: [], likelihoods: [], given: {} },
			{ contributions: false }
		).probabilityOfTop;
	const several = partsOf(model).filter(({ members }) => members.length > 1);
	const together = before(commonCause);
	return Object.fromEntries(
		commonCause.map(({ id }): [string, SharedCause] => {
			const none = jointProbability(
				model,
				Object.fromEntries(several.filter(({ group }) => group === id).map((part) => [part.id, false])),
				options
			);
			const apart = before(commonCause.filter((group) => group.id !== id));
			return [id, { together, apart, atWork: none.ok && none.givenAll !== null ? 1 - none.givenAll : null }];
		})
	);
}
