import {
	mostProbableExplanations,
	type Explanation,
	type Explanations,
	type Refusable,
	type TreeModel,
	type WeighOptions
} from '$lib/reasoning';
import { isLevelWith } from './leading';

/** So many are listed, and as many more as can't be told apart from the last of them, up to the second number. */
const LISTED = 3;
const MOST_LISTED = 8;
const MOST_COUNTED = 24;

export interface LeadingExplanations extends Explanations {
	/** How many more are as probable as the last listed one, and whether there may be more than were counted. */
	more: number;
	orMore: boolean;
}

/** The most probable explanations, none of several that stand level left out unsaid. */
export function leadingExplanations(
	model: TreeModel,
	options: WeighOptions & { maxTrials?: number } = {}
): Refusable<LeadingExplanations> {
	const first = mostProbableExplanations(model, { ...options, count: LISTED + 1 });
	if (!first.ok) return first;
	const levelIn = (list: readonly Explanation[]) => {
		const last = list[LISTED - 1];
		return list.filter(
			({ probability }, i) => i < LISTED || (last !== undefined && isLevelWith(last.probability, probability))
		);
	};
	if (levelIn(first.list).length <= LISTED)
		return { ...first, list: first.list.slice(0, LISTED), more: 0, orMore: false };
	const told = mostProbableExplanations(model, { ...options, count: MOST_COUNTED });
	if (!told.ok) return told;
	const level = levelIn(told.list);
	return {
		...told,
		list: level.slice(0, MOST_LISTED),
		more: Math.max(0, level.length - MOST_LISTED),
		orMore: level.length === MOST_COUNTED
	};
}

/** 'and 5 more as probable'; '' where none is left out. */
export const moreAsProbable = ({ more, orMore }: Pick<LeadingExplanations, 'more' | 'orMore'>): string =>
	more === 0 ? '' : `and ${orMore ? 'at least ' : ''}${more} more as probable`;
