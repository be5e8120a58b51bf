import { beforeEach, describe, expect, it } from 'vitest';
import { howFirm, lookDeeper, weighCase, whatEachDid } from '$lib/components/weighing/weigh-case';
import { named } from '$lib/investigation/views/tree-words';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
beforeEach(() => {
	c = new Case();
	top = c.state();
	c.add('load', top);
	c.add('glue', top);
});

describe('starting weights', () => {
	it('are read as people write them', () => {
		for (const [typed, weight] of [
			['20 %', 0.2],
			['1 in 50', 0.02],
			['0,3', 0.3],
			['', null]
		] as const) {
			c.do('event.weigh', { event: 'load', weight: typed });
			expect(c.event('load').weight).toBe(weight);
		}
	});
	it.each([1.2, '120 %', -0.1, 'often'])(
		'%s is refused beside the field, and the old weight stays',
		(weight) => {
			c.do('event.weigh', { event: 'load', weight: 0.1 });
			expect(c.refusal('event.weigh', { event: 'load', weight })).toMatchObject({ field: 'weight' });
			expect(c.event('load').weight).toBe(0.1);
		}
	);
	it('[W8] that were assumed are accepted together, and what was weighed stays', () => {
		c.do('event.weigh', { event: 'load', weight: 0.2 });
		c.do('event.acceptWeights', { events: ['load', 'glue'] });
		expect([c.event('load').weight, c.event('glue').weight]).toEqual([0.2, 0.05]);
		expect(c.refusal('event.acceptWeights', { events: ['load', 'glue'] }).message).toMatch(/by now/);
	});
	it('[W1] belong to events without a gate', () => {
		expect(c.refusal('event.weigh', { event: top, weight: 0.1 }).message).toContain('beneath it');
		c.add('boost', top, 'motor burning', 'house');
		expect(c.refusal('event.weigh', { event: 'boost', weight: 0.1 }).message).toContain('switched');
	});
});

describe('findings', () => {
	it('[W2] [W5] have one link from each event, and one from its not having happened', () => {
		c.find('f1', { load: 0.5 });
		c.do('link.set', { finding: 'f1', event: 'load', negated: false, p: '70 %' });
		c.do('link.set', { finding: 'f1', event: 'load', negated: true, p: 0.1 });
		expect(c.file.findings['f1']!.links).toEqual([
			{ event: 'load', negated: false, p: 0.7 },
			{ event: 'load', negated: true, p: 0.1 }
		]);
		const twice = [0.1, 0.2].map((p) => ({ event: 'load', negated: false, p }));
		expect(c.refusal('finding.change', { id: 'f1', record: { links: twice } }).message).toContain('twice');
		c.do('link.remove', { finding: 'f1', event: 'load', negated: true });
		expect(c.refusal('link.remove', { finding: 'f1', event: 'load', negated: true }).message).toContain(
			'no longer'
		);
	});
	it('a link needs an event of this tree and a probability', () => {
		c.find('f1');
		expect(c.refusal('link.set', { finding: 'f1', event: 'nowhere', negated: false, p: 0.5 }).field).toBe(
			'links'
		);
		expect(c.refusal('link.set', { finding: 'f1', event: 'load', negated: false, p: 1.2 }).field).toBe('p');
		expect(c.refusal('link.set', { finding: 'f1', event: 'load', negated: false, p: '' }).field).toBe('p');
	});
	it('a change to one field leaves the others', () => {
		c.find('f1', { load: 0.5 }, { costMinutes: 5 });
		c.do('finding.change', { id: 'f1', record: { baseRate: '1 %' } });
		expect(c.file.findings['f1']).toMatchObject({ baseRate: 0.01, costMinutes: 5, statement: 'sign f1' });
	});
	it('[W3] the same observation has one state in all its words', () => {
		c.find('f1', { load: 0.5 });
		c.find('f2', {}, { sameAs: 'f1' });
		c.find('f3', {}, { sameAs: 'f2' });
		c.do('finding.setState', { finding: 'f3', state: 'absent' });
		expect(['f1', 'f2', 'f3'].map((id) => c.file.findings[id]!.state)).toEqual([
			'absent',
			'absent',
			'absent'
		]);
	});
	it('[W3] but two origins may say different things of it', () => {
		c.do('origin.add', { id: 'ada', record: { name: 'Ada', reliability: 0.9, saysAnyway: 0.5, note: '' } });
		c.find('f1', { load: 0.5 });
		c.find('f2', {}, { sameAs: 'f1', origin: 'ada' });
		c.do('finding.setState', { finding: 'f1', state: 'absent' });
		c.do('finding.setState', { finding: 'f2', state: 'present' });
		expect(c.file.findings['f1']!.state).toBe('absent');
		expect(c.refusal('origin.remove', { id: 'ada' }).message).toContain('F2');
	});
	it('the same observation can’t be shown by one event with two probabilities', () => {
		c.find('f1', { load: 0.5 });
		c.find('f2', { load: 0.7 });
		expect(c.refusal('finding.change', { id: 'f2', record: { sameAs: 'f1' } }).field).toBe('sameAs');
	});
	it('[W4] stay while a disposition cites them', () => {
		c.find('f1', { load: 0.5 }, { state: 'present' });
		c.find('f2', {}, { sameAs: 'f1' });
		c.do('disposition.set', { event: 'load', state: 'likely', reason: 'bare glue', cites: ['f1'] });
		expect(c.refusal('finding.remove', { id: 'f1' }).field).toBe('cites');
		c.do('disposition.set', { event: 'load', state: 'open' });
		c.do('finding.remove', { id: 'f1' });
		expect(c.file.findings['f2']!.sameAs).toBeNull();
	});
});

