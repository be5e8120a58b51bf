import { describe, expect, it } from 'vitest';
import { importance, information, minimalCutSets, mostProbableExplanations, weigh } from '$lib/reasoning';
import { p, read, table } from './textbook-models';

/** More examples of the textbooks: tables and printed values from memory, each value also derived by hand beside it. */
type Query = [string, Record<string, boolean>, number, number];

describe('Networks, printed to so many digits', () => {
	// P(report | alarm) = .88 · .75 + .12 · .01 = .6612, without an alarm .01074; the four states of tampering and fire
	// then weigh .0000672 (both), .0111599, .0064160 and .0104830 with a report.
	const alarm = read({
		given: {},
		top: 'report',
		events: [
			{ id: 'tampering', p: 0.02 },
			{ id: 'fire', p: 0.01 }
		],
		gates: [
			table('alarm', ['tampering', 'fire'], { TT: 0.5, TF: 0.85, FT: 0.99, FF: 0.0001 }),
			table('smoke', ['fire'], { T: 0.9, F: 0.01 }),
			table('leaving', ['alarm'], { T: 0.88, F: 0.001 }),
			table('report', ['leaving'], { T: 0.75, F: 0.01 })
		]
	});
	it.each<Query>([
		['tampering', { report: true }, 0.399, 3],
		['fire', { report: true }, 0.2305, 4],
		['tampering', { smoke: true }, 0.02, 12],
		// .009 / (.009 + .0099)
		['fire', { smoke: true }, 0.4762, 4],
		['tampering', { report: true, smoke: true }, 0.0284, 4],
		['fire', { report: true, smoke: true }, 0.964, 3],
		['tampering', { report: true, smoke: false }, 0.501, 3],
		['fire', { report: true, smoke: false }, 0.0294, 4]
	])('fire alarm (Poole & Mackworth): P(%s | %o) = %f', (id, given, value, digits) =>
		expect(p(alarm, id, given)).toBeCloseTo(value, digits)
	);
	it('fire alarm: the most probable explanation of the report is tampering alone, .0111599 of .0281263', () => {
		const told = mostProbableExplanations({ ...alarm, given: { report: true } });
		if (!told.ok) throw new Error(told.problem);
		expect(told.list.map(({ happened }) => happened)).toEqual([['tampering'], [], ['fire']]);
		expect(told.list[0]?.probability).toBeCloseTo(0.0111599 / 0.0281263, 4);
	});
	// P(dog out | family out) = .01 · .99 + .99 · .9 = .9009, else .3067; no bark .368379 and .778377.
	const dog = read({
		given: {},
		events: [
			{ id: 'out', p: 0.15 },
			{ id: 'bowel', p: 0.01 }
		],
		gates: [
			table('light', ['out'], { T: 0.6, F: 0.05 }),
			table('dog', ['out', 'bowel'], { TT: 0.99, TF: 0.9, FT: 0.97, FF: 0.3 }),
			table('bark', ['dog'], { T: 0.7, F: 0.01 })
		]
	});
	it('family out (Charniak 1991): light on and no bark, .5', () => {
		expect(p(dog, 'out', { light: true, bark: false })).toBeCloseTo(0.5, 2);
		const [yes, no] = [0.15 * 0.6 * 0.368379, 0.85 * 0.05 * 0.778377];
		expect(p(dog, 'out', { light: true, bark: false })).toBeCloseTo(yes / (yes + no), 12);
	});
	const cancer = read({
		given: {},
		events: [
			{ id: 'pollution', p: 0.1 },
			{ id: 'smoker', p: 0.3 }
		],
		gates: [
			table('cancer', ['pollution', 'smoker'], { TT: 0.05, TF: 0.02, FT: 0.03, FF: 0.001 }),
			table('x-ray', ['cancer'], { T: 0.9, F: 0.2 }),
			table('dyspnoea', ['cancer'], { T: 0.65, F: 0.3 })
		]
	});
	it.each<Query>([
		// .0015 + .0014 + .0081 + .00063
		['cancer', {}, 0.01163, 12],
		// .2 + .7 · .01163 and .3 + .35 · .01163
		['x-ray', {}, 0.208, 3],
		['dyspnoea', {}, 0.304, 3],
		// .9 · .01163 / .208141
		['cancer', { 'x-ray': true }, 0.0503, 4],
		// The smoker's .0015 + .0081 of .01163
		['smoker', { cancer: true }, 0.825, 3]
	])('lung cancer (Korb & Nicholson): P(%s | %o) = %f', (id, given, value, digits) =>
		expect(p(cancer, id, given)).toBeCloseTo(value, digits)
	);
	const strike = read({
		given: {},
		events: [{ id: 'strike', p: 0.1 }],
		gates: [
			table('Norman late', ['strike'], { T: 0.8, F: 0.1 }),
			table('Martin late', ['strike'], { T: 0.6, F: 0.5 })
		]
	});
	it.each<Query>([
		['Norman late', {}, 0.17, 12],
		['Martin late', {}, 0.51, 12],
		// .08 / .17, then .6 of it and .5 of the rest
		['strike', { 'Norman late': true }, 0.47, 2],
		['Martin late', { 'Norman late': true }, 0.547, 3],
		['strike', { 'Norman late': true, 'Martin late': true }, 0.516, 3]
	])('train strike (Fenton & Neil): P(%s | %o) = %f', (id, given, value, digits) =>
		expect(p(strike, id, given)).toBeCloseTo(value, digits)
	);
	it('the dentist (Russell & Norvig): a cavity .6 with toothache, .871 once the probe catches (.108 of .124)', () => {
		const dentist = read({
			given: {},
			events: [{ id: 'cavity', p: 0.2 }],
			gates: [
				table('toothache', ['cavity'], { T: 0.6, F: 0.1 }),
				table('catch', ['cavity'], { T: 0.9, F: 0.2 })
			]
		});
		expect(p(dentist, 'cavity', { toothache: true })).toBeCloseTo(0.6, 12);
		expect(p(dentist, 'cavity', { toothache: true, catch: true })).toBeCloseTo(0.108 / 0.124, 12);
	});
	it('breezes in two squares (Russell & Norvig): a pit between them .86, beside one .31', () => {
		const cave = read({
			events: ['beside', 'between', 'below'].map((id) => ({ id, p: 0.2 })),
			gates: [
				{ id: 'first', type: 'or', inputs: ['beside', 'between'] },
				{ id: 'second', type: 'or', inputs: ['between', 'below'] }
			],
			given: { first: true, second: true }
		});
		const { events } = weigh(cave);
		// The one between, .2, or both others without it, .8 · .04.
		expect(events['between']?.givenAll).toBeCloseTo(0.2 / 0.232, 12);
		expect(events['beside']?.givenAll).toBeCloseTo(0.072 / 0.232, 12);
	});
});

