import { beforeEach, describe, expect, it } from 'vitest';
import { CALCULATIONS } from '$lib/calculations/registry';
import { HOW_OFTEN } from '$lib/components/anomaly/words';
import { applyChanges, type Investigation } from '$lib/investigation/case';
import { checkChanges, checkWhole } from '$lib/investigation/check';
import { operate } from '$lib/investigation/operations';
import { constructionFaults } from '$lib/investigation/views/construction';
import { below, eventsOf, inputsOf, isBranch } from '$lib/investigation/views/tree';
import { toTreeModel, withResidualLinks } from '$lib/investigation/views/tree-model';
import { checkTree, weigh } from '$lib/reasoning';
import { readyTree } from '$lib/templates/starting-tree';
import { STARTING_TREES } from '$lib/templates/starting-trees';
import { Case } from '../investigation/anomaly-case';

const STEPS = new Set(HOW_OFTEN.map(({ p }) => p));
const known = new Set(CALCULATIONS.map(({ id }) => id));
const twice = (list: readonly string[]) => list.filter((item, i) => list.indexOf(item) !== i);
const inWords = (file: Investigation, id: string) => file.events[id]!.title;

let c: Case;
let top: string;
beforeEach(() => {
	c = new Case();
	top = c.stated();
});

it('are at least sixteen, none of them twice', () => {
	expect(STARTING_TREES.length).toBeGreaterThanOrEqual(16);
	expect(twice(STARTING_TREES.map(({ id }) => id))).toEqual([]);
	expect(twice(STARTING_TREES.map(({ title }) => title))).toEqual([]);
});

