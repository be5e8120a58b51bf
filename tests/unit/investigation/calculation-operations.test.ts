import { beforeEach, describe, expect, it } from 'vitest';
import { fallSeparation } from '$lib/calculations/fall-separation/fall-separation';
import { readResult } from '$lib/investigation/schema/calculation-result';
import { toTreeModel } from '$lib/investigation/views/tree-model';
import { weigh } from '$lib/reasoning';
import { CalculationCase, fallRun } from './calculation-case';

const run = fallRun();
const named = { calculation: 'fall-separation', title: 'Did they part in the air?', anomaly: 'a1', note: '' };
let c: CalculationCase;
const add = (more: object = {}) => c.do('calculation.add', { ...named, ...run, ...more });
const EVENTS = ['air', 'landing', null];
const givenAll = (event: string) => weigh(toTreeModel(c.file, 'a1').model).events[event]!.givenAll!;

beforeEach(() => {
	c = new CalculationCase();
});

describe('keeping a run', () => {
	it('holds what was asked, version, seed and result, under a number of its own', () => {
		const id = add();
		const stored = c.file.calculations[id]!;
		expect(stored).toMatchObject({
			number: 1,
			version: String(fallSeparation.version),
			seed: 3,
			samples: 100,
			likelihood: null
		});
		expect(stored.inputs).toEqual(run.inputs);
		expect(readResult(stored.result)!.likelihoods.map(({ id }) => id)).toEqual([
			'parted-in-the-air',
			'parted-at-impact',
			'none-of-these'
		]);
		const second = add();
		expect(c.file.calculations[second]!.number).toBe(2);
	});
	it('keeps every digit of outputs and densities; a picture needs six', () => {
		const id = add();
		const stored = c.file.calculations[id]!.result as typeof run.result;
		expect(stored.outputs).toEqual(run.result.outputs);
		expect(stored.likelihoods).toEqual(run.result.likelihoods);
		expect(JSON.stringify(stored.figure)).not.toMatch(/\d\.\d{8}/);
	});
	it('[K1] refuses a result of another calculation, version, seed or number of samples', () => {
		for (const wrong of [
			{ calculation: 'landing-footprint' },
			{ seed: 4 },
			{ samples: 200 },
			{ result: { ...run.result, version: 99 } },
			{ result: null },
			{ result: { ...run.result, outputs: { distance: 'far' } } }
		])
			expect(c.refusal('calculation.add', { ...named, ...run, ...wrong }).field).toBe('result');
		expect(c.refusal('calculation.add', { ...named, ...run, calculation: 'sorcery' }).message).toContain(
			'sorcery'
		);
	});
	it('refuses an anomaly that is not there, and a run without a name', () => {
		expect(c.refusal('calculation.add', { ...named, ...run, anomaly: 'nope' }).field).toBe('anomaly');
		expect(c.refusal('calculation.add', { ...named, ...run, title: ' ' }).field).toBe('title');
	});
});

describe('weighing', () => {
	it('puts the scenarios in order on the tree, and off again', () => {
		const id = add();
		const before = givenAll('landing');
		c.do('calculation.useAsEvidence', { id, use: true, events: EVENTS });
		const scenarios = c.file.calculations[id]!.likelihood!.scenarios;
		expect(scenarios.map(({ event }) => event)).toEqual(EVENTS);
		expect(scenarios.map(({ density }) => density)).toEqual(
			run.result.likelihoods!.map(({ density }) => density)
		);
		expect(scenarios[0]!.standardError).toBeGreaterThan(0);
		expect(scenarios[0]!.words).toContain('Bulkhead would lie');
		expect(givenAll('landing')).toBeGreaterThan(before + 0.2);
		c.do('calculation.useAsEvidence', { id, use: false });
		expect(givenAll('landing')).toBeCloseTo(before, 12);
		c.do('calculation.useAsEvidence', { id, use: true });
		expect(givenAll('landing')).toBeGreaterThan(before + 0.2);
	});
	it.each([
		[['air', null, null], 'events.1', 'Parted at impact'],
		[['air', 'air', null], 'events.1', 'already'],
		[['air', 'landing', 'air'], 'events.2', 'no event'],
		[['air', 'gone', null], 'events.1', 'Choose the event'],
		[['air', null], 'events', 'one event for each']
	])('[K4] refuses %j', (events, field, words) => {
		const refusal = c.refusal('calculation.useAsEvidence', { id: add(), use: true, events });
		expect(refusal.field).toBe(field);
		expect(refusal.message).toContain(words);
	});
	it('[K4] refuses the top event, a run of no anomaly, and one that compares nothing', () => {
		const use = (id: string, events: unknown) =>
			c.refusal('calculation.useAsEvidence', { id, use: true, events });
		expect(use(add(), [c.top, 'landing', null]).message).toContain('top event');
		expect(use(add({ anomaly: null }), EVENTS).field).toBe('anomaly');
		const alone = fallRun({ inputs: { ...run.inputs, releaseHeight: '300 m' }, observed: {} });
		expect(use(c.do('calculation.add', { ...named, ...alone }), []).field).toBe('observed');
	});
	it('an event that it stands for can’t be removed from the tree', () => {
		c.do('calculation.useAsEvidence', { id: add(), use: true, events: EVENTS });
		expect(c.refusal('event.remove', { id: 'air', event: 'air' }).message).toMatch(/K1/);
	});
});