describe('Forensic examples', () => {
	it('the island (Eggleston; Dawid 1994): a hundred others, a trait of 4 in 1000: 1 / (1 + 100 · .004) = .714', () => {
		const people = Array.from({ length: 101 }, (_, i) => `p${i}`);
		const island = read({
			events: people.map((id) => ({ id, p: 1 / 101 })),
			gates: [{ id: 'TOP', type: 'or', inputs: people }],
			exclusive: [people],
			likelihoods: [
				{
					id: 'trait',
					scenarios: [
						{ event: 'p0', density: 1 },
						{ otherwise: true, density: 0.004 }
					]
				}
			]
		});
		expect(weigh(island).events['p0']?.givenAll).toBeCloseTo(1 / 1.4, 12);
	});
	it.each([[0.5], [0.001]])('paternity (Essen-Möller), index 10, prior %f', (prior) => {
		const father = read({
			events: [{ id: 'father', p: prior }],
			findings: [
				{
					id: 'allele',
					state: 'present',
					links: [
						{ from: 'father', p: 0.5 },
						{ from: '!father', p: 0.05 }
					]
				}
			],
			given: {}
		});
		expect(weigh(father).events['father']?.givenAll).toBeCloseTo((10 * prior) / (1 + 9 * prior), 12);
	});
	it.each([
		// [prior odds, random match, false positive, posterior odds = prior / (RMP + FPP (1 - RMP))]
		[1 / 1000, 1e-9, 0, 1e6],
		[1 / 1000, 1e-9, 0.0001, 10],
		[1 / 1000, 1e-9, 0.01, 0.1],
		[2, 1e-6, 0.001, 2000]
	])(
		'a match and the laboratory’s error (Thompson, Taroni & Aitken 2003): odds %f, %f, %f become about %f',
		(prior, random, wrong, odds) => {
			const { events } = weigh(
				read({
					events: [{ id: 'source', p: prior / (1 + prior) }],
					given: {},
					findings: [
						{
							id: 'match',
							state: 'present',
							baseRate: wrong,
							links: [
								{ from: 'source', p: 1 },
								{ from: '!source', p: random }
							]
						}
					]
				})
			);
			const now = events['source']?.givenAll ?? NaN;
			expect(Math.abs(now / (1 - now) / (prior / (random + wrong * (1 - random))) - 1)).toBeLessThan(1e-6);
			expect(Math.abs(now / (1 - now) / odds - 1)).toBeLessThan(0.01);
		}
	);
});

