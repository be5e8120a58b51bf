import fc from 'fast-check';
import { beforeEach, describe, expect, it } from 'vitest';
import type { Investigation } from '$lib/investigation/case';
import { referencesOf } from '$lib/investigation/references';
import { causeWord } from '$lib/investigation/operations/tree-anomaly';
import { GATE_TYPES } from '$lib/investigation/schema/anomaly';
import { endsWithGate } from '$lib/investigation/views/becomes-gate';
import { namesApart } from '$lib/investigation/views/names-apart';
import { below, eventsOf, inputsOf, pathDown } from '$lib/investigation/views/tree';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
beforeEach(() => {
	c = new Case();
	top = c.state();
});

describe('stating a departure', () => {
	it('[A1] makes the top event with an OR gate and the branch that nobody has thought of', () => {
		expect(c.event(top)).toMatchObject({ kind: 'intermediate', gate: { type: 'or' } });
		const [residual] = c.inputs(top);
		expect(c.event(residual!)).toMatchObject({ residual: true, kind: 'undeveloped', weight: 0.05 });
	});
	it('asks for what was expected beside the field', () => {
		const record = { ...c.file.anomalies['a1'], expected: ' ' };
		expect(c.refusal('anomaly.state', { record })).toEqual({
			field: 'record.expected',
			message: 'Say what was expected.'
		});
	});
	it('[A2] keeps a first impression as it was written', () => {
		c.do('anomaly.change', { id: 'a1', record: { firstImpression: 'The glue.' } });
		expect(c.refusal('anomaly.change', { id: 'a1', record: { firstImpression: 'The load.' } }).field).toBe(
			'firstImpression'
		);
		c.do('anomaly.change', { id: 'a1', record: { title: 'The bulkhead came out' } });
		expect(c.file.anomalies['a1']).toMatchObject({
			title: 'The bulkhead came out',
			firstImpression: 'The glue.'
		});
	});
	it('[A3] goes with all that hangs on it, but stays while a change answers it', () => {
		c.add('glue', top);
		c.find('f1', { glue: 0.6 });
		c.put('changes', 'c1', { number: 1, title: 'Fillet', anomaly: 'a1', answers: null });
		expect(c.refusal('anomaly.remove', { id: 'a1' }).message).toContain('Change 1');
		c.put('changes', 'c1', null);
		c.do('anomaly.remove', { id: 'a1' });
		for (const records of [c.file.anomalies, c.file.events, c.file.findings])
			expect(Object.values(records).filter(Boolean)).toEqual([]);
	});
	it.each([
		['The main came out late because the pin stuck', 'because'],
		['Altimeter lost power due to vibration', 'due to'],
		['The main opened at 40 m instead of 200 m', null]
	])('"%s": cause word %s', (statement, word) => expect(causeWord(statement)).toBe(word));
});

describe('adding', () => {
	it('[T1] gives an event without a gate an OR, and lets its own weight go', () => {
		c.add('load', top);
		c.do('event.weigh', { event: 'load', weight: '20 %' });
		c.add('snatch', 'load');
		expect(c.event('load')).toMatchObject({
			kind: 'intermediate',
			weight: null,
			gate: { type: 'or', inputs: ['snatch'] }
		});
	});
	it('[T1] refuses an unknown parent, a nameless event and one beneath a house event', () => {
		expect(c.refusal('event.add', { under: 'nowhere', kind: 'basic', title: 'x y' }).field).toBe('under');
		expect(c.refusal('event.add', { under: top, kind: 'basic', title: ' ' }).message).toContain(
			'failed state'
		);
		c.add('boost', top, 'motor burning', 'house');
		expect(c.refusal('event.add', { under: 'boost', kind: 'basic', title: 'x y' }).field).toBe('under');
	});
	it('refuses a cause beneath what nobody has thought of', () => {
		const residual = c.inputs(top)[0]!;
		expect(c.refusal('event.add', { under: residual, kind: 'basic', title: 'x y' }).message).toContain(
			'beside it'
		);
	});
	it('puts an event beside another, and before the unthought-of branch', () => {
		c.add('glue', top);
		c.do('event.addBeside', {
			id: 'load',
			beside: c.inputs(top).at(-1)!,
			kind: 'basic',
			title: 'load too high'
		});
		expect(c.inputs(top).slice(0, 2)).toEqual(['glue', 'load']);
		c.do('event.addBeside', { id: 'heat', beside: 'load', kind: 'basic', title: 'glue softened' });
		expect(c.inputs(top).slice(0, 3)).toEqual(['glue', 'load', 'heat']);
		expect(c.refusal('event.addBeside', { beside: top, kind: 'basic', title: 'x y' }).field).toBe('beside');
	});
});