describe('computing again', () => {
	it('[K3] carries the events over to the new densities', () => {
		const id = add();
		c.do('calculation.useAsEvidence', { id, use: true, events: EVENTS });
		const far = fallRun({ observed: { found: [{ distance: '60 ± 5 m' }] } });
		c.do('calculation.rerun', { id, ...far });
		const { likelihood, observed } = c.file.calculations[id]!;
		expect(observed).toEqual(far.observed);
		expect(likelihood!.use).toBe(true);
		expect(likelihood!.scenarios.map(({ event }) => event)).toEqual(EVENTS);
		expect(likelihood!.scenarios[0]!.density).toBeGreaterThan(likelihood!.scenarios[1]!.density);
	});
	it('[K3] by itself does the same, under a name of its own', () => {
		const id = add();
		c.do('calculation.useAsEvidence', { id, use: true, events: EVENTS });
		const far = { id, ...fallRun({ observed: { found: [{ distance: '60 ± 5 m' }] } }) };
		c.do('calculation.follow', far);
		const followed = c.file.calculations[id];
		expect(followed?.observed).toEqual(far.observed);
		c.do('calculation.rerun', far);
		expect(c.file.calculations[id]).toEqual(followed);
	});
	it('[K3] keeps scenarios of one kind apart by their order', () => {
		const parted = (from: string, to: string) => ({ id: 'parted-in-the-air', from, to });
		const twice = fallRun({
			scenarios: [parted('0 m', '200 m'), parted('200 m', '1000 m'), { id: 'none-of-these' }]
		});
		const id = c.do('calculation.add', { ...named, ...twice });
		c.do('calculation.useAsEvidence', { id, use: true, events: EVENTS });
		c.do('calculation.rerun', { id, ...twice });
		expect(c.file.calculations[id]!.likelihood!.scenarios.map(({ event }) => event)).toEqual(EVENTS);
		// The first of them left out takes its event with it.
		const second = fallRun({ scenarios: [parted('200 m', '1000 m'), { id: 'none-of-these' }] });
		c.do('calculation.rerun', { id, ...second });
		expect(c.file.calculations[id]!.likelihood!.scenarios.map(({ event }) => event)).toEqual([
			'landing',
			null
		]);
		// Which of the two this one was, nobody can say.
		const other = fallRun({
			scenarios: [parted('0 m', '100 m'), parted('100 m', '900 m'), { id: 'none-of-these' }]
		});
		expect(c.refusal('calculation.rerun', { id, ...other }).field).toBe('scenarios');
	});
	it('[K3] asks for an event where a scenario is new; off the tree it forgets them instead', () => {
		const id = add({ ...fallRun({ scenarios: [{ id: 'parted-in-the-air' }, { id: 'none-of-these' }] }) });
		c.do('calculation.useAsEvidence', { id, use: true, events: ['air', null] });
		expect(c.refusal('calculation.rerun', { id, ...run }).field).toBe('scenarios');
		c.do('calculation.useAsEvidence', { id, use: false });
		c.do('calculation.rerun', { id, ...run });
		expect(c.file.calculations[id]!.likelihood).toBeNull();
	});
});

describe('changing and removing', () => {
	it('[K2] a run that goes to another anomaly leaves the tree', () => {
		const id = add();
		c.do('calculation.useAsEvidence', { id, use: true, events: EVENTS });
		c.do('calculation.change', { id, title: 'Where did they part?' });
		expect(c.file.calculations[id]).toMatchObject({
			title: 'Where did they part?',
			likelihood: { use: true }
		});
		c.do('calculation.change', { id, anomaly: null });
		expect(c.file.calculations[id]).toMatchObject({ anomaly: null, likelihood: null });
	});
	it('[K6] a planned run is kept with what was drawn, never weighs, and weighs once it is measured', () => {
		const plan = fallRun({ planned: true });
		expect(c.refusal('calculation.add', { ...named, ...plan, planned: false }).field).toBe('result');
		expect(c.refusal('calculation.add', { ...named, ...run, planned: true }).field).toBe('result');
		const id = add(plan);
		expect(c.refusal('calculation.useAsEvidence', { id, use: true, events: EVENTS }).message).toContain(
			'Nothing is measured yet'
		);
		const rank = { id, events: EVENTS, costMinutes: '2 h' };
		expect(c.refusal('calculation.plan', { ...rank, events: ['air', null, null] }).field).toBe('events.1');
		expect(c.refusal('calculation.plan', { ...rank, costMinutes: 'long' }).field).toBe('costMinutes');
		c.do('calculation.plan', rank);
		expect(c.file.calculations[id]).toMatchObject({
			planned: true,
			costMinutes: 120,
			likelihood: { use: false }
		});
		const before = givenAll('air');
		expect(toTreeModel(c.file, 'a1').model.likelihoods).toEqual([]);

		c.do('calculation.rerun', { id, ...run });
		expect(c.file.calculations[id]).not.toHaveProperty('planned');
		expect(c.refusal('calculation.plan', rank).message).toContain('measured already');
		// The events that the plan named are carried over.
		c.do('calculation.useAsEvidence', { id, use: true });
		expect(givenAll('air')).not.toBeCloseTo(before, 3);
		expect(c.refusal('calculation.rerun', { id, ...plan }).field).toBe('planned');
	});
	it('[K5] a run that a decision cites stays', () => {
		const id = add();
		const event = c.event('air');
		c.put('events', 'air', { ...event, disposition: { ...event.disposition, cites: [id] } });
		expect(c.refusal('calculation.remove', { id }).message).toContain('Pulled out in the air');
		c.put('events', 'air', event);
		c.do('calculation.remove', { id });
		expect(c.file.calculations[id]).toBeUndefined();
		expect(c.refusal('calculation.remove', { id }).message).toContain('no longer there');
	});
});
