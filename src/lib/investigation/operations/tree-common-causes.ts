import { typedProbability } from '$lib/quantity/percent';
import * as v from 'valibot';
import { MAX_SHARING } from '$lib/reasoning';
import type { Investigation } from '../case';
import { refused } from '../outcome';
import { type CommonCause, commonCause } from '../schema/common-cause';
import { commonCauseOf } from '../views/common-cause';
import { exclusionOf, isBranch, weightOf } from '../views/tree';
import { recordOperations } from './records';

/**
 * [T11] What could fail from one cause are different basic events of one tree with one starting weight; each stands in
 * one group at most, and none of them excludes another event.
 */
function fault(file: Investigation, own: string, record: CommonCause) {
	const { events } = record;
	if (new Set(events).size < events.length) return refused('Choose each event once.', 'events');
	for (const id of events) {
		const event = file.events[id];
		if (event?.anomaly !== record.anomaly) return refused('Choose events of this tree.', 'events');
		if (event.gate)
			return refused(`“${event.title}” has causes beneath it. Choose the basic events there.`, 'events');
		if (event.residual)
			return refused('What nobody has thought of shares nothing that could be named.', 'events');
		if (!isBranch(event))
			return refused(`“${event.title}” is switched or given; it does not fail.`, 'events');
		const other = commonCauseOf(file, id);
		if (other && other[0] !== own)
			return refused(
				`“${event.title}” could already fail with others from ${other[1].title}; an event stands in one such group.`,
				'events'
			);
		if (exclusionOf(file, id))
			return refused(
				`“${event.title}” excludes other events, so nothing can make it true together with them. Take one of the two back.`,
				'events'
			);
		const first = file.events[events[0]!]!;
		if (weightOf(event) !== weightOf(first))
			return refused(
				`“${first.title}” starts at ${typedProbability(weightOf(first))} and “${event.title}” at ${typedProbability(weightOf(event))}. Similar parts start alike: give them one starting weight first.`,
				'events'
			);
	}
	return factorFault(record);
}

/** [T12] The factors are as many as their model takes for so many events. */
function factorFault({ events, model, factors }: CommonCause) {
	const n = events.length;
	if (model !== 'beta' && n > MAX_SHARING)
		return refused(
			`Some-but-not-all can be weighed for up to ${MAX_SHARING} events; these are ${n}. Say how often the cause takes all of them.`,
			'model'
		);
	const wanted = { beta: 1, multiLetter: n - 1, alpha: n }[model];
	if (factors.length !== wanted)
		return refused(`For ${n} events give ${wanted === 1 ? 'one number' : `${wanted} numbers`}.`, 'factors');
	const sum = factors.reduce((a, b) => a + b, 0);
	return model === 'alpha' && Math.abs(sum - 1) > 1e-6
		? refused(
				`Together these share out all failures: they add up to 100 %, not ${typedProbability(sum)}.`,
				'factors'
			)
		: null;
}

/** A group without some of its events; null when fewer than two are left. */
export function withoutEvents(group: CommonCause, gone: ReadonlySet<string>): CommonCause | null {
	const events = group.events.filter((event) => !gone.has(event));
	if (events.length < 2) return null;
	const { model, factors } = group;
	if (model === 'beta' || events.length === group.events.length) return { ...group, events };
	// What hit more than are left hits all that are left.
	const kept = factors.slice(0, model === 'alpha' ? events.length : events.length - 1);
	if (model === 'alpha') kept[kept.length - 1]! += factors.slice(kept.length).reduce((a, b) => a + b, 0);
	return { ...group, events, factors: kept };
}

/** What is typed, as if it were kept: the case with the group and without it, or in words what is wrong with it. */
export function tryCommonCause(
	file: Investigation,
	own: string | null,
	typed: unknown
): { ok: true; together: Investigation; apart: Investigation } | { ok: false; problem: string } {
	const read = v.safeParse(commonCause, typed);
	if (!read.success) return { ok: false, problem: read.issues[0].message };
	const id = own ?? 'draft';
	const problem = fault(file, id, read.output)?.problems[0]?.message;
	if (problem !== undefined) return { ok: false, problem };
	const { [id]: _, ...others } = file.commonCauses;
	return {
		ok: true,
		together: { ...file, commonCauses: { ...others, [id]: read.output } },
		apart: { ...file, commonCauses: others }
	};
}

export const commonCauseOps = recordOperations(
	'commonCauses',
	'commonCause',
	'what events could fail from together',
	() => null,
	fault
);
