import { typedProbability } from '$lib/quantity/percent';
import { type CommonCausePart, partsOf, type TreeModel } from '$lib/reasoning';
import type { Investigation } from '../case';
import type { CommonCause } from '../schema/common-cause';

/** The group in which an event stands; an event stands in one at most. */
export const commonCauseOf = (file: Investigation, event: string): [string, CommonCause] | null =>
	Object.entries(file.commonCauses).find(([, { events }]) => events.includes(event)) ?? null;

/** The groups of one tree as the engine takes them. */
export const groupsOf = (file: Investigation, anomaly: string): NonNullable<TreeModel['commonCause']> =>
	Object.entries(file.commonCauses)
		.filter(([, group]) => group.anomaly === anomaly)
		.map(([id, { title, events, model, factors, staggered }]) => ({
			id,
			label: title,
			members: [...events],
			model,
			factors: [...factors],
			...(staggered && model === 'alpha' ? { staggered } : {})
		}));

/** By event of one tree: how many others stand in its group. */
export const othersOf = (file: Investigation, anomaly: string): ReadonlyMap<string, number> =>
	new Map(
		Object.values(file.commonCauses)
			.filter((group) => group.anomaly === anomaly)
			.flatMap(({ events }) => events.map((event) => [event, events.length - 1] as const))
	);

/** What the engine says of combinations and explanations names parts of a group; this is who they are. */
export const partsIn = (file: Investigation, anomaly: string): ReadonlyMap<string, CommonCausePart> =>
	new Map(partsOf({ events: [], commonCause: groupsOf(file, anomaly) }).map((part) => [part.id, part]));

/** What an event, a part of a group or the negation of one is called: 'one battery (both at once)'. */
export function nameIn(
	file: Investigation,
	parts: ReadonlyMap<string, CommonCausePart>,
	written: string,
	titleOf = (event: string) => file.events[event]?.title ?? 'an event no longer there',
	line = (title: string) => title
): string {
	const not = written.startsWith('!');
	const id = not ? written.slice(1) : written;
	const part = parts.get(id);
	return `${not ? 'not ' : ''}${part ? partName(file.commonCauses[part.group], part, titleOf, line) : titleOf(id)}`;
}

function partName(
	group: CommonCause | undefined,
	{ members }: CommonCausePart,
	titleOf: (event: string) => string,
	line: (title: string) => string
): string {
	if (members.length === 1) return `${titleOf(members[0]!)} (by itself)`;
	const n = group?.events.length;
	const which =
		members.length < (n ?? 0) ? members.map(titleOf).join(' and ') : n === 2 ? 'both' : `all ${n}`;
	return `${line(group?.title ?? '')} (${which} at once)`;
}

/** The events that one of these is about: a part of a group, all of its members. */
export const eventsOfPart = (parts: ReadonlyMap<string, CommonCausePart>, id: string): readonly string[] => {
	const event = id.replace(/^!/, '');
	return parts.get(event)?.members ?? [event];
};

/** How often what a group shares strikes, in words. */
export function howItSpreads({ model, events, factors }: CommonCause): string {
	const said = factors.map((p) => typedProbability(p));
	if (model === 'beta')
		return `when one of these fails, it takes ${events.length === 2 ? 'both' : `all ${events.length}`} in ${said[0]} of the cases`;
	if (model === 'multiLetter')
		return `when one of these fails, a second fails with it in ${said.join(' of the cases, and with those one more in ')} of the cases`;
	return `of all failures ${said.map((p, i) => `${p} hit ${i === 0 ? 'one alone' : `${i + 1} together`}`).join(', ')}`;
}