describe('Trees and questions', () => {
	it('any 2 of 4 like parts of .1 fail: .0523, six cut sets, bounds .0585 and .06', () => {
		const parts = ['a', 'b', 'c', 'd'];
		const model = read({
			events: parts.map((id) => ({ id, p: 0.1 })),
			gates: [{ id: 'TOP', type: 'atLeast', k: 2, inputs: parts }]
		});
		const [measured, sets] = [importance(model), minimalCutSets(model)];
		if (!measured.ok || !sets.ok) throw new Error('no measures');
		expect(measured.probabilityOfTop).toBeCloseTo(1 - 0.9 ** 4 - 4 * 0.1 * 0.9 ** 3, 14);
		expect(sets.count).toBe(6);
		expect(measured.minCutUpperBound).toBeCloseTo(1 - 0.99 ** 6, 14);
		expect(measured.rareEventSum).toBeCloseTo(0.06, 14);
		// One more of the other three, less two more.
		expect(measured.events['a']?.birnbaum).toBeCloseTo(3 * 0.1 * 0.9 ** 2, 14);
	});
	it('two like valves, alpha factors .95 and .05, Q .01: both by 2 · .05 / 1.05 Q, or apart', () => {
		const model = read({
			events: [
				{ id: 'A', p: 0.01 },
				{ id: 'B', p: 0.01 }
			],
			gates: [{ id: 'BOTH', type: 'and', inputs: ['A', 'B'] }],
			commonCause: [{ id: 'like', members: ['A', 'B'], model: 'alpha', factors: [0.95, 0.05] }]
		});
		const [alone, together] = [(0.95 / 1.05) * 0.01, ((2 * 0.05) / 1.05) * 0.01];
		expect(weigh(model).probabilityOfTop).toBeCloseTo(together + (1 - together) * alone ** 2, 14);
	});
	it('one of eight, asked whether it is among the first four: one bit, and three such questions settle it', () => {
		const eight = Array.from({ length: 8 }, (_, i) => `c${i}`);
		const asked = [0, 1, 2].map((bit) => ({
			id: `bit ${bit}`,
			links: eight.filter((_, i) => (i >> bit) & 1).map((from) => ({ from, p: 1 }))
		}));
		const ask = (known: number) =>
			information(
				read({
					events: eight.map((id) => ({ id, p: 1 / 8 })),
					gates: [{ id: 'TOP', type: 'or', inputs: eight }],
					exclusive: [eight],
					findings: asked.map((finding, i) => ({ ...finding, state: i < known ? 'present' : 'notExamined' }))
				})
			);
		for (const known of [0, 1, 2]) {
			const told = ask(known);
			if (!told.ok) throw new Error(told.problem);
			expect(told.entropy).toBeCloseTo(3 - known, 12);
			for (const { bits } of told.observations) expect(bits).toBeCloseTo(1, 12);
			expect(told.observations[0]?.probabilitySettles).toBeCloseTo(known === 2 ? 1 : 0, 12);
		}
	});
});
