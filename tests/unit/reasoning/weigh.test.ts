import { describe, expect, it } from 'vitest';
import {
	contributionsTo,
	decibans,
	importance,
	information,
	jointProbability,
	togetherGivenAll,
	minimalCutSets,
	mostProbableExplanations,
	parseTree,
	weigh,
	type TreeModel
} from '$lib/reasoning';
import { bruteForce } from './oracle';

const read = (typed: object): TreeModel => {
	const parsed = parseTree(typed);
	if (!parsed.ok) throw new Error(parsed.problems.join('; '));
	return parsed.model;
};
/** Four causes, a shared one among them, two branches, five findings of all sorts. */
const story = {
	top: 'TOP',
	events: [
		{ id: 'BAT', p: 0.02 },
		{ id: 'IGN', p: 0.05 },
		{ id: 'CORD', p: 0.03 },
		{ id: 'KNOT', p: 0.08 }
	],
	gates: [
		{ id: 'TOP', type: 'or', inputs: ['SILENT', 'PARTED'] },
		{ id: 'SILENT', type: 'or', inputs: ['BAT', 'IGN'] },
		{ id: 'PARTED', type: 'and', inputs: ['CORD', 'KNOT'] }
	],
	origins: [{ id: 'witness', reliability: 0.8, saysAnyway: 0.4 }],
	findings: [
		{
			id: 'no smoke',
			state: 'present',
			baseRate: 0.1,
			links: [{ from: 'SILENT', p: 0.9 }],
			origin: 'witness'
		},
		{ id: 'torn', state: 'absent', baseRate: 0.02, links: [{ from: 'CORD', p: 0.7 }] },
		{ id: 'low volts', state: 'present', baseRate: 0.05, links: [{ from: 'BAT', p: 0.8 }] },
		{
			id: 'burnt',
			state: 'notExamined',
			baseRate: 0.01,
			links: [
				{ from: 'IGN', p: 0.3 },
				{ from: '!BAT', p: 0.2 }
			]
		}
	],
	likelihoods: [
		{
			id: 'fall time',
			scenarios: [
				{ event: 'SILENT', density: 0.3, standardError: 0.05 },
				{ otherwise: true, density: 0.1, standardError: 0.02 }
			]
		}
	]
};
const model = read(story);
const posterior = (m: TreeModel) => {
	const { events, gates } = weigh(m);
	return Object.fromEntries(
		Object.entries({ ...events, ...gates }).map(([id, { givenAll }]) => [id, givenAll])
	);
};
const reversed = <T>(list: T[]) => [...list].reverse();
const expectSame = (a: Record<string, number | null>, b: Record<string, number | null>, digits = 13) => {
	for (const [id, p] of Object.entries(a)) expect(b[id]).toBeCloseTo(p ?? NaN, digits);
};

describe('What may never change an answer', () => {
	it('the order of the evidence, of the events and of the inputs', () => {
		const other = read({
			...story,
			events: reversed(story.events),
			findings: reversed(story.findings),
			gates: reversed(story.gates).map((gate) => ({ ...gate, inputs: reversed(gate.inputs) }))
		});
		expectSame(posterior(model), posterior(other));
	});
	it('the names of the events', () => {
		const other = JSON.parse(
			JSON.stringify(story).replaceAll('"BAT"', '"z9"').replaceAll('"!BAT"', '"!z9"')
		) as object;
		const { z9, ...rest } = posterior(read(other));
		expectSame(posterior(model), { ...rest, BAT: z9 ?? null });
	});
	it('the way in which a gate is split in two', () => {
		const flat = read({
			...story,
			gates: [
				{ id: 'TOP', type: 'or', inputs: ['BAT', 'IGN', 'PARTED'] },
				story.gates[2],
				{ id: 'SILENT', type: 'or', inputs: ['BAT', 'IGN'] }
			]
		});
		expectSame(posterior(model), posterior(flat));
	});
	it('an item that is as probable either way', () => {
		const idle = { id: 'idle', state: 'present', baseRate: 0.37 };
		expectSame(posterior(model), posterior(read({ ...story, findings: [...story.findings, idle] })), 15);
	});
	it('an item declared the same as one that is there', () => {
		const again = { id: 'again', state: 'present', sameAs: 'low volts' };
		expectSame(posterior(model), posterior(read({ ...story, findings: [...story.findings, again] })), 15);
	});
	it('an origin that is wholly reliable', () => {
		const origins = [{ id: 'witness', reliability: 1, saysAnyway: 0.4 }];
		const { origin: _, ...plain } = story.findings[0] as (typeof story.findings)[0] & { origin: string };
		expectSame(
			posterior(read({ ...story, origins })),
			posterior(read({ ...story, findings: [plain, ...story.findings.slice(1)] })),
			15
		);
	});
	it('running it again, or with the diagrams of the last run', () => {
		const { compiled, ...first } = weigh(model);
		const { compiled: _, ...second } = weigh(model);
		expect(second).toEqual(first);
		const moved = read({ ...story, events: story.events.map((e) => ({ ...e, p: e.p * 2 })) });
		const { compiled: reused, ...third } = weigh(moved, { reuse: compiled });
		expect(reused).toBe(compiled);
		const { compiled: __, ...fresh } = weigh(moved);
		expect(third).toEqual(fresh);
		const other = weigh(read({ ...story, top: 'PARTED' }), { reuse: compiled });
		expect(other.compiled).not.toBe(compiled);
	});
});

