import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
	parseTree,
	robustness,
	weigh,
	withFlatWeights,
	type Assumption,
	type TreeModel
} from '$lib/reasoning';
import { withResidualLinks } from '$lib/investigation/views/tree-model';
import { bruteForce } from './oracle';
import { randomTree } from './random-tree';

const written = (link: string | { not: string }) => (typeof link === 'string' ? link : `!${link.not}`);

/** The model with one number typed anew; written apart from the engine. */
function retyped(model: TreeModel, { kind, id, from, value }: Assumption, to: number): TreeModel {
	const group = model.exclusive?.find((events) => kind === 'weight' && events.includes(id)) ?? [];
	const events = model.events.map((event) =>
		kind === 'weight' && event.id === id
			? { ...event, p: to }
			: group.includes(event.id)
				? { ...event, p: ((event.p ?? 0) * (1 - to)) / (1 - value) }
				: event
	);
	// Findings that are one observation: the number may stand with another of them.
	const same = new Set([id]);
	for (let size = 0; size < same.size;) {
		size = same.size;
		for (const f of model.findings ?? [])
			if (f.sameAs && (same.has(f.id) || same.has(f.sameAs))) same.add(f.id).add(f.sameAs);
	}
	const findings = (model.findings ?? []).map((f) => {
		if (!same.has(f.id)) return f;
		if (kind === 'baseRate' && !f.sameAs) return { ...f, baseRate: to };
		if (kind !== 'link') return f;
		return { ...f, links: (f.links ?? []).map((l) => (written(l.from) === from ? { ...l, p: to } : l)) };
	});
	const origins = (model.origins ?? []).map((o) =>
		o.id === id && (kind === 'reliability' || kind === 'saysAnyway') ? { ...o, [kind]: to } : o
	);
	const likelihoods = (model.likelihoods ?? []).map((l) => ({
		...l,
		scenarios: l.scenarios.map((s) =>
			kind === 'density' && l.id === id && (s.event === undefined ? undefined : written(s.event)) === from
				? { ...s, density: to }
				: s
		)
	}));
	return { ...model, events, findings, origins, likelihoods };
}

const causes = (model: TreeModel) => model.events.filter(({ kind }) => kind !== 'house').map(({ id }) => id);
function standing(model: TreeModel) {
	const { givenAll } = bruteForce(model, model.top);
	const all = causes(model).map((id) => ({ id, p: givenAll[id] ?? NaN }));
	return { p: (id: string) => givenAll[id] ?? NaN, most: Math.max(...all.map(({ p }) => p)) };
}

