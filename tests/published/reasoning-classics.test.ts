import { describe, expect, it } from 'vitest';
import { decibans, importance, information, weigh } from '$lib/reasoning';
import { p, read, table } from './textbook-models';

/** Small networks and puzzles of the textbooks, all from memory; digits as the books print them. */
type Query = [string, Record<string, boolean>, number];

describe('Visit to Asia (Lauritzen & Spiegelhalter 1988; from memory)', () => {
	const asia = read({
		given: {},
		events: [
			{ id: 'asia', p: 0.01 },
			{ id: 'smoker', p: 0.5 }
		],
		gates: [
			table('tuberculosis', ['asia'], { T: 0.05, F: 0.01 }),
			table('cancer', ['smoker'], { T: 0.1, F: 0.01 }),
			table('bronchitis', ['smoker'], { T: 0.6, F: 0.3 }),
			{ id: 'either', type: 'or', inputs: ['tuberculosis', 'cancer'] },
			table('x-ray', ['either'], { T: 0.98, F: 0.05 }),
			table('dyspnoea', ['either', 'bronchitis'], { TT: 0.9, TF: 0.7, FT: 0.8, FF: 0.1 })
		]
	});
	it.each<Query>([
		['tuberculosis', {}, 0.0104],
		['cancer', {}, 0.055],
		['bronchitis', {}, 0.45],
		['either', {}, 0.064828],
		['x-ray', {}, 0.11029],
		['dyspnoea', {}, 0.435971]
	])('P(%s | %o) = %f', (id, given, value) =>
		expect(Math.abs(p(asia, id, given) - value)).toBeLessThan(6e-6)
	);
});

describe('The student (Koller & Friedman 2009, chapter 3; from memory): a grade of three values as two gates', () => {
	const student = read({
		given: {},
		events: [
			{ id: 'hard', p: 0.4 },
			{ id: 'clever', p: 0.3 }
		],
		gates: [
			table('third', ['clever', 'hard'], { FF: 0.3, FT: 0.7, TF: 0.02, TT: 0.2 }),
			table('first of the rest', ['clever', 'hard'], {
				FF: 0.3 / 0.7,
				FT: 0.05 / 0.3,
				TF: 0.9 / 0.98,
				TT: 0.5 / 0.8
			}),
			{ id: 'first', type: 'and', inputs: ['!third', 'first of the rest'] },
			{ id: 'second', type: 'nor', inputs: ['first', 'third'] },
			table('test', ['clever'], { T: 0.8, F: 0.05 }),
			table('letter', ['first', 'third'], { TF: 0.9, FF: 0.6, FT: 0.01, TT: 0 })
		]
	});
	it.each<Query>([
		['letter', {}, 0.502],
		['letter', { clever: false }, 0.389],
		['letter', { clever: false, hard: false }, 0.513],
		['clever', { third: true }, 0.079],
		['hard', { third: true }, 0.629],
		['clever', { third: true, test: true }, 0.578],
		['clever', { letter: false, third: true }, 0.079],
		['clever', { second: true }, 0.175]
	])('P(%s | %o) = %f', (id, given, value) => expect(p(student, id, given)).toBeCloseTo(value, 3));
});

describe('Small networks (Jensen, Bayesian Networks; from memory)', () => {
	const car = read({
		given: {},
		events: [
			{ id: 'fuel', p: 0.98 },
			{ id: 'plugs', p: 0.96 }
		],
		gates: [
			table('half', ['fuel'], { T: 0.6, F: 0.001 }),
			table('starts', ['fuel', 'plugs'], { TT: 0.99, TF: 0.01, FT: 0, FF: 0 })
		]
	});
	it('a car that does not start: no fuel .29, dirty plugs .58, and .804 once the meter stands at half', () => {
		expect(1 - p(car, 'fuel', { starts: false })).toBeCloseTo(0.29, 2);
		expect(1 - p(car, 'plugs', { starts: false })).toBeCloseTo(0.58, 2);
		expect(1 - p(car, 'plugs', { starts: false, half: true })).toBeCloseTo(0.804, 3);
	});
	const icy = read({
		given: {},
		events: [{ id: 'icy', p: 0.7 }],
		gates: [table('Holmes', ['icy'], { T: 0.8, F: 0.1 }), table('Watson', ['icy'], { T: 0.8, F: 0.1 })]
	});
	it.each<Query>([
		['Holmes', {}, 0.59],
		['icy', { Watson: true }, 0.949],
		['Holmes', { Watson: true }, 0.764],
		['Holmes', { Watson: true, icy: false }, 0.1]
	])('icy roads: P(%s | %o) = %f', (id, given, value) => expect(p(icy, id, given)).toBeCloseTo(value, 3));
	const lawn = read({
		given: {},
		events: [
			{ id: 'rain', p: 0.2 },
			{ id: 'sprinkler', p: 0.1 }
		],
		gates: [
			table('Watson', ['rain'], { T: 1, F: 0.2 }),
			table('Holmes', ['rain', 'sprinkler'], { TT: 1, TF: 1, FT: 0.9, FF: 0 })
		]
	});
	it.each<Query>([
		['Watson', {}, 0.36],
		['Holmes', {}, 0.272],
		['rain', { Holmes: true }, 0.735],
		['sprinkler', { Holmes: true }, 0.338],
		['rain', { Holmes: true, Watson: true }, 0.933],
		['sprinkler', { Holmes: true, Watson: true }, 0.16]
	])('wet lawn: P(%s | %o) = %f', (id, given, value) => expect(p(lawn, id, given)).toBeCloseTo(value, 3));
});

