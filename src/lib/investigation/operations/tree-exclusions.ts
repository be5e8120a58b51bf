import { typedProbability } from '$lib/quantity/percent';
import * as v from 'valibot';
import type { Investigation } from '../case';
import { refused } from '../outcome';
import { exclusion, type Exclusion } from '../schema/anomaly';
import { id } from '../schema/common';
import { commonCauseOf } from '../views/common-cause';
import { exclusionOf, isBranch, weightOf } from '../views/tree';
import { operation } from './operation';
import { recordOperations } from './records';

/**
 * [T9] What excludes one another carries weights of its own that add up to no more than one, stands in one tree,
 * and is declared in one list only.
 */
export function exclusionProblem(file: Investigation, record: Exclusion, own?: string): string | null {
	let sum = 0;
	for (const eventId of new Set(record.events)) {
		const event = file.events[eventId];
		if (!event || event.anomaly !== record.anomaly) return 'Choose events of this tree.';
		if (!isBranch(event))
			return `"${event.title}" has no weight of its own. Declare it for the basic events beneath.`;
		const other = exclusionOf(file, eventId);
		if (other && other[0] !== own)
			return `"${event.title}" already stands in a list of events that exclude one another; change that list.`;
		const group = commonCauseOf(file, eventId);
		if (group)
			return `"${event.title}" could fail together with others from ${group[1].title}. Take one of the two back.`;
		sum += weightOf(event);
	}
	return sum > 1 + 1e-9
		? `Only one of these can have happened, so their starting weights add up to at most 100 %; now it is ${typedProbability(sum)}.`
		: null;
}

const checked = (name: 'exclusion.add' | 'exclusion.change') => {
	const plain = recordOperations('exclusions', 'exclusion', 'that events exclude one another').find(
		(op) => op.name === name
	)!;
	return operation({
		name,
		label:
			name === 'exclusion.add'
				? 'Declared that events exclude one another'
				: 'Changed which events exclude one another',
		args: v.object({ id: v.optional(id), record: exclusion }),
		apply: (file: Investigation, args, context) => {
			const record = { ...args.record, events: [...new Set(args.record.events)] };
			if (record.events.length < 2)
				return refused('Name at least two events that exclude each other.', 'events');
			const problem = exclusionProblem(file, record, args.id);
			return problem ? refused(problem, 'events') : plain.apply(file, { ...args, record } as never, context);
		}
	});
};

export const exclusionOps = [
	checked('exclusion.add'),
	checked('exclusion.change'),
	...recordOperations('exclusions', 'exclusion', 'that events exclude one another').filter(
		(op) => op.name === 'exclusion.remove'
	)
];
