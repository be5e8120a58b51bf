import type { Investigation } from '$lib/investigation/case';
import { inputsOf, parentsOf } from '$lib/investigation/views/tree';
import type { TreeEvent } from '$lib/investigation/schema/anomaly';
import type { Verb } from './keys';

export interface Standing {
	event: string;
	under: string | null;
}

/** Where an arrow key leads from the chosen event: up to its gate, down to its first cause, along its siblings. */
export function step(
	file: Investigation,
	top: string,
	event: string,
	under: string | null,
	verb: Verb,
	folded: ReadonlySet<string>
): Standing | null {
	const parents = parentsOf(file, event);
	const parent = under !== null && parents.includes(under) ? under : (parents[0] ?? null);
	if (verb === 'up') return parent === null ? null : { event: parent, under: null };
	if (verb === 'down') {
		const first = folded.has(event) ? undefined : inputsOf(file.events[event])[0];
		return first === undefined ? null : { event: first, under: event };
	}
	if (verb !== 'left' && verb !== 'right') return null;
	if (parent === null) return event === top ? null : { event: top, under: null };
	const siblings = inputsOf(file.events[parent]);
	const next = siblings[siblings.indexOf(event) + (verb === 'left' ? -1 : 1)];
	return next === undefined ? null : { event: next, under: parent };
}

/** For each event that is to be seen, the parent under which it stands first; elsewhere it is only referred to. */
export function homesOf(
	events: Readonly<Record<string, TreeEvent>>,
	top: string,
	folded: ReadonlySet<string>
): ReadonlyMap<string, string | null> {
	const found = new Map<string, string | null>();
	const walk = (id: string, under: string | null) => {
		if (found.has(id)) return;
		found.set(id, under);
		if (!folded.has(id)) for (const input of inputsOf(events[id])) walk(input, id);
	};
	walk(top, null);
	return found;
}
