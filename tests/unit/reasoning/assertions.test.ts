/** Twelve properties that any exact weighing must have, each on random trees or at its edges. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
	contributionsTo,
	importance,
	importanceAndCutSets,
	information,
	minimalCutSets,
	strengthOfEvidence,
	weigh,
	wordForProbability,
	type NodeWeight,
	type TreeModel
} from '$lib/reasoning';
import { bruteForce } from './oracle';
import { randomTree } from './random-tree';

/** Coherent: OR, AND and k-of-n over shared events, no negation. */
const coherentTree: fc.Arbitrary<TreeModel> = fc
	.array(fc.nat(999), { minLength: 60, maxLength: 60 })
	.map((numbers) => {
		let at = 0;
		const draw = (below: number) => (numbers[at++ % numbers.length] as number) % below;
		const events = Array.from({ length: 3 + draw(4) }, (_, i) => ({
			id: `e${i}`,
			p: (1 + draw(900)) / 1000
		}));
		const nodes = events.map(({ id }) => id);
		const gates: NonNullable<TreeModel['gates']> = [];
		for (let i = 0; i < 2 + draw(3); i++) {
			const inputs = [
				...new Set(Array.from({ length: 2 + draw(2) }, () => nodes[draw(nodes.length)] as string))
			];
			const type = (['or', 'and', 'atLeast'] as const)[draw(3)] ?? 'or';
			const k = type === 'atLeast' ? { k: 1 + draw(inputs.length) } : {};
			gates.push({ id: `g${i}`, type, inputs, ...k });
			nodes.push(`g${i}`);
		}
		return { top: gates.at(-1)?.id ?? '', events, gates };
	});

const ids = (model: TreeModel) => [...model.events, ...(model.gates ?? [])].map(({ id }) => id);
const nodesOf = (model: TreeModel): Record<string, NodeWeight> => {
	const { events, gates, parts } = weigh(model, { contributions: false });
	return { ...events, ...gates, ...parts };
};
/** Every posterior the same to the digits that rounding leaves. */
function expectSame(a: TreeModel, b: TreeModel, rename = (id: string) => id) {
	const [one, other] = [nodesOf(a), nodesOf(b)];
	for (const id of ids(a)) {
		const [x, y] = [one[id]?.givenAll, other[rename(id)]?.givenAll];
		if (typeof x === 'number') expect(y).toBeCloseTo(x, 13);
		else expect(y).toBeNull();
	}
}
const many = (property: (model: TreeModel) => void, trees = randomTree, numRuns = 100) =>
	fc.assert(fc.property(trees, property), { numRuns, seed: 13 });

