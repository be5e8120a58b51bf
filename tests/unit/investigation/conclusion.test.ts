import { beforeEach, describe, expect, it } from 'vitest';
import { usesOf } from '$lib/investigation/views/uses';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
let residual: string;
beforeEach(() => {
	c = new Case();
	top = c.stated();
	residual = c.inputs(top).at(-1)!;
	c.add('load', top);
	c.put('evidence', 'e1', { number: 1, kind: 'piece', title: 'the bulkhead', attachments: [], parts: [] });
	c.put('evidence', 'e2', { number: 2, kind: 'absence', title: 'no soot found', attachments: [], parts: [] });
	c.put('calculations', 'k1', {
		number: 1,
		title: 'load at opening',
		anomaly: 'a1',
		likelihood: null,
		sources: []
	});
});
const decide = (state: string, more: Record<string, unknown> = {}) => ({
	event: 'load',
	state,
	reason: 'the joint holds three times that',
	...more
});

describe('disposing of a branch', () => {
	it('[D1] out by evidence takes evidence or a finding, out by calculation a calculation', () => {
		expect(c.refusal('disposition.set', decide('ruledOutByEvidence')).field).toBe('cites');
		expect(c.refusal('disposition.set', decide('ruledOutByEvidence', { cites: ['k1'] })).field).toBe('cites');
		expect(c.refusal('disposition.set', decide('ruledOutByCalculation', { cites: ['e1'] })).field).toBe(
			'cites'
		);
		c.do('disposition.set', decide('ruledOutByEvidence', { cites: ['e1'] }));
		c.do('disposition.set', decide('ruledOutByCalculation', { cites: ['k1'] }));
		expect(c.event('load').disposition).toMatchObject({ by: 'Ilse', at: '2026-05-18T09:00:00.000Z' });
	});
	it('[D2] above 30 % ruling out asks why', () => {
		const out = decide('ruledOutByEvidence', { cites: ['e1'], weightThen: 0.41 });
		expect(c.refusal('disposition.set', out)).toMatchObject({ field: 'despite' });
		expect(c.refusal('disposition.set', out).message).toContain('41\u202f%');
		c.do('disposition.set', { ...out, despite: 'the sign was made at landing' });
		c.do('disposition.set', { ...out, weightThen: 0.29 });
	});
	it('[D2] and so does every decision that the weight speaks against', () => {
		c.find('here', { load: 0.8 }, { state: 'present', evidence: ['e1'] });
		const on = (state: string, weightThen: number) =>
			decide(state, { cites: ['e1', 'e2'], weightThen, despite: '' });
		for (const [state, weight] of [
			['ruledOutByEvidence', 0.31],
			['unlikely', 0.56],
			['likely', 0.44],
			['contributed', 0.44],
			['established', 0.54]
		] as const) {
			const refusal = c.refusal('disposition.set', on(state, weight));
			expect(refusal.field).toBe('despite');
			expect(refusal.message).toContain(`${Math.round(weight * 100)}\u202f%`);
			c.do('disposition.set', { ...on(state, weight), despite: 'the sign was made at landing' });
			expect(c.event('load').disposition).toMatchObject({ state, despite: 'the sign was made at landing' });
		}
		for (const [state, weight] of [
			['ruledOutByEvidence', 0.3],
			['unlikely', 0.55],
			['likely', 0.45],
			['established', 0.55],
			['contributed', 0.45]
		] as const)
			c.do('disposition.set', on(state, weight));
	});
	it('[D3] established takes something that speaks for it, not what is left over', () => {
		c.find('here', { load: 0.8 }, { state: 'present' });
		c.find('gone', { load: 0.8 }, { state: 'absent' });
		c.find('elsewhere', {}, { state: 'present' });
		for (const cites of [[], ['gone'], ['elsewhere'], ['e1'], ['e2']])
			expect(c.refusal('disposition.set', decide('established', { cites })).field).toBe('cites');
		// A piece speaks through the sign that rests on it.
		c.find('on-it', { load: 0.8 }, { state: 'present', evidence: ['e1'] });
		for (const cite of ['here', 'e1', 'k1'])
			c.do('disposition.set', decide('established', { cites: [cite] }));
		expect(
			c.refusal('disposition.set', { ...decide('established', { cites: ['k1'] }), event: residual }).field
		).toBe('state');
	});
	it('[D1] what rules out speaks against it', () => {
		c.add('cord', top);
		c.add('knot', 'load');
		c.find('own', { load: 0.8 }, { state: 'present', evidence: ['e1'] });
		c.find('gone', { load: 0.8 }, { state: 'absent' });
		c.find('others', { cord: 0.8 }, { state: 'present' });
		c.find('none', { cord: 0.8 }, { state: 'absent' });
		c.find('unseen', { load: 0.8 });
		for (const event of ['load', 'knot'])
			for (const cite of ['own', 'e1', 'none', 'unseen'])
				expect(
					c.refusal('disposition.set', { ...decide('ruledOutByEvidence', { cites: [cite] }), event }).field
				).toBe('cites');
		for (const cite of ['gone', 'others', 'e2'])
			c.do('disposition.set', { ...decide('ruledOutByEvidence', { cites: [cite] }), event: 'knot' });
		const run = (load: number, none: number) => ({
			number: 1,
			title: 'load at opening',
			anomaly: 'a1',
			sources: [],
			likelihood: {
				use: true,
				scenarios: [
					{ event: 'load', density: load },
					{ event: null, density: none }
				]
			}
		});
		c.put('calculations', 'k1', run(2, 1));
		const byRun = decide('ruledOutByCalculation', { cites: ['k1'] });
		expect(c.refusal('disposition.set', byRun).message).toContain('speaks against it');
		c.put('calculations', 'k1', run(1, 2));
		c.do('disposition.set', byRun);
	});
	it('[D3] a test counts with its result, a calculation that weighs where it fits better than something else', () => {
		const test = { number: 3, kind: 'test', title: 'pull', result: '', value: null, withdrawn: null };
		c.put('evidence', 'e3', { ...test, attachments: [], parts: [], position: null });
		const established = decide('established', { cites: ['e3'] });
		expect(c.refusal('disposition.set', established).field).toBe('cites');
		expect(c.refusal('disposition.set', decide('ruledOutByEvidence', { cites: ['e3'] })).field).toBe('cites');
		c.put('evidence', 'e3', { ...test, result: 'parts at 90 N', attachments: [], parts: [], position: null });
		c.do('disposition.set', established);
		const run = (load: number, none: number) =>
			c.put('calculations', 'k1', {
				number: 1,
				title: 'load at opening',
				anomaly: 'a1',
				sources: [],
				likelihood: {
					use: true,
					scenarios: [
						{ event: 'load', density: load, standardError: 0, words: '' },
						{ event: null, density: none, standardError: 0, words: '' }
					]
				}
			});
		run(0.1, 0.4);
		expect(c.refusal('disposition.set', decide('established', { cites: ['k1'] })).field).toBe('cites');
		run(0.4, 0.1);
		c.do('disposition.set', decide('established', { cites: ['k1'] }));
	});
	it('[D4] every disposition but open has a reason; what is cited exists', () => {
		expect(c.refusal('disposition.set', decide('unlikely', { reason: ' ' })).field).toBe('reason');
		expect(c.refusal('disposition.set', decide('unlikely', { cites: ['nothing'] })).field).toBe('cites');
		c.do('disposition.set', decide('unlikely'));
		c.do('disposition.set', { event: 'load', state: 'open' });
		expect(c.event('load').disposition).toMatchObject({ state: 'open', reason: '', cites: [] });
	});
	it('[D6] several at once, on one reason that must do for each: none is decided where one needs a word of its own', () => {
		c.add('glue', top);
		const together = (weightThen: number, more: Record<string, unknown> = {}) => ({
			branches: [
				{ event: 'load', weightThen: 0.1 },
				{ event: 'glue', weightThen }
			],
			state: 'unlikely',
			reason: 'the joint is whole',
			cites: ['e1'],
			...more
		});
		const refusal = (more: Record<string, unknown>) =>
			c.refusal('disposition.setTogether', together(0.2, more)).field;
		expect(refusal({ cites: [] })).toBe('cites');
		expect(refusal({ reason: '' })).toBe('reason');
		expect(refusal({ state: 'established' })).toBe('state');
		expect(refusal({ branches: [] })).toBe('branches');
		expect(c.refusal('disposition.setTogether', together(0.6))).toMatchObject({
			field: 'branches',
			message: expect.stringMatching(/^“glue lets go” takes a word of its own/) as string
		});
		expect(c.event('load').disposition.state).toBe('open');
		c.do('disposition.setTogether', together(0.2));
		for (const [event, weightThen] of [
			['load', 0.1],
			['glue', 0.2]
		] as const)
			expect(c.event(event).disposition).toMatchObject({
				state: 'unlikely',
				cites: ['e1'],
				weightThen,
				by: 'Ilse'
			});
	});
	it('what nobody has thought of can’t be ruled out', () => {
		const out = { ...decide('ruledOutByEvidence', { cites: ['e1'] }), event: residual };
		expect(c.refusal('disposition.set', out).field).toBe('state');
	});
	it('a cause has a kind of its own, apart from its disposition', () => {
		c.do('causeType.set', { event: 'load', causeType: 'proximate' });
		expect(c.event('load').causeType).toBe('proximate');
		expect(c.refusal('causeType.set', { event: 'load', causeType: 'blame' }).field).toBe('causeType');
	});
});