describe('sharing and moving', () => {
	beforeEach(() => {
		c.add('air', top, 'pulled out in the air');
		c.add('ground', top, 'knocked out at landing');
		c.add('glue', 'air', 'glue let go');
	});
	it('[T2] one event stands under several gates', () => {
		c.do('event.share', { event: 'glue', under: 'ground' });
		expect(c.inputs('ground')).toEqual(['glue']);
		expect(c.refusal('event.share', { event: 'glue', under: 'ground' }).message).toContain(
			'already an input'
		);
	});
	it('[T2] a circle is refused with its path', () => {
		expect(c.refusal('event.share', { event: 'air', under: 'glue' }).message).toBe(
			'That would run in a circle: pulled out in the air → glue let go → pulled out in the air.'
		);
		expect(c.refusal('event.share', { event: 'air', under: 'air' }).message).toContain('circle');
		expect(c.refusal('event.share', { event: 'nothing', under: 'air' }).field).toBe('event');
	});
	it('[T3] moves with all that stands beneath, and the emptied gate goes', () => {
		c.do('event.move', { event: 'glue', from: 'air', under: 'ground' });
		expect(c.event('air')).toMatchObject({ kind: 'undeveloped', gate: null });
		expect(c.inputs('ground')).toEqual(['glue']);
		c.do('event.move', { event: 'ground', from: top, under: 'air' });
		expect(c.refusal('event.move', { event: 'air', from: top, under: 'glue' }).message).toContain('circle');
		expect(c.refusal('event.move', { event: 'glue', from: top, under: 'air' }).field).toBe('from');
	});
	it('[T3] moves within its gate', () => {
		c.do('event.move', { event: 'ground', from: top, under: top, at: 0 });
		expect(c.inputs(top)[0]).toBe('ground');
	});
	it('[T8] a copy has events, weights and no decisions of its own', () => {
		c.do('event.weigh', { event: 'glue', weight: 0.2 });
		c.do('disposition.set', { event: 'glue', state: 'unlikely', reason: 'looks sound' });
		c.do('event.copyBranch', { event: 'air', under: 'ground' });
		const [copy] = c.inputs('ground');
		const [glue] = c.inputs(copy!);
		expect(glue).not.toBe('glue');
		expect(c.event(glue!)).toMatchObject({
			title: 'glue let go',
			weight: 0.2,
			disposition: { state: 'open' }
		});
	});
});

describe('gates', () => {
	beforeEach(() => {
		for (const id of ['a', 'b', 'c']) c.add(id, top);
	});
	it('[T4] an exclusive OR takes two, a NOT one, k at most the inputs', () => {
		expect(c.refusal('event.setGate', { event: top, type: 'xor' }).message).toContain('exactly two');
		expect(c.refusal('event.setGate', { event: top, type: 'not' }).message).toContain('exactly one');
		expect(c.refusal('event.setGate', { event: top, type: 'atLeast', k: 9 }).field).toBe('k');
		for (const k of ['abc', '', 1.5, 0, null])
			expect(c.refusal('event.setGate', { event: top, type: 'atLeast', k }).field).toBe('k');
		c.do('event.setGate', { event: top, type: 'atLeast', k: 4 });
		c.do('event.remove', { event: 'c' });
		expect(c.event(top).gate!.k).toBe(3);
	});
	it('[T5] an inhibit brings its condition, which goes with it unless somebody worked on it; then only AND keeps it', () => {
		c.add('d', 'a');
		c.do('event.setGate', { event: 'a', type: 'inhibit' });
		const condition = c.event('a').gate!.condition!;
		expect(c.event(condition).kind).toBe('conditioning');
		c.do('event.setGate', { event: 'a', type: 'or' });
		expect(c.event('a').gate).toMatchObject({ inputs: ['d'], condition: null });
		expect(c.file.events[condition]).toBeUndefined();

		c.do('event.setGate', { event: 'a', type: 'inhibit' });
		const weighed = c.event('a').gate!.condition!;
		c.do('event.weigh', { event: weighed, weight: '20 %' });
		expect(c.refusal('event.setGate', { event: 'a', type: 'or' }).message).toContain('a cause by itself');
		c.do('event.setGate', { event: 'a', type: 'and' });
		expect(c.inputs('a')).toEqual(['d', weighed]);
		expect(c.event(weighed).kind).toBe('basic');
	});
	it('[T6] complete lapses when the inputs change', () => {
		c.do('event.setComplete', { event: top, complete: true });
		c.do('event.change', { id: 'a', record: { title: 'a parts' } });
		expect(c.event(top).gate!.complete).toBe(true);
		c.add('d', top);
		expect(c.event(top).gate!.complete).toBe(false);
	});
});

