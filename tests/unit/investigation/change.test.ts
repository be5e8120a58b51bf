import { describe, expect, it } from 'vitest';
import { applyChanges, emptyInvestigation, type Investigation } from '$lib/investigation/case';
import { operate } from '$lib/investigation/operations';
import type { Context } from '$lib/investigation/operations/operation';
import { CHANGE_STATES, type Change, type ChangeState } from '$lib/investigation/schema/change';
import {
	holdsItsBuild,
	isOpen,
	judge,
	NEXT_STATES,
	sharedDimension
} from '$lib/investigation/views/change-life';
import { changeGroups } from '$lib/investigation/views/change-groups';
import { asItStands, failed, proofTests, provesNoLonger } from '$lib/investigation/views/proof';
import { parseQuantity } from '$lib/quantity/parse';
import type { Quantity } from '$lib/quantity/quantity';

let made = 0;
const context = (who = 'Ilse'): Context => ({
	who,
	now: `2026-05-18T09:00:${String(made).padStart(2, '0')}.000Z`,
	newId: () => `new${++made}`
});

/** One anomaly with its top event, and one test and one measurement to cite. */
function begun(): Investigation {
	const item = (number: number, kind: 'test' | 'measurement') =>
		({ number, kind, title: `${kind} ${number}`, parts: [], attachments: [], withdrawn: null }) as never;
	return {
		...emptyInvestigation(),
		anomalies: {
			a1: {
				number: 1,
				title: 'The bulkhead left the bay tube',
				expected: 'one piece',
				observed: 'two pieces',
				when: '',
				consequence: '',
				phase: 'descent',
				top: 'top1',
				firstImpression: ''
			}
		},
		events: { top1: { anomaly: 'a1', title: 'top' } as never, other: { anomaly: 'a2', title: 'x' } as never },
		evidence: { pull: item(1, 'test'), caliper: item(2, 'measurement') }
	};
}

const PROPOSAL = {
	anomaly: 'a1',
	answers: 'top1',
	title: 'Glue joint with a fillet',
	part: 'forward bulkhead',
	oldValue: 'butt joint',
	newValue: 'fillet of 6 mm on both sides',
	responsible: 'Ilse',
	due: '',
	vehicle: 'tern',
	build: 'b2',
	buildName: 'build 2',
	required: true,
	rung: 'engineer',
	how: 'pull test on three samples',
	criterion: { what: 'load at failure', is: 'atLeast', value: '1.2 kN', upper: null },
	newRisk: ''
};
const STEP = { reason: '', value: null, cites: [] as string[], flight: '' };

function did(file: Investigation, name: string, args: unknown): Investigation {
	const outcome = operate(file, name, args, context());
	if (!outcome.ok) throw new Error(JSON.stringify(outcome.problems));
	return applyChanges(file, outcome.value);
}
function problems(file: Investigation, name: string, args: unknown): Record<string, string> {
	const outcome = operate(file, name, args, context());
	if (outcome.ok) throw new Error('this should have been refused');
	return Object.fromEntries(outcome.problems.map((p) => [p.field, p.message]));
}
const raised = (over: object = {}) =>
	did(begun(), 'change.raise', { id: 'c1', record: { ...PROPOSAL, ...over } });
const stepped = (file: Investigation, to: ChangeState, said: object = {}) =>
	did(file, 'change.move', { id: 'c1', to, ...STEP, ...said });
const refusedStep = (file: Investigation, to: ChangeState, said: object = {}) =>
	problems(file, 'change.move', { id: 'c1', to, ...STEP, ...said });
const madeIt = (over: object = {}) => stepped(stepped(raised(over), 'accepted'), 'made');
const quantity = (text: string): Quantity => {
	const dimension = text.includes('lb') || text.includes('N') ? 'force' : 'length';
	const read = parseQuantity(text, { dimension });
	if (!read.ok || !read.value.quantity) throw new Error('unreadable');
	return read.value.quantity;
};

