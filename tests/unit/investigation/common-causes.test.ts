import { beforeEach, describe, expect, it } from 'vitest';
import { lookDeeper, weighCase } from '$lib/components/weighing/weigh-case';
import { tryCommonCause } from '$lib/investigation/operations/tree-common-causes';
import { nameIn, partsIn } from '$lib/investigation/views/common-cause';
import { effectOfDraft, effectWords } from '$lib/investigation/views/shared-causes';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import { buildReport } from '$lib/report/report';
import { weighForReport } from '$lib/report/weighed';
import { ALL, heronReport } from '../report/heron';
import { Case } from './anomaly-case';

let c: Case;
const battery = (more: object = {}) => ({
	record: {
		anomaly: 'a1',
		title: 'one battery',
		events: ['first', 'second'],
		model: 'beta',
		factors: ['10 %'],
		basis: 'commonPractice',
		basisNote: '',
		...more
	}
});
const group = () => Object.values(c.file.commonCauses)[0]!;

/** Two recorders, both of which must be dead, and something else. */
beforeEach(() => {
	c = new Case();
	const top = c.state();
	c.add('dead', top, 'no recorder fires the charge');
	for (const id of ['first', 'second', 'third']) c.add(id, 'dead', `${id} recorder is dead`);
	c.do('event.setGate', { event: 'dead', type: 'and' });
	c.add('glue', top, 'the bond lets go');
});

describe('[T11] what could fail from one cause', () => {
	it('is declared in one step, over basic events of one tree', () => {
		c.do('commonCause.add', battery());
		expect(group()).toMatchObject({ title: 'one battery', factors: [0.1], staggered: false });
		expect(toTreeModel(c.file, 'a1').model.commonCause).toMatchObject([
			{ members: ['first', 'second'], model: 'beta', factors: [0.1] }
		]);
	});
	it.each<[string, string[], string]>([
		['one event', ['first'], 'at least two'],
		['the same event twice', ['first', 'first'], 'Choose each event once'],
		['an event with causes beneath it', ['first', 'dead'], 'has causes beneath it'],
		['an event that is not there', ['first', 'gone'], 'Choose events of this tree']
	])('not over %s', (_, events, words) => {
		expect(c.refusal('commonCause.add', battery({ events })).message).toContain(words);
	});
	it('not over what is switched, excluded, unthought of, unlike or in another group', () => {
		const refuse = (...events: string[]) => c.refusal('commonCause.add', battery({ events })).message;
		const residual = c.inputs(c.file.anomalies['a1']!.top).at(-1)!;
		expect(refuse('first', residual)).toContain('nobody has thought of');
		c.do('event.weigh', { event: 'third', weight: 0.2 });
		expect(refuse('first', 'third')).toMatch(/starts at 5\s%.*at 20\s%\. Similar parts start alike/);
		c.do('event.change', { id: 'third', record: { kind: 'house' } });
		expect(refuse('first', 'third')).toContain('is switched');
		c.do('exclusion.add', {
			record: { anomaly: 'a1', events: ['first', 'glue'], reason: 'one or the other' }
		});
		expect(refuse('first', 'second')).toContain('excludes other events');
		c.do('exclusion.remove', { id: Object.keys(c.file.exclusions)[0] });
		c.do('commonCause.add', battery());
		expect(refuse('second', 'glue')).toContain('already fail with others from one battery');
		const exclusion = { record: { anomaly: 'a1', events: ['first', 'glue'], reason: 'x' } };
		expect(c.refusal('exclusion.add', exclusion).message).toContain('could fail together');
	});
	it('stays basic: nothing is put beneath it and it is not switched', () => {
		c.do('commonCause.add', battery());
		expect(
			c.refusal('event.add', { under: 'first', kind: 'basic', title: 'cell is flat' }).message
		).toContain('Take it off there first');
		expect(c.refusal('event.change', { id: 'first', record: { kind: 'house' } }).field).toBe('kind');
		c.do('event.change', { id: 'first', record: { kind: 'undeveloped' } });
	});
	it('shrinks with the tree, and goes when one is left', () => {
		const events = ['first', 'second', 'third'];
		c.do('commonCause.add', battery({ events, model: 'alpha', factors: [0.9, 0.06, 0.04] }));
		c.do('event.remove', { event: 'third' });
		expect(group()).toMatchObject({ events: ['first', 'second'], factors: [0.9, 0.1] });
		expect(weighCase({ ...toTreeModel(c.file, 'a1'), trying: false }).ok).toBe(true);
		c.do('event.remove', { event: 'second' });
		expect(c.file.commonCauses).toEqual({});
	});
	it('is changed and removed', () => {
		c.do('commonCause.add', battery());
		const [id] = Object.keys(c.file.commonCauses);
		c.do('commonCause.change', { id, ...battery({ events: ['first', 'third'], factors: [0.3] }) });
		expect(group()).toMatchObject({ events: ['first', 'third'], factors: [0.3] });
		c.do('commonCause.remove', { id });
		expect(c.file.commonCauses).toEqual({});
	});
});

