/** What the tests of textbook examples share: a model read as typed, a probability asked of it, a table written in rows. */
import { parseTree, weigh, type TreeModel } from '$lib/reasoning';

export const read = (typed: object): TreeModel => {
	const parsed = parseTree(typed);
	if (!parsed.ok) throw new Error(parsed.problems.join('; '));
	return parsed.model;
};

/** Probability of an event or gate, given all. */
export const p = (model: TreeModel, id: string, given: Record<string, boolean> = {}): number => {
	const { events, gates } = weigh({ ...model, given });
	return (events[id] ?? gates[id])?.givenAll ?? NaN;
};

export const table = (id: string, inputs: string[], rows: Record<string, number>) => ({
	id,
	type: 'table',
	inputs,
	table: rows
});
