import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
	information,
	mostProbableExplanations,
	outcomesFor,
	robustness,
	weigh,
	type Swept,
	type TreeModel
} from '$lib/reasoning';
import { randomTree } from './random-tree';
import { tangled, unlooked } from './tangled';

/** Nothing fits into so few nodes, not even the tree without its evidence. */
const SMALL = { maxNodes: 1 };

/** Of deviations in standard errors, the shares far beyond and well within. */
const shares = (z: readonly number[]) => ({
	count: z.length,
	beyond: z.filter((x) => !(Math.abs(x) < 4)).length / z.length,
	within: z.filter((x) => Math.abs(x) < 1.2).length / z.length
});

/** The exact answer can be had, and so can a sample. */
const both = (model: TreeModel) => {
	const sampled = weigh(model, { contributions: false, ...SMALL });
	return sampled.method === 'sampled' && !sampled.contradiction && !weigh(model).contradiction;
};

describe('What a look would tell, from a sample', () => {
	/** Deviations of the bits, and of where things would stand. */
	function compare(model: TreeModel, maxNodes: number) {
		const exact = information(model);
		const ours = information(model, { maxNodes });
		if (!exact.ok || !ours.ok) return { bits: [], stands: [] };
		const bits = ours.entropyError === undefined ? [] : [(ours.entropy - exact.entropy) / ours.entropyError];
		const stands: number[] = [];
		for (const { id, error, ...own } of ours.observations) {
			const truth = exact.observations.find((other) => other.id === id);
			if (!truth || !error) throw new Error(`${id} stands beside nothing`);
			bits.push((own.bits - truth.bits) / error.bits);
			const presence = own.probabilityPresent - truth.probabilityPresent;
			stands.push(presence / error.probabilityPresent);
			for (const outcome of ['ifPresent', 'ifAbsent'] as const)
				for (const [branch, p] of Object.entries(own[outcome] ?? {}))
					stands.push((p - (truth[outcome]?.[branch] ?? NaN)) / error[outcome]);
			// What settles for certain does, and what does may.
			const slack = 4 * error.probabilityPresent;
			expect(truth.probabilitySettles).toBeGreaterThan(error.settles[0] - slack);
			expect(truth.probabilitySettles).toBeLessThan(error.settles[1] + slack);
			expect(error.settles[0]).toBeLessThanOrEqual(error.settles[1]);
		}
		return { bits, stands };
	}

	it('lies within its standard errors of the exact information, its bias taken off', () => {
		const bits: number[] = [];
		const stands: number[] = [];
		fc.assert(
			fc.property(randomTree, (random) => {
				// Half of what was looked at isn't yet.
				const findings = (random.findings ?? []).map((finding, i) =>
					i % 2 === 0 ? { ...finding, state: 'notExamined' as const } : finding
				);
				const model = { ...random, findings };
				if (!both(model)) return;
				const told = compare(model, SMALL.maxNodes);
				bits.push(...told.bits);
				stands.push(...told.stands);
			}),
			{ numRuns: 50, seed: 7, endOnFailure: true }
		);
		expect(shares(bits).count).toBeGreaterThan(50);
		expect(shares(bits).beyond).toBeLessThan(0.02);
		expect(shares(bits).within).toBeGreaterThan(0.6);
		expect(shares(stands).count).toBeGreaterThan(100);
		expect(shares(stands).beyond).toBeLessThan(0.02);
		expect(shares(stands).within).toBeGreaterThan(0.6);
	}, 120_000);

	it('tells which look tells most where the tree is tangled, the errors far smaller than what is told', () => {
		const model = unlooked(5);
		const exact = information(model);
		const ours = information(model, { maxNodes: 200 });
		if (!exact.ok || !ours.ok) throw new Error('refused');
		expect(ours.observations).toHaveLength(5);
		const { bits, stands } = compare(model, 1);
		expect(Math.max(...[...bits, ...stands].map(Math.abs))).toBeLessThan(5);
		const [first] = ours.observations;
		expect(first?.id).toBe(exact.observations[0]?.id);
		expect(first?.error?.bits).toBeLessThan((first?.bits ?? 0) / 5);
		expect(first?.error?.bits).toBeGreaterThan(0);
		expect(information(model, { maxNodes: 200 })).toEqual(ours);
	});
	it('a look that another report has already settled tells nothing', () => {
		const findings: TreeModel['findings'] = [
			...(tangled.findings ?? []),
			{ id: 'again', state: 'notExamined', sameAs: 'f0' },
			{ id: 'anyway', state: 'notExamined', baseRate: 1 }
		];
		const ours = information({ ...tangled, findings }, { maxNodes: 700 });
		if (!ours.ok) throw new Error(ours.problem);
		const anyway = ours.observations.find(({ id }) => id === 'anyway');
		expect(anyway?.bits).toBe(0);
		expect(anyway?.probabilityPresent).toBeCloseTo(1, 12);
		expect(anyway?.ifAbsent).toBeNull();
	});
});