describe.each(STARTING_TREES.map((tree) => [tree.title, tree] as const))('%s', (_, starting) => {
	const tree = readyTree(starting);
	const leaves = tree.events.filter(({ kind }) => kind === 'basic' || kind === 'undeveloped');
	const plant = () => c.do('anomaly.plant', { anomaly: 'a1', tree });

	it('has eight to twenty events on two or three levels', () => {
		expect(tree.events.length).toBeGreaterThanOrEqual(8);
		expect(tree.events.length).toBeLessThanOrEqual(20);
		plant();
		const depth = (id: string): number => 1 + Math.max(0, ...inputsOf(c.event(id)).map(depth));
		expect(depth(top) - 1).toBeGreaterThanOrEqual(2);
		expect(depth(top) - 1).toBeLessThanOrEqual(3);
	});

	it('asks of the parts for primary, secondary and command faults', () => {
		for (const fault of ['Primary', 'Secondary', 'Command'])
			expect(
				leaves.some(({ note }) => note.startsWith(`${fault} fault`)),
				fault
			).toBe(true);
	});

	it('says each number on the scale that the pages offer, and never that a sign or event is certain', () => {
		for (const { weight, title } of leaves) expect(STEPS.has(weight!), title).toBe(true);
		for (const { baseRate, links, statement } of tree.findings)
			for (const p of [baseRate, ...links.map((l) => l.p)]) expect(STEPS.has(p), statement).toBe(true);
	});

	it('names calculations that there are, each once', () => {
		expect(starting.calculations.filter((id) => !known.has(id))).toEqual([]);
		expect(starting.calculations.length).toBeGreaterThan(0);
		expect(twice(starting.calculations)).toEqual([]);
		expect(tree.note).not.toMatch(/undefined/);
	});

	it('has a sign to look for, and where, for each basic event, and no sign twice', () => {
		const linked = new Set(tree.findings.flatMap(({ links }) => links.map(({ event }) => event)));
		expect(leaves.filter(({ name }) => !linked.has(name)).map(({ title }) => title)).toEqual([]);
		expect(twice(tree.findings.map(({ statement }) => statement))).toEqual([]);
		for (const { links, baseRate, note, statement, costMinutes } of tree.findings) {
			expect(links.length, statement).toBeGreaterThan(0);
			expect(costMinutes, statement).toBeGreaterThan(0);
			expect(note.length, statement).toBeGreaterThan('Where to look: .'.length);
			// A sign that is there anyway as often as the event shows it would tell nothing.
			expect(Math.max(...links.map(({ p }) => p)), statement).toBeGreaterThan(baseRate);
		}
	});

	it('tells any two of its basic events apart by at least one sign', () => {
		plant();
		const byTitle = new Map(eventsOf(c.file, 'a1').map(([id, { title }]) => [title, id]));
		const titleOf = new Map(tree.events.map(({ name, title }) => [name, title]));
		const signature = (name: string) => {
			const own = byTitle.get(titleOf.get(name)!)!;
			return tree.findings
				.flatMap(({ links }, i) =>
					links
						.filter(({ event }) => below(c.file.events, byTitle.get(titleOf.get(event)!)!).includes(own))
						.map(({ p }) => `${i}:${p}`)
				)
				.join();
		};
		expect(twice(leaves.map(({ name }) => signature(name)))).toEqual([]);
	});

	it('keeps the rules of construction; a person says "complete", and of what each gate is the state', () => {
		plant();
		const left = (...rules: string[]) =>
			constructionFaults(c.file, 'a1').filter(({ rule }) => rules.includes(rule) !== (rules[0] === 'not'));
		expect(left('not', 'notComplete', 'stateUnsaid')).toEqual([]);
		const gates = eventsOf(c.file, 'a1').filter(([, { gate }]) => gate);
		expect(left('notComplete')).toHaveLength(gates.length);
		for (const [event] of gates) {
			c.do('event.setComplete', { event, complete: true });
			if (event !== top) c.do('event.setFault', { event, faultOf: 'system' });
		}
		expect(constructionFaults(c.file, 'a1')).toEqual([]);
	});

	it('is a whole tree of valid records, what nobody has thought of last', () => {
		plant();
		expect(checkWhole('investigations', c.file)).toEqual([]);
		expect(below(c.file.events, top)).toHaveLength(eventsOf(c.file, 'a1').length);
		const inputs = c.inputs(top);
		expect(c.event(inputs.at(-1)!).residual).toBe(true);
		expect(inputs.slice(0, -1).map((id) => inWords(c.file, id))).toEqual(
			tree.causes.map((name) => tree.events.find((e) => e.name === name)!.title)
		);
		for (const [, event] of eventsOf(c.file, 'a1'))
			if (isBranch(event) && !event.residual) expect(event.weightBasis).toBe('commonPractice');
	});

	it('weighs exactly, unexamined and with every sign absent, and each sign raises what shows it', () => {
		plant();
		const weighed = () => {
			const { model } = withResidualLinks(toTreeModel(c.file, 'a1'));
			expect(checkTree(model)).toEqual([]);
			const answer = weigh(model, { contributions: false });
			expect(answer.method).toBe('exact');
			expect(answer.contradiction).toBeNull();
			return answer;
		};
		const start = weighed();
		const findings = Object.entries(c.file.findings);
		for (const [finding, { links, statement }] of findings) {
			c.do('finding.setState', { finding, state: 'present' });
			const now = weighed();
			const best = links.reduce((a, b) => (b.p > a.p ? b : a)).event;
			const of = (answer: typeof now) => (answer.events[best] ?? answer.gates[best])!.givenAll!;
			expect(of(now), statement).toBeGreaterThan(of(start));
			c.do('finding.setState', { finding, state: 'notExamined' });
		}
		for (const [finding] of findings) c.do('finding.setState', { finding, state: 'absent' });
		weighed();
	});

	it('is taken back whole by undo, which puts the records back as they were', () => {
		const before = c.file;
		const did = operate(
			before,
			'anomaly.plant',
			{ anomaly: 'a1', tree },
			{
				who: 'Ilse',
				now: '2026-05-18T09:00:00.000Z',
				newId: (
					(n) => () =>
						`planted${++n}`
				)(0)
			}
		);
		if (!did.ok) throw new Error(did.problems[0]!.message);
		const after = applyChanges(before, did.value);
		expect(checkChanges('investigations', did.value, after)).toEqual([]);
		const back = did.value.map((change) => ({ ...change, before: change.after, after: change.before }));
		expect(applyChanges(after, back)).toEqual(before);
		expect(eventsOf(after, 'a1')).toHaveLength(2 + tree.events.length);
		expect(Object.keys(after.findings)).toHaveLength(tree.findings.length);
	});
});
