/** The most common states of all basic events in a sample, as far as it shows them often enough. */
import { LEAST_SAMPLES, notCertain, UNSEEN, type SampledStates } from './sampled-states';
import type { Explanations, Refusable } from './weighing';

export function sampledExplanations(states: SampledStates, count: number): Refusable<Explanations> {
	const { tree, all } = states;
	const samples = all.effectiveSampleSize;
	if (!(all.log > -Infinity))
		return { ok: false, problem: 'no state of this tree was found that allows all of the evidence' };
	// States in the order in which the sample came to them.
	const places = new Map<string, number>();
	const placeOf = states.map((_, { slots }) => {
		const key = slots.subarray(0, tree.eventCount).join('');
		if (!places.has(key)) places.set(key, places.size);
		return places.get(key) as number;
	});
	const shares = states.read(places.size, (_, sums, at) => {
		const place = placeOf[at] as number;
		sums[place] = (sums[place] as number) + 1;
	}).all;
	const told = [...places]
		.map(([key, place]) => ({ key, place, probability: shares[place] as number }))
		.filter(({ probability }) => probability * samples >= LEAST_SAMPLES)
		.sort((a, b) => b.probability - a.probability)
		.slice(0, count);
	if (told.length === 0)
		return {
			ok: false,
			problem:
				'the tree with its evidence is too large to search exactly, and no state of all its events is common enough in the sample to be told'
		};
	const { error } = states
		.read(told.length, (_, sums, at) => {
			const i = told.findIndex(({ place }) => place === placeOf[at]);
			if (i >= 0) sums[i] = (sums[i] as number) + 1;
		})
		.tell((means) => [...means]);
	return {
		ok: true,
		proven: false,
		list: told.map(({ key, probability }, i) => ({
			happened: tree.ids.slice(0, tree.eventCount).filter((_, event) => key[event] === '1'),
			probability: notCertain(probability, samples),
			error: Math.hypot(error[i] as number, UNSEEN / samples)
		}))
	};
}
