import { beforeEach, describe, expect, it } from 'vitest';
import { weighCase } from '$lib/components/weighing/weigh-case';
import { holds, settingsOf, settingsThatHold } from '$lib/investigation/views/settings';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import { buildReport } from '$lib/report/report';
import { weighForReport } from '$lib/report/weighed';
import { ALL, heronReport } from '../report/heron';
import { Case } from './anomaly-case';

/** The example of the Open-PSA text has one switch and its negation; here a flame counts in boost, a charge in descent. */
let c: Case;
beforeEach(() => {
	c = new Case();
	const top = c.state();
	for (const [branch, cause, phase] of [
		['burnt', 'flame', 'boost'],
		['blown', 'charge', 'descent']
	] as const) {
		c.add(branch, top, `it was ${branch}`);
		c.add(cause, branch, `the ${cause} reached it`);
		c.do('event.setGate', { event: branch, type: 'and' });
		c.add(phase, branch, `it happened in ${phase}`, 'house');
	}
	c.do('event.weigh', { event: 'flame', weight: 0.2 });
	c.do('event.weigh', { event: c.inputs(top).at(-1), weight: 0 });
});

const switchOn = (...phases: string[]) => {
	for (const id of ['boost', 'descent']) c.do('event.change', { id, record: { on: phases.includes(id) } });
};
const keep = (title: string) => c.do('setting.keep', { anomaly: 'a1', title });
const top = () => {
	const weighed = weighCase({ ...toTreeModel(c.file, 'a1'), trying: false });
	return weighed.ok ? weighed.weighing.probabilityOfTop : NaN;
};

describe('[T14] a setting', () => {
	it('is how the house events stand when it is kept, and one name is one setting', () => {
		switchOn('boost');
		const id = keep('boost');
		expect(c.file.settings[id]!.switches).toEqual([
			{ event: 'boost', on: true },
			{ event: 'descent', on: false }
		]);
		switchOn('boost', 'descent');
		expect(keep('boost')).toBe(id);
		expect(settingsOf(c.file, 'a1')).toHaveLength(1);
		expect(c.file.settings[id]!.switches[1]).toEqual({ event: 'descent', on: true });
	});
	it('has a name, and something to switch', () => {
		expect(c.refusal('setting.keep', { anomaly: 'a1', title: ' ' }).message).toContain('Name the phase');
		c.state('a2');
		expect(c.refusal('setting.keep', { anomaly: 'a2', title: 'boost' }).message).toContain('no house events');
		const id = keep('boost');
		keep('descent');
		expect(c.refusal('setting.keep', { id, anomaly: 'a1', title: 'descent' }).field).toBe('title');
	});
	it('shrinks with the tree, and goes with its last switch', () => {
		const id = keep('boost');
		c.do('event.remove', { event: 'burnt' });
		expect(c.file.settings[id]!.switches).toEqual([{ event: 'descent', on: false }]);
		c.do('event.remove', { event: 'descent' });
		expect(c.file.settings).toEqual({});
	});
	it('is removed, and the switches stay', () => {
		switchOn('boost');
		const id = keep('boost');
		c.do('setting.remove', { id });
		expect(c.file.settings).toEqual({});
		expect(c.event('boost').on).toBe(true);
	});
});

describe('[T15] choosing one', () => {
	it('switches all at once, and the probabilities follow there and back', () => {
		switchOn('boost');
		const boost = keep('boost');
		switchOn('descent');
		const descent = keep('descent');
		expect(top()).toBeCloseTo(0.05, 14);
		c.do('setting.choose', { id: boost });
		expect([c.event('boost').on, c.event('descent').on]).toEqual([true, false]);
		expect(top()).toBeCloseTo(0.2, 14);
		expect(settingsThatHold(c.file, 'a1')).toEqual(['boost']);
		c.do('setting.choose', { id: descent });
		expect(top()).toBeCloseTo(0.05, 14);
		switchOn();
		expect(settingsThatHold(c.file, 'a1')).toEqual([]);
	});
	it('leaves alone what is no house event any more, and what came later', () => {
		switchOn('boost');
		const id = keep('boost');
		c.do('event.change', { id: 'descent', record: { kind: 'basic' } });
		c.add('coast', 'burnt', 'it happened in coast', 'house');
		c.do('event.change', { id: 'coast', record: { on: true } });
		c.do('event.change', { id: 'boost', record: { on: false } });
		c.do('setting.choose', { id });
		expect(c.event('boost').on).toBe(true);
		expect(c.event('coast').on).toBe(true);
		expect(holds(c.file, c.file.settings[id]!)).toBe(true);
	});
});

it('the report says for which setting its numbers are', () => {
	switchOn('boost');
	keep('boost');
	const report = () =>
		buildReport(heronReport(ALL, { file: c.file, weighed: weighForReport(c.file) })).markdown;
	expect(report()).toContain('The tree is switched for **boost**; numbers and conclusion are for that.');
	expect(report()).toMatch(/\| boost \| .*happened in boost.* \| .*happened in descent.* \|/);
	switchOn('descent');
	expect(report()).toContain('switched by hand, as in none of its settings');
});
