import { beforeEach, describe, expect, it } from 'vitest';
import { checkWhole } from '$lib/investigation/check';
import { standsInTheWay } from '$lib/investigation/views/closure';
import { constructionFaults } from '$lib/investigation/views/construction';
import { crossCheck } from '$lib/investigation/views/failure-modes';
import { Case } from './anomaly-case';

let c: Case;
let top: string;
beforeEach(() => {
	c = new Case();
	top = c.state();
});
const rules = (event: string) =>
	constructionFaults(c.file, 'a1').flatMap((fault) => (fault.event === event ? [fault.rule] : []));

describe('[A5] the top event', () => {
	it('is named by what failed and in what state, also when they are put better', () => {
		expect(rules(top)).toContain('topUnsaid');
		const record = {
			subject: 'Bulkhead joint',
			failedState: 'parts while the main opens',
			boundary: ['the joint and its glue', 'not: the main']
		};
		c.do('anomaly.change', { id: 'a1', record });
		expect(c.event(top).title).toBe('Bulkhead joint: parts while the main opens');
		expect(rules(top)).not.toContain('topUnsaid');
		c.do('event.change', { id: top, record: { title: 'Mine' } });
		c.do('anomaly.change', { id: 'a1', record: { when: 'late' } });
		expect(c.event(top).title).toBe('Mine');
		expect(c.refusal('anomaly.change', { id: 'a1', record: { boundary: [''] } }).field).toBe(
			'record.boundary.0'
		);
	});
});

describe('rules of construction after NUREG-0492 ch. V (from memory)', () => {
	it('no miracles: a title that counts on luck is listed and holds the conclusion', () => {
		c.add('lucky', top, 'Spring happens to jam and holds the door');
		c.add('plain', top, 'Spring jams');
		expect(rules('lucky')).toContain('miracle');
		expect(rules('plain')).not.toContain('miracle');
		expect(
			standsInTheWay(c.file, 'a1').some(({ message, blocks }) => blocks && message.includes('luck'))
		).toBe(true);
	});

	it('the state of one part is an OR of primary, secondary and command; a class is skipped with a reason', () => {
		c.add('igniter', top, 'Igniter does not light');
		c.add('bad', 'igniter', 'Igniter is bad');
		c.add('told', 'igniter', 'No current comes');
		expect(rules('igniter')).not.toContain('classSkipped');
		c.do('event.setFault', { event: 'igniter', faultOf: 'component' });
		expect(rules('igniter').filter((rule) => rule === 'classSkipped')).toHaveLength(3);
		c.do('event.setFault', { event: 'bad', faultClass: 'primary' });
		c.do('event.setFault', { event: 'told', faultClass: 'command' });
		expect(rules('igniter').filter((rule) => rule === 'classSkipped')).toHaveLength(1);
		c.do('event.setFault', {
			event: 'igniter',
			skipped: { primary: '', secondary: 'nothing else pulls at it', command: '' }
		});
		expect(rules('igniter')).not.toContain('classSkipped');
		c.do('event.setGate', { event: 'igniter', type: 'and' });
		expect(rules('igniter')).toContain('componentGate');
		c.do('event.setFault', { event: 'igniter', faultOf: 'system' });
		expect(rules('igniter')).not.toContain('componentGate');
		expect(checkWhole('investigations', c.file)).toEqual([]);
	});

	it('[T16] says what can be said of which event, and takes it back', () => {
		c.add('leaf', top);
		expect(c.refusal('event.setFault', { event: 'leaf', faultOf: 'component' }).field).toBe('faultOf');
		expect(c.refusal('event.setFault', { event: top, faultClass: 'primary' }).field).toBe('faultClass');
		c.do('event.setFault', { event: 'leaf', faultClass: 'primary' });
		c.do('event.setFault', { event: 'leaf', faultClass: null });
		expect(c.event('leaf').faultClass).toBeUndefined();
	});

	it('what is not said of a gate is waited for too (method row 31: all block closure)', () => {
		c.add('joint', top);
		c.add('glue', 'joint');
		const waited = standsInTheWay(c.file, 'a1').filter(({ message }) => message.includes('of one part or'));
		expect(waited).toMatchObject([{ blocks: true, where: { event: 'joint', field: 'faultOf' } }]);
	});
});

it('[S9] a contributing factor is shown to have been there, to have mattered, and to matter again', () => {
	c.add('cold', top, 'Glue set cold');
	c.put('evidence', 'e1', { number: 1, kind: 'piece', title: 'joint', position: null });
	c.do('disposition.set', { event: 'cold', state: 'contributed', reason: 'so it looks', cites: ['e1'] });
	const way = () =>
		standsInTheWay(c.file, 'a1').filter(({ message }) => message.includes('contributing factor'));
	expect(way()).toEqual([]);
	c.do('causeType.set', { event: 'cold', causeType: 'contributing' });
	expect(way()).toMatchObject([{ blocks: true, where: { view: 'conclusion', event: 'cold' } }]);
	const factor = { existed: 'log of the shed', influenced: 'sister joints', matters: '' };
	c.do('factor.set', { event: 'cold', factor });
	expect(way()[0]!.message).toContain('not shown yet that it matters for the next flight');
	c.do('factor.set', { event: 'cold', factor: { ...factor, matters: 'the shed stays cold' } });
	expect(way()).toEqual([]);
	c.do('causeType.set', { event: 'cold', causeType: 'proximate' });
	expect(way()).toEqual([]);
});

describe('failure modes of the parts, checked against the trees', () => {
	const record = {
		name: 'Igniter',
		vehiclePart: null,
		group: '',
		description: '',
		mass: '',
		uses: null,
		outcome: 'recovered',
		next: null,
		note: ''
	};
	it('are listed once, of a part that is there', () => {
		c.do('part.add', { id: 'p1', record });
		c.do('failureMode.list', { part: 'p1', modes: ['opens', 'Opens', 'shorts'] });
		expect(crossCheck(c.file).map(({ mode, stands }) => [mode, stands])).toEqual([
			['opens', 'open'],
			['shorts', 'open']
		]);
		expect(c.refusal('failureMode.list', { part: 'p1', modes: ['OPENS'] }).field).toBe('modes');
		expect(c.refusal('failureMode.list', { part: 'gone', modes: ['opens'] }).field).toBe('part');
		expect(c.refusal('part.remove', { id: 'p1' }).message).toContain('opens');
		expect(checkWhole('investigations', c.file)).toEqual([]);
	});
	it('[M1] stand at an event or say why not; what stood at an event that went is open again', () => {
		c.do('part.add', { id: 'p1', record });
		const id = c.do('failureMode.list', { part: 'p1', modes: ['opens'] });
		c.add('bad', top, 'Igniter opens');
		expect(c.refusal('failureMode.place', { id, event: 'gone', notApplicable: '' }).field).toBe('event');
		expect(c.refusal('failureMode.place', { id, event: 'bad', notApplicable: 'x' }).field).toBe(
			'notApplicable'
		);
		c.do('failureMode.place', { id, event: 'bad', notApplicable: '' });
		expect(crossCheck(c.file)[0]).toMatchObject({
			stands: 'placed',
			title: 'Igniter opens',
			part: 'Igniter'
		});
		c.do('event.remove', { event: 'bad' });
		expect(crossCheck(c.file)[0]).toMatchObject({ stands: 'open' });
		c.do('failureMode.place', { id, event: null, notApplicable: 'none was fitted' });
		expect(crossCheck(c.file)[0]).toMatchObject({ stands: 'notApplicable' });
		c.do('failureMode.remove', { id });
		expect(crossCheck(c.file)).toEqual([]);
	});
});