describe('Relations between the numbers', () => {
	it('top first, then evidence, or evidence first, then top', () => {
		const first = weigh(model);
		const noTop = weigh({ ...model, given: {} });
		const truth = bruteForce(model, 'TOP');
		const topGivenEvidence = noTop.gates['TOP']?.givenAll ?? NaN;
		const joint = (noTop.logEvidence ?? NaN) + (noTop.logDensity ?? NaN) + Math.log(topGivenEvidence);
		expect(joint).toBeCloseTo(
			(first.logGiven ?? NaN) + (first.logEvidence ?? NaN) + (first.logDensity ?? NaN),
			12
		);
		expect(first.events['BAT']?.givenAll).toBeCloseTo(truth.givenAll['BAT'] ?? NaN, 12);
	});
	it('a cut set given the top is its probability over that of the top', () => {
		const sets = minimalCutSets(model);
		if (!sets.ok) throw new Error(sets.problem);
		const { probabilityOfTop } = weigh(model);
		for (const { probability, givenTop } of sets.list)
			expect(givenTop).toBeCloseTo(probability / (probabilityOfTop ?? NaN), 14);
		expect(sets.list.map(({ events }) => events.join())).toEqual(['IGN', 'BAT', 'CORD,KNOT']);
	});
	it('a contribution is what the posterior loses without it', () => {
		const weighing = weigh(model);
		const told = contributionsTo(weighing, 'BAT');
		expect(told.map(({ id }) => id)).toEqual(['no smoke', 'torn', 'low volts', 'fall time']);
		const without = weigh(read({ ...story, findings: story.findings.filter(({ id }) => id !== 'low volts') }))
			.events['BAT']?.givenAll;
		const volts = told[2];
		expect(volts?.withoutIt).toBeCloseTo(without ?? NaN, 13);
		expect(volts?.decibans).toBeCloseTo(
			decibans(weighing.events['BAT']?.givenAll ?? NaN, without ?? NaN),
			10
		);
		expect(volts?.decibans).toBeGreaterThan(3);
		expect(contributionsTo(weighing, 'nothing')).toEqual([]);
	});
	it('a house switch changes exact value, cut sets, bounds and posterior together', () => {
		const switched = (state: boolean) =>
			read({
				...story,
				events: [{ id: 'BAT', kind: 'house', state }, ...story.events.slice(1)],
				findings: [],
				likelihoods: []
			});
		const count = (m: TreeModel) => {
			const sets = minimalCutSets(m);
			return sets.ok ? sets.count : NaN;
		};
		const off = 1 - 0.95 * (1 - 0.03 * 0.08);
		expect(weigh(switched(false)).probabilityOfTop).toBeCloseTo(off, 14);
		expect(weigh(switched(false)).gates['SILENT']?.givenAll).toBeCloseTo(0.05 / off, 12);
		expect(count(switched(false))).toBe(2);
		const measured = importance(switched(false));
		expect(measured.ok && measured.rareEventSum).toBeCloseTo(0.05 + 0.0024, 14);
		expect(measured.ok && measured.minCutUpperBound).toBeCloseTo(off, 14);
		expect(weigh(switched(true)).probabilityOfTop).toBeCloseTo(1, 14);
		expect(weigh(switched(true)).gates['SILENT']?.givenAll).toBeCloseTo(1, 14);
		expect(count(switched(true))).toBe(1);
		expect(importance(switched(true))).toMatchObject({ ok: true, rareEventSum: 1, minCutUpperBound: 1 });
	});
	it('exclusive events keep their weights and change everything else together', () => {
		const plain = read({
			events: [
				{ id: 'A', p: 0.3 },
				{ id: 'B', p: 0.2 }
			],
			gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B'] }]
		});
		const apart = { ...plain, exclusive: [['A', 'B']] };
		expect(weigh(plain).probabilityOfTop).toBeCloseTo(0.44, 14);
		const weighing = weigh(apart);
		expect(weighing.probabilityOfTop).toBeCloseTo(0.5, 14);
		expect(weighing.events['A']).toMatchObject({ prior: 0.3 });
		expect(weighing.events['A']?.givenTop).toBeCloseTo(0.6, 14);
		const measures = importance(apart);
		if (!measures.ok) throw new Error(measures.problem);
		// As only one of the cut sets can be, their sum is exact and no pair is taken off.
		expect(measures.rareEventSum).toBeCloseTo(0.5, 14);
		expect(measures.twoTermLowerBound).toBeCloseTo(0.5, 14);
		expect(measures.minCutUpperBound).toBeNull();
		const together = importance(plain);
		expect(together.ok && together.minCutUpperBound).toBeCloseTo(0.44, 14);
		expect(measures.events['A']?.whenTrue).toBeCloseTo(1, 14);
		expect(measures.events['A']?.whenFalse).toBeCloseTo(0.2 / 0.7, 14);
		const both = { ...apart, gates: [{ id: 'TOP', type: 'and' as const, inputs: ['A', 'B'] }] };
		expect(minimalCutSets(both)).toMatchObject({ ok: true, count: 0 });
		expect(weigh(both).contradiction?.kind).toBe('given');
	});
	it('intervals carry the Monte Carlo error of a density', () => {
		const { events } = weigh(model);
		const [low, high] = events['BAT']?.interval ?? [NaN, NaN];
		const at = (density: number) =>
			weigh(
				read({
					...story,
					likelihoods: [
						{
							id: 'x',
							scenarios: [
								{ event: 'SILENT', density },
								{ otherwise: true, density: 0.1 }
							]
						}
					]
				})
			).events['BAT']?.givenAll ?? NaN;
		expect(low).toBeLessThan(at(0.25));
		expect(high).toBeGreaterThan(at(0.35));
		expect(low).toBeGreaterThan(at(0.1));
		expect(weigh(read({ ...story, likelihoods: [] })).events['BAT']).not.toHaveProperty('interval');
	});
});

