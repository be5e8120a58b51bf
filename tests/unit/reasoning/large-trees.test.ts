import { describe, expect, it } from 'vitest';
import { importanceAndCutSets } from '$lib/reasoning';
import { randomTree } from '../../../scripts/bench/tree-models';

/**
 * Large trees with shared events, as a program in C found them that was written apart from this one and took its
 * diagram, its sweep and its cut sets from nothing here but the tree and the order of its events.
 */
describe('A large tree is what an independent program makes of it', () => {
	it.each([
		[1000, 0.599552551, 18.90437039, 2620],
		[5000, 0.8378262037, 14.84937676, 131146]
	])('%i events: the top, all Birnbaum importances, cut sets up to four', (events, top, birnbaum, count) => {
		const { importance, cutSets } = importanceAndCutSets(randomTree(events), {
			cutSetOrder: 0,
			order: 4,
			list: 0
		});
		if (!importance.ok || !cutSets.ok) throw new Error('refused');
		expect(importance.probabilityOfTop).toBeCloseTo(top, 9);
		const sum = Object.values(importance.events).reduce((all, one) => all + one.birnbaum, 0);
		expect(sum).toBeCloseTo(birnbaum, 7);
		expect(cutSets.count).toBe(count);
	});
});
