import fc from 'fast-check';
import { expect, test } from 'vitest';
import { expectedInformation, information, type TreeModel } from '$lib/reasoning';
import { randomTree } from './random-tree';
import { unlooked } from './tangled';

/** A sign that one event alone shows is a look with two outcomes. */
function asSign(model: TreeModel, event: string, baseRate: number, p: number) {
	const sign = { id: 'the sign', baseRate, links: [{ from: event, p }] };
	const told = information({ ...model, findings: [...(model.findings ?? []), sign] });
	return told.ok ? { told, value: told.observations.find(({ id }) => id === sign.id)! } : null;
}
const asLook = (event: string, baseRate: number, p: number) => {
	const present = 1 - (1 - baseRate) * (1 - p);
	return {
		id: 'the look',
		scenarios: [event],
		outcomes: [{ likelihood: [present, baseRate] }, { likelihood: [1 - present, 1 - baseRate] }]
	};
};

test('a look with two outcomes tells what the sign tells that says the same, of events and gates alike', () => {
	let compared = 0;
	fc.assert(
		fc.property(randomTree, fc.nat(), fc.double({ min: 0.01, max: 0.99, noNaN: true }), (model, pick, p) => {
			const named = [...model.events.filter(({ kind }) => kind !== 'house'), ...(model.gates ?? [])];
			const event = named[pick % named.length]!.id;
			const sign = asSign(model, event, 0.2, p);
			if (!sign) return;
			const [look] = expectedInformation(model, sign.told.about, [asLook(event, 0.2, p)]);
			compared++;
			expect(look!.error).toBeUndefined();
			expect(look!.bits).toBeCloseTo(sign.value.bits, 9);
			expect(look!.probabilitySettles).toBeCloseTo(sign.value.probabilitySettles, 9);
			expect(look!.outcomes[0]!.probability).toBeCloseTo(sign.value.probabilityPresent, 9);
			for (const [branch, stands] of Object.entries(sign.value.ifPresent ?? {}))
				expect(look!.outcomes[0]!.branches![branch]).toBeCloseTo(stands, 7);
		}),
		{ numRuns: 300, seed: 11 }
	);
	expect(compared).toBeGreaterThan(200);
});

test('from a sample it lies within its standard errors of the exact value', () => {
	const model = unlooked(6);
	const looks = ['X', 'Y', 'c20'].map((event) => ({ ...asLook(event, 0.05, 0.8), id: event }));
	const exact = expectedInformation(model, ['X', 'Y'], looks);
	const sampled = expectedInformation(model, ['X', 'Y'], looks, { maxNodes: 200 });
	for (const [i, { bits, error }] of sampled.entries()) {
		expect(exact[i]!.error).toBeUndefined();
		expect(error).toBeGreaterThan(0);
		expect(error).toBeLessThan(0.05);
		expect(Math.abs(bits - exact[i]!.bits)).toBeLessThan(4 * error!);
	}
	expect(expectedInformation(model, ['X', 'Y'], looks, { maxNodes: 200 })).toEqual(sampled);
});

test('what every scenario makes equally probable tells nothing, and a look at what is not in the tree is left out', () => {
	const model: TreeModel = {
		events: [
			{ id: 'A', p: 0.2 },
			{ id: 'B', p: 0.3 }
		],
		gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B'] }]
	};
	const even = { scenarios: ['A', 'B'], outcomes: [0.7, 0.3].map((p) => ({ likelihood: [p, p, p] })) };
	const [told, ...more] = expectedInformation(
		model,
		['A', 'B'],
		[
			{ id: 'even', ...even },
			{ id: 'gone', ...even, scenarios: ['A', 'Z'] }
		]
	);
	expect(told).toMatchObject({ id: 'even', probabilitySettles: 0 });
	expect(told!.bits).toBeCloseTo(0, 12);
	expect(more).toEqual([]);
});
