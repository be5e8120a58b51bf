import { describe, expect, it } from 'vitest';
import {
	decibans,
	defaultResidualLink,
	information,
	mostProbableExplanations,
	parseTree,
	weigh,
	type TreeModel
} from '$lib/reasoning';

/**
 * Bayesian networks and evidence whose numbers are published or were computed by visiting all states in exact rational
 * arithmetic, apart from this project. "seen": read in a public text; "from memory": as remembered from it.
 */
const read = (typed: object): TreeModel => {
	const parsed = parseTree(typed);
	if (!parsed.ok) throw new Error(parsed.problems.join('; '));
	return parsed.model;
};
const relative = (ours: number | null | undefined, printed: number, tolerance = 1e-10) =>
	expect(Math.abs((ours ?? NaN) / printed - 1), `${ours} instead of ${printed}`).toBeLessThan(tolerance);
/** Probability of a node given a state of others, whatever the file itself gives. */
const p = (model: TreeModel, id: string, given: Record<string, boolean> = {}): number => {
	const { events, gates } = weigh({ ...model, given });
	const value = (events[id] ?? gates[id])?.givenAll;
	if (value === undefined || value === null) throw new Error(`no probability of ${id}`);
	return value;
};
const joint = (model: TreeModel, given: Record<string, boolean>) =>
	Math.exp(weigh({ ...model, given }).logGiven ?? NaN);

describe('Sprinkler network (Pearl 1988; Russell & Norvig chapter 14; entries from memory; exact fractions computed)', () => {
	const sprinkler = read({
		top: 'W',
		events: [{ id: 'C', p: 0.5 }],
		gates: [
			{ id: 'S', type: 'table', inputs: ['C'], table: { T: 0.1, F: 0.5 } },
			{ id: 'R', type: 'table', inputs: ['C'], table: { T: 0.8, F: 0.2 } },
			{ id: 'W', type: 'table', inputs: ['S', 'R'], table: { TT: 0.99, TF: 0.9, FT: 0.9, FF: 0 } }
		]
	});
	it.each<[string, Record<string, boolean>, number]>([
		['W', {}, 6471 / 10000],
		['S', { W: true }, 309 / 719],
		['R', { W: true }, 509 / 719],
		['S', { W: true, R: true }, 99 / 509],
		['R', { W: true, S: true }, 33 / 103],
		['C', { W: true }, 414 / 719],
		['C', { W: true, S: true }, 18 / 103],
		['R', { W: false }, 419 / 3529]
	])('P(%s | %o) = %f', (id, given, value) => relative(p(sprinkler, id, given), value));
	it('both at once, and the top given by default', () => {
		relative(joint(sprinkler, { S: true, R: true, W: true }) / joint(sprinkler, { W: true }), 99 / 719);
		relative(weigh(sprinkler).gates['S']?.givenTop, 309 / 719);
	});
	it('with three nodes (encyclopaedia example, from memory)', () => {
		const grass = read({
			top: 'G',
			events: [{ id: 'R', p: 0.2 }],
			gates: [
				{ id: 'S', type: 'table', inputs: ['R'], table: { T: 0.01, F: 0.4 } },
				{ id: 'G', type: 'table', inputs: ['S', 'R'], table: { TT: 0.99, TF: 0.9, FT: 0.8, FF: 0 } }
			]
		});
		relative(p(grass, 'G'), 0.44838);
		relative(p(grass, 'R', { G: true }), 891 / 2491);
		relative(p(grass, 'S', { G: true }), 0.646728221597752);
		relative(p(grass, 'R', { G: true, S: true }), 0.00682805710738672);
	});
});