describe('Puzzles (from memory)', () => {
	const oneOf = (ids: string[], found: Record<string, number>) =>
		weigh(
			read({
				events: ids.map((id) => ({ id, p: 1 / ids.length })),
				gates: [{ id: 'TOP', type: 'or', inputs: ids }],
				exclusive: [ids],
				findings: [
					{
						id: 'seen',
						state: 'present',
						links: Object.entries(found).map(([from, hit]) => ({ from, p: hit }))
					}
				]
			})
		).events;
	it('three doors: the host opens the third, and the second holds it with two thirds', () => {
		const doors = oneOf(['first', 'second', 'third'], { first: 0.5, second: 1 });
		expect(doors['first']?.givenAll).toBeCloseTo(1 / 3, 14);
		expect(doors['second']?.givenAll).toBeCloseTo(2 / 3, 14);
		expect(doors['third']?.givenAll).toBe(0);
	});
	it('Bertrand’s boxes: a gold coin is from the box of two with two thirds', () => {
		const boxes = oneOf(['two gold', 'one', 'none'], { 'two gold': 1, one: 0.5 });
		expect(boxes['two gold']?.givenAll).toBeCloseTo(2 / 3, 14);
	});
	it('two children, one of them a girl: both with one third', () => {
		const both = weigh(
			read({
				top: 'one',
				events: [
					{ id: 'elder', p: 0.5 },
					{ id: 'younger', p: 0.5 }
				],
				gates: [
					{ id: 'one', type: 'or', inputs: ['elder', 'younger'] },
					{ id: 'both', type: 'and', inputs: ['elder', 'younger'] }
				]
			})
		);
		expect(both.gates['both']?.givenTop).toBeCloseTo(1 / 3, 14);
	});
	it.each([
		['Casscells et al. 1978: 1 in 1000, false alarms 5 %', 0.001, 1, 0.05, 0.0196],
		['Gigerenzer: 1 %, hits 90 %, false alarms 9 %', 0.01, 0.9, 0.09, 0.0917]
	])('%s', (_, prior, hit, miss, posterior) => {
		const links = [
			{ from: 'ill', p: hit },
			{ from: '!ill', p: miss }
		];
		const { events } = weigh(
			read({ events: [{ id: 'ill', p: prior }], findings: [{ id: 'test', state: 'present', links }] })
		);
		expect(events['ill']?.givenAll).toBeCloseTo(posterior, 4);
	});
});

describe('Trees and measures (from memory)', () => {
	it.each([0.05, 0.2, 0.5])(
		'the bridge of five like parts: 2 r² + 2 r³ - 5 r⁴ + 2 r⁵ holds, at q = %f',
		(q) => {
			const r = 1 - q;
			const bridge = read({
				events: [1, 2, 3, 4, 5].map((i) => ({ id: `c${i}`, p: q })),
				gates: [
					{ id: 'TOP', type: 'or', inputs: ['a', 'b', 'c', 'd'] },
					{ id: 'a', type: 'and', inputs: ['c1', 'c2'] },
					{ id: 'b', type: 'and', inputs: ['c4', 'c5'] },
					{ id: 'c', type: 'and', inputs: ['c1', 'c3', 'c5'] },
					{ id: 'd', type: 'and', inputs: ['c2', 'c3', 'c4'] }
				]
			});
			const measured = importance(bridge);
			if (!measured.ok) throw new Error(measured.problem);
			expect(measured.probabilityOfTop).toBeCloseTo(
				1 - (2 * r ** 2 + 2 * r ** 3 - 5 * r ** 4 + 2 * r ** 5),
				14
			);
			// The one in the middle: 2 q² r², its importance from the same polynomial taken apart.
			expect(measured.events['c3']?.birnbaum).toBeCloseTo(2 * q ** 2 * r ** 2, 14);
		}
	);
	it('a channel that is wrong in 11 of 100 carries half a bit; twenty decibans are odds of 100 to 1', () => {
		const told = information(
			read({
				given: {},
				events: [{ id: 'H', p: 0.5 }],
				gates: [{ id: 'TOP', type: 'or', inputs: ['H'] }],
				findings: [
					{
						id: 'sent',
						links: [
							{ from: 'H', p: 0.89 },
							{ from: '!H', p: 0.11 }
						]
					}
				]
			})
		);
		if (!told.ok) throw new Error(told.problem);
		expect(told.observations[0]?.bits).toBeCloseTo(0.5, 3);
		expect(decibans(100 / 101, 0.5)).toBeCloseTo(20, 12);
	});
});