describe('What holds of every weighing', () => {
	it('1. exact equals visiting every state', () =>
		many((model) => {
			const truth = bruteForce(model, model.top);
			if (truth.pAll === 0) return;
			const ours = nodesOf(model);
			for (const [id, p] of Object.entries(truth.givenAll)) expect(ours[id]?.givenAll).toBeCloseTo(p, 10);
		}));
	it('2. bounds stand in order and importance keeps its identities on every coherent tree', () => {
		let trees = 0;
		many(
			(model) => {
				const measures = importance(model);
				const sets = minimalCutSets(model);
				if (!measures.ok || !sets.ok || measures.probabilityOfTop === 0) return;
				trees++;
				const top = measures.probabilityOfTop;
				const bound = 1 - sets.list.reduce((none, { probability }) => none * (1 - probability), 1);
				const sum = sets.list.reduce((all, { probability }) => all + probability, 0);
				const pairs = sets.list.flatMap((a, i) =>
					sets.list
						.slice(i + 1)
						.map((b) =>
							[...new Set([...a.events, ...b.events])].reduce(
								(p, id) => p * (model.events.find((event) => event.id === id)?.p ?? NaN),
								1
							)
						)
				);
				const slack = 1e-12;
				expect(sum - pairs.reduce((a, b) => a + b, 0)).toBeLessThanOrEqual(top + slack);
				expect(top).toBeLessThanOrEqual(bound + slack);
				expect(bound).toBeLessThanOrEqual(sum + slack);
				for (const { id, p = 0 } of model.events) {
					const own = measures.events[id];
					if (!own) continue;
					expect(p * own.whenTrue + (1 - p) * own.whenFalse).toBeCloseTo(top, 12);
					expect(own.birnbaum).toBeCloseTo(own.whenTrue - own.whenFalse, 12);
					expect(own.criticality).toBeCloseTo(1 - own.whenFalse / top, 11);
					expect(own.givenTop).toBeCloseTo((p * own.whenTrue) / top, 11);
					expect(own.givenTop).toBeGreaterThanOrEqual(p - slack);
				}
			},
			coherentTree,
			150
		);
		expect(trees).toBeGreaterThan(120);
	});
	it('3. order of the evidence, names of the events and grouping of a gate change no posterior', () =>
		many((model) => {
			const { events, gates = [], findings = [], likelihoods = [] } = model;
			expectSame(model, {
				...model,
				events: events.toReversed(),
				findings: findings.toReversed(),
				likelihoods: likelihoods.toReversed()
			});
			const other = (id: string) => `z ${id}`;
			const named = JSON.stringify(model).replace(/"(!?)([eg]\d)"/g, '"$1z $2"');
			expectSame(model, JSON.parse(named) as TreeModel, other);
			const split = gates.flatMap((gate) => {
				const [first, second, ...rest] = gate.inputs;
				if ((gate.type !== 'or' && gate.type !== 'and') || !first || !second || rest.length === 0)
					return [gate];
				const part = { id: `${gate.id} part`, type: gate.type, inputs: [first, second] };
				return [part, { ...gate, inputs: [part.id, ...rest] }];
			});
			expectSame(model, { ...model, gates: split });
		}));
	it('4. an item as probable either way changes nothing', () =>
		many((model) =>
			expectSame(model, {
				...model,
				findings: [...(model.findings ?? []), { id: 'idle', state: 'present', baseRate: 0.37 }]
			})
		));
	it('5. declared a duplicate, the second of two weighs nothing', () =>
		many((model) => {
			const first = model.findings?.find(({ state, sameAs }) => state === 'present' && !sameAs);
			if (!first) return;
			const { id, origin } = first;
			const again = { id: 'again', state: 'present' as const, sameAs: id, ...(origin ? { origin } : {}) };
			expectSame(model, { ...model, findings: [...(model.findings ?? []), again] });
		}));
	it('importance and cut sets from one diagram are those from two', () =>
		many((model) => {
			const listed = { order: 3, list: 20 };
			expect(importanceAndCutSets(model, listed)).toEqual({
				importance: importance(model),
				cutSets: minimalCutSets(model, listed)
			});
		}));
	it('6. without evidence a cut set given the top is P(cut) / P(top)', () =>
		many(
			(model) => {
				const sets = minimalCutSets(model);
				const { probabilityOfTop } = weigh(model);
				if (!sets.ok || !probabilityOfTop) return;
				for (const { givenTop, probability, events } of sets.list) {
					expect(givenTop).toBeCloseTo(probability / probabilityOfTop, 12);
					// As an event of its own.
					const joint = { id: 'CUT', type: 'and' as const, inputs: events };
					if (events.length < 2) continue;
					const own = weigh({ ...model, gates: [...(model.gates ?? []), joint] }).gates['CUT'];
					expect(own?.givenTop).toBeCloseTo(givenTop ?? NaN, 12);
				}
			},
			coherentTree,
			60
		));
	it('7. the top first and then the evidence, or the reverse', () =>
		many((model) => {
			const top = model.top ?? '';
			const both = weigh({ ...model, given: { [top]: true } }, { contributions: false });
			const evidence = weigh({ ...model, given: {} }, { contributions: false });
			if (both.contradiction || evidence.contradiction) return;
			const topAfter = evidence.gates[top]?.givenAll ?? NaN;
			const last = (evidence.logEvidence ?? NaN) + (evidence.logDensity ?? NaN) + Math.log(topAfter);
			const first = (both.logGiven ?? NaN) + (both.logEvidence ?? NaN) + (both.logDensity ?? NaN);
			expect(last).toBeCloseTo(first, 9);
		}));
	it('8. gains lie between 0 and the entropy; nothing from what tells nothing, all from a perfect test', () => {
		many((model) => {
			const told = information(model);
			if (!told.ok) return;
			for (const { bits } of told.observations) {
				expect(bits).toBeGreaterThanOrEqual(0);
				expect(bits).toBeLessThanOrEqual(told.entropy + 1e-9);
			}
		});
		const told = information({
			events: [
				{ id: 'A', p: 0.4 },
				{ id: 'B', p: 0.6 }
			],
			gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B'] }],
			exclusive: [['A', 'B']],
			findings: [
				{ id: 'T5', baseRate: 0.6 },
				{ id: 'perfect', links: [{ from: 'A', p: 1 }] }
			]
		});
		if (!told.ok) throw new Error(told.problem);
		const bits = Object.fromEntries(told.observations.map(({ id, bits }) => [id, bits]));
		expect(bits['T5']).toBeCloseTo(0, 12);
		expect(bits['perfect']).toBeCloseTo(told.entropy, 12);
		expect(told.entropy).toBeCloseTo(0.970950594454669, 12);
	});
	it.each([10, 100, 1000, 10_000, 1_000_000])(
		'9. words change at a ratio of %d and not beside it',
		(edge) => {
			const { words } = strengthOfEvidence(edge);
			expect(strengthOfEvidence(edge * (1 - 1e-9)).words).toBe(words);
			expect(strengthOfEvidence(edge * (1 + 1e-9)).words).not.toBe(words);
			expect(strengthOfEvidence(1 / edge)).toEqual({ words, supports: 'other' });
		}
	);
	it.each([0.05, 0.2, 0.45, 0.55, 0.8, 0.95])(
		'9. words change at a probability of %d and not beside it',
		(edge) => {
			const words = wordForProbability(edge);
			expect(wordForProbability(edge - 1e-9)).toBe(words);
			expect(wordForProbability(edge + 1e-9)).not.toBe(words);
		}
	);
	it('10. impossible evidence is a contradiction, never NaN', () =>
		many((model) => {
			const ghost = { id: 'ghost', state: 'present' as const };
			const { compiled: _, ...weighing } = weigh({ ...model, findings: [...(model.findings ?? []), ghost] });
			expect(weighing.contradiction).not.toBeNull();
			for (const { givenAll } of Object.values(weighing.events)) expect(givenAll).toBeNull();
			expect(weighing.contradiction?.message).not.toBe('');
			JSON.stringify(weighing, (_, value: unknown) => {
				if (typeof value === 'number') expect(value).not.toBeNaN();
				return value;
			});
		}));
	it('11. probabilities near 1e-17 keep ten digits: AND of 16 two-input ORs, p .05', () => {
		const pairs = Array.from({ length: 16 }, (_, i) => `o${i}`);
		const model: TreeModel = {
			top: 'TOP',
			events: pairs.flatMap((o) => [
				{ id: `${o}a`, p: 0.05 },
				{ id: `${o}b`, p: 0.05 }
			]),
			gates: [
				...pairs.map((id) => ({ id, type: 'or' as const, inputs: [`${id}a`, `${id}b`] })),
				{ id: 'TOP', type: 'and' as const, inputs: pairs }
			]
		};
		const { probabilityOfTop, events } = weigh(model);
		expect((probabilityOfTop ?? NaN) / 6.66920168424826e-17).toBeCloseTo(1, 10);
		expect(events['o3a']?.givenAll).toBeCloseTo(0.05 / 0.0975, 12);
	});
	it.each<[string, (model: TreeModel) => TreeModel]>([
		[
			'a house switch',
			(model) => ({
				...model,
				events: model.events.map((event, i) =>
					i === 0 ? { id: event.id, kind: 'house', state: true } : event
				)
			})
		],
		[
			'an exclusive constraint',
			(model) => {
				const [a, b] = model.events;
				const halved = (p = 0) => Math.min(p, 0.49);
				return {
					...model,
					events: model.events.map((event, i) => (i < 2 ? { ...event, p: halved(event.p) } : event)),
					exclusive: [[a?.id ?? '', b?.id ?? '']]
				};
			}
		]
	])('12. %s changes exact value, cut sets and posterior together', (_, change) =>
		many(
			(plain) => {
				const model = change(plain);
				const truth = bruteForce(model, model.top);
				const weighing = weigh(model);
				expect(weighing.probabilityOfTop).toBeCloseTo(truth.pTop, 12);
				if (truth.pTop === 0) return;
				const sets = minimalCutSets(model);
				const measures = importance(model);
				if (!sets.ok || !measures.ok) throw new Error('refused');
				expect(measures.probabilityOfTop).toBeCloseTo(truth.pTop, 12);
				for (const { id } of model.events)
					expect(weighing.events[id]?.givenAll).toBeCloseTo(truth.givenAll[id] ?? NaN, 11);
				const group = model.exclusive?.[0] ?? [];
				const house = model.events.find(({ kind }) => kind === 'house')?.id;
				for (const { events } of sets.list) {
					expect(events).not.toContain(house);
					if (group.length > 0) expect(group.every((id) => events.includes(id))).toBe(false);
				}
			},
			coherentTree,
			100
		)
	);
	it('a contribution is nothing for an item that tells nothing', () => {
		const weighing = weigh({
			events: [{ id: 'A', p: 0.3 }],
			given: {},
			findings: [{ id: 'idle', state: 'present', baseRate: 0.2 }]
		});
		expect(contributionsTo(weighing, 'A')[0]?.decibans).toBeCloseTo(0, 12);
	});
});