describe('Burglary alarm (Russell & Norvig chapter 14; entries seen in a public course page; values hand-worked)', () => {
	const events = [
		{ id: 'B', p: 0.001 },
		{ id: 'E', p: 0.002 }
	];
	const A = {
		id: 'A',
		type: 'table',
		inputs: ['B', 'E'],
		table: { TT: 0.95, TF: 0.94, FT: 0.29, FF: 0.001 }
	};
	const calls = [
		{ id: 'J', type: 'table', inputs: ['A'], table: { T: 0.9, F: 0.05 } },
		{ id: 'M', type: 'table', inputs: ['A'], table: { T: 0.7, F: 0.01 } }
	];
	const alarm = read({ events, gates: [A, ...calls], given: {} });
	it.each<[string, Record<string, boolean>, number]>([
		['A', {}, 0.002516442],
		['J', {}, 0.0521389757],
		['M', {}, 0.01173634498],
		['B', { J: true }, 0.0162837299467699],
		['B', { M: true }, 0.0561174540389149],
		['B', { J: true, M: true }, 0.284171835364393],
		['E', { J: true, M: true }, 0.176066838405079],
		['A', { J: true, M: true }, 0.760692038863108],
		['B', { A: true }, 0.373551228281836],
		['E', { A: true }, 0.231008701968891],
		['B', { A: true, E: true }, 0.00326842358769697],
		['B', { J: true, M: false }, 0.0051298581334013],
		['B', { J: false, M: false }, 9.01843937548435e-5],
		['M', { J: true }, 0.0399720211419497],
		['J', { B: true }, 0.849017],
		['M', { B: true }, 0.6586138]
	])('P(%s | %o) = %f', (id, given, value) => relative(p(alarm, id, given), value, 1e-12 * 100));
	it('joint probabilities', () => {
		relative(joint(alarm, { J: true, M: true }), 0.002084100239);
		relative(joint(alarm, { J: true, M: true, A: true, B: false, E: false }), 0.00062811126);
		relative(
			joint(alarm, { B: true, E: true, J: true, M: true }) / joint(alarm, { J: true, M: true }),
			0.000574372565004058
		);
	});
	it('the same with the calls as findings, and the trap of multiplying their ratios', () => {
		const call = (id: string, state: string, ifAlarm: number, ifNot: number) => ({
			id,
			state,
			links: [
				{ from: 'A', p: ifAlarm },
				{ from: '!A', p: ifNot }
			]
		});
		const heard = (j: string, m: string) =>
			weigh(
				read({ events, gates: [A], given: {}, findings: [call('J', j, 0.9, 0.05), call('M', m, 0.7, 0.01)] })
			);
		const both = heard('present', 'present');
		relative(both.events['B']?.givenAll, 0.284171835364393);
		relative(Math.exp(both.logEvidence ?? NaN), 0.002084100239);
		relative(heard('present', 'absent').events['B']?.givenAll, 0.0051298581334013);
		relative(heard('absent', 'absent').events['B']?.givenAll, 9.01843937548435e-5);
		const ratio = (q: number | null | undefined) => 10 ** (decibans(q ?? NaN, 0.001) / 10);
		const j = ratio(heard('present', 'notExamined').events['B']?.givenAll);
		const m = ratio(heard('notExamined', 'present').events['B']?.givenAll);
		relative(j, 16.5367257938541);
		relative(m, 59.3943990433608);
		relative(ratio(both.events['B']?.givenAll), 396.586328331384);
		const product = (0.001 / 0.999) * j * m;
		relative(product / (1 + product), 0.495757317889184);
	});
});

describe('Noisy-OR (Pearl 1988 p. 184; fever table seen in public lecture slides; values hand-worked)', () => {
	const causes = { cold: [0.1, 0.6], flu: [0.05, 0.2], malaria: [0.001, 0.1] } as const;
	const fever = (state: string, baseRate = 0, given: Record<string, boolean> = {}) =>
		weigh(
			read({
				events: Object.entries(causes).map(([id, [prior]]) => ({ id, p: prior })),
				findings: [
					{
						id: 'fever',
						state,
						baseRate,
						links: Object.entries(causes).map(([from, [, inhibition]]) => ({ from, p: 1 - inhibition }))
					}
				],
				given
			})
		);
	it.each([
		['cold', 0.4],
		['flu', 0.8],
		['malaria', 0.9],
		['cold flu', 0.88],
		['cold malaria', 0.94],
		['flu malaria', 0.98],
		['cold flu malaria', 0.988]
	])('P(fever | %s alone)', (which, value) => {
		const given = Object.fromEntries(Object.keys(causes).map((id) => [id, which.split(' ').includes(id)]));
		relative(Math.exp(fever('present', 0, given).logEvidence ?? NaN), value);
	});
	it('with none of its causes there is no fever', () => {
		const none = { cold: false, flu: false, malaria: false };
		expect(fever('present', 0, none).contradiction?.clash).toEqual(['fever']);
	});
	it.each([
		[0, 0.07922944, 0.535808911434941, 0.510020517625771, 0.0114583669908559, 0.108900967713835],
		[0.01, 0.0884371456, 0.486529967787653, 0.458003854886967, 0.0102757907193242, 0.108791091577417]
	])('leak %f: P(fever) and its causes', (leak, evidence, cold, flu, malaria, coldIfFlu) => {
		const { events, logEvidence } = fever('present', leak);
		relative(Math.exp(logEvidence ?? NaN), evidence);
		relative(events['cold']?.givenAll, cold);
		relative(events['flu']?.givenAll, flu);
		relative(events['malaria']?.givenAll, malaria);
		relative(fever('present', leak, { flu: true }).events['cold']?.givenAll, coldIfFlu);
	});
	it('absence speaks too: P(cold | no fever)', () => {
		relative(fever('absent').events['cold']?.givenAll, 0.0625);
	});
});