describe('What would change the answer', () => {
	it.each([
		['each number moved, and the least change that lets another lead, agree', false, 60, [300, 50, 300]],
		['as do they where the links assumed from what nobody has thought of follow', true, 20, [100, 20, 100]]
	] as const)(
		'%s with visiting every state',
		(_, assumes, numRuns, least) => {
			let moves = 0;
			let overturned = 0;
			let firm = 0;
			fc.assert(
				fc.property(randomTree, (random) => {
					const parsed = parseTree(JSON.parse(JSON.stringify(random)));
					if (!parsed.ok) throw new Error(parsed.problems.join('; '));
					const typed = parsed.model;
					const residual = assumes ? (causes(typed)[0] ?? null) : null;
					const speaks = ({ from }: { from: string | { not: string } }) =>
						[residual, `!${residual}`].includes(written(from));
					const findings = (typed.findings ?? [])
						.filter(({ links = [] }) => !links.some(speaks))
						.map(({ id }) => id);
					const assumed = residual === null ? undefined : { event: residual, findings };
					const linked = (model: TreeModel) =>
						withResidualLinks({ model, residual, byDefault: findings }).model;
					const model = linked(typed);
					const whenTyped = (swept: Assumption, to: number) =>
						standing(
							swept.from === residual && assumed && findings.includes(swept.id)
								? retyped(model, swept, to)
								: linked(retyped(typed, swept, to))
						);
					const result = robustness(model, { assumed });
					const truth = bruteForce(model, model.top);
					if (!result.ok) {
						expect(truth.pAll === 0 || causes(model).length === 0).toBe(true);
						return;
					}
					const now = standing(model);
					expect(now.p(result.leader)).toBeCloseTo(now.most, 9);
					expect(result.leaderAt).toBeCloseTo(now.most, 9);
					for (const swept of result.assumptions) {
						for (const moved of [swept.lower, swept.higher]) {
							if (!moved) continue;
							const other = whenTyped(swept, moved.value);
							if (Number.isNaN(other.most)) continue;
							moves++;
							expect(moved.leaderAt).toBeCloseTo(other.most, 7);
							expect(other.p(moved.leader)).toBeCloseTo(other.most, 7);
							if (moved.own !== undefined) expect(moved.own).toBeCloseTo(other.p(swept.id), 7);
						}
						const { overturns } = swept;
						const to = overturns?.to;
						const tie = to === undefined ? undefined : whenTyped(swept, to);
						if (overturns && tie) {
							overturned++;
							// From there on both lead.
							expect(tie.p(overturns.leader)).toBeCloseTo(tie.p(result.leader), 6);
							expect(tie.most).toBeCloseTo(tie.p(result.leader), 6);
						}
						// Nowhere nearer does another lead.
						for (const share of [0.3, 0.9]) {
							const ends =
								to !== undefined ? [swept.value, to] : swept.kind === 'density' ? [0, 10] : [1e-6, 1 - 1e-6];
							const x = (ends[0] ?? 0) + share * ((ends[1] ?? 0) - (ends[0] ?? 0));
							const there = whenTyped(swept, x);
							if (Number.isNaN(there.most)) continue;
							if (swept.kind === 'density' && to === undefined && swept.value === 0) continue;
							firm++;
							expect(there.p(result.leader)).toBeGreaterThan(there.most - 1e-7);
						}
					}
					for (const { id, kind, leader, leaderAt } of result.evidence) {
						const findings = (model.findings ?? []).filter((f) => kind === 'likelihood' || f.id !== id);
						if ((model.findings ?? []).some((f) => f.sameAs === id || (f.id === id && f.sameAs))) continue;
						const likelihoods = (model.likelihoods ?? []).filter((l) => l.id !== id);
						const other = standing({ ...model, findings, likelihoods });
						expect(other.p(leader)).toBeCloseTo(leaderAt, 8);
						expect(other.most).toBeCloseTo(leaderAt, 8);
					}
				}),
				{ numRuns, seed: 11 }
			);
			const [some, turned, held] = least;
			expect(moves).toBeGreaterThan(some);
			expect(overturned).toBeGreaterThan(turned);
			expect(firm).toBeGreaterThan(held);
		},
		120_000
	);

	/** A .3 linked .5 and B .2 linked .9, no base rate, the sign present: B leads at .6040, A has .5842. */
	const byHand: TreeModel = {
		events: [
			{ id: 'A', p: 0.3 },
			{ id: 'B', p: 0.2 }
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
			}
		]
	};
	it('hand-worked: A overtakes B where p(A) (1 - p(B)) .5 = (1 - p(A)) p(B) .9', () => {
		const result = robustness(byHand);
		if (!result.ok) throw new Error(result.problem);
		expect(result.leader).toBe('B');
		expect(result.leaderAt).toBeCloseTo(0.604, 4);
		// Alone, A weighs .3 · .8 · .5 = .120 and B .7 · .2 · .9 = .126; what they share is the same for both.
		const to = (kind: string, id: string, from?: string) =>
			result.assumptions.find((a) => a.kind === kind && a.id === id && a.from === from)?.overturns?.to;
		expect(to('weight', 'A')).toBeCloseTo(0.18 / 0.58, 12);
		expect(to('weight', 'B')).toBeCloseTo(0.15 / 0.78, 12);
		expect(to('link', 'sign', 'A')).toBeCloseTo(0.126 / 0.24, 12);
		expect(to('link', 'sign', 'B')).toBeCloseTo(0.12 / 0.14, 12);
		// The odds of either start, moved by one and the same factor.
		const [first, second] = result.assumptions;
		expect([first, second].map((a) => `${a?.kind} ${a?.id}`).sort()).toEqual(['weight A', 'weight B']);
		for (const least of [first, second])
			expect(least?.overturns?.decibans).toBeCloseTo(10 * Math.log10(0.126 / 0.12), 10);
		expect(result.survives.leader).toBe(false);
		expect(result.settled).toEqual([]);
		const [sign] = result.evidence;
		expect(sign).toMatchObject({ id: 'sign', kind: 'finding', leader: 'A', unsettled: [] });
		expect(sign?.leaderAt).toBeCloseTo(0.3 / 0.44, 12);
	});
	it('among the causes that are asked about only', () => {
		const result = robustness(byHand, { among: ['A'] });
		expect(result).toMatchObject({ ok: true, leader: 'A', survives: { leader: true } });
		if (result.ok) expect(result.assumptions.every(({ overturns }) => overturns === null)).toBe(true);
		expect(robustness(byHand, { among: [] })).toMatchObject({ ok: false, problem: 'the tree has no cause' });
	});
	it('what is settled now and would not be', () => {
		const result = robustness({
			...byHand,
			findings: [
				{ id: 'sign', state: 'present', baseRate: 0.001, links: [{ from: 'A', p: 0.9 }] },
				{ id: 'none', state: 'absent', links: [{ from: 'B', p: 0.9 }] }
			]
		});
		if (!result.ok) throw new Error(result.problem);
		expect(result.settled).toEqual(['A', 'B']);
		expect(result.survives.leader).toBe(true);
		expect(result.survives.settled).toEqual(['A']);
		const swept = result.assumptions.find(({ kind, id }) => kind === 'weight' && id === 'B');
		expect(swept?.higher?.unsettled).toEqual(['B']);
		expect(result.evidence.find(({ id }) => id === 'none')?.unsettled).toEqual(['B']);
	});
	it('similar parts have one weight, which is searched', () => {
		const model: TreeModel = {
			events: [
				{ id: 'P', p: 0.02 },
				{ id: 'Q', p: 0.02 },
				{ id: 'R', p: 0.01 }
			],
			commonCause: [{ id: 'pair', members: ['P', 'Q'], model: 'beta', factors: [0.2] }],
			gates: [
				{ id: 'BOTH', type: 'and', inputs: ['P', 'Q'] },
				{ id: 'TOP', type: 'or', inputs: ['BOTH', 'R'] }
			]
		};
		const result = robustness(model);
		if (!result.ok) throw new Error(result.problem);
		expect(result.leader).toBe('R');
		const swept = result.assumptions.find(({ id }) => id === 'P');
		const to = swept?.overturns?.to ?? NaN;
		const at = weigh({ ...model, events: model.events.map((e) => (e.id === 'R' ? e : { ...e, p: to })) });
		expect(at.events['P']?.givenAll).toBeCloseTo(at.events['R']?.givenAll ?? NaN, 8);
		expect(swept?.higher?.leader).toBe('P');
		expect(
			result.assumptions
				.filter(({ kind }) => kind === 'weight')
				.map(({ id }) => id)
				.toSorted()
		).toEqual(['P', 'R']);
	});
});

describe('No cause preferred at the start', () => {
	it('every cause gets the geometric mean of the odds; conditions, switches and certainties stay', () => {
		const flat = withFlatWeights({
			events: [
				{ id: 'A', p: 0.2 },
				{ id: 'B', p: 0.8 },
				{ id: 'C', p: 0.3, kind: 'conditioning' },
				{ id: 'H', kind: 'house', state: true },
				{ id: 'Z', p: 0 }
			]
		});
		const [a, b, ...others] = flat.events.map(({ p }) => p);
		expect(a).toBeCloseTo(0.5, 12);
		expect(b).toBe(a);
		expect(others).toEqual([0.3, undefined, 0]);
	});
	it('exclusive events share what they had', () => {
		const model: TreeModel = {
			events: [
				{ id: 'A', p: 0.6 },
				{ id: 'B', p: 0.4 },
				{ id: 'C', p: 0.1 }
			],
			gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B', 'C'] }],
			exclusive: [['A', 'B']]
		};
		const { events } = withFlatWeights(model);
		expect(events[0]?.p).toBeCloseTo(0.5, 12);
		expect(events[1]?.p).toBeCloseTo(0.5, 12);
		expect(weigh(withFlatWeights(model)).contradiction).toBeNull();
	});
});
