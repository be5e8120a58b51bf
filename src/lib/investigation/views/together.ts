import {
	type CutSet,
	type CutSets,
	type minimalCutSets,
	togetherGivenAll,
	type TreeModel,
	type WeighOptions
} from '$lib/reasoning';
import { readLiteral } from '$lib/reasoning/literal';

/** Minimal cut sets, each also with the probability that all of it was true given everything; null where sampled. */
export interface Combinations extends CutSets {
	list: (CutSet & { givenAll: number | null })[];
}

/**
 * The most probable now first; those that can't be weighed exactly stay in the order of the tree alone.
 * @param options null where it is known that the tree is too large for exact answers
 */
export function combinationsOf(
	model: TreeModel,
	cutSets: ReturnType<typeof minimalCutSets>,
	options: WeighOptions | null = {}
): Combinations | null {
	if (!cutSets.ok) return null;
	const sets = cutSets.list;
	const events = sets.map((set) => set.events);
	const together = options && togetherGivenAll(model, events, options);
	const list = sets.map((set, i) => ({ ...set, givenAll: together?.ok ? (together.list[i] ?? null) : null }));
	return { count: cutSets.count, list: list.sort((a, b) => (b.givenAll ?? -1) - (a.givenAll ?? -1)) };
}

/** How probable it is, given everything, that an event and another were both true. */
export interface Both {
	other: string;
	givenAll: number;
}

/** An event with each branch under the top that it neither rests on nor feeds, the most probable first; none where sampled. */
export function withOthers(model: TreeModel, event: string, options: WeighOptions = {}): Both[] {
	const inputs = new Map(
		(model.gates ?? []).map(({ id, inputs }) => [id, inputs.map((input) => readLiteral(input).id)])
	);
	const under = (id: string): Set<string> => {
		const found = new Set([id]);
		for (const node of found) for (const input of inputs.get(node) ?? []) found.add(input);
		return found;
	};
	const own = under(event);
	const others = (inputs.get(model.top ?? '') ?? []).filter(
		(branch) => !own.has(branch) && !under(branch).has(event)
	);
	const together = togetherGivenAll(
		model,
		others.map((other) => [event, other]),
		options
	);
	return others
		.map((other, i) => ({ other, givenAll: together.ok ? (together.list[i] ?? null) : null }))
		.filter((both): both is Both => both.givenAll !== null)
		.sort((a, b) => b.givenAll - a.givenAll);
}