describe('Contradiction is said, never NaN', () => {
	const clash = (findings: object[], more: object = {}) =>
		weigh(read({ ...story, likelihoods: [], findings, ...more })).contradiction;
	it('one impossible finding', () => {
		expect(clash([{ id: 'ghost', state: 'present' }])).toMatchObject({
			kind: 'evidence',
			clash: ['ghost'],
			fewest: true
		});
	});
	it('two findings that can not both be so, among others that can', () => {
		const findings = [
			...story.findings,
			{ id: 'fired', state: 'absent', links: [{ from: '!SILENT', p: 1 }] },
			{ id: 'sooted', state: 'present', links: [{ from: '!SILENT', p: 0.5 }] }
		];
		const found = clash(findings);
		expect(found).toMatchObject({ clash: ['fired', 'sooted'], fewest: true });
		expect(found?.message).toMatch(/a cause is missing from it, or one of these is wrong/);
	});
	it('three that clash only together', () => {
		const absent = (from: string) => ({ id: `no ${from}`, state: 'absent', links: [{ from, p: 1 }] });
		const found = clash([absent('BAT'), absent('IGN'), absent('CORD')]);
		expect(found?.clash.sort()).toEqual(['no BAT', 'no CORD', 'no IGN']);
	});
	it('one observation reported present and absent', () => {
		const found = clash([...story.findings, { id: 'volts fine', state: 'absent', sameAs: 'low volts' }]);
		expect(found).toMatchObject({ clash: ['low volts', 'volts fine'], fewest: true });
	});
	it('but two witnesses may differ', () => {
		expect(
			clash([
				{ id: 'a', state: 'present', baseRate: 0.5 },
				{ id: 'b', state: 'absent', sameAs: 'a', origin: 'witness' }
			])
		).toBeNull();
	});
	it('an impossible top, and what depends on it', () => {
		const dead = read({ ...story, events: story.events.map(({ id }) => ({ id, p: 0 })) });
		const weighing = weigh(dead);
		expect(weighing.contradiction?.kind).toBe('given');
		expect(weighing.events['BAT']).toEqual({ prior: 0, givenTop: null, givenAll: null });
		expect(weighing.logEvidence).toBeNull();
		expect(JSON.stringify({ ...weighing, compiled: undefined })).not.toMatch(/NaN/);
		expect(importance(dead)).toMatchObject({ ok: false });
		expect(mostProbableExplanations(dead)).toMatchObject({ ok: false });
		expect(information(dead)).toMatchObject({ ok: false });
	});
});

