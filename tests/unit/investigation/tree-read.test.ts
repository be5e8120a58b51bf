import fc from 'fast-check';
import { beforeEach, describe, expect, it } from 'vitest';
import { checkWhole } from '$lib/investigation/check';
import { toTreeModel, withResidualLinks } from '$lib/investigation/views/tree-model';
import { treeFile } from '$lib/investigation/views/tree-file';
import { readable } from '$lib/investigation/views/tree-readable';
import { parseTree, type TreeModel, weigh, writeOpenPsa, readOpenPsa } from '$lib/reasoning';
import { randomTree } from '../reasoning/random-tree';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
beforeEach(() => {
	c = new Case();
	top = c.state();
});

const model = (more: Partial<TreeModel> = {}): TreeModel => ({
	top: 'T',
	events: [
		{
			id: 'A',
			label: 'swivel parts',
			p: 0.1,
			note: 'seen twice',
			source: 'own flights',
			attributes: { part: '12' }
		},
		{ id: 'B', p: 0.2, kind: 'undeveloped' },
		{ id: 'H', kind: 'house', state: true }
	],
	gates: [
		{ id: 'T', label: 'line parts', type: 'or', inputs: ['A', 'G'] },
		{ id: 'G', type: 'and', inputs: ['!B', 'H'] }
	],
	...more
});
const read = (tree: unknown = model()) => c.do('anomaly.readTree', { anomaly: 'a1', tree });
const refusal = (tree: unknown) => c.refusal('anomaly.readTree', { anomaly: 'a1', tree }).message;
const leftOut = (tree: TreeModel) => {
	const result = readable(tree);
	return result.ok ? result.value.leftOut : [];
};
const titled = (title: string) => Object.entries(c.file.events).find(([, event]) => event.title === title)!;