describe('writing the conclusion', () => {
	const text = {
		state: 'open',
		statement: 'The opening load pulled the bulkhead out.',
		confidence: 'moderate',
		confidenceReason: 'two findings of one kind',
		counterArgument: 'the glue may never have held',
		nextTest: '',
		tripwires: 'a joint of the same batch that holds',
		noChangeReason: ''
	};
	const close = () => {
		c.do('event.weigh', { event: 'load', weight: 0.1 });
		c.do('disposition.set', decide('likely', { cites: ['e1'] }));
		c.do('disposition.set', { event: residual, state: 'unlikely', reason: 'nothing is left unexplained' });
		c.do('event.setComplete', { event: top, complete: true });
	};

	it('[S7] a draft is kept at any time; an ending waits for what is in its way', () => {
		c.do('conclusion.write', { anomaly: 'a1', record: { ...text, statement: '' } });
		const refusal = c.refusal('conclusion.write', {
			anomaly: 'a1',
			record: { ...text, state: 'probableCause' }
		});
		expect(refusal.field).toBe('state');
		close();
		c.do('conclusion.write', { anomaly: 'a1', record: { ...text, state: 'probableCause' } });
		expect(c.file.conclusions['a1']).toMatchObject({ state: 'probableCause', by: 'Ilse' });
	});
	it('[S6] each ending needs its branch, and all need basis, counter-argument and tripwires', () => {
		close();
		const refused = (record: Record<string, unknown>) =>
			c.refusal('conclusion.write', { anomaly: 'a1', record: { ...text, ...record } }).field;
		expect(refused({ state: 'established' })).toBe('state');
		expect(refused({ state: 'undetermined' })).toBe('nextTest');
		for (const field of ['statement', 'confidenceReason', 'counterArgument', 'tripwires'])
			expect(refused({ state: 'probableCause', [field]: '' })).toBe(field);
		expect(refused({ state: 'probableCause', confidence: null })).toBe('confidence');
		c.do('disposition.set', decide('unlikely', { cites: ['e1'] }));
		expect(refused({ state: 'probableCause' })).toBe('state');
		c.do('conclusion.write', {
			anomaly: 'a1',
			record: { ...text, state: 'undetermined', nextTest: 'pull three joints of the same batch' }
		});
	});
});