describe('what a person is told before and after', () => {
	it('an event that gets its first input loses its weight and decision, and equal names say where they hang', () => {
		c.add('weak', top, 'Charge too weak');
		c.add('fire', top, 'Charge does not fire');
		c.add('flat', 'fire', 'Battery flat');
		expect(endsWithGate(c.event('weak'))).toBe('');
		c.do('event.weigh', { event: 'weak', weight: '75 %' });
		expect(endsWithGate(c.event('weak'))).toMatch(/starting weight of 75\s% counts no longer/);
		c.do('disposition.set', { event: 'weak', state: 'likely', reason: 'Powder left over.' });
		expect(endsWithGate(c.event('weak'))).toMatch(/75\s% and that it is likely count no longer/);
		expect(endsWithGate(c.event('fire'))).toBe('');

		expect(namesApart(c.file.events)('flat')).toBe('Battery flat');
		const [copy] = [c.do('event.copyBranch', { event: 'flat', under: 'weak' })];
		expect(namesApart(c.file.events)('flat')).toBe('Battery flat (under “Charge does not fire”)');
		expect(namesApart(c.file.events)(copy)).toBe('Battery flat (under “Charge too weak”)');
	});
});

describe('removing', () => {
	beforeEach(() => {
		c.add('air', top);
		c.add('ground', top);
		c.add('glue', 'air');
		c.do('event.share', { event: 'glue', under: 'ground' });
	});
	it('[T7] takes what hangs nowhere any more, and leaves what is shared', () => {
		c.do('event.remove', { event: 'air' });
		expect(c.file.events['air']).toBeUndefined();
		expect(c.event('glue')).toBeDefined();
		c.do('event.remove', { event: 'glue', from: 'ground' });
		expect(c.file.events['glue']).toBeUndefined();
		expect(c.event('ground').gate).toBeNull();
	});
	it('[T7] tells what still hangs on it', () => {
		c.find('f1', { glue: 0.6, air: 0.1 });
		const refusal = c.refusal('event.remove', { event: 'glue' });
		expect(refusal.field).toBe('andLinks');
		expect(refusal.message).toContain('F1 has a link');
		c.do('event.remove', { event: 'glue', andLinks: true });
		expect(c.file.findings['f1']!.links.map((l) => l.event)).toEqual(['air']);
		c.put('calculations', 'k1', {
			number: 1,
			title: 'Load at opening',
			anomaly: 'a1',
			likelihood: { use: true, observed: {}, scenarios: [{ event: 'air' }, { event: null }] }
		});
		expect(c.refusal('event.remove', { event: 'air', andLinks: true }).message).toContain('K1');
	});
	it('the top and the unthought-of branch stay', () => {
		expect(c.refusal('event.remove', { event: top }).message).toContain('top event stays');
		expect(c.refusal('event.remove', { event: c.inputs(top).at(-1)! }).message).toContain('stays');
	});
	it('[T9] exclusions hold basic events of one tree whose weights fit, in one list, and shrink with the tree', () => {
		const say = (events: string[]) => ({ record: { anomaly: 'a1', events, reason: 'one or the other' } });
		c.add('x', top);
		c.add('y', top);
		c.do('event.weigh', { event: 'x', weight: 0.7 });
		c.do('event.weigh', { event: 'y', weight: 0.6 });
		expect(c.refusal('exclusion.add', say(['x', 'y'])).message).toContain('130\u202f%');
		expect(c.refusal('exclusion.add', say(['x', 'air'])).message).toContain('no weight of its own');
		c.do('event.weigh', { event: 'y', weight: 0.2 });
		c.do('exclusion.add', say(['x', 'y']));
		expect(c.refusal('event.weigh', { event: 'y', weight: 0.4 }).field).toBe('weight');
		expect(c.refusal('exclusion.add', say(['x', 'glue'])).message).toContain('already stands');
		c.do('event.remove', { event: 'y' });
		expect(c.file.exclusions).toEqual({});
	});
});

