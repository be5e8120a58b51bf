import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, type Problem, refused } from '../outcome';
import { id, requiredLine } from '../schema/common';
import { type EvidenceOf, testResult } from '../schema/evidence';
import { prediction } from '../schema/prediction';
import { hasResult, isTest, standingPrediction } from '../views/predictions';
import { operation } from './operation';
import { put } from './records';

const GONE = 'This test is not there.';

/** [E11] A prediction is locked before the result, by name and time; after it, it would be hindsight. */
const lock = operation({
	name: 'prediction.lock',
	label: 'Locked what a test would show',
	args: v.object({ id: v.optional(id), record: v.pick(prediction, ['test', 'under']) }),
	apply: (file: Investigation, { id: given, record }, { newId, who, now }) => {
		const test = file.evidence[record.test];
		if (!isTest(test) || test.withdrawn) return refused(GONE, 'test');
		if (hasResult(test))
			return refused('The result is in: what is written now would be hindsight, not a prediction.');
		if (standingPrediction(file, record.test))
			return refused('A prediction is locked already. Withdraw it with a reason, then lock another.');
		if (given && file.predictions[given]) return refused('A prediction with this identity is there already.');
		const under = record.under.map((row) => ({
			...row,
			cause: (row.event && file.events[row.event]?.title) || row.cause
		}));
		return done([
			put(file, 'predictions', given ?? newId(), {
				test: record.test,
				under,
				by: who.trim(),
				at: now,
				resultAt: null,
				withdrawn: null
			})
		]);
	}
});

const withdraw = operation({
	name: 'prediction.withdraw',
	label: 'Withdrew a locked prediction',
	args: v.object({ id, reason: requiredLine('Say why it is withdrawn; it stays beside the next one.') }),
	apply: (file: Investigation, { id: predictionId, reason }, { who, now }) => {
		const before = file.predictions[predictionId];
		if (!before) return refused('This prediction is not there.');
		if (before.withdrawn) return refused('This prediction is withdrawn already.');
		if (before.resultAt) return refused('The result is in: the prediction stays as it was locked.');
		return done([
			put(file, 'predictions', predictionId, { ...before, withdrawn: { reason, by: who.trim(), at: now } })
		]);
	}
});

export const ASKS_FOR_PREDICTION =
	'Nothing was locked before this result. Keep the test without it, lock what each cause would show, then enter it; or say here why there is no prediction.';

/** [E12] Of a test that was made: how it is known, and how far to trust it. */
export const unsaid = ({ basis, trust }: Partial<EvidenceOf<'test'>>) => [
	...(basis
		? []
		: [
				{
					field: 'basis' as const,
					message: 'Say whether the result was observed, reported, derived or assumed.'
				}
			]),
	...(trust ? [] : [{ field: 'trust' as const, message: 'Say how far this can be trusted.' }])
];

/** [E10] A result stands beside what was predicted, or beside the reason why nothing was. */
const result = operation({
	name: 'test.result',
	label: 'Entered the result of a test',
	args: v.object({ id, ...testResult.entries }),
	apply: (file: Investigation, { id: test, ...entered }, { now }) => {
		const before = file.evidence[test];
		if (!isTest(before) || before.withdrawn) return refused(GONE);
		if (hasResult(before))
			return refused('The result is in already. If it is wrong, correct the item with a reason.');
		const stands = standingPrediction(file, test);
		const item = {
			...before,
			...entered,
			by: entered.by ?? before.by,
			at: entered.at === undefined ? before.at : entered.at,
			basis: entered.basis ?? before.basis,
			trust: entered.trust ?? before.trust,
			trustReason: entered.trustReason ?? before.trustReason,
			...(stands ? { noPrediction: '' } : {})
		};
		const problems: Problem[] = [
			...(hasResult(item)
				? []
				: [{ field: 'result', message: 'Say what the test showed, or give the measured value.' }]),
			...unsaid(item),
			...(!stands && item.noPrediction === ''
				? [{ field: 'noPrediction', message: ASKS_FOR_PREDICTION }]
				: []),
			...(item.at?.kind === 'clock' && !file.clocks[item.at.clock]
				? [{ field: 'at.clock', message: 'Choose the clock that this time was read on.' }]
				: [])
		];
		if (problems.length > 0) return { ok: false, problems };
		return done([
			put(file, 'evidence', test, item),
			// So that taking back the lock alone is refused from here on.
			...(stands ? [put(file, 'predictions', stands[0], { ...stands[1], resultAt: now })] : [])
		]);
	}
});

export const predictionOps = [lock, withdraw, result];