describe('reading a tree from a file', () => {
	it('[T13] puts the causes of its OR under the empty top event, with all that the file says of them', () => {
		read();
		const [a, g, residual] = c.inputs(top);
		expect(c.event(a!)).toMatchObject({
			title: 'swivel parts',
			weight: 0.1,
			weightBasis: 'guess',
			weightNote: 'own flights',
			note: 'seen twice\n\npart: 12'
		});
		expect(c.inputs(g!).map((id) => c.event(id))).toMatchObject([
			{ title: 'Not: B', gate: { type: 'not' } },
			{ title: 'H', kind: 'house', on: true, weight: null }
		]);
		expect(c.event(residual!).residual).toBe(true);
		expect(checkWhole('investigations', c.file)).toEqual([]);
	});
	it('[T13] beside causes that stand it becomes one branch, and undo takes it back in one step', () => {
		c.add('mine', top);
		const before = c.file;
		read();
		const [mine, branch] = c.inputs(top);
		expect([mine, c.event(branch!).title]).toEqual(['mine', 'line parts']);
		expect(before.events).not.toEqual(c.file.events);
		expect(checkWhole('investigations', c.file)).toEqual([]);
	});
	it('under an AND of the file, nothing is spread out', () => {
		read(model({ gates: [{ id: 'T', type: 'and', inputs: ['A', 'B', 'H'] }] }));
		expect(c.event(c.inputs(top)[0]!)).toMatchObject({ title: 'T', gate: { type: 'and' } });
	});
	it('findings, origins, one observation and exclusions come along', () => {
		read(
			model({
				exclusive: [['A', 'B']],
				origins: [{ id: 'o', label: 'a neighbour', reliability: 0.9, saysAnyway: 0.1 }],
				findings: [
					{
						id: 'f',
						label: 'frayed',
						state: 'present',
						baseRate: 0.1,
						links: [{ from: '!A', p: 0.3 }],
						origin: 'o'
					},
					{ id: 'g', state: 'present', sameAs: 'f', origin: 'o' }
				]
			})
		);
		const [f, g] = Object.values(c.file.findings).sort((a, b) => a.number - b.number);
		const [a] = titled('swivel parts');
		expect(f).toMatchObject({ number: 1, state: 'present', links: [{ event: a, negated: true, p: 0.3 }] });
		expect(g).toMatchObject({ number: 2, statement: 'g', baseRate: 0.1, origin: f!.origin });
		expect(c.file.findings[g!.sameAs!]).toBe(f);
		expect(Object.values(c.file.exclusions)).toMatchObject([{ anomaly: 'a1', events: [a, titled('B')[0]] }]);
		expect(checkWhole('investigations', c.file)).toEqual([]);
	});
	it('a name of a file stays one when it is written again, and none is given to another event', () => {
		const named = [
			{ id: 'E1', label: 'swivel parts', p: 0.1 },
			{ id: 'E2', p: 0.2 },
			{ id: 'F1', p: 0.3 }
		];
		const gates = [
			{ id: 'T', type: 'or' as const, inputs: ['E1', 'G2.1'] },
			{ id: 'G2.1', type: 'and' as const, inputs: ['E2', 'F1'] }
		];
		read(model({ events: named, gates }));
		const { events = [], gates: written = [] } = treeFile(c.file, 'a1');
		const idOf = (label: string) => events.find((event) => event.label === label)?.id;
		expect(written.map(({ id }) => id)).toContain('G2.1');
		expect(idOf('E2')).toBe('E2');
		// Names of findings are left to findings.
		expect(idOf('F1')).toMatch(/^E[134]$/);
		expect(idOf('swivel parts')).toMatch(/^E[134]$/);
	});
	it('common-cause groups come along; one that reaches beyond the top is taken apart', () => {
		const pumps = (members: string[]) => ({
			id: 'P',
			label: 'one battery',
			members,
			model: 'beta' as const,
			factors: [0.1],
			source: 'common practice'
		});
		const events = ['A', 'B', 'loose'].map((id) => ({ id, p: 0.1 }));
		const gates = [{ id: 'T', type: 'and' as const, inputs: ['A', 'B'] }];
		const tree = model({ events, gates, commonCause: [pumps(['A', 'B'])] });
		read(tree);
		expect(Object.values(c.file.commonCauses)).toMatchObject([
			{
				title: 'one battery',
				events: [titled('A')[0], titled('B')[0]],
				factors: [0.1],
				basisNote: 'common practice'
			}
		]);
		expect(checkWhole('investigations', c.file)).toEqual([]);
		const again = treeFile(c.file, 'a1');
		expect(again.commonCause).toMatchObject([{ id: 'S1', members: ['A', 'B'], model: 'beta' }]);
		c.state('a2');
		c.do('anomaly.readTree', {
			anomaly: 'a2',
			tree: model({ events, gates, commonCause: [pumps(['A', 'B', 'loose'])] })
		});
		expect(Object.keys(c.file.commonCauses)).toHaveLength(1);
		const [branch] = c.inputs(c.file.anomalies['a2']!.top);
		const weighed = (id: string, of: string) => weigh(toTreeModel(c.file, of).model).gates[id]?.prior;
		expect(weighed(branch!, 'a2')).toBeCloseTo(0.01 + 0.99 * 0.09 ** 2, 12);
		expect(weighed(c.inputs(top)[0]!, 'a1')).toBeCloseTo(0.01 + 0.99 * 0.09 ** 2, 12);
	});
	it('an event without a probability is read in without a weight', () => {
		read(model({ events: [{ id: 'A' }, { id: 'B', p: 0.2 }, { id: 'H', kind: 'house', state: false }] }));
		expect(titled('A')[1].weight).toBeNull();
	});
	it('what has no place is told', () => {
		expect(
			leftOut(
				model({
					events: [...model().events, { id: 'loose', label: 'a loose end', p: 0.5 }],
					likelihoods: [
						{
							id: 'l',
							scenarios: [
								{ event: 'A', density: 1 },
								{ otherwise: true, density: 1 }
							]
						}
					],
					given: { T: true, B: false }
				})
			)
		).toEqual([
			"what hangs nowhere under the top: 'a loose end'",
			'1 calculation: run again here',
			'what is given beside the top: B'
		]);
		expect(leftOut(model())).toEqual([]);
	});
	it.each<[string, unknown, RegExp]>([
		[
			'a circle',
			model({
				gates: [
					{ id: 'T', type: 'or', inputs: ['A', 'G'] },
					{ id: 'G', type: 'or', inputs: ['T'] }
				]
			}),
			/runs in a circle: T → G → T/
		],
		[
			'an event that is not there',
			model({ gates: [{ id: 'T', type: 'or', inputs: ['A', 'Z'] }] }),
			/'Z', which is neither/
		],
		[
			'two tops',
			{ events: [{ id: 'A', p: 0.1 }], gates: ['T', 'U'].map((id) => ({ id, type: 'or', inputs: ['A'] })) },
			/Say which is the top event: T, U/
		],
		['no gates', { events: [{ id: 'A', p: 0.1 }] }, /the tree has no gate/],
		[
			'too many',
			{
				events: Array.from({ length: 1001 }, (_, i) => ({ id: `e${i}`, p: 0.1 })),
				gates: [{ id: 'T', type: 'or', inputs: Array.from({ length: 1001 }, (_, i) => `e${i}`) }]
			},
			/At most 1000 events/
		],
		['no tree', { events: 'many' }, /./]
	])('%s is refused, and nothing changes', (_, tree, words) => {
		expect(refusal(tree)).toMatch(words);
	});
	it('a top event whose gate takes no more refuses', () => {
		c.add('x', top);
		c.do('event.setGate', { event: top, type: 'xor', k: null });
		expect(refusal(model())).toMatch(/exclusive OR is about exactly two/);
	});
	it('names of any length and kind become lines that the records take', () => {
		fc.assert(
			fc.property(fc.string({ unit: 'binary', maxLength: 400 }), (label) => {
				const fresh = new Case();
				fresh.state();
				const events = [{ id: 'A', p: 0.1, label, note: label, source: label }, ...model().events.slice(1)];
				fresh.do('anomaly.readTree', { anomaly: 'a1', tree: model({ events }) });
				expect(checkWhole('investigations', fresh.file)).toEqual([]);
			}),
			{ numRuns: 200 }
		);
	});
});