describe('raising a change', () => {
	it('begins as proposed, numbered, with who and when', () => {
		const change = raised().changes['c1'] as Change;
		expect(change).toMatchObject({ number: 1, state: 'proposed', part: 'forward bulkhead' });
		expect(change.steps).toMatchObject([{ state: 'proposed', by: 'Ilse' }]);
		expect(change.criterion?.value).toMatchObject({ value: 1.2, unit: 'kN' });
	});

	it('[C1] answers an anomaly that is there, and a cause from its own tree', () => {
		expect(problems(begun(), 'change.raise', { record: { ...PROPOSAL, anomaly: 'gone' } })).toHaveProperty(
			'anomaly'
		);
		expect(problems(begun(), 'change.raise', { record: { ...PROPOSAL, answers: 'other' } })).toHaveProperty(
			'answers'
		);
	});

	it.each([
		['no upper end', null, 'Enter the upper end'],
		['an upper end of another kind', '3 m', 'same kind'],
		['an upper end below the lower', '900 N', 'above the lower']
	])('[C2] refuses a range with %s', (_, upper, words) => {
		const criterion = { what: 'load', is: 'between', value: '1.2 kN', upper };
		expect(
			problems(begun(), 'change.raise', { record: { ...PROPOSAL, criterion } })['criterion.upper']
		).toContain(words);
	});

	it('says which line is missing, at its field', () => {
		const said = problems(begun(), 'change.raise', { record: { ...PROPOSAL, newValue: ' ', how: '' } });
		expect(said).toMatchObject({
			'record.newValue': 'Say what it becomes.',
			'record.how': 'Say how it will be verified.'
		});
	});
});