describe('the case as the engine weighs it', () => {
	const weighed = () => {
		const answer = weighCase({ ...toTreeModel(c.file, 'a1'), trying: false });
		if (!answer.ok) throw new Error(answer.problems.join());
		return answer;
	};

	it('gives the hand-worked posterior of two causes and one sign', () => {
		// P(load) .1, P(glue) .2, nothing else; sign by load .5, by glue .1, never anyway; the top is load OR glue.
		c.do('event.weigh', { event: 'load', weight: 0.1 });
		c.do('event.weigh', { event: 'glue', weight: 0.2 });
		c.do('event.weigh', { event: c.inputs(top).at(-1)!, weight: 0 });
		c.find('f1', { load: 0.5, glue: 0.1 }, { state: 'present', baseRate: 0 });
		const load = 0.1 * 0.8 * 0.5;
		const glue = 0.9 * 0.2 * 0.1;
		const both = 0.1 * 0.2 * (1 - 0.5 * 0.9);
		const { weighing } = weighed();
		expect(weighing.events['load']).toMatchObject({ prior: 0.1 });
		expect(weighing.events['load']!.givenTop).toBeCloseTo(0.1 / 0.28, 12);
		expect(weighing.events['load']!.givenAll).toBeCloseTo((load + both) / (load + glue + both), 12);
		// What the one sign did follows apart: without it there is only that the top happened.
		expect(weighing.contributions).toEqual([]);
		const told = whatEachDid({ ...toTreeModel(c.file, 'a1'), trying: false });
		expect(told.givenAll['load']).toBe(weighing.events['load']!.givenAll);
		expect(told.contributions).toHaveLength(1);
		expect(told.contributions[0]!.withoutIt['load']).toBeCloseTo(0.1 / 0.28, 12);
	});

	it('leaves the unthought-of branch where it was, whatever is found, until somebody says why', () => {
		c.do('event.weigh', { event: 'load', weight: 0.1 });
		c.find('f1', { load: 0.5 });
		const residual = c.inputs(top).at(-1)!;
		const before = weighed().weighing.events[residual]!.givenAll!;
		const assumed = weighed().residualLinks['f1']!;
		// P(sign | load or glue) with no residual: (.1·.5 + base) over the tree of .1 and the assumed .05.
		const p = 1 - (1 - 0.02) * (1 - (0.5 * 0.1) / (1 - 0.9 * 0.95));
		expect(1 - (1 - 0.02) * (1 - assumed)).toBeCloseTo(p, 12);
		for (const state of ['present', 'absent'] as const) {
			c.do('finding.setState', { finding: 'f1', state });
			expect(Math.abs(weighed().weighing.events[residual]!.givenAll! - before)).toBeLessThan(0.03);
		}
		c.do('finding.change', { id: 'f1', record: { residualLink: 0.9 } });
		c.do('finding.setState', { finding: 'f1', state: 'present' });
		expect(weighed().weighing.events[residual]!.givenAll!).toBeGreaterThan(before + 0.1);
		expect(weighed().residualLinks).toEqual({});
	});

	it('takes a calculated likelihood in its order, and only while it is in use', () => {
		c.do('event.weigh', { event: 'load', weight: 0.1 });
		c.do('event.weigh', { event: 'glue', weight: 0.1 });
		const run = (use: boolean) => ({
			number: 1,
			title: 'Load at opening',
			anomaly: 'a1',
			likelihood: {
				use,
				observed: {},
				scenarios: [
					{ event: 'load', density: 4, standardError: 0.1, words: '' },
					{ event: null, density: 1, standardError: 0, words: '' }
				]
			}
		});
		c.put('calculations', 'k1', run(false));
		const before = weighed().weighing.events['load']!.givenAll!;
		c.put('calculations', 'k1', run(true));
		const { givenAll, interval } = weighed().weighing.events['load']!;
		const odds = (p: number) => p / (1 - p);
		expect(odds(givenAll!) / odds(before)).toBeCloseTo(4, 9);
		expect(interval![0]).toBeLessThan(givenAll!);
	});

	it('a gate, a house event and an exclusion reach the engine as they stand', () => {
		c.add('boost', top, 'motor burning', 'house');
		c.do('event.change', { id: 'boost', record: { on: true } });
		c.do('event.setGate', { event: top, type: 'atLeast', k: 2 });
		c.do('exclusion.add', {
			record: { anomaly: 'a1', events: ['load', 'glue'], reason: 'one or the other' }
		});
		const { model } = toTreeModel(c.file, 'a1');
		expect(model.gates).toMatchObject([{ id: top, type: 'atLeast', k: 2 }]);
		expect(model.events.find(({ id }) => id === 'boost')).toMatchObject({ kind: 'house', state: true });
		expect(model.exclusive).toEqual([['load', 'glue']]);
		expect(weighed().weighing.method).toBe('exact');
	});

	it('says in titles what can’t be weighed, and what contradicts the tree', () => {
		c.do('event.weigh', { event: 'load', weight: 0 });
		c.do('event.weigh', { event: 'glue', weight: 0 });
		c.do('event.weigh', { event: c.inputs(top).at(-1)!, weight: 0 });
		const { weighing } = weighed();
		expect(named(weighing.contradiction!.message, toTreeModel(c.file, 'a1').model)).toContain(
			'“The bulkhead left the bay tube”'
		);
	});

	it('ranks what was not examined, and tells what a weight ten times lower would change', () => {
		c.do('event.weigh', { event: 'load', weight: 0.1 });
		c.do('event.weigh', { event: 'glue', weight: 0.05 });
		c.find('tells', { load: 0.9 });
		c.find('dull', { load: 0.5, glue: 0.5 });
		const deeper = lookDeeper({ ...toTreeModel(c.file, 'a1'), trying: false });
		const bits = Object.fromEntries(deeper.information!.observations.map(({ id, bits }) => [id, bits]));
		expect(bits['tells']!).toBeGreaterThan(10 * bits['dull']!);
		const { firm } = howFirm({ ...toTreeModel(c.file, 'a1'), trying: false });
		const swept = firm!.robust!.assumptions.find(({ kind, id }) => kind === 'weight' && id === 'load')!;
		expect(swept.lower).toMatchObject({ leader: 'glue' });
		expect(swept.higher).toMatchObject({ leader: 'load' });
		expect(deeper.cutSets!.list.map(({ events }) => events)).toContainEqual(['load']);
		expect(deeper.explanations[0]!.happened).toEqual(['load']);
	});

	it('a tried weight keeps the assumed links and changes nothing that is stored', () => {
		c.find('f1', { load: 0.5 }, { state: 'present' });
		weighed();
		const tried = weighCase({ ...toTreeModel(c.file, 'a1', { load: 0.5 }), trying: true });
		expect(tried).toMatchObject({ ok: true, stale: true });
		expect(c.event('load').weight).toBeNull();
		expect(weighed()).toMatchObject({ stale: false });
	});
});

describe('the order in which a tree is weighed', () => {
	it('is that of the tree and of the numbers, whatever the records are called', () => {
		const labels = (ids: readonly [string, string, string, string]) => {
			const other = new Case();
			const under = other.state();
			const [first, second, gate, sign] = ids;
			other.add(gate, under, 'gate');
			other.add(first, gate, 'first');
			other.add(second, under, 'second');
			other.find(sign, {}, { statement: 'one' });
			other.find(`x${sign}`, {}, { statement: 'two' });
			const { model } = toTreeModel(other.file, 'a1');
			return [...model.events, ...(model.gates ?? []), ...(model.findings ?? [])].map(({ label }) => label);
		};
		expect(labels(['z', 'b', 'm', 'y'])).toEqual(labels(['c', 'y', 'x', 'a']));
	});
});