describe('What would change the answer, from a sample', () => {
	const same = (a: Swept, b: Swept) => a.kind === b.kind && a.id === b.id && a.from === b.from;

	it('each number moved lies within its standard errors of the exact answer, or is not told', () => {
		const stands: number[] = [];
		const turns: number[] = [];
		const wrong = { leader: 0, early: 0 };
		let [clear, untold, firm] = [0, 0, 0];
		fc.assert(
			fc.property(randomTree, (model) => {
				if (!both(model)) return;
				const exact = robustness(model);
				const ours = robustness(model, SMALL);
				if (!exact.ok || !ours.ok) return;
				stands.push(
					...(ours.leader === exact.leader ? [(ours.leaderAt - exact.leaderAt) / (ours.error ?? 0)] : [])
				);
				for (const own of ours.assumptions) {
					const truth = exact.assumptions.find((other) => same(own, other));
					if (!truth) throw new Error(`${own.kind} ${own.id} stands beside nothing`);
					untold += own.untold ?? 0;
					for (const side of ['lower', 'higher'] as const) {
						const [moved, there] = [own[side], truth[side]];
						if (!moved || !there) continue;
						if (moved.leader === there.leader)
							stands.push((moved.leaderAt - there.leaderAt) / (moved.error ?? 0));
						if (moved.own !== undefined)
							stands.push((moved.own - (there.own ?? NaN)) / (moved.ownError ?? 0));
						if (moved.close !== undefined) continue;
						clear++;
						if (moved.leader !== there.leader) wrong.leader++;
					}
					if (ours.close !== undefined || ours.leader !== exact.leader) continue;
					const [from, to] = own.told ?? [NaN, NaN];
					expect(from).toBeLessThanOrEqual(own.value);
					expect(to).toBeGreaterThanOrEqual(own.value);
					if (own.overturns)
						turns.push((own.overturns.to - (truth.overturns?.to ?? NaN)) / (own.overturns.error ?? 0));
					else {
						firm++;
						if (truth.overturns && truth.overturns.to > from && truth.overturns.to < to) wrong.early++;
					}
				}
				for (const piece of ours.evidence) {
					const truth = exact.evidence.find(({ id }) => id === piece.id);
					if (truth?.leader === piece.leader)
						stands.push((piece.leaderAt - truth.leaderAt) / (piece.error ?? 0));
				}
			}),
			{ numRuns: 60, seed: 7, endOnFailure: true }
		);
		expect(shares(stands).count).toBeGreaterThan(500);
		expect(shares(stands).beyond).toBeLessThan(0.01);
		expect(shares(stands).within).toBeGreaterThan(0.6);
		expect(shares(turns).count).toBeGreaterThan(40);
		expect(shares(turns).beyond).toBeLessThan(0.02);
		expect(shares(turns).within).toBeGreaterThan(0.6);
		// Clear is what lies beyond 95 % on either side.
		expect(clear).toBeGreaterThan(250);
		expect(wrong.leader / clear).toBeLessThan(0.01);
		expect(firm).toBeGreaterThan(100);
		expect(wrong.early / firm).toBeLessThan(0.01);
		expect(untold).toBeGreaterThan(20);
	}, 120_000);

	it('says from where on the sample can not tell', () => {
		// Without a base rate nobody sees the sign but where something makes it: without it other states would count.
		const model: TreeModel = {
			events: [
				{ id: 'A', p: 0.3 },
				{ id: 'B', p: 0.0001 },
				{ id: 'C', p: 0.4 }
			],
			gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B'] }],
			findings: [
				{
					id: 'sign',
					state: 'present',
					links: [
						{ from: 'A', p: 0.5 },
						{ from: 'B', p: 0.9 }
					]
				},
				{ id: 'gone', state: 'absent', baseRate: 0.1, links: [{ from: 'B', p: 1 }] }
			]
		};
		const ours = robustness(model, { maxNodes: 1 });
		if (!ours.ok) throw new Error(ours.problem);
		const of = (kind: string, id: string, from?: string) =>
			ours.assumptions.find((own) => own.kind === kind && own.id === id && own.from === from);
		expect(ours).toMatchObject({ leader: 'A', settled: ['A', 'B'], survives: { leader: true } });
		for (const none of [of('baseRate', 'sign'), of('link', 'gone', 'B')])
			expect(none).toMatchObject({
				lower: null,
				higher: null,
				overturns: null,
				untold: 1,
				told: [none?.value, none?.value]
			});
		// B is ruled out, so no state shows it: ten times its weight is told, a thousand times not.
		const rare = of('weight', 'B');
		expect(rare?.untold).toBe(0);
		expect(rare?.told?.[1]).toBeGreaterThan(0.001);
		expect(rare?.told?.[1]).toBeLessThan(0.3);
		expect(ours.evidence.map(({ id }) => id)).toEqual([]);
		expect(robustness(model, { maxNodes: 1 })).toEqual(ours);
	});
	it('two that stand equal are told to be close, not one to lead', () => {
		const ours = robustness(
			{
				events: ['A', 'B'].map((id) => ({ id, p: 0.3 })),
				gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B'] }]
			},
			{ maxNodes: 1 }
		);
		if (!ours.ok) throw new Error(ours.problem);
		expect([ours.leader, ours.close].toSorted()).toEqual(['A', 'B']);
		expect(ours.survives.leader).toBe(false);
		expect(ours.assumptions.every(({ overturns }) => overturns === null)).toBe(true);
	});
});