describe('the life of a change', () => {
	it('[C5] takes only the steps that follow, whatever its state', () => {
		for (const from of CHANGE_STATES)
			for (const to of CHANGE_STATES) {
				if (NEXT_STATES[from].includes(to)) continue;
				const file = raised();
				const change = { ...file.changes['c1'], state: from } as Change;
				expect(refusedStep({ ...file, changes: { c1: change } }, to)).toHaveProperty('to');
			}
	});

	it('[C5] "made" is not "verified": there is no way round it', () => {
		expect(NEXT_STATES.accepted).not.toContain('verified');
		expect(NEXT_STATES.made).not.toContain('closed');
		expect(NEXT_STATES.made).not.toContain('flown');
	});

	it('[C6] rejected and reopened say why', () => {
		expect(refusedStep(raised(), 'rejected')).toHaveProperty('reason');
		expect(refusedStep(madeIt(), 'reopened')).toHaveProperty('reason');
		const again = stepped(madeIt(), 'reopened', { reason: 'the fillet cracked' });
		expect(again.changes['c1']?.steps.at(-1)).toMatchObject({ reason: 'the fillet cracked', by: 'Ilse' });
	});

	it('[C7] verified cites evidence that is there', () => {
		expect(refusedStep(madeIt(), 'verified', { value: '1.5 kN' })).toHaveProperty('cites');
		expect(refusedStep(madeIt(), 'verified', { value: '1.5 kN', cites: ['gone'] })).toHaveProperty('cites');
		const file = madeIt();
		const withdrawn = { reason: 'the samples were mixed up', by: 'Ilse', at: '2026-05-18T09:00:00.000Z' };
		const without = {
			...file,
			evidence: { ...file.evidence, pull: { ...file.evidence['pull']!, withdrawn } }
		};
		expect(refusedStep(without, 'verified', { value: '1.5 kN', cites: ['pull'] })['cites']).toContain('E1');
	});

	it('[C8] verified meets its number, or says why that is enough', () => {
		const verify = (value: string | null, reason = '') => ({ value, reason, cites: ['pull'] });
		expect(refusedStep(madeIt(), 'verified', verify('1.1 kN'))).toHaveProperty('value');
		expect(refusedStep(madeIt(), 'verified', verify('1.1 kN', 'near enough'))).toHaveProperty('value');
		expect(refusedStep(madeIt(), 'verified', verify('3 m'))['value']).toContain('same kind');
		expect(refusedStep(madeIt(), 'verified', verify(null))).toHaveProperty('value');
		expect(refusedStep(madeIt(), 'verified', verify('1.3 ± 0.1 kN'))).toHaveProperty('reason');
		expect(
			stepped(madeIt(), 'verified', verify('1.3 ± 0.1 kN', 'all three held 1.25')).changes['c1']?.state
		).toBe('verified');
		expect(stepped(madeIt(), 'verified', verify('300 lbf')).changes['c1']?.state).toBe('verified');
		expect(refusedStep(madeIt({ criterion: null }), 'verified', verify(null))).toHaveProperty('reason');
	});

	const verified = () => stepped(madeIt(), 'verified', { value: '1.5 kN', cites: ['pull'] });
	/** The pull test says a number of its own. */
	const pulled = (value: string, over: object = {}, file = madeIt()): Investigation => ({
		...file,
		evidence: {
			...file.evidence,
			pull: { ...file.evidence['pull']!, value: quantity(value), ...over } as never
		}
	});

	it('[C12] takes its number from the test cited, of several the worst, and no other beside it', () => {
		const said = stepped(pulled('1.5 kN'), 'verified', { cites: ['pull'] });
		expect(said.changes['c1']?.steps.at(-1)?.value).toMatchObject({ value: 1.5, unit: 'kN' });
		expect(
			refusedStep(pulled('0.84 kN'), 'verified', { value: '2.6 kN', cites: ['pull'] })['value']
		).toContain('0.84 kN');
		expect(refusedStep(pulled('0.84 kN'), 'verified', { cites: ['pull'] })['value']).toContain(
			'does not meet'
		);
		const two = pulled('1.5 kN');
		const both = {
			...two,
			evidence: {
				...two.evidence,
				weak: { ...two.evidence['pull']!, number: 3, value: quantity('1.1 kN') } as never
			}
		};
		expect(refusedStep(both, 'verified', { cites: ['pull', 'weak'] })).toHaveProperty('value');
		expect(
			refusedStep(pulled('1.5 kN', { result: '', value: null }), 'verified', { cites: ['pull'] })['cites']
		).toContain('no result yet');
	});

	it('[C13] asks why evidence from before it was made shows it', () => {
		const at = (reading: string) => ({ kind: 'clock', clock: 'k1', reading });
		const clocks = { k1: { name: 'phone', zoneMinutes: 120, ahead: null } as never };
		const before = { ...pulled('1.5 kN', { at: at('2026-05-17') }), clocks };
		expect(refusedStep(before, 'verified', { cites: ['pull'] })['reason']).toContain('E1 is older');
		const why = 'samples of the same batch';
		expect(stepped(before, 'verified', { cites: ['pull'], reason: why }).changes['c1']?.state).toBe(
			'verified'
		);
		const since = { ...pulled('1.5 kN', { at: at('2026-05-18T12:00') }), clocks };
		expect(stepped(since, 'verified', { cites: ['pull'] }).changes['c1']?.state).toBe('verified');
	});

	it('[C14] is to be proved again when its proof is withdrawn or corrected, and holds its build', () => {
		const proven = stepped(pulled('1.5 kN'), 'verified', { cites: ['pull'] });
		const holds = (file: Investigation) => holdsItsBuild(asItStands(file, file.changes['c1']!));
		expect(holds(proven)).toBe(false);
		const withdrawn = { reason: 'load cell not zeroed', by: 'Ilse', at: '2026-05-19T09:00:00.000Z' };
		for (const [over, words] of [
			[{ withdrawn }, 'load cell not zeroed'],
			[{ value: quantity('1.6 kN') }, 'says “1.6 kN” now']
		] as const) {
			const after = pulled('1.5 kN', over, proven);
			expect(provesNoLonger(after, after.changes['c1']!).join()).toContain(words);
			expect(holds(after)).toBe(true);
			expect(changeGroups(after)[0]?.kind).toBe('holds');
			expect(refusedStep(after, 'flown', { flight: 'flight 5' })).toHaveProperty('to');
		}
		const again = stepped(pulled('1.6 kN', {}, proven), 'verified', { cites: ['pull'] });
		expect(holds(again)).toBe(false);
	});

	it('[C16] a test made to prove it that failed is kept before another verifies it', () => {
		const file = pulled('1.5 kN');
		const weak = { ...file.evidence['pull']!, number: 3, proves: 'c1', value: quantity('1.1 kN') } as never;
		const both = { ...file, evidence: { ...file.evidence, weak } };
		expect(proofTests(both, 'c1', both.changes['c1']!)).toEqual(['weak']);
		expect(refusedStep(both, 'verified', { cites: ['pull'] })['cites']).toContain('E3 was to prove');
		expect(stepped(both, 'reopened', { cites: ['weak'] }).changes['c1']?.state).toBe('reopened');
	});

	it('cites the calculation that it was sized by, which alone verifies nothing', () => {
		const calculations = { k1: { number: 1, title: 'strength of the bulkhead' } as never };
		const file = { ...begun(), calculations };
		const sized = did(file, 'change.raise', { id: 'c1', record: PROPOSAL, cites: ['k1'] });
		expect(sized.changes['c1']?.steps[0]?.cites).toEqual(['k1']);
		expect(problems(file, 'change.raise', { record: PROPOSAL, cites: ['k2'] })).toHaveProperty('cites');
		const accepted = stepped(sized, 'accepted', { cites: ['k1'] });
		expect(
			refusedStep(stepped(accepted, 'made'), 'verified', { value: '1.5 kN', cites: ['k1'] })
		).toHaveProperty('cites');
	});

	it('[C15] a proof that failed is kept with its number, and the change is open again', () => {
		const after = stepped(pulled('1.1 kN'), 'reopened', { cites: ['pull'] }).changes['c1']!;
		expect(after.steps.at(-1)).toMatchObject({ state: 'reopened', cites: ['pull'], value: { value: 1.1 } });
		expect(failed(after.criterion, after.steps.at(-1)!)).toBe(true);
		expect(refusedStep(pulled('1.5 kN'), 'reopened', { cites: ['pull'] })).toHaveProperty('reason');
	});

	it('[C9] flown names the flight', () => {
		expect(refusedStep(verified(), 'flown')).toHaveProperty('flight');
		expect(stepped(verified(), 'flown', { flight: 'flight 5' }).changes['c1']?.state).toBe('flown');
	});

	it('[C10] closed rests on a flight or a test, and says what it showed of the departure', () => {
		const why = { reason: 'bulkhead and tube came back as one piece', turned: 'offOnly' };
		expect(refusedStep(verified(), 'closed', why)).toHaveProperty('flight');
		expect(refusedStep(verified(), 'closed', { ...why, cites: ['caliper'] })).toHaveProperty('flight');
		expect(refusedStep(verified(), 'closed', { flight: 'flight 5' })['reason']).toContain(
			'The bulkhead left the bay tube'
		);
		expect(stepped(verified(), 'closed', { ...why, cites: ['pull'] }).changes['c1']?.state).toBe('closed');
		const flown = stepped(verified(), 'flown', { flight: 'flight 5' });
		expect(stepped(flown, 'closed', why).changes['c1']?.state).toBe('closed');
	});

	it('[C11] closed says whether the failure was turned on and off', () => {
		const why = { reason: 'whole', cites: ['pull'] };
		expect(refusedStep(verified(), 'closed', why)).toHaveProperty('turned');
		const closed = stepped(verified(), 'closed', { ...why, turned: 'neither' });
		expect(closed.changes['c1']?.steps.at(-1)).toMatchObject({ turned: 'neither' });
	});

	it('[C10] a flight before it was reopened does not close it again', () => {
		const flown = stepped(verified(), 'flown', { flight: 'flight 5' });
		const again = stepped(stepped(flown, 'reopened', { reason: 'a crack in the fillet' }), 'made');
		const reverified = stepped(again, 'verified', { value: '1.6 kN', cites: ['pull'] });
		expect(refusedStep(reverified, 'closed', { reason: 'whole' })).toHaveProperty('flight');
	});
});

