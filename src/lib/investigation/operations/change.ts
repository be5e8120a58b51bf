import * as v from 'valibot';
import { type Quantity, toSi } from '$lib/quantity/quantity';
import type { Investigation } from '../case';
import { done, type Outcome, type Problem, refused } from '../outcome';
import { change, type Change, type ChangeState, changeStep } from '../schema/change';
import { id, ids } from '../schema/common';
import { judge, NEXT_STATES, presentLife, sharedDimension } from '../views/change-life';
import { shows } from '../views/citations';
import { asItStands, failed, olderThanMade, proofTests, provenBy, saidNow } from '../views/proof';
import { listed } from '../views/leading';
import { operation } from './operation';
import { nextNumber, put } from './records';

/** What a person says of a change; its number, state and steps come from what is done with it. */
const proposal = v.omit(change, ['number', 'state', 'steps']);
type Proposal = v.InferOutput<typeof proposal>;

const move = v.object({
	id,
	to: v.picklist(
		Object.keys(NEXT_STATES) as ChangeState[],
		'Choose one of the steps that a change can take.'
	),
	...v.pick(changeStep, ['reason', 'value', 'cites', 'flight', 'turned']).entries
});
type Move = v.InferOutput<typeof move>;

/** [C1] A change answers an anomaly and, where it names a cause, one in the tree of that anomaly. */
const raise = operation({
	name: 'change.raise',
	label: 'Proposed a design change',
	args: v.object({ id: v.optional(id), record: proposal, cites: v.optional(ids, []) }),
	apply: (file: Investigation, { id: given, record, cites }, { newId, who, now }) => {
		const problems = faults(file, record);
		if (problems.length > 0) return { ok: false, problems };
		const changeId = given ?? newId();
		if (cites.some((cited) => !file.calculations[cited] && !file.evidence[cited]))
			return refused('One of the items chosen is no longer there. Choose again.', 'cites');
		if (file.changes[changeId]) return refused('A record with this identity is there already.');
		const first = { state: 'proposed', by: who, at: now, ...NOTHING_SAID, cites } as const;
		const raised = { ...record, number: nextNumber(file.changes), state: first.state, steps: [first] };
		return done([put(file, 'changes', changeId, raised)]);
	}
});

const edit = operation({
	name: 'change.edit',
	label: 'Edited a design change',
	args: v.object({ id, record: proposal }),
	apply: (file: Investigation, { id: changeId, record }) => {
		const before = file.changes[changeId];
		if (!before) return refused('This change is no longer there; somebody took it back meanwhile.');
		const problems = [...faults(file, record), ...fixed(before, record)];
		return problems.length > 0
			? { ok: false, problems }
			: done([put(file, 'changes', changeId, { ...before, ...record })]);
	}
});

const takeStep = operation({
	name: 'change.move',
	label: 'Took a step with a design change',
	args: move,
	apply: (file: Investigation, { id: changeId, ...step }, { who, now }) => {
		const before = file.changes[changeId];
		if (!before) return refused('This change is no longer there; somebody took it back meanwhile.');
		const { to: state, value: typed, ...rest } = step;
		const value = (MEASURED.has(state) && provenBy(file, before.criterion, step.cites)) || typed;
		const sound = checkStep(file, asItStands(file, before), { ...step, id: changeId, value }, typed);
		if (!sound.ok) return sound;
		const said = PROOFS.has(state) ? { said: saidNow(file, step.cites) } : {};
		const steps = [...before.steps, { state, by: who, at: now, value, ...rest, ...said }];
		return done([put(file, 'changes', changeId, { ...before, state, steps })]);
	}
});

export const changeOps = [raise, edit, takeStep];

const NOTHING_SAID = { reason: '', value: null, cites: [], flight: '' };
const at = (field: string, message: string): Problem => ({ field, message });

function faults(file: Investigation, { anomaly, answers, criterion }: Proposal): Problem[] {
	const problems: Problem[] = [];
	if (!file.anomalies[anomaly]) problems.push(at('anomaly', 'Choose the anomaly that this change answers.'));
	if (answers && file.events[answers]?.anomaly !== anomaly)
		problems.push(at('answers', 'Choose a cause from the tree of this anomaly.'));
	if (criterion) problems.push(...criterionFaults(criterion));
	return problems;
}

/** [C2] A criterion is a number that can be met: 'between' has an upper end above the lower, of the same kind. */
function criterionFaults({ is, value, upper }: NonNullable<Proposal['criterion']>): Problem[] {
	if (is !== 'between') return [];
	if (!upper) return [at('criterion.upper', 'Enter the upper end, with its unit.')];
	const dimension = sharedDimension(value, upper);
	if (!dimension)
		return [at('criterion.upper', 'Give both ends in units of the same kind, such as 40 N and 60 N.')];
	return toSi(upper, dimension).value > toSi(value, dimension).value
		? []
		: [at('criterion.upper', 'The upper end must lie above the lower one.')];
}

/**
 * [C3] What was verified stays as it was verified: reopen the change to alter it.
 * [C4] Once accepted, a required change stays required; it is rejected with a reason, or its risk is accepted by
 * name when the build is cleared.
 */
function fixed(before: Change, after: Proposal): Problem[] {
	if (['verified', 'flown', 'closed', 'rejected'].includes(before.state))
		return [at('', `This change is ${before.state}. Reopen it, and say why, before altering it.`)];
	if (before.state !== 'proposed' && before.required && !after.required)
		return [
			at(
				'required',
				'It was accepted as required. Reject it with a reason, or accept the risk by name when the build is cleared.'
			)
		];
	return [];
}

/** Steps that a measured number decides. */
const MEASURED: ReadonlySet<ChangeState> = new Set(['verified', 'reopened']);
/** Steps whose evidence is a proof. */
const PROOFS: ReadonlySet<ChangeState> = new Set(['verified', 'closed']);