describe('[T12] factors', () => {
	const refuse = (more: object) => c.refusal('commonCause.add', battery(more)).message;
	const events = ['first', 'second', 'third'];
	it('are probabilities, as many as the model takes', () => {
		expect(refuse({ factors: ['110 %'] })).toContain('between 0 and 1');
		expect(refuse({ factors: [''] })).toContain('how often');
		expect(refuse({ factors: [0.1, 0.2] })).toContain('For 2 events give one number');
		expect(refuse({ events, model: 'multiLetter', factors: [0.1] })).toContain('For 3 events give 2 numbers');
		expect(refuse({ events, model: 'alpha', factors: [0.9, 0.2, 0.1] })).toMatch(/100\s?%, not 120\s?%/);
		c.do('commonCause.add', battery({ events, model: 'multiLetter', factors: [0.1, 0.3] }));
	});
	it('of some but not all: for up to seven events', () => {
		const many = Array.from({ length: 8 }, (_, i) => `m${i}`);
		for (const id of many) c.add(id, 'dead');
		const factors = many.slice(1).map(() => 0.1);
		expect(refuse({ events: many, model: 'multiLetter', factors })).toContain('up to 7 events; these are 8');
		c.do('commonCause.add', battery({ events: many }));
	});
});

it('[W6] one starting weight: weighing one weighs all', () => {
	c.do('commonCause.add', battery());
	c.do('event.weigh', { event: 'first', weight: '20 %', weightBasis: 'ownHistory' });
	expect(c.event('second')).toMatchObject({ weight: 0.2, weightBasis: 'ownHistory' });
	expect(c.event('third').weight).toBeNull();
	c.do('event.weigh', { event: 'first', weightNote: '4 of 20' });
	expect(c.event('second').weightNote).toBe('');
	// Also while a weight is only tried.
	const tried = toTreeModel(c.file, 'a1', { first: 0.4 }).model.events;
	expect(tried.find(({ id }) => id === 'second')?.p).toBe(0.4);
});

