import { describe, expect, it } from 'vitest';
import {
	defaultResidualLink,
	importance,
	information,
	jointProbability,
	minimalCutSets,
	mostProbableExplanations,
	parseTree,
	weigh,
	type TreeModel
} from '$lib/reasoning';
import { MAX_SHARING } from '$lib/reasoning/common-cause';
import { bruteForce } from './oracle';

const read = (tree: unknown): TreeModel => {
	const parsed = parseTree(tree);
	if (!parsed.ok) throw new Error(parsed.problems.join('; '));
	return parsed.model;
};
const pair = { id: 'battery', members: ['A', 'B'], model: 'beta', factors: [0.2] };
const two = (type: string, more: object = {}) => ({
	events: [
		{ id: 'A', p: 0.1 },
		{ id: 'B', p: 0.1 },
		{ id: 'C', p: 0.2 }
	],
	gates: [
		{ id: 'G', type: 'and', inputs: ['A', 'C'] },
		{ id: 'TOP', type, inputs: ['A', 'B'] }
	],
	top: 'TOP',
	commonCause: [pair],
	...more
});

describe('A member of a group is spoken of as a whole', () => {
	// Worked by hand: A alone .08, B alone .08, both together .02 (docs/methods/weighing.md).
	it('by hand: both of two', () => {
		const { probabilityOfTop, events, parts } = weigh(read(two('and')));
		expect(probabilityOfTop).toBeCloseTo(0.02 + 0.98 * 0.08 ** 2, 15);
		expect(events['A']?.prior).toBeCloseTo(1 - 0.92 * 0.98, 15);
		expect(Object.keys(events)).toEqual(['A', 'B', 'C']);
		expect(Object.keys(parts)).toEqual(['A alone', 'B alone', 'A and B together']);
		expect(parts['A and B together']?.givenTop).toBeCloseTo(0.02 / 0.026272, 12);
	});
	it('by hand: a sign of the one makes the other more probable', () => {
		const sign = { id: 'sign', state: 'present', links: [{ from: 'A', p: 0.5 }] };
		const { events, parts } = weigh(read(two('or', { findings: [sign] })));
		expect(events['A']?.givenAll).toBeCloseTo(1, 12);
		expect(events['B']?.givenAll).toBeCloseTo(0.026272 / 0.0984, 12);
		expect(parts['A and B together']?.givenAll).toBeCloseTo(0.02 / 0.0984, 12);
		expect(weigh(read(two('or', { findings: [sign], commonCause: [] }))).events['B']?.givenAll).toBeCloseTo(
			0.1,
			12
		);
	});
	it('in joint probabilities, scenarios, what is given, and information', () => {
		const model = read(
			two('or', {
				given: { TOP: true, B: false },
				findings: [{ id: 'unmade', links: [{ from: '!A', p: 0.4 }] }],
				likelihoods: [
					{
						id: 'place',
						scenarios: [
							{ event: 'A', density: 3 },
							{ otherwise: true, density: 1 }
						]
					}
				]
			})
		);
		const truth = bruteForce(model, 'TOP');
		const { events } = weigh(model);
		expect(events['A']?.givenAll).toBeCloseTo(truth.givenAll['A'] ?? NaN, 12);
		expect(events['B']?.givenAll).toBe(0);
		expect(jointProbability(model, { A: true, B: true })).toMatchObject({ ok: true, givenAll: 0 });
		const told = information(model);
		expect(told.ok && told.about).toEqual(['A', 'B']);
		const or = read(two('or'));
		const both = jointProbability(or, { A: true, B: true });
		expect(both.ok && both.prior).toBeCloseTo(0.026272, 12);
	});
	it('in the link assumed from what nobody has thought of', () => {
		const tree = two('or');
		const model = read({
			...tree,
			events: [...tree.events, { id: 'X', p: 0.05 }],
			gates: [tree.gates[0], { id: 'TOP', type: 'or', inputs: ['A', 'B', 'X'] }],
			findings: [{ id: 'sign', baseRate: 0.1, links: [{ from: 'A', p: 0.5 }] }]
		});
		// P(A | top, not X) = .0984 / (1 - .92 · .92 · .98), and half of that shows the sign.
		expect(defaultResidualLink(model, model.findings![0]!, 'X').p).toBeCloseTo(
			(0.5 * 0.0984) / (1 - 0.92 * 0.92 * 0.98),
			12
		);
	});
});