/** @param typed  the number beside the evidence; the step itself carries the one that counts */
function checkStep(file: Investigation, before: Change, step: Move, typed: Move['value']): Outcome<null> {
	const { to, cites, value } = step;
	/* [C5] Steps follow one another; none is left out. */
	if (!NEXT_STATES[before.state].includes(to))
		return refused(
			`A change that is ${before.state} can become ${NEXT_STATES[before.state].join(' or ')}, not ${to}.`,
			'to'
		);
	for (const cited of cites) {
		if (file.calculations[cited]) continue;
		const item = file.evidence[cited];
		if (!item) return refused('One of the items chosen is no longer there. Choose again.', 'cites');
		if (item.withdrawn) return refused(`E${item.number} was withdrawn and no longer counts.`, 'cites');
		if (!shows(file, cited))
			return refused(
				`E${item.number} is a test that has no result yet. Enter the result there first.`,
				'cites'
			);
	}
	/* [C12] What is measured is said once, where it was measured. */
	if (typed && value && typed !== value && !sameNumber(typed, value))
		return refused(
			`The evidence cited says ${value.text || `${value.value} ${value.unit}`}, and that is what counts. Correct it there if it is wrong, or cite another item.`,
			'value'
		);
	const problems = STEP_RULES[to]?.(file, before, step) ?? [];
	return problems.length > 0 ? { ok: false, problems } : done(null);
}

type StepRule = (file: Investigation, before: Change, step: Move) => Problem[];

const STEP_RULES: Partial<Record<ChangeState, StepRule>> = {
	/** [C6] Who rejects or reopens says why. */
	rejected: (_, __, { reason }) => (reason ? [] : [at('reason', 'Say why it is not to be done.')]),
	/** [C15] A number that fails is kept with the change: it says itself what has come up. */
	reopened: (_, { criterion }, { to, value, reason }) =>
		reason || failed(criterion, { state: to, value })
			? []
			: [at('reason', 'Say what has come up, or what the flight showed.')],
	verified: verifiedFaults,
	/** [C9] 'Flown' names the flight on which it flew. */
	flown: (_, __, { flight }) => (flight ? [] : [at('flight', 'Name the flight on which it flew.')]),
	closed: closedFaults
};

/**
 * [C7] 'Verified' cites evidence. [C8] It meets the number it was to meet: a value that fails verifies nothing; one
 * that may fail within its uncertainty, or that is missing, needs the reason why it is enough.
 */
function verifiedFaults(file: Investigation, before: Change, { id: changeId, value, cites, reason }: Move) {
	const problems: Problem[] = [];
	/* [C16] Nobody measures until it passes: a test of this change that failed is kept first. */
	const unsaid = proofTests(file, changeId, before).filter((test) => !cites.includes(test));
	for (const test of unsaid) {
		const found = provenBy(file, before.criterion, [test]);
		if (found && judge(before.criterion!, found).verdict === 'fails')
			problems.push(
				at(
					'cites',
					`E${file.evidence[test]!.number} was to prove this change too, and does not meet what was set. Cite it and keep it as failed; or withdraw it there, with the reason.`
				)
			);
	}
	const older = olderThanMade(file, before, cites);
	if (older.length > 0 && !reason)
		problems.push(
			at(
				'reason',
				`${listed(older)} ${older.length === 1 ? 'is' : 'are'} older than the step “made”. Cite what was tested since, or say why this shows the part as it was made.`
			)
		);
	if (!cites.some((cited) => file.evidence[cited]))
		problems.push(
			at('cites', 'Cite the test or measurement that shows it: that it was made verifies nothing.')
		);
	if (!before.criterion || !value) {
		if (!reason)
			problems.push(
				before.criterion
					? at('value', 'Enter what was measured, or say in the reason why no number is needed.')
					: at('reason', 'No number was set for this change: say what shows that it works.')
			);
		return problems;
	}
	const { verdict } = judge(before.criterion, value);
	if (verdict === 'notComparable')
		problems.push(
			at(
				'value',
				`This can’t be compared with ${before.criterion.value.unit || 'the number set'}; use a unit of the same kind.`
			)
		);
	if (verdict === 'fails')
		problems.push(
			at(
				'value',
				'This does not meet what was set. Keep it as failed; then alter the change, or make it again.'
			)
		);
	if (verdict === 'mayNotMeet' && !reason)
		problems.push(
			at(
				'reason',
				'With its uncertainty this may not meet what was set. Measure again, or say why it is enough.'
			)
		);
	return problems;
}

/** [C10] Closing rests on a flight or a test, and says what that showed of the departure it all began with. */
function closedFaults(file: Investigation, before: Change, { flight, cites, reason, turned }: Move) {
	const problems: Problem[] = [];
	const flown = flight !== '' || presentLife(before).some((step) => step.state === 'flown');
	const tested = cites.some((cited) => file.evidence[cited]?.kind === 'test');
	if (!flown && !tested)
		problems.push(
			at('flight', 'Name the flight that confirmed it, or cite the test that repeats what failed.')
		);
	/* [C11] A cause is shown best by turning the failure on and off; that it was not is said too. */
	if (!turned)
		problems.push(at('turned', 'Say whether the failure was turned on and off; “neither” is an answer.'));
	if (!reason) {
		const departure = file.anomalies[before.anomaly]?.title ?? 'the anomaly';
		problems.push(at('reason', `Say what the flight or test showed of “${departure}”.`));
	}
	return problems;
}

const sameNumber = (a: Quantity, b: Quantity): boolean =>
	(['value', 'unit', 'plusMinus', 'level', 'low', 'high'] as const).every((key) => a[key] === b[key]);