/** One cause H with findings that are there with probability `hit` under it and `miss` without it. */
const oneCause = (prior: number, findings: object[], origins: object[] = []) =>
	weigh(read({ events: [{ id: 'H', p: prior }], findings, origins }));
const sign = (id: string, hit: number, miss: number, more: object = {}) => ({
	id,
	state: 'present',
	links: [
		{ from: 'H', p: hit },
		{ from: '!H', p: miss }
	],
	...more
});
const ratioOf = (prior: number, weighing: ReturnType<typeof weigh>) =>
	10 ** (decibans(weighing.events['H']?.givenAll ?? NaN, prior) / 10);

describe('Base rates, unreliable sources and shortcuts (values hand-worked)', () => {
	it('mammography (Eddy 1982, from memory): 7.8 %', () => {
		relative(oneCause(0.01, [sign('film', 0.8, 0.096)]).events['H']?.givenAll, 0.077639751552795);
	});
	it('cabs (Tversky & Kahneman 1982, from memory): 41 %', () => {
		relative(oneCause(0.15, [sign('witness', 0.8, 0.2)]).events['H']?.givenAll, 0.413793103448276);
	});
	it.each([
		[0.7, 0.9, 0.1, 3.54545454545455],
		[0.7, 1, 0, 5.66666666666667],
		[0.9, 0.9, 0.1, 6.14285714285714]
	])('a source that is genuine with %f: P1 %f, P2 %f', (reliability, hit, miss, ratio) => {
		const weighing = oneCause(
			0.3,
			[sign('report', hit, miss, { origin: 'witness' })],
			[{ id: 'witness', reliability, saysAnyway: 0.5 }]
		);
		relative(ratioOf(0.3, weighing), ratio);
	});
	it('soft evidence (Pearl): prior .3 with ratio 4', () => {
		relative(oneCause(0.3, [sign('soft', 0.8, 0.2)]).events['H']?.givenAll, 0.631578947368421);
	});
	it('one item entered twice: .9 instead of .6, unless they are declared the same', () => {
		const first = sign('first', 0.6, 0.1);
		relative(oneCause(0.2, [first]).events['H']?.givenAll, 0.6);
		relative(oneCause(0.2, [first, sign('again', 0.6, 0.1)]).events['H']?.givenAll, 0.9);
		const same = oneCause(0.2, [first, { id: 'again', state: 'present', sameAs: 'first' }]);
		relative(same.events['H']?.givenAll, 0.6);
	});
	it('readings that share a fault', () => {
		const readings = (n: number) =>
			oneCause(
				0.2,
				Array.from({ length: n }, (_, i) => sign(`r${i}`, 0.9, 0.1, { origin: 'sensor' })),
				[{ id: 'sensor', reliability: 0.9, saysAnyway: 1 }]
			);
		const single = ratioOf(0.2, readings(1));
		relative(single, 4.78947368421053);
		// What multiplying the single ratio would claim.
		relative(single ** 2, 22.9390581717452);
		relative((0.25 * single ** 2) / (1 + 0.25 * single ** 2), 0.851516709511568);
		relative(single ** 3, 109.866015454148);
		relative(single ** 5, 2520.22291960055);
		relative(single ** 10, 6351523.56447992);
		relative(ratioOf(0.2, readings(2)), 7.60550458715596);
		relative(readings(2).events['H']?.givenAll, 0.655335968379447);
		relative(ratioOf(0.2, readings(2)) / ratioOf(0.2, readings(1)), 1.58796249621938);
		relative(ratioOf(0.2, readings(3)), 7.49355797819623);
		relative(ratioOf(0.2, readings(5)), 6.31384175424212);
		relative(ratioOf(0.2, readings(10)), 4.1381059571757);
	});
	it('a prior is not ignored: ratio 100 on .001', () => {
		relative(oneCause(0.001, [sign('s', 1, 0.01)]).events['H']?.givenAll, 0.0909918107370337);
	});
	it('items that fit everything weigh nothing, to the last digit', () => {
		const five = Array.from({ length: 5 }, (_, i) => ({ id: `s${i}`, state: 'present', baseRate: 0.9 }));
		expect(oneCause(0.3, five).events['H']?.givenAll).toBe(0.3);
	});
	const exclusive = (priors: Record<string, number>, densities: number[]) => {
		const ids = Object.keys(priors);
		const model = read({
			events: ids.map((id) => ({ id, p: priors[id] })),
			gates: [{ id: 'TOP', type: 'or', inputs: ids }],
			exclusive: [ids],
			likelihoods: [
				{
					id: 'observed',
					scenarios: [
						...ids.map((event, i) => ({ event, density: densities[i] })),
						{ otherwise: true, density: 0 }
					]
				}
			]
		});
		return weigh(model).events;
	};
	it('a ratio against one rival is not one against all', () => {
		const events = exclusive({ H1: 0.2, H2: 0.6, H3: 0.2 }, [0.8, 0.4, 0.05]);
		relative(events['H1']?.givenAll, 0.390243902439024);
		relative(events['H2']?.givenAll, 0.585365853658537);
		relative(events['H3']?.givenAll, 0.024390243902439);
		relative(10 ** (decibans(events['H1']?.givenAll ?? NaN, 0.2) / 10), 2.56);
	});
	it('elimination with and without the cause that nobody has thought of', () => {
		const events = exclusive({ H1: 0.57, H2: 0.38, other: 0.05 }, [0.01, 0.002, 0.2]);
		relative(events['H1']?.givenAll, 0.34629404617254);
		relative(events['H2']?.givenAll, 0.0461725394896719);
		relative(events['other']?.givenAll, 0.607533414337789);
		relative(exclusive({ H1: 0.6, H2: 0.4 }, [0.01, 0.002])['H1']?.givenAll, 0.882352941176471);
	});
	it('a measured distance under two hypotheses (densities as Gaussians)', () => {
		const events = exclusive({ H1: 0.5, H2: 0.5 }, [0.041348107426080506, 0.005259764673373046]);
		relative(10 ** (decibans(events['H1']?.givenAll ?? NaN, 0.5) / 10), 7.861208626956364);
	});
});