describe('editing a change', () => {
	const edit = (record: object) => ({ id: 'c1', record: { ...PROPOSAL, ...record } });

	it('keeps number, state and steps', () => {
		const file = did(madeIt(), 'change.edit', edit({ responsible: 'Tomas' }));
		expect(file.changes['c1']).toMatchObject({ number: 1, state: 'made', responsible: 'Tomas' });
		expect(file.changes['c1']?.steps).toHaveLength(3);
	});

	it('[C3] what was verified stays until it is reopened', () => {
		const verified = stepped(madeIt(), 'verified', { value: '1.5 kN', cites: ['pull'] });
		expect(problems(verified, 'change.edit', edit({ newValue: 'no fillet' }))['']).toContain('Reopen');
	});

	it('[C4] required cannot be unticked once it was accepted', () => {
		expect(did(raised(), 'change.edit', edit({ required: false })).changes['c1']?.required).toBe(false);
		expect(problems(madeIt(), 'change.edit', edit({ required: false }))).toHaveProperty('required');
	});
});

describe('a measured value against its number', () => {
	const criterion = (is: 'atLeast' | 'atMost' | 'between', value: string, upper: string | null = null) => ({
		what: 'load',
		is,
		value: quantity(value),
		upper: upper === null ? null : quantity(upper)
	});
	it.each([
		['atLeast', '45 N', null, '45 N', 'meets'],
		['atLeast', '45 N', null, '44.9 N', 'fails'],
		['atLeast', '45 N', null, '50 ± 2 N', 'meets'],
		// One standard deviation would fit, two do not; with a level the half width counts as stated.
		['atLeast', '45 N', null, '50 ± 3 N', 'mayNotMeet'],
		['atLeast', '45 N', null, '50 ± 3 N (95 %)', 'meets'],
		['atLeast', '45 N', null, '40 to 60 N', 'mayNotMeet'],
		['atMost', '6 mm', null, '0.2 in', 'meets'],
		['atMost', '5 mm', null, '0.2 in', 'fails'],
		['between', '40 N', '60 N', '61 N', 'fails'],
		['between', '40 N', '60 N', '50 N', 'meets'],
		// 10 lb as a weight is 44.48 N (10 · 0.45359237 · 9.80665, hand-worked).
		['atLeast', '44 N', null, '10 lb', 'meets'],
		['atLeast', '45 N', null, '10 lb', 'fails'],
		['atLeast', '45 N', null, '5 mm', 'notComparable']
	] as const)('%s %s %s: %s %s', (is, value, upper, measured, verdict) => {
		expect(judge(criterion(is, value, upper), quantity(measured)).verdict).toBe(verdict);
	});

	it('shares no dimension between a length and a force', () => {
		expect(sharedDimension(quantity('3 m'), quantity('3 N'))).toBeNull();
	});
});

it('a required change holds its build until it is verified; an open one may not hold it', () => {
	const holding = CHANGE_STATES.filter((state) => holdsItsBuild({ required: true, state }));
	expect(holding).toEqual(['proposed', 'accepted', 'made', 'reopened']);
	expect(CHANGE_STATES.some((state) => holdsItsBuild({ required: false, state }))).toBe(false);
	expect(CHANGE_STATES.filter((state) => !isOpen({ state }))).toEqual(['rejected', 'closed']);
});