describe('whatever is done in whatever order', () => {
	const pick = fc.nat({ max: 11 });
	const step = fc.oneof(
		fc.record({ op: fc.constant('add'), a: pick, b: pick }),
		fc.record({ op: fc.constant('add'), a: pick, b: pick }),
		fc.record({ op: fc.constant('addBeside'), a: pick, b: pick }),
		fc.record({ op: fc.constant('share'), a: pick, b: pick }),
		fc.record({ op: fc.constant('move'), a: pick, b: pick }),
		fc.record({ op: fc.constant('remove'), a: pick, b: pick }),
		fc.record({ op: fc.constant('copy'), a: pick, b: pick }),
		fc.record({ op: fc.constant('gate'), a: pick, b: pick })
	);

	it('never makes a circle, an orphan, a dangling name or a gate that its type forbids', () => {
		let done = 0;
		fc.assert(
			fc.property(fc.array(step, { minLength: 20, maxLength: 60, size: 'max' }), (steps) => {
				const c = new Case();
				const top = c.state();
				c.find('f1');
				for (const [i, { op, a, b }] of steps.entries()) {
					const ids = eventsOf(c.file, 'a1').map(([id]) => id);
					const event = ids[a % ids.length]!;
					const other = ids[b % ids.length]!;
					const from = Object.keys(c.file.events).find((id) => inputsOf(c.file.events[id]).includes(event));
					const args: Record<string, [string, unknown]> = {
						add: ['event.add', { under: event, kind: 'basic', title: `part ${i} fails` }],
						addBeside: ['event.addBeside', { beside: event, kind: 'basic', title: `part ${i} fails` }],
						share: ['event.share', { event, under: other }],
						move: ['event.move', { event, from: from ?? top, under: other, at: b % 3 }],
						remove: [
							'event.remove',
							{ event, andLinks: b % 2 === 0, ...(b % 3 === 0 && from ? { from } : {}) }
						],
						copy: ['event.copyBranch', { event, under: other }],
						gate: ['event.setGate', { event, type: GATE_TYPES[b % GATE_TYPES.length] }]
					};
					// A tree that doubles with every copy says nothing more at 2,000 events.
					if (op === 'copy' && ids.length > 40) continue;
					if (c.attempt(...args[op]!)) done++;
					c.attempt('link.set', { finding: 'f1', event, negated: false, p: 0.5 });

					expect(broken(c.file, top)).toEqual([]);
				}
			}),
			{ numRuns: 40, seed: 20260517 }
		);
		expect(done).toBeGreaterThan(300);
	});
});

/** Everything about the tree that must never be, in words. */
function broken(file: Investigation, top: string): string[] {
	const faults: string[] = [];
	for (const [id, event] of Object.entries(file.events)) {
		const inputs = inputsOf(event);
		if (inputs.some((input) => pathDown(file, input, id))) faults.push(`${id} feeds itself`);
		if (new Set(inputs).size < inputs.length) faults.push(`${id} has an input twice`);
		if ((event.gate === null) === (event.kind === 'intermediate')) faults.push(`${id} is ${event.kind}`);
		if (event.gate?.type === 'xor' && event.gate.inputs.length !== 2) faults.push(`${id} is a wrong xor`);
		if ((event.gate?.type === 'inhibit') !== Boolean(event.gate?.condition))
			faults.push(`${id} lost its condition`);
	}
	for (const collection of ['anomalies', 'events', 'findings', 'exclusions'] as const)
		for (const record of Object.values(file[collection]))
			for (const named of referencesOf(collection, record))
				if (!file[named.collection][named.id]) faults.push(`${collection} names ${named.id}, which is gone`);
	const hung = below(file.events, top).length;
	if (hung !== Object.keys(file.events).length) faults.push('an event hangs nowhere');
	return faults;
}