describe('Expected information of a test (Shannon; Lindley 1956; hand-worked)', () => {
	const priors = { H1: 0.4, H2: 0.3, H3: 0.2, H4: 0.1 };
	const tests: [string, number[], number, number][] = [
		['T1', [0.9, 0.5, 0.2, 0.1], 0.56, 0.31070410544994],
		['T2', [0.9, 0.9, 0.1, 0.1], 0.66, 0.45582311138375],
		['T3', [0.95, 0.05, 0.05, 0.05], 0.41, 0.69010351164187],
		['T4', [0.99, 0.99, 0.99, 0.2], 0.911, 0.28821647840735],
		['T6', [1, 1, 0, 0], 0.7, 0.88129089923069],
		['T7', [1, 0, 0, 0], 0.4, 0.97095059445467]
	];
	const finding = (id: string, hits: number[], more: object = {}) => ({
		id,
		links: Object.keys(priors).map((from, i) => ({ from, p: hits[i] })),
		...more
	});
	const told = (findings: object[], more: object = {}) => {
		const result = information(
			read({
				events: Object.entries(priors).map(([id, q]) => ({ id, p: q })),
				gates: [{ id: 'TOP', type: 'or', inputs: Object.keys(priors) }],
				exclusive: [Object.keys(priors)],
				findings,
				...more
			})
		);
		if (!result.ok) throw new Error(result.problem);
		return result;
	};
	it.each(tests)('%s', (id, hits, present, bits) => {
		const { entropy, observations } = told([finding(id, hits)]);
		relative(entropy, 1.846439344671015);
		relative(observations[0]?.probabilityPresent, present);
		relative(observations[0]?.bits, bits);
	});
	it('T5, equal under all, tells nothing; gains lie between 0 and the entropy', () => {
		const { observations, entropy } = told([
			finding('T5', [0.6, 0.6, 0.6, 0.6]),
			...tests.map(([id, hits]) => finding(id, hits))
		]);
		for (const { bits } of observations) {
			expect(bits).toBeGreaterThanOrEqual(0);
			expect(bits).toBeLessThanOrEqual(entropy);
		}
		expect(observations.at(-1)?.id).toBe('T5');
		expect(observations.at(-1)?.bits).toBeLessThan(1e-14);
	});
	it.each([
		['T1', 'T2', 0.64806265368034],
		['T1', 'T3', 0.80475181061329],
		['T2', 'T3', 1.0385203906584],
		['T2', 'T2', 0.64956714681896]
	])('two tests tell less than their sum: %s + %s (the same again: repeated independently)', (a, b, bits) => {
		const hits = (which: string) => tests.find(([id]) => id === which)?.[1] ?? [];
		// I(a, b) = I(a) + the expected information of b once a is known.
		const first = told([finding('a', hits(a))]).observations[0];
		const alone = told([finding('b', hits(b))]).observations[0];
		const after = (state: string) =>
			told([finding('a', hits(a), { state }), finding('b', hits(b))]).observations[0]?.bits ?? NaN;
		const present = first?.probabilityPresent ?? NaN;
		const together = (first?.bits ?? NaN) + present * after('present') + (1 - present) * after('absent');
		relative(together, bits);
		expect(together).toBeLessThan((first?.bits ?? NaN) + (alone?.bits ?? NaN));
	});
	it('repeated with the same error throughout, a test adds nothing', () => {
		const [, hits = []] = tests.find(([id]) => id === 'T2') ?? [];
		const again = told([
			finding('T2', hits, { state: 'present' }),
			{ id: 'again', sameAs: 'T2' }
		]).observations.find(({ id }) => id === 'again');
		expect(again?.bits ?? 0).toBe(0);
	});
	it.each([
		[0.5, 0.9, 0.2, 0.397312609749486, 0.818181818182, 0.111111111111],
		[0.2, 0.9, 0.2, 0.253477110345284, 0.529411764706, 0.030303030303]
	])('two hypotheses, prior %f, hit %f, false alarm %f', (prior, hit, miss, bits, ifPresent, ifAbsent) => {
		const result = information(
			read({
				events: [{ id: 'H', p: prior }],
				gates: [{ id: 'TOP', type: 'or', inputs: ['H'] }],
				findings: [{ ...sign('test', hit, miss), state: 'notExamined' }],
				given: {}
			})
		);
		if (!result.ok) throw new Error(result.problem);
		relative(result.observations[0]?.bits, bits);
		relative(result.observations[0]?.ifPresent?.['H'], ifPresent, 6e-12);
		relative(result.observations[0]?.ifAbsent?.['H'], ifAbsent, 6e-12);
		if (prior === 0.2) relative(result.entropy, 0.721928094887362);
	});
});

