import { beforeEach, describe, expect, it } from 'vitest';
import { outcomes, scoredAnomalies, scoresOf } from '$lib/investigation/views/scored';
import { usesOf } from '$lib/investigation/views/uses';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
let residual: string;
beforeEach(() => {
	c = new Case();
	top = c.stated();
	residual = c.inputs(top).at(-1)!;
	c.add('glue', top);
	c.add('load', top);
	const seen = { kind: 'test', attachments: [], parts: [], position: null, withdrawn: null };
	c.put('evidence', 'e1', { number: 1, title: 'strip-down', ...seen });
});

const ending = {
	state: 'probableCause',
	statement: 'The glue.',
	confidence: 'low',
	confidenceReason: 'one look',
	counterArgument: 'the load was never measured',
	nextTest: '',
	tripwires: 'a second one',
	noChangeReason: ''
};
const weights = () => ({
	glue: { givenTop: 0.4, givenAll: 0.9 },
	load: { givenTop: 0.5, givenAll: 0.2 },
	[top]: { givenTop: 1, givenAll: 1.0000000000000002 }
});
function conclude() {
	c.do('event.setComplete', { event: top, complete: true });
	for (const event of ['glue', 'load', residual]) {
		c.do('event.weigh', { event, weight: 0.1 });
		c.do('disposition.set', {
			event,
			state: 'likely',
			reason: 'so it looks',
			cites: ['e1'],
			weightThen: 0.6
		});
	}
	c.do('conclusion.write', { anomaly: 'a1', record: ending, weights: weights() });
}
const out = (is: Record<string, string>, more: object = {}) => ({
	anomaly: 'a1',
	of: Object.entries(is).map(([event, said]) => ({ event, is: said })),
	how: 'stripDown',
	cites: ['e1'],
	...more
});
const seal = (of: Record<string, string>) => ({
	anomaly: 'a1',
	of: Object.entries(of).map(([event, p]) => ({ event, p }))
});

describe('[A4] first impressions in numbers', () => {
	it('are sealed by name and time, once, and copied with no branch', () => {
		c.do('impression.seal', seal({ glue: '30 %', load: '0.6' }));
		expect(c.event('glue').impression).toEqual({ p: 0.3, by: 'Ilse', at: '2026-05-18T09:00:00.000Z' });
		expect(c.refusal('impression.seal', seal({ glue: '40 %' })).message).toContain('sealed already');
		c.do('event.copyBranch', { event: 'glue', under: top });
		const copy = c.inputs(top).find((id) => id !== 'glue' && c.event(id).title === c.event('glue').title)!;
		expect(c.event(copy).impression).toBeUndefined();
	});
	it('come before a sign is looked at, are numbers, and of branches', () => {
		expect(c.attempt('impression.seal', seal({ glue: '' }))).toBe(false);
		expect(c.refusal('impression.seal', seal({ load: '20 %', glue: '70' }))).toMatchObject({
			field: 'of.1.p',
			message: expect.stringContaining('Write "70 %"') as string
		});
		expect(c.attempt('impression.seal', seal({ [top]: '50 %' }))).toBe(false);
		c.find('f1', { glue: 0.5 });
		c.do('finding.setState', { finding: 'f1', state: 'absent' });
		expect(c.refusal('impression.seal', seal({ glue: '30 %' })).message).toContain('no first impression');
	});
});

describe('what turned out to be true', () => {
	it('[Q1] is said once it is concluded', () => {
		expect(c.refusal('truth.state', out({ glue: 'true' })).message).toContain('Conclude');
		conclude();
		c.do('truth.state', out({ glue: 'true' }));
		expect(c.event('glue').truth).toMatchObject({ is: 'true', how: 'stripDown', by: 'Ilse' });
		expect(usesOf(c.file, 'e1').some(({ words }) => words.startsWith('What turned out'))).toBe(true);
	});
	it('[Q2] cites what shows it; what will never be known says why', () => {
		conclude();
		expect(c.refusal('truth.state', out({ glue: 'true' }, { cites: [] })).field).toBe('cites');
		expect(c.refusal('truth.state', out({ glue: 'true' }, { cites: ['gone'] })).field).toBe('cites');
		// A test shows nothing before its result is in, nor a sign that nobody looked at.
		c.put('evidence', 'e2', { ...c.file.evidence['e1']!, number: 2, result: '', value: null });
		c.find('f1', { glue: 0.5 });
		expect(c.refusal('truth.state', out({ glue: 'true' }, { cites: ['e2', 'f1'] })).message).toContain(
			'once its result is in'
		);
		expect(c.refusal('truth.state', out({ load: 'neverKnown' }, { cites: [] })).field).toBe('note');
		c.do('truth.state', out({ load: 'neverKnown' }, { cites: [], note: 'burnt' }));
		c.do('truth.takeBack', { event: 'load' });
		expect(c.event('load').truth).toBeUndefined();
	});
	it('[Q2] is not shown by what the numbers rested on', () => {
		c.find('f1', { glue: 0.5 }, { state: 'present', evidence: ['e1'] });
		conclude();
		for (const cites of [['e1'], ['f1', 'e1']])
			expect(c.refusal('truth.state', out({ glue: 'true' }, { cites })).message).toContain(
				'came to light since'
			);
		c.put('evidence', 'e2', { ...c.file.evidence['e1']!, number: 2 });
		c.do('finding.change', { id: 'f1', record: { evidence: ['e1', 'e2'] } });
		c.do('truth.state', out({ glue: 'true' }, { cites: ['e1', 'e2'] }));
	});
	it('[Q3] is held against the numbers of the ending, which stand still from then on', () => {
		c.do('impression.seal', seal({ glue: '30 %' }));
		conclude();
		c.do('conclusion.write', { anomaly: 'a1', record: ending, weights: weights() });
		c.do('truth.state', out({ glue: 'true', load: 'false', [residual]: 'neverKnown' }));
		c.do('conclusion.write', {
			anomaly: 'a1',
			record: ending,
			weights: { glue: { givenTop: 1, givenAll: 1 }, load: { givenTop: 0, givenAll: 0 } }
		});
		const [scored] = scoredAnomalies(c.file);
		expect(scored).toMatchObject({
			neverKnown: 1,
			stated: {
				impression: [{ p: 0.3, true: true }],
				start: [
					{ p: 0.4, true: true },
					{ p: 0.5, true: false }
				],
				end: [
					{ p: 0.9, true: true },
					{ p: 0.2, true: false }
				]
			}
		});
		// By hand: (.6^2 + .5^2) / 2 and (.1^2 + .2^2) / 2.
		expect(scoresOf(scored!.stated.start)!.brier).toBeCloseTo(0.305, 14);
		expect(scoresOf(scored!.stated.end)!.brier).toBeCloseTo(0.025, 14);
	});
	it('a conclusion of before numbers were kept is scored by its dispositions', () => {
		conclude();
		const { numbers: _, ...old } = c.file.conclusions['a1']!;
		c.put('conclusions', 'a1', old);
		c.do('truth.state', out({ glue: 'true' }));
		c.do('disposition.set', {
			event: 'glue',
			state: 'likely',
			reason: 'now sure',
			cites: ['e1'],
			weightThen: 1
		});
		expect(outcomes(c.file, 'a1').find(({ event }) => event === 'glue')).toMatchObject({
			impression: null,
			start: null,
			end: 0.6
		});
	});
});