describe('a tree as a file and back', () => {
	const weights = (of: Case, anomaly: string) =>
		weigh(withResidualLinks(toTreeModel(of.file, anomaly)).model);
	it('random trees weigh in a case as they do in the file', () => {
		fc.assert(
			fc.property(randomTree, (tree) => {
				const fresh = new Case();
				const own = fresh.state();
				const { likelihoods: _, given: __, ...bare } = tree;
				fresh.do('anomaly.readTree', { anomaly: 'a1', tree: { ...bare, findings: [], origins: [] } });
				expect(checkWhole('investigations', fresh.file)).toEqual([]);
				// Without the branch that nobody has thought of it is the file's tree.
				const inCase = toTreeModel(fresh.file, 'a1');
				const without = inCase.model.events.map((e) => (e.id === inCase.residual ? { ...e, p: 0 } : e));
				const ours = weigh({ ...inCase.model, events: without }).probabilityOfTop!;
				const theirs = weigh({ ...bare, findings: [], origins: [] }).probabilityOfTop!;
				expect(Math.abs(ours - theirs)).toBeLessThan(1e-12);
				expect(own).not.toBe('');
			}),
			{ numRuns: 200 }
		);
	});
	it('a group is taken apart where a member hangs only under what is always true', () => {
		const tree: TreeModel = {
			top: 'T',
			events: ['A', 'B', 'C'].map((id) => ({ id, p: 0.1 })),
			gates: [
				{ id: 'T', type: 'and', inputs: ['A', 'always'] },
				{ id: 'always', type: 'cardinality', inputs: ['C', 'both'], min: 0, max: 2 },
				{ id: 'both', type: 'and', inputs: ['A', 'B'] }
			],
			commonCause: [{ id: 'g', members: ['A', 'B'], model: 'beta', factors: [0.2] }]
		};
		read(tree);
		expect(checkWhole('investigations', c.file)).toEqual([]);
		expect(c.file.commonCauses).toEqual({});
		const { model: inCase, residual } = toTreeModel(c.file, 'a1');
		const without = inCase.events.map((event) => (event.id === residual ? { ...event, p: 0 } : event));
		// As in the file: A's own share of 8 % or the common one of 2 %, by hand.
		expect(weigh({ ...inCase, events: without }).probabilityOfTop).toBeCloseTo(1 - 0.92 * 0.98, 12);
		expect(weigh(tree).probabilityOfTop).toBeCloseTo(1 - 0.92 * 0.98, 12);
	});
	it('what is saved from a page is weighed alike headless, and read in again is the same tree', () => {
		read(
			model({
				findings: [
					{ id: 'f', label: 'frayed', state: 'present', baseRate: 0.1, links: [{ from: 'A', p: 0.8 }] },
					{ id: 'g', label: 'bent', state: 'absent', baseRate: 0.05, links: [{ from: '!B', p: 0.6 }] }
				]
			})
		);
		c.do('event.weigh', { event: c.inputs(top).at(-1), weight: 0.03, weightBasis: 'guess', weightNote: '' });
		const saved = treeFile(c.file, 'a1');
		const parsed = parseTree(JSON.parse(JSON.stringify(saved)));
		expect(parsed).toMatchObject({ ok: true });
		const page = weights(c, 'a1');
		const file = weigh(saved);
		expect(file.probabilityOfTop).toBeCloseTo(page.probabilityOfTop!, 14);
		expect(file.logEvidence).toBeCloseTo(page.logEvidence!, 12);

		c.state('a2');
		c.do('anomaly.readTree', { anomaly: 'a2', tree: saved });
		const again = treeFile(c.file, 'a2');
		const numbered = (tree: TreeModel) =>
			JSON.stringify({ ...tree, findings: tree.findings?.map(({ id: _, ...f }) => f) });
		expect(numbered(again)).toBe(numbered(saved));
	});
	it('by way of Open-PSA the tree is the same, without its findings', () => {
		read();
		const saved = treeFile(c.file, 'a1');
		const result = readOpenPsa(writeOpenPsa(saved).xml);
		if (!result.ok) throw new Error(result.problems.join());
		c.state('a2');
		c.do('anomaly.readTree', { anomaly: 'a2', tree: result.model });
		expect(treeFile(c.file, 'a2')).toEqual(saved);
	});
});
