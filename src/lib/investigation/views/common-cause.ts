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

/** What the engine says of combinations and explanations names parts of a group; this is who they are. */
export const partsIn = (file: Investigation, anomaly: string): ReadonlyMap<string, CommonCausePart> =>
	new Map(partsOf({ events: [], commonCause: groupsOf(file, anomaly) }).map((part) => [part.id, part]));

/** What an event, a part of a group or the negation of one is called: '“Recorder A dead” alone'. */
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
	const name = !part
		? titleOf(id)
		: part.members.length === 1
			? `${titleOf(part.members[0]!)} (by itself)`
			: `${part.members.map(titleOf).join(' and ')} (together: ${line(file.commonCauses[part.group]?.title ?? '')})`;
	return `${not ? 'not ' : ''}${name}`;
}

/** The events that a part makes true; any other is its own. */
export const eventsOfPart = (parts: ReadonlyMap<string, CommonCausePart>, id: string): readonly string[] =>
	parts.get(id)?.members ?? [id];

/** How often what a group shares strikes, in words. */
export function howItSpreads(
	{ model, events, factors }: CommonCause,
	percent: (p: number) => string
): string {
	const said = factors.map(percent);
	if (model === 'beta')
		return `when one of these fails, it takes ${events.length === 2 ? 'both' : `all ${events.length}`} in ${said[0]} of the cases`;
	if (model === 'multiLetter')
		return `when one of these fails, a second fails with it in ${said.join(' of the cases, and with those one more in ')} of the cases`;
	return `of all failures ${said.map((p, i) => `${p} hit ${i === 0 ? 'one alone' : `${i + 1} together`}`).join(', ')}`;
}