describe('Most probable explanation, links summed out (hand-worked)', () => {
	it('A .3 linked .5, B .2 linked .9, sign present: B alone', () => {
		const result = mostProbableExplanations(
			read({
				events: [
					{ id: 'A', p: 0.3 },
					{ id: 'B', p: 0.2 }
				],
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
			})
		);
		if (!result.ok) throw new Error(result.problem);
		// A alone .3·.8·.5 = .12; B alone .7·.2·.9 = .126; both .3·.2·.95 = .057; the sign .303.
		expect(result.list.map(({ happened }) => happened.join())).toEqual(['B', 'A', 'A,B']);
		relative(result.list[0]?.probability, 0.126 / 0.303);
		relative(result.list[1]?.probability, 0.12 / 0.303);
		relative(result.list[2]?.probability, 0.057 / 0.303);
		expect(result.proven).toBe(true);
	});
});

describe('The branch that nobody has thought of (hand-worked)', () => {
	it('its default link leaves it where it was when the sign turns up, and when it does not', () => {
		const finding = { id: 'sign', baseRate: 0.05, links: [{ from: 'A', p: 0.5 }] };
		const model = read({
			events: [
				{ id: 'A', p: 0.1 },
				{ id: 'B', p: 0.2 },
				{ id: 'other', p: 0.02 }
			],
			gates: [{ id: 'TOP', type: 'or', inputs: ['A', 'B', 'other'] }]
		});
		const link = defaultResidualLink(model, finding, 'other');
		// Given A or B: P(A) = .1/.28; P(sign) = 1 - .95 (1 - .5·.1/.28); the link is that less the base rate.
		relative(link.p, (0.5 * 0.1) / 0.28);
		const alone = (state: 'present' | 'absent') =>
			weigh({
				...model,
				exclusive: [['A', 'B', 'other']],
				findings: [{ ...finding, state, links: [...finding.links, link] }]
			});
		// Under exclusive causes 'beside the others' has one meaning, so nothing may move but by A against B.
		const exclusive = { ...model, exclusive: [['A', 'B', 'other']] };
		const exact = defaultResidualLink(exclusive, finding, 'other');
		for (const state of ['present', 'absent'] as const) {
			const moved = weigh({
				...exclusive,
				findings: [{ ...finding, state, links: [...finding.links, exact] }]
			});
			relative(moved.events['other']?.givenAll, 0.02 / 0.32);
			expect(alone(state).events['other']?.givenAll).toBeCloseTo(0.02 / 0.32, 2);
		}
	});
});
