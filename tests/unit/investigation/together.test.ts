import { describe, expect, it } from 'vitest';
import { combinationsOf, withOthers } from '$lib/investigation/views/together';
import { minimalCutSets, type TreeModel } from '$lib/reasoning';

/** Two causes of .3 and .2, each enough; the sign is shown by the second only, and is there. */
const model: TreeModel = {
	top: 'T',
	events: [
		{ id: 'A', p: 0.3 },
		{ id: 'B1', p: 0.4 },
		{ id: 'B2', p: 0.5 }
	],
	gates: [
		{ id: 'B', type: 'and', inputs: ['B1', 'B2'] },
		{ id: 'T', type: 'or', inputs: ['A', 'B'] }
	],
	findings: [{ id: 'F', state: 'present', baseRate: 0.1, links: [{ from: 'B', p: 1 }] }]
};
// By hand: B .2 shows it always, else .1. Both .06·1; A alone .24·.1; B alone .14·1: .06 + .024 + .14 = .224.
const ALL = 0.224;
const near = (value: number) => expect.closeTo(value, 12) as number;

describe('causes together', () => {
	it('hand-worked: an event with each other branch, given everything', () => {
		expect(withOthers(model, 'A')).toEqual([{ other: 'B', givenAll: near(0.06 / ALL) }]);
		// What stands under a branch is not set beside that branch. Without B2 the sign is there in one of ten.
		expect(withOthers(model, 'B1')).toEqual([{ other: 'A', givenAll: near((0.06 + 0.06 * 0.1) / ALL) }]);
	});
	it('hand-worked: combinations by what they are worth now, not by what the tree alone gave them', () => {
		const combinations = combinationsOf(model, minimalCutSets(model));
		expect(combinations).toMatchObject({
			count: 2,
			list: [
				{ events: ['B1', 'B2'], probability: 0.2, givenAll: near(0.2 / ALL) },
				{ events: ['A'], probability: 0.3, givenAll: near(0.084 / ALL) }
			]
		});
	});
	it('says nothing of a tree without combinations', () => {
		expect(combinationsOf(model, { ok: false, problem: 'too large' })).toBeNull();
		expect(withOthers({ events: model.events }, 'A')).toEqual([]);
	});
});