describe('what it does', () => {
	it('shows on the top event, with and without, and in names that people know', () => {
		c.do('event.remove', { event: 'third' });
		c.do('event.remove', { event: 'glue' });
		c.do('event.weigh', { event: 'first', weight: 0.1 });
		c.do('event.weigh', { event: 'second', weight: 0.1 });
		const residual = c.inputs(c.file.anomalies['a1']!.top).at(-1)!;
		c.do('event.weigh', { event: residual, weight: 0 });
		c.do('commonCause.add', battery({ factors: [0.2] }));
		const [id] = Object.keys(c.file.commonCauses);
		const { shared, cutSets } = lookDeeper({ ...toTreeModel(c.file, 'a1'), trying: false });
		// By hand in docs/methods/weighing.md: .02 + .98 · .08 · .08, and .1 · .1.
		expect(shared[id!]?.together).toBeCloseTo(0.026272, 12);
		expect(shared[id!]?.apart).toBeCloseTo(0.01, 12);
		expect(shared[id!]?.atWork).toBeCloseTo(0.02 / 0.026272, 12);
		const parts = partsIn(c.file, 'a1');
		expect(
			cutSets?.list.map(({ events }) => events.map((event) => nameIn(c.file, parts, event)))
		).toContainEqual(['one battery (both at once)']);
		c.do('event.setGate', { event: 'dead', type: 'priorityAnd' });
		const file = c.file;
		const { markdown } = buildReport(heronReport(ALL, { file, weighed: weighForReport(file) }));
		expect(markdown).toMatch(
			/\| one battery \| .*first recorder.* and .*second recorder.*both in 20\u202f% of the cases \(common practice/
		);
		expect(markdown).toMatch(/\| 2\.6\u202f% \| 1\u202f% \| 76\u202f% \|/);
		expect(markdown).toMatch(/\| one battery \(both at once\) \| 76\u202f% \|/);
		// A tree of probabilities has no order, and the report says so of the event by its title.
		expect(markdown).toMatch(/“no recorder fires the charge” \(priority AND\) is weighed as a plain AND/);
		expect(nameIn(c.file, parts, '!first alone')).toBe('not first recorder is dead (by itself)');
	});
});

describe('what a group would do, while it is typed', () => {
	const typed = (more: object = {}) => tryCommonCause(c.file, null, battery(more).record);
	const effect = (more: object = {}) => {
		const tried = typed(more);
		if (!tried.ok) throw new Error(tried.problem);
		const [together, apart] = [tried.together, tried.apart].map((file) => toTreeModel(file, 'a1'));
		return effectOfDraft(together!, apart!)!;
	};

	it('hand-worked: two that must both fail, of .1 each and one failure in five that hits both', () => {
		c.do('event.weigh', { event: 'third', weight: 1 });
		c.do('event.weigh', { event: 'glue', weight: 0 });
		for (const event of ['first', 'second']) c.do('event.weigh', { event, weight: 0.1 });
		c.do('event.weigh', { event: c.inputs(c.file.anomalies['a1']!.top).at(-1)!, weight: 0 });
		const { together, apart } = effect({ factors: ['20 %'] });
		expect(apart.top).toBeCloseTo(0.01, 12);
		// .02 + .98 · .08²
		expect(together.top).toBeCloseTo(0.026272, 12);
		expect(effectWords({ together, apart }, (id) => `“${id}”`)).toMatch(
			/^As typed: before the flight the top event stands at 2.6\u202f%, were each to fail only by itself at 1\u202f%; given everything 3 causes stand level at 100\u202f% either way\.$/
		);
		expect(c.file.commonCauses).toEqual({});
	});
	it('who leads with it and who without', () => {
		for (const event of ['first', 'second', 'third']) c.do('event.weigh', { event, weight: 0.05 });
		c.do('event.weigh', { event: 'glue', weight: 0.01 });
		c.do('event.weigh', { event: c.inputs(c.file.anomalies['a1']!.top).at(-1)!, weight: 0.001 });
		const { together, apart } = effect({ events: ['first', 'second', 'third'], factors: ['50\u202f%'] });
		expect(apart.lead!.ids).toEqual(['glue']);
		expect(together.lead!.ids).toEqual(['first', 'second', 'third']);
		expect(effectWords({ together, apart }, (id) => id)).toMatch(
			/given everything 3 causes stand level at \d+\u202f%, without it glue leads at \d+\u202f%\.$/
		);
	});
	it('of one that is kept: as typed now against none, not against what is kept', () => {
		c.do('commonCause.add', battery({ factors: ['50 %'] }));
		const [id] = Object.keys(c.file.commonCauses);
		const tried = tryCommonCause(c.file, id!, battery({ factors: ['0 %'] }).record);
		if (!tried.ok) throw new Error(tried.problem);
		const [together, apart] = [tried.together, tried.apart].map((file) => toTreeModel(file, 'a1'));
		const does = effectOfDraft(together!, apart!)!;
		expect(does.together.top).toBeCloseTo(does.apart.top!, 12);
		expect(effectWords(does, (event) => event)).toContain('either way');
	});
	it('what is wrong with its numbers is said in the words that keeping it would say', () => {
		const said = (more: object) => {
			const tried = typed(more);
			return tried.ok ? null : tried.problem;
		};
		expect(said({ factors: ['120 %'] })).toMatch(/A probability lies between 0 and 1/);
		expect(said({ factors: [''] })).toMatch(/Say how often/);
		const alpha = { events: ['first', 'second', 'third'], model: 'alpha' };
		expect(said({ ...alpha, factors: ['50\u202f%', '20\u202f%', '20\u202f%'] })).toMatch(
			/add up to 100 %, not 90\u202f%/
		);
		expect(said({ ...alpha, factors: ['60 %', '20 %', '20 %'] })).toBeNull();
	});
});
