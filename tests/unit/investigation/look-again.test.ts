import { beforeEach, describe, expect, it } from 'vitest';
import { hasMoved } from '$lib/investigation/views/leading';
import { lookAgain, lookAgainSentences } from '$lib/investigation/views/look-again';
import { turnedOutTrue } from '$lib/investigation/views/scored';
import { standing } from '$lib/investigation/views/standing';
import { Case } from './anomaly-case';

const ENDING = {
	state: 'probableCause',
	statement: 'The glue.',
	confidence: 'low',
	confidenceReason: 'one look',
	counterArgument: 'the load was never measured',
	nextTest: '',
	tripwires: 'a second one',
	noChangeReason: ''
};
let c: Case;
let top: string;
let residual: string;
const weigh = (glue: number) => ({ glue: { givenTop: 0.4, givenAll: glue } });
const now = (glue: number) => lookAgain(c.file, 'a1', { givenAll: { glue }, contradiction: null });
const conclude = (glue: number) =>
	c.do('conclusion.write', { anomaly: 'a1', record: ENDING, weights: weigh(glue) });

beforeEach(() => {
	c = new Case();
	top = c.stated();
	residual = c.inputs(top).at(-1)!;
	c.put('evidence', 'e1', { number: 1, kind: 'piece', title: 'the bulkhead', attachments: [], parts: [] });
	for (const id of ['glue', 'load']) c.add(id, top);
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
	c.do('event.setComplete', { event: top, complete: true });
});

describe('[S11] a conclusion is to be looked at again', () => {
	it('when a number moved by more than a point and a factor of 1.1 on its odds', () => {
		expect(hasMoved(0.69, 0.63)).toBe(true);
		expect(hasMoved(0.5, 0.51)).toBe(false);
		// Two points, but a factor of 1.083 on the odds: hand-worked.
		expect(hasMoved(0.5, 0.52)).toBe(false);
		expect(hasMoved(0.001, 0.004)).toBe(false);
		expect(hasMoved(0.97, 0.99)).toBe(true);
		conclude(0.69);
		expect(now(0.69)).toBeNull();
		expect(lookAgainSentences(now(0.63)!)).toEqual([
			'The numbers moved since this was concluded: “glue lets go” 69\u202f% → 63\u202f%.'
		]);
		conclude(0.63);
		expect(now(0.63)).toBeNull();
	});
	it('when things stand in its way again; it is never deleted', () => {
		conclude(0.69);
		for (const id of ['new1', 'new2']) c.add(id, top, `${id} tears`);
		const again = now(0.69)!;
		expect(again.moved).toEqual([]);
		expect(lookAgainSentences(again)[0]).toMatch(/^\d+ things stand in its way by now/);
		expect(standing(c.file).anomalies).toEqual({
			words: '1 of 1 concluded, 1 to be looked at again',
			progress: 'begun'
		});
		expect(standing(c.file).report.words).toBe('draft');
		expect(c.file.conclusions['a1']!.state).toBe('probableCause');
	});
	it('when it turned out otherwise than it was concluded', () => {
		conclude(0.69);
		c.put('evidence', 'e2', { ...c.file.evidence['e1']!, number: 2 });
		const say = (event: string, is: string) =>
			c.do('truth.state', { anomaly: 'a1', of: [{ event, is }], how: 'stripDown', cites: ['e2'] });
		say('glue', 'true');
		say('load', 'neverKnown');
		expect(now(0.69)).toBeNull();
		expect(turnedOutTrue(c.file, 'a1')).toBe('It turned out that “glue lets go” was true.');
		say('glue', 'false');
		expect(lookAgainSentences(now(0.69)!)).toEqual([
			'It turned out otherwise: “glue lets go”, called likely, was not true.'
		]);
		expect(standing(c.file).anomalies.words).toContain('1 to be looked at again');
	});
	it('and nothing is said of a draft, nor of one that kept no numbers', () => {
		expect(now(0.5)).toBeNull();
		conclude(0.69);
		const { stood, numbers, ...old } = c.file.conclusions['a1']!;
		expect(stood).toEqual({ glue: 0.69 });
		c.put('conclusions', 'a1', old);
		expect(now(0.5)).toBeNull();
		// Of before: the numbers kept to be scored will do, where they were weighed.
		c.put('conclusions', 'a1', { ...old, numbers });
		expect(now(0.5)!.moved).toMatchObject([{ event: 'glue', then: 0.69, now: 0.5 }]);
		c.put('conclusions', 'a1', {
			...old,
			numbers: [{ event: 'glue', impression: null, start: null, end: 0.69 }]
		});
		expect(now(0.5)).toBeNull();
	});
});
