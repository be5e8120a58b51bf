import {
	checkTree,
	jointProbability,
	partsOf,
	type TreeModel,
	weigh,
	type WeighOptions
} from '$lib/reasoning';
import { isLevelWith } from './leading';
import { type ToWeigh, withResidualLinks } from './tree-model';
import { percentSampled, typedApart } from '$lib/quantity/percent';

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

/** How things stand with a group, or without it. */
interface Stand {
	/** Probability of the top event before anything is known. */
	top: number | null;
	/** Given everything, the leading cause and what can't be told apart from it; null where what was found contradicts the tree. */
	lead: { ids: string[]; at: number; error?: number } | null;
}

/** What a group would do that is not kept yet. */
export interface DraftEffect {
	together: Stand;
	apart: Stand;
}

/** The tree with the group as typed and without it; null where either can't be weighed. */
export function effectOfDraft(together: ToWeigh, apart: ToWeigh): DraftEffect | null {
	if (checkTree(together.model).length + checkTree(apart.model).length > 0) return null;
	const stand = (asked: ToWeigh): Stand => {
		const { probabilityOfTop, events } = weigh(withResidualLinks(asked).model, { contributions: false });
		const causes = asked.model.events.flatMap(({ id, kind }) => {
			const { givenAll = null, standardError } = events[id] ?? {};
			if (givenAll === null || (kind !== 'basic' && kind !== 'undeveloped')) return [];
			return [{ id, at: givenAll, ...(standardError === undefined ? {} : { error: standardError }) }];
		});
		const at = Math.max(...causes.map((own) => own.at));
		const level = causes.filter((own) => isLevelWith(own.at, at));
		const { error } = level[0] ?? {};
		const lead = { ids: level.map(({ id }) => id), at, ...(error === undefined ? {} : { error }) };
		return { top: probabilityOfTop, lead: level.length > 0 ? lead : null };
	};
	return { together: stand(together), apart: stand(apart) };
}

/** In one line what it would do. */
export function effectWords({ together, apart }: DraftEffect, name: (id: string) => string): string {
	const top = together.top === null || apart.top === null ? null : typedApart(together.top, apart.top);
	const before =
		top === null
			? []
			: [
					top[0] === top[1]
						? `before the flight the top event stands at ${top[0]} either way`
						: `before the flight the top event stands at ${top[0]}, were each to fail only by itself at ${top[1]}`
				];
	const [now, then] = [together.lead, apart.lead];
	const at = ({ at: p, error }: NonNullable<Stand['lead']>) => `${percentSampled(p, error)}`;
	const who = ({ ids }: NonNullable<Stand['lead']>) =>
		ids.length === 1
			? `${name(ids[0]!)} leads`
			: `${ids.length === 2 ? ids.map(name).join(' and ') : `${ids.length} causes`} stand level`;
	const leads =
		now === null || then === null
			? []
			: who(now) !== who(then)
				? [`given everything ${who(now)} at ${at(now)}, without it ${who(then)} at ${at(then)}`]
				: [
						`given everything ${who(now)} at ${at(now)}${at(now) === at(then) ? ' either way' : `, without it at ${at(then)}`}`
					];
	return `As typed: ${[...before, ...leads].join('; ')}.`;
}
