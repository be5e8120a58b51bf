import { beforeEach, describe, expect, it } from 'vitest';
import { changeFollows, standsInTheWay } from '$lib/investigation/views/closure';
import { constructionFaults } from '$lib/investigation/views/construction';
import { together } from '$lib/investigation/views/in-the-way';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
beforeEach(() => {
	c = new Case();
	top = c.stated();
});
const rules = () => constructionFaults(c.file, 'a1').map(({ rule, event }) => `${rule} ${event}`);

describe('[S2] how the tree is made', () => {
	it('an empty tree lacks its causes, and nothing else is said of the top', () => {
		expect(rules()).toEqual([`nothingBeneathTop ${top}`]);
	});
	it('a gate with one cause, or not looked over, is listed until it is', () => {
		c.add('air', top, 'pulled out in the air');
		c.add('load', 'air', 'opening load too high');
		expect(rules()).toEqual(
			expect.arrayContaining([`passesThrough air`, `notComplete air`, `notComplete ${top}`])
		);
		c.add('glue', 'air', 'glue let go');
		c.do('event.setComplete', { event: 'air', complete: true });
		expect(rules()).not.toContain('passesThrough air');
		expect(rules()).not.toContain('notComplete air');
	});
	it.each([
		['Altimeter', 'noFailedState'],
		['operator error at the pad', 'personIsLast'],
		['somebody forgot the shear pins', 'personIsLast']
	])('"%s": %s', (title, rule) => {
		c.add('x', top, title);
		expect(rules()).toContain(`${rule} x`);
	});
	it('a person’s slip with a question beneath it is not the last leaf', () => {
		c.add('x', top, 'operator error at the pad');
		c.add('why', 'x', 'two connectors fit either way');
		expect(rules().some((rule) => rule.startsWith('personIsLast'))).toBe(false);
	});
	it('two events of one name should be one that is shared', () => {
		c.add('x', top, 'Battery flat');
		c.add('y', top, 'battery, flat');
		expect(rules()).toContain('sameTitle y');
	});
	it('a weight that nobody chose is listed', () => {
		c.add('x', top, 'battery flat');
		expect(rules()).toContain('noWeight x');
		c.do('event.weigh', { event: 'x', weight: 0.02 });
		expect(rules()).not.toContain('noWeight x');
	});
});