describe('The parts are the basic events', () => {
	it('of explanations: one shared cause, or two that came together by chance', () => {
		const explained = mostProbableExplanations(read(two('and')), { count: 2 });
		expect(explained.ok && explained.list[0]?.happened).toEqual(['A and B together']);
		// Nothing else happened: neither of the two by itself, nor C.
		expect(explained.ok && explained.list[0]?.probability).toBeCloseTo(
			(0.02 * 0.92 ** 2 * 0.8) / 0.026272,
			12
		);
	});
	it('of cut sets and importance, where a member counts by whichever part', () => {
		const model = read(two('and'));
		const sets = minimalCutSets(model);
		expect(sets.ok && sets.list.map(({ events }) => events)).toEqual([
			['A and B together'],
			['A alone', 'B alone']
		]);
		const measured = importance(model);
		if (!measured.ok) throw new Error(measured.problem);
		const { events, probabilityOfTop } = measured;
		expect(Object.keys(events).sort()).toEqual(['A', 'A alone', 'A and B together', 'B', 'B alone', 'C']);
		const a = events['A']!;
		expect(a.whenTrue).toBeCloseTo(0.026272 / 0.0984, 12);
		expect(a.whenFalse).toBe(0);
		expect(a.rrw).toBe(Infinity);
		expect(a.fussellVeselyUnion).toBeCloseTo(1, 12);
		expect(a.fussellVeselyRare).toBeCloseTo(1, 12);
		expect(a.givenTop).toBeCloseTo(1, 12);
		const shared = events['A and B together']!;
		expect(shared.criticality).toBeCloseTo((probabilityOfTop - 0.0064) / probabilityOfTop, 12);
	});
	it('which may be many: seven letters, 127 parts, exact', () => {
		const members = [...'ABCDEFG'].slice(0, MAX_SHARING);
		const model = read({
			events: members.map((id) => ({ id, p: 0.1 })),
			gates: [{ id: 'TOP', type: 'atLeast', k: 3, inputs: members }],
			commonCause: [{ id: 'c', members, model: 'multiLetter', factors: members.slice(1).map(() => 0.3) }]
		});
		const weighing = weigh(model);
		expect(weighing.method).toBe('exact');
		expect(Object.keys(weighing.parts)).toHaveLength(127);
	});
});

describe('Numbers of a group', () => {
	it('only factors changed: the diagrams are used again, and sampling agrees within its error', () => {
		const at = (beta: number) => read(two('and', { commonCause: [{ ...pair, factors: [beta] }] }));
		const first = weigh(at(0.2));
		const second = weigh(at(0.5), { reuse: first.compiled });
		expect(second.compiled).toBe(first.compiled);
		expect(second.probabilityOfTop).toBeCloseTo(0.05 + 0.95 * 0.05 ** 2, 14);
		const sampled = weigh(at(0.2), { maxNodes: 4 });
		expect(sampled.method).toBe('sampled');
		const { givenTop, givenTopStandardError = NaN } = sampled.parts['A and B together']!;
		expect(Math.abs((givenTop ?? NaN) - 0.02 / 0.026272)).toBeLessThan(4 * givenTopStandardError);
	});
	it('says when the parts make their member noticeably less probable than was typed', () => {
		expect(weigh(read(two('and'))).warnings.join()).toMatch(/'A' and 'B'.*0\.0984 instead of 0\.1/);
		const rare = two('and');
		const events = rare.events.map((event) => ({ ...event, p: 1e-3 }));
		expect(weigh(read({ ...rare, events })).warnings).toEqual([]);
	});
});

describe('What is wrong with a group is said in words', () => {
	const base = {
		events: [
			{ id: 'A', p: 0.1 },
			{ id: 'B', p: 0.1 },
			{ id: 'C', p: 0.2 },
			{ id: 'H', kind: 'house', state: true }
		],
		gates: [{ id: 'G', type: 'or', inputs: ['A', 'B', 'C', 'H'] }]
	};
	const group = (changes: object) => ({ ...base, commonCause: [{ ...pair, ...changes }] });
	it.each<[string, unknown, RegExp]>([
		['of one', group({ members: ['A', 'A'] }), /'battery' needs at least two different events/],
		['an event twice', group({ members: ['A', 'B', 'A'] }), /'battery' names an event twice/],
		['a gate', group({ members: ['A', 'G'] }), /names the gate 'G'; name the basic events beneath it/],
		['an unknown event', group({ members: ['A', 'X'] }), /names 'X', which is not an event/],
		['a house event', group({ members: ['A', 'H'] }), /names the house event 'H'/],
		['unlike events', group({ members: ['A', 'C'] }), /different probabilities \(0\.1, 0\.2\)/],
		[
			'an event in two groups',
			{ ...base, commonCause: [pair, { ...pair, id: 'loom' }] },
			/'A' is in the groups 'battery' and 'loom'/
		],
		['two groups of one name', { ...base, commonCause: [pair, pair] }, /group 'battery' is there twice/],
		[
			'exclusive events',
			{ ...base, exclusive: [['A', 'C']], commonCause: [pair] },
			/'A' is exclusive and in the common-cause group 'battery'/
		],
		['a factor above 1', group({ factors: [1.1] }), /a factor must lie between 0 and 1, not 1\.1/],
		['no factor', group({ factors: [] }), /\(beta\) of 2 takes 1 factor, not 0: beta, the share/],
		['a factor too many', group({ model: 'multiLetter', factors: [0.1, 0.2] }), /takes 1 factor, not 2/],
		['alphas that do not add up', group({ model: 'alpha', factors: [0.9, 0.2] }), /add up to 1, not 1\.1/],
		['an unknown model', group({ model: 'gamma' }), /beta, multiLetter or alpha, not "gamma"/],
		['staggered testing of a beta', group({ staggered: true }), /'staggered', which belongs to alpha/],
		[
			'eight letters',
			{
				events: [...'ABCDEFGH'].map((id) => ({ id, p: 0.1 })),
				commonCause: [
					{ id: 'c', members: [...'ABCDEFGH'], model: 'multiLetter', factors: [1, 1, 1, 1, 1, 1, 1] }
				]
			},
			/has 8 events; at most 7\. "beta" takes any number/
		],
		[
			'an event that is called like a part',
			{ ...base, events: [...base.events, { id: 'A and B together', p: 0.1 }], commonCause: [pair] },
			/'A and B together' is what a part of a common-cause group is called/
		]
	])('%s', (_, tree, message) => {
		const parsed = parseTree(tree);
		expect(parsed.ok ? 'was accepted' : parsed.problems.join('\n')).toMatch(message);
	});
});
