import { shownQuantity } from '../ui/quantity-text';
import type { Change, ChangeState } from '$lib/investigation/schema/change';
import type { ChangeGroup } from '$lib/investigation/views/change-groups';

/** The verb that takes a change into a state. */
export const VERB: Record<ChangeState, string> = {
	proposed: 'Propose',
	accepted: 'Accept',
	rejected: 'Reject',
	made: 'Mark as made',
	verified: 'Verify',
	flown: 'Record its flight',
	closed: 'Close',
	reopened: 'Reopen'
};

/** What a change was sized by, before wood is cut. */
export const RESTS_ON = 'Calculation or evidence that it rests on';

/** What each state means for the person who looks at it. */
export const MEANS: Record<ChangeState, string> = {
	proposed: 'Nobody has decided on it yet.',
	accepted: 'It is to be done.',
	rejected: 'It is not to be done, for the reason given.',
	made: 'It was made. That it works is not shown yet.',
	verified: 'A test or measurement shows that it does what it should.',
	flown: 'It flew. Whether the flight confirms it is not said yet.',
	closed: 'A flight or test confirmed it.',
	reopened: 'It has to be looked at again.'
};

export const RUNGS = [
	{ value: 'eliminate', label: 'eliminate: the cause can’t occur any more' },
	{ value: 'substitute', label: 'substitute: something less prone to it' },
	{ value: 'engineer', label: 'engineer: stronger, guarded, with margin' },
	{ value: 'procedure', label: 'procedure: a step, a check, a rule' },
	{ value: 'protect', label: 'protect: less harm when it occurs' }
] as const;

export const CRITERIA = [
	{ value: 'atLeast', label: 'at least' },
	{ value: 'atMost', label: 'at most' },
	{ value: 'between', label: 'between' }
] as const;

/** 'load at failure at least 2.1 kN'. */
export const criterionWords = ({ what, is, value, upper }: NonNullable<Change['criterion']>): string =>
	[
		what,
		CRITERIA.find((one) => one.value === is)!.label,
		shownQuantity(value),
		...(upper ? ['and', shownQuantity(upper)] : [])
	].join(' ');

export function groupTitle({ kind, build }: ChangeGroup): string {
	switch (kind) {
		case 'holds':
			return build === '' ? 'Hold every build' : `Hold ${build}`;
		case 'open':
			return 'Open, holding no build';
		case 'waits':
			return 'Verified, waiting to be confirmed in flight';
		case 'closed':
			return 'Closed';
		case 'rejected':
			return 'Rejected';
	}
}

const day = new Intl.DateTimeFormat('en-GB', { day: 'numeric', month: 'short', year: 'numeric' });
export const onDay = (iso: string): string => (iso === '' ? '' : day.format(new Date(iso)));
