import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
	contributionsTo,
	minimalCutSets,
	mostProbableExplanations,
	outcomesFor,
	stepsOf,
	parseTree,
	weigh,
	type TreeModel
} from '$lib/reasoning';

/** The examples on the page are typed as they stand, and give the numbers that it names. */
const page = readFileSync('docs/methods/weighing.md', 'utf8');
const examples = [...page.matchAll(/```json\n([\s\S]*?)```/g)].map((match): TreeModel => {
	const parsed = parseTree(JSON.parse(match[1] ?? ''));
	if (!parsed.ok) throw new Error(parsed.problems.join('; '));
	return parsed.model;
});
const example = (i: number) => examples[i] as TreeModel;

describe('docs/methods/weighing.md', () => {
	it('pressure tank', () => {
		const { probabilityOfTop, events } = weigh(example(0));
		expect(probabilityOfTop).toBeCloseTo(3.501584875e-5, 15);
		expect(events['K2']?.givenTop).toBeCloseTo(0.8567549, 9);
		const sets = minimalCutSets(example(0));
		expect(sets.ok && sets.list.map((set) => set.events.join('·')).slice(0, 3)).toEqual(['K2', 'T', 'S·R']);
		expect(sets.ok && sets.count).toBe(5);
	});
	it('sprinkler', () => {
		const { gates } = weigh(example(1));
		expect(gates['S']?.givenAll).toBeCloseTo(0.4298, 4);
		expect(gates['R']?.givenAll).toBeCloseTo(0.7079, 4);
		expect(weigh({ ...example(1), given: { W: true, R: true } }).gates['S']?.givenAll).toBeCloseTo(0.1945, 4);
	});
	it('alarm', () => {
		expect(weigh(example(2)).events['B']?.givenAll).toBeCloseTo(0.2842, 4);
	});
	it('a witness', () => {
		expect(weigh(example(3)).events['N']?.givenAll).toBeCloseTo(0.6135, 4);
	});
	it('a calculated likelihood', () => {
		const { events } = weigh(example(4));
		expect(events['BURNOUT']?.givenTop).toBeCloseTo(0.7143, 4);
		expect(events['APOGEE']?.givenTop).toBeCloseTo(0.3571, 4);
		expect(events['BURNOUT']?.givenAll).toBeCloseTo(0.3501, 4);
		expect(events['APOGEE']?.givenAll).toBeCloseTo(0.8124, 4);
		expect(events['APOGEE']?.interval?.map((p) => Number(p.toFixed(3)))).toEqual([0.746, 0.864]);
	});
	it('two recorders on one battery', () => {
		const { probabilityOfTop, parts } = weigh(example(5));
		expect(probabilityOfTop).toBeCloseTo(0.0263, 4);
		expect(parts['A and B together']?.givenTop).toBeCloseTo(0.7613, 4);
	});
	it('the example by hand', () => {
		const model: TreeModel = {
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
		const weighing = weigh(model);
		expect(weighing.events['A']?.givenTop).toBeCloseTo(0.6818, 4);
		expect(weighing.events['A']?.givenAll).toBeCloseTo(0.5842, 4);
		expect(weighing.events['B']?.givenAll).toBeCloseTo(0.604, 4);
		expect(weighing.logEvidence).toBeCloseTo(-0.373, 4);
		expect(contributionsTo(weighing, 'A')[0]?.decibans).toBeCloseTo(-1.83, 2);
		const explained = mostProbableExplanations(model);
		expect(explained.ok && explained.list[0]?.happened).toEqual(['B']);
		const moved = stepsOf(model, 'A');
		expect(moved.ok && moved.steps.map(({ decibans }) => decibans.toFixed(2))).toEqual(['6.99', '-1.83']);
		const turned = outcomesFor(model, 'A');
		expect(turned.ok && turned.outcomes[0]?.ifAbsent).toBeCloseTo(0.8978, 4);
	});
});