describe('Information', () => {
	it('an unmade observation from an origin that other findings share agrees with visiting both outcomes', () => {
		const findings = [
			...story.findings,
			{ id: 'no bang', baseRate: 0.2, links: [{ from: 'SILENT', p: 0.95 }], origin: 'witness' }
		];
		const result = information(read({ ...story, findings }));
		if (!result.ok) throw new Error(result.problem);
		const bang = result.observations.find(({ id }) => id === 'no bang');
		for (const state of ['present', 'absent'] as const) {
			const truth = bruteForce(
				read({ ...story, findings: findings.map((f) => (f.id === 'no bang' ? { ...f, state } : f)) }),
				'TOP'
			);
			const ours = state === 'present' ? bang?.ifPresent : bang?.ifAbsent;
			expect(ours?.['SILENT']).toBeCloseTo(truth.givenAll['SILENT'] ?? NaN, 11);
			expect(ours?.['PARTED']).toBeCloseTo(truth.givenAll['PARTED'] ?? NaN, 11);
			const before = bruteForce(model, 'TOP').pAll;
			const p = state === 'present' ? bang?.probabilityPresent : 1 - (bang?.probabilityPresent ?? NaN);
			expect(p).toBeCloseTo(truth.pAll / before, 11);
		}
		expect(result.observations.map(({ id }) => id).sort()).toEqual(['burnt', 'no bang']);
	});
	it('above ten branches it is about the leading one, and says so', () => {
		const ids = Array.from({ length: 12 }, (_, i) => `b${i}`);
		const result = information(
			read({
				events: ids.map((id, i) => ({ id, p: 0.01 * (i + 1) })),
				gates: [{ id: 'TOP', type: 'or', inputs: ids }],
				findings: [{ id: 'look', links: [{ from: 'b11', p: 0.9 }] }]
			})
		);
		if (!result.ok) throw new Error(result.problem);
		expect(result.about).toEqual(['b11']);
		expect(result.note).toMatch(/12 branches.*'b11', only/);
		expect(result.observations[0]?.bits).toBeGreaterThan(0.3);
	});
});