describe('What a finding makes of a cause either way, and whole explanations, from a sample', () => {
	it('lie within their standard errors of the exact answers, or are not told', () => {
		const z: number[] = [];
		const whole: number[] = [];
		let untold = 0;
		fc.assert(
			fc.property(randomTree, (random) => {
				const findings = (random.findings ?? []).map((finding, i) =>
					i % 3 === 0 ? { ...finding, state: 'notExamined' as const } : finding
				);
				const model = { ...random, findings };
				if (!both(model)) return;
				const [exact, ours] = [outcomesFor(model, 'e0'), outcomesFor(model, 'e0', SMALL)];
				if (!exact.ok || !ours.ok) throw new Error('no outcomes');
				untold += exact.outcomes.length - ours.outcomes.length;
				for (const own of ours.outcomes) {
					const truth = exact.outcomes.find(({ id }) => id === own.id);
					if (!truth || !own.error) throw new Error(`${own.id} stands beside nothing`);
					expect(own.state).toBe(truth.state);
					for (const of of ['probabilityPresent', 'ifPresent', 'ifAbsent'] as const)
						if (own[of] !== null) z.push((own[of] - (truth[of] ?? NaN)) / own.error[of]);
				}
				const [list, sampled] = [
					mostProbableExplanations(model, { count: 40 }),
					mostProbableExplanations(model, SMALL)
				];
				if (!list.ok || !sampled.ok) return;
				expect(sampled.proven).toBe(false);
				// All of one tree lie off by the same factor: that of the probability of all that is known.
				const [first] = sampled.list;
				const truth = list.list.find(({ happened }) => happened.join() === first?.happened.join());
				if (first && truth) whole.push((first.probability - truth.probability) / (first.error ?? 0));
			}),
			{ numRuns: 60, seed: 20250715 }
		);
		for (const { count, beyond, within } of [z, whole].map(shares)) {
			expect(count).toBeGreaterThan(30);
			// One tree of forty may: of Student's t with 7 degrees of freedom 0.5 % lie beyond 4.
			expect(beyond).toBeLessThan(Math.max(0.02, 1.5 / count));
			expect(within).toBeGreaterThan(0.6);
		}
		expect(untold).toBeGreaterThan(5);
	}, 60_000);

	it('of a large tree whose states are all rare the most probable are told, as searching exactly finds them', () => {
		const rare = { ...tangled, events: tangled.events.map((event) => ({ ...event, p: 0.5 })) };
		const exact = mostProbableExplanations(rare, { count: 40 });
		const told = mostProbableExplanations(rare, { maxNodes: 700 });
		if (!exact.ok || !told.ok) throw new Error('no explanation');
		expect(told.list[0]?.probability).toBeLessThan(0.01);
		for (const { happened, probability, error = 0 } of told.list) {
			const truth = exact.list.find((other) => other.happened.join() === happened.join());
			expect(truth, happened.join()).toBeDefined();
			expect(Math.abs(probability - truth!.probability)).toBeLessThan(3.5 * error);
		}
	});
});
