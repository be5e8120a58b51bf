import { beforeEach, describe, expect, it } from 'vitest';
import type { ReadyTree } from '$lib/investigation/schema/ready-tree';
import { checkWhole } from '$lib/investigation/check';
import { toTreeModel, withResidualLinks } from '$lib/investigation/views/tree-model';
import { weigh } from '$lib/reasoning';
import { interfaces } from '$lib/templates/interfaces';
import { readyTree } from '$lib/templates/starting-tree';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
beforeEach(() => {
	c = new Case();
	top = c.state();
});

const leaf = (name: string, weight = 0.1) => ({
	name,
	title: `${name} lets go`,
	note: '',
	weight,
	kind: 'basic' as const,
	gate: null
});
const step = (name: string, ...inputs: string[]) => ({
	...leaf(name),
	weight: null,
	kind: 'intermediate' as const,
	gate: { type: 'or' as const, k: null, inputs, condition: null }
});
const sign = (...events: string[]) => ({
	statement: 'Thread torn',
	note: 'Where to look: the bolt.',
	baseRate: 0.05,
	destructive: false,
	costMinutes: 20,
	costPractice: true,
	links: events.map((event) => ({ event, negated: false, p: 0.9 }))
});
const tree = (more: Partial<ReadyTree> = {}): ReadyTree => ({
	note: 'Look twice.',
	causes: ['joint'],
	events: [step('joint', 'bolt', 'glue'), leaf('bolt'), leaf('glue')],
	findings: [sign('bolt')],
	...more
});
const refusal = (more: Partial<ReadyTree>) =>
	c.refusal('anomaly.plant', { anomaly: 'a1', tree: tree(more) }).message;

describe('planting a ready tree', () => {
	it('[T10] puts events, weights, signs and links in place in one step', () => {
		c.find('mine');
		c.do('anomaly.plant', { anomaly: 'a1', tree: tree() });
		const [joint, residual] = c.inputs(top);
		expect(c.event(residual!).residual).toBe(true);
		expect(c.inputs(joint!).map((id) => c.event(id))).toMatchObject([
			{ title: 'bolt lets go', weight: 0.1, weightBasis: 'commonPractice', disposition: { state: 'open' } },
			{ title: 'glue lets go' }
		]);
		expect(c.event(top).note).toBe('Look twice.');
		const [, planted] = Object.values(c.file.findings).sort((a, b) => a.number - b.number);
		expect(planted).toMatchObject({
			number: 2,
			state: 'notExamined',
			links: [{ event: c.inputs(joint!)[0], negated: false, p: 0.9 }]
		});
	});
	it('[T10] keeps the note that somebody wrote at the top event', () => {
		c.do('event.change', { id: top, record: { note: 'Mine.' } });
		c.do('anomaly.plant', { anomaly: 'a1', tree: tree() });
		expect(c.event(top).note).toBe('Mine.');
	});
	it('[T10] is refused where causes stand, and where the anomaly is gone', () => {
		c.add('own', top);
		expect(refusal({})).toMatch(/Causes stand in this tree already/);
		expect(c.refusal('anomaly.plant', { anomaly: 'gone', tree: tree() }).field).toBe('anomaly');
	});
	it.each<[string, Partial<ReadyTree>, RegExp]>([
		[
			'an unknown event under a gate',
			{ events: [step('joint', 'bolt', 'nail'), leaf('bolt')] },
			/"nail", which it does not hold/
		],
		['an unknown event in a link', { findings: [sign('nail')] }, /"nail", which it does not hold/],
		['one name twice', { events: [step('joint', 'bolt'), leaf('bolt'), leaf('bolt')] }, /same name/],
		['one cause twice', { causes: ['joint', 'joint'] }, /same name/],
		['an event that hangs nowhere', { causes: ['bolt'] }, /"joint lets go" hangs nowhere/],
		[
			'a circle',
			{ events: [step('joint', 'bolt', 'glue'), step('bolt', 'joint'), leaf('glue')] },
			/stands beneath itself/
		],
		['two links from one event', { findings: [sign('bolt', 'bolt')] }, /linked twice/],
		[
			'a weight above 1',
			{ events: [step('joint', 'bolt', 'glue'), leaf('bolt', 2), leaf('glue')] },
			/between 0 and 1/
		],
		['no causes', { causes: [] }, /has no causes/],
		[
			'a gate without inputs',
			{ causes: ['joint', 'bolt', 'glue'], events: [step('joint'), leaf('bolt'), leaf('glue')] },
			/needs inputs/
		],
		[
			'more inputs than a gate takes',
			{
				events: [
					{
						...step('joint', 'bolt', 'glue'),
						gate: { type: 'not', k: null, inputs: ['bolt', 'glue'], condition: null }
					},
					leaf('bolt'),
					leaf('glue')
				]
			},
			/exactly one input/
		],
		[
			'a count that the gate lacks',
			{
				events: [
					{
						...step('joint', 'bolt', 'glue'),
						gate: { type: 'atLeast', k: 3, inputs: ['bolt', 'glue'], condition: null }
					},
					leaf('bolt'),
					leaf('glue')
				]
			},
			/how many of the inputs/
		]
	])('[T10] refuses %s, and says which', (_, more, message) => expect(refusal(more)).toMatch(message));
	it('[T10] goes as a branch beneath an event that is named, beside what stands there', () => {
		c.add('own', top);
		c.do('anomaly.plant', { anomaly: 'a1', tree: tree(), under: top });
		expect(c.inputs(top).map((id) => c.event(id).title)).toEqual([
			'own lets go',
			'joint lets go',
			'Something nobody has thought of'
		]);
		c.do('anomaly.plant', { anomaly: 'a1', tree: tree(), under: 'own' });
		expect(c.event('own')).toMatchObject({ kind: 'intermediate', note: 'Look twice.', weight: null });
		expect(c.refusal('anomaly.plant', { anomaly: 'a1', tree: tree(), under: 'gone' }).field).toBe('under');
		expect(
			c.refusal('anomaly.plant', { anomaly: 'a1', tree: tree(), under: c.inputs(top).at(-1) }).message
		).toContain('nobody has thought of');
	});
	it('the branch between the systems is whole, weighs, and stands beside the parts', () => {
		c.add('own', top);
		c.do('anomaly.plant', { anomaly: 'a1', tree: readyTree(interfaces), under: top });
		expect(checkWhole('investigations', c.file)).toEqual([]);
		const { model } = withResidualLinks(toTreeModel(c.file, 'a1'));
		expect(weigh(model, { contributions: false }).method).toBe('exact');
		expect(Object.values(c.file.findings).every((f) => f.costMinutes! > 0 && f.costPractice)).toBe(true);
	});
});
