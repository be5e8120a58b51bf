import { dimensionNames, type Dimension } from '$lib/quantity/dimensions';
import { type Quantity, toSi } from '$lib/quantity/quantity';
import { readUnit } from '$lib/quantity/units';
import type { Change, ChangeState, ChangeStep } from '../schema/change';

/** The steps that a change can take from each state. 'Made' is not 'verified', and nothing closes on words alone. */
export const NEXT_STATES: Readonly<Record<ChangeState, readonly ChangeState[]>> = {
	proposed: ['accepted', 'rejected'],
	accepted: ['made', 'rejected'],
	made: ['verified', 'reopened'],
	verified: ['flown', 'closed', 'reopened'],
	flown: ['closed', 'reopened'],
	closed: ['reopened'],
	rejected: ['reopened'],
	reopened: ['accepted', 'made', 'rejected']
};

/** A required change holds its build until it is verified; rejecting it needs a reason and a name. */
const HOLDING: readonly ChangeState[] = ['proposed', 'accepted', 'made', 'reopened'];
export const holdsItsBuild = (change: Pick<Change, 'required' | 'state'>): boolean =>
	change.required && HOLDING.includes(change.state);

export const isOpen = (change: Pick<Change, 'state'>): boolean =>
	change.state !== 'closed' && change.state !== 'rejected';

/** The steps of the present life: those since the change was last reopened. */
export function presentLife(change: Pick<Change, 'steps'>): readonly ChangeStep[] {
	const reopened = change.steps.findLastIndex((step) => step.state === 'reopened');
	return reopened < 0 ? change.steps : change.steps.slice(reopened);
}

type Criterion = NonNullable<Change['criterion']>;

/** 'mayNotMeet': the value meets the criterion, but not with its whole uncertainty. */
export type Verdict = 'meets' | 'mayNotMeet' | 'fails' | 'notComparable';

/** Numbers in SI on one axis, so that they can be compared and drawn. */
export interface Judged {
	verdict: Verdict;
	value: number;
	low: number;
	high: number;
	/** Bounds of what the criterion allows; null is open. */
	from: number | null;
	to: number | null;
}

/** Half width used for the judgement, in standard deviations where no level was stated. */
const COVERAGE = 2;

/**
 * A measured value against the criterion. A plus-minus counts double (about 95 of 100), or as stated where a level
 * stands beside it; only what meets the criterion with all of it 'meets'.
 * Source: guard band of a decision rule for conformity, as ISO 14253-1 has it (from memory).
 */
export function judge(criterion: Criterion, measured: Quantity): Judged {
	const dimension = sharedDimension(criterion.value, measured, ...(criterion.upper ? [criterion.upper] : []));
	const none = { value: NaN, low: NaN, high: NaN, from: null, to: null };
	if (!dimension) return { verdict: 'notComparable', ...none };
	const bound = toSi(criterion.value, dimension).value;
	const from = criterion.is === 'atMost' ? null : bound;
	const to =
		criterion.is === 'atMost'
			? bound
			: criterion.is === 'between' && criterion.upper
				? toSi(criterion.upper, dimension).value
				: null;
	const si = toSi(measured, dimension);
	const half = (si.plusMinus ?? 0) * (si.level === undefined ? COVERAGE : 1);
	const low = si.low ?? si.value - half;
	const high = si.high ?? si.value + half;
	const inside = (x: number) => (from === null || x >= from) && (to === null || x <= to);
	const verdict = !inside(si.value) ? 'fails' : inside(low) && inside(high) ? 'meets' : 'mayNotMeet';
	return { verdict, value: si.value, low, high, from, to };
}

/** The first dimension in which all of them can be read: pounds beside newtons are a force. */
export function sharedDimension(...quantities: readonly Quantity[]): Dimension | null {
	return (
		dimensionNames.find((dimension) => quantities.every((q) => readUnit(q.unit || '1', dimension).ok)) ?? null
	);
}