describe('a second look', () => {
	it('[D5] is another person’s than the one who decided, and is asked for anew when it is decided anew', () => {
		const look = (reviewedBy: string) => ({ event: 'load', reviewedBy });
		expect(c.refusal('disposition.review', look('Jonna')).message).toMatch(/Nothing is decided/);
		const decided = { event: 'load', state: 'unlikely', reason: 'Too small a load.' };
		c.do('disposition.set', decided);
		expect(c.refusal('disposition.review', look(' ilse')).field).toBe('reviewedBy');
		c.do('disposition.review', look('Jonna'));
		expect(c.event('load').disposition).toMatchObject({ by: 'Ilse', reviewedBy: 'Jonna', state: 'unlikely' });
		c.do('disposition.set', { ...decided, state: 'likely' });
		expect(c.event('load').disposition.reviewedBy).toBe('');
	});
});

describe('an observation', () => {
	it('[O1] rests on evidence that is there, and keeps its number', () => {
		const record = { statement: 'One igniter lead was chafed.', evidence: [] as string[], watch: true };
		expect(c.refusal('observation.save', { record: { ...record, evidence: ['e9'] } }).field).toBe('evidence');
		const first = c.do('observation.save', { record });
		c.do('observation.save', { record: { ...record, statement: 'The rail was oily.' } });
		c.do('observation.save', { id: first, record: { ...record, evidence: ['e1'] } });
		expect(c.file.observations[first]).toMatchObject({ number: 1, evidence: ['e1'] });
		expect(Object.values(c.file.observations).map(({ number }) => number)).toEqual([1, 2]);
		expect(usesOf(c.file, 'e1')).toMatchObject([{ href: 'changes#observations', holds: true }]);
		c.do('observation.remove', { id: first });
		expect(Object.keys(c.file.observations)).toHaveLength(1);
	});
});