describe('Large trees', () => {
	it('a chain of 3,000 gates is weighed exactly', () => {
		const gates = Array.from({ length: 3000 }, (_, i) => ({
			id: `g${i}`,
			type: 'or',
			inputs: i < 2999 ? [`e${i}`, `g${i + 1}`] : [`e${i}`]
		}));
		const p = 1e-4;
		const long = read({ events: gates.map((_, i) => ({ id: `e${i}`, p })), gates });
		const weighing = weigh(long);
		expect(weighing.method).toBe('exact');
		expect(weighing.probabilityOfTop).toBeCloseTo(-Math.expm1(3000 * Math.log1p(-p)), 12);
		expect(weighing.gates['g1500']?.givenTop).toBeCloseTo(
			-Math.expm1(1500 * Math.log1p(-p)) / (weighing.probabilityOfTop ?? NaN),
			12
		);
		const sets = minimalCutSets(long, { list: 1 });
		expect(sets).toMatchObject({ ok: true, count: 3000 });
	});
	it.each([
		[1, 1, 80],
		[2, 1, 80],
		[5, 2, 80],
		[8, 2, 60],
		[10, 3, 40]
	])(
		'%i causes with signs of %i of them each, %i signs in all: exact, as by visiting the causes',
		(n, each, signs) => {
			const causes = Array.from({ length: n }, (_, i) => ({ id: `c${i}`, p: 0.05 + 0.01 * i }));
			const findings = Array.from({ length: signs }, (_, f) => ({
				id: `f${f}`,
				state: 'present',
				baseRate: 0.05 + 0.002 * f,
				links: Array.from({ length: each }, (_, i) => ({
					from: `c${(f * (i + 1) + i * i) % n}`,
					p: 0.3 + 0.01 * (f % 9)
				})).filter(({ from }, i, all) => all.findIndex((link) => link.from === from) === i)
			}));
			const inputs = causes.map(({ id }) => id);
			const weighing = weigh(read({ events: causes, gates: [{ id: 'T', type: 'or', inputs }], findings }));
			expect(weighing.method).toBe('exact');
			let all = 0;
			const withCause = new Float64Array(n);
			for (let state = 1; state < 2 ** n; state++) {
				const happened = (id: string) => (state >> Number(id.slice(1))) & 1;
				let p = causes.reduce((q, { id, p }) => q * (happened(id) ? p : 1 - p), 1);
				for (const { baseRate, links } of findings)
					p *= 1 - links.reduce((none, { from, p }) => none * (happened(from) ? 1 - p : 1), 1 - baseRate);
				all += p;
				for (let i = 0; i < n; i++) if ((state >> i) & 1) withCause[i] = (withCause[i] as number) + p;
			}
			causes.forEach(({ id }, i) =>
				expect(weighing.events[id]?.givenAll).toBeCloseTo((withCause[i] as number) / all, 11)
			);
		}
	);
});

describe('Several events at once', () => {
	it('agrees with visiting every state, before and after', () => {
		const both = jointProbability(model, { BAT: true, IGN: true });
		if (!both.ok) throw new Error(both.problem);
		// A gate over the two is one more event to the oracle.
		const truth = bruteForce(
			{ ...model, gates: [...(model.gates ?? []), { id: 'BOTH', type: 'and', inputs: ['BAT', 'IGN'] }] },
			'TOP'
		);
		expect(both.prior).toBeCloseTo(truth.prior['BOTH'] ?? NaN, 13);
		expect(both.givenTop).toBeCloseTo(truth.givenTop['BOTH'] ?? NaN, 13);
		expect(both.givenAll).toBeCloseTo(truth.givenAll['BOTH'] ?? NaN, 13);
	});
	it('of many lists at once, negated ones and impossible ones too', () => {
		const lists = [['BAT', 'IGN'], ['BAT', { not: 'IGN' }], ['BAT', '!BAT'], ['NOBODY'], []];
		const together = togetherGivenAll(model, lists);
		if (!together.ok) throw new Error(together.problem);
		const one = (states: Record<string, boolean>) => {
			const joint = jointProbability(model, states);
			return joint.ok ? joint.givenAll : NaN;
		};
		expect(together.list.slice(2)).toEqual([0, null, 1]);
		expect(together.list[0]).toBeCloseTo(one({ BAT: true, IGN: true }) ?? NaN, 14);
		expect(together.list[1]).toBeCloseTo(one({ BAT: true, IGN: false }) ?? NaN, 14);
	});
	it('refuses what is not there', () => {
		expect(jointProbability(model, { NOBODY: true })).toEqual({
			ok: false,
			problem: "'NOBODY' is neither an event nor a gate"
		});
	});
});

describe('Diagrams used again', () => {
	it('not when exclusive events stop adding up to one', () => {
		const hypotheses = (p: number) =>
			read({
				events: [
					{ id: 'A', p: 0.6 },
					{ id: 'B', p }
				],
				exclusive: [['A', 'B']],
				findings: [{ id: 'f', state: 'present', baseRate: 0.1, links: [{ from: 'A', p: 0.5 }] }]
			});
		const { compiled } = weigh(hypotheses(0.4));
		const { compiled: _, ...again } = weigh(hypotheses(0.2), { reuse: compiled });
		const { compiled: __, ...fresh } = weigh(hypotheses(0.2));
		expect(again).toEqual(fresh);
	});
});