describe('what stands in the way', () => {
	const way = (weighed?: Parameters<typeof standsInTheWay>[2]) => standsInTheWay(c.file, 'a1', weighed);

	beforeEach(() => {
		c.add('load', top, 'opening load too high');
		c.do('event.weigh', { event: 'load', weight: 0.1 });
		c.do('event.setComplete', { event: top, complete: true });
	});

	it('[S1] names every open branch and where to go', () => {
		expect(way().filter(({ rule }) => rule === 'branch')).toMatchObject([
			{ where: { view: 'conclusion', event: 'load', field: 'state' }, blocks: true },
			{ where: { view: 'conclusion', event: c.inputs(top).at(-1) } }
		]);
	});
	it('says once what several have in common, where the first of them stands', () => {
		for (const id of ['glue', 'cord']) c.add(id, top);
		const list = together(way()).map((one) =>
			'things' in one ? [one.kind, one.things.length] : one.message
		);
		expect(list).toEqual([['noWeight', 2], expect.stringContaining('immediate and complete'), ['open', 4]]);
		c.do('event.acceptWeights', { events: ['glue'] });
		expect(together(way())[0]!.message).toMatch(/^"cord lets go" has no starting weight/);
	});
	it('[S8] a decided branch cites what decides it, but for the one nobody has thought of', () => {
		c.put('evidence', 'e1', { number: 1, kind: 'piece', title: 'the bulkhead' });
		const residual = c.inputs(top).at(-1)!;
		for (const event of ['load', residual])
			c.do('disposition.set', { event, state: 'unlikely', reason: 'the joint was whole', cites: [] });
		expect(way().filter(({ rule }) => rule === 'branch')).toMatchObject([
			{
				where: { event: 'load', field: 'cites' },
				message: expect.stringContaining('cites nothing') as string,
				blocks: true
			}
		]);
		c.do('disposition.set', {
			event: 'load',
			state: 'unlikely',
			reason: 'the joint was whole',
			cites: ['e1']
		});
		expect(way().filter(({ rule }) => rule === 'branch')).toEqual([]);
	});
	it('[S3] what was looked at cites its evidence', () => {
		c.find('f1', { load: 0.5 });
		expect(way().some(({ rule }) => rule === 'finding')).toBe(false);
		c.do('finding.setState', { finding: 'f1', state: 'absent' });
		expect(way()).toContainEqual(
			expect.objectContaining({
				rule: 'finding',
				where: { view: 'findings', finding: 'f1', field: 'evidence' }
			})
		);
	});
	it('[S4] a branch ruled out long ago that the evidence has since raised above 30 % is asked about again', () => {
		c.put('evidence', 'e1', { number: 1, kind: 'piece', title: 'the bulkhead' });
		c.do('disposition.set', {
			event: 'load',
			state: 'ruledOutByEvidence',
			reason: 'joint held',
			cites: ['e1'],
			weightThen: 0.05
		});
		const rose = way({ givenAll: { load: 0.44 }, contradiction: null });
		expect(rose.filter(({ message }) => message.includes('44\u202f%'))).toMatchObject([
			{ where: { event: 'load', field: 'despite' } }
		]);
		expect(
			way({ givenAll: { load: 0.2 }, contradiction: null }).filter(({ message }) =>
				message.includes('20\u202f%')
			)
		).toEqual([]);
	});
	it('[S4] and so is one that was called likely and has since fallen', () => {
		c.put('evidence', 'e1', { number: 1, kind: 'piece', title: 'the bulkhead' });
		const likely = { event: 'load', state: 'likely', reason: 'bare glue', cites: ['e1'], weightThen: 0.7 };
		c.do('disposition.set', likely);
		const fallen = { givenAll: { load: 0.1 }, contradiction: null };
		expect(
			way(fallen).some(({ message }) => message.includes('likely, but the evidence gives it 10\u202f%'))
		).toBe(true);
		c.do('disposition.set', { ...likely, weightThen: 0.1, despite: 'the witness was mistaken' });
		expect(way(fallen).some(({ message }) => message.includes('10\u202f%'))).toBe(false);
	});
	it('[S4] a reason that was given is asked for again once the number has gone further the same way', () => {
		c.put('evidence', 'e1', { number: 1, kind: 'piece', title: 'the bulkhead' });
		c.find('f1', { load: 0.8 }, { state: 'present', evidence: ['e1'] });
		c.do('disposition.set', {
			event: 'load',
			state: 'established',
			reason: 'bare glue',
			cites: ['f1'],
			weightThen: 0.51,
			despite: 'the base rate is too high'
		});
		const at = (load: number) =>
			way({ givenAll: { load }, contradiction: null }).filter(
				({ where }) => 'field' in where && where.field === 'despite'
			);
		expect(at(0.51)).toEqual([]);
		expect(at(0.54)).toEqual([]);
		expect(at(0.17)).toMatchObject([
			{
				message: expect.stringContaining(
					'gives it 17\u202f%, and gave it 51\u202f% when the reason was given'
				) as string,
				blocks: true
			}
		]);
	});
	it('[S10] what is established is asked about again when nothing speaks for it any more', () => {
		c.put('evidence', 'e1', { number: 1, kind: 'piece', title: 'the bulkhead' });
		c.find('f1', { load: 0.8 }, { state: 'present', evidence: ['e1'] });
		const established = { event: 'load', state: 'established', reason: 'bare glue', cites: ['f1'] };
		c.do('disposition.set', established);
		const asked = () => way().filter(({ message }) => message.includes('nothing cited speaks for it'));
		expect(asked()).toEqual([]);
		c.do('finding.setState', { finding: 'f1', state: 'absent' });
		expect(asked()).toMatchObject([{ where: { event: 'load', field: 'cites' }, blocks: true }]);
	});
	it('[S2] what the top event is, and what each gate is the state of, is waited for, and leads to its field', () => {
		const c2 = new Case();
		const bare = c2.state();
		c2.add('air', bare, 'pulled out in the air');
		c2.add('load', 'air', 'opening load too high');
		const open = () =>
			standsInTheWay(c2.file, 'a1').flatMap(({ where, blocks }) =>
				'field' in where && (where.field === 'statement' || where.field === 'faultOf')
					? [`${where.event} ${where.field} ${String(blocks)}`]
					: []
			);
		expect(open()).toEqual([`${bare} statement true`, 'air faultOf true']);
		c2.do('anomaly.change', {
			id: 'a1',
			record: { subject: 'Bulkhead', failedState: 'leaves the tube', boundary: ['the bay'] }
		});
		c2.do('event.setFault', { event: 'air', faultOf: 'system' });
		expect(open()).toEqual([]);
	});
	it('[S5] a contradiction comes first', () => {
		expect(way({ givenAll: {}, contradiction: 'these clash' })[0]).toMatchObject({
			rule: 'contradiction',
			blocks: true
		});
	});
	it('after a conclusion, a change follows or the reason why none does; it blocks nothing', () => {
		expect(changeFollows(c.file, 'a1')).toEqual([]);
		c.put('conclusions', 'a1', { state: 'probableCause', noChangeReason: '' });
		expect(changeFollows(c.file, 'a1')).toMatchObject([{ rule: 'change', blocks: false }]);
		c.put('changes', 'c1', { anomaly: 'a1', state: 'proposed' });
		expect(changeFollows(c.file, 'a1')).toEqual([]);
		c.put('changes', 'c1', { anomaly: 'a1', state: 'rejected' });
		expect(changeFollows(c.file, 'a1')).toHaveLength(1);
	});
});
