import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, refused } from '../outcome';
import { treeEvent, type TreeEvent } from '../schema/anomaly';
import { id } from '../schema/common';
import { isBranch } from '../views/tree';
import { operation } from './operation';
import { put } from './records';
import { GONE } from './tree-parts';

const { faultOf, faultClass, skipped, factor } = treeEvent.entries;

/** [T16] A part or the system is said of an event with causes; how a part came to fail, of an event beneath it. */
const setFault = operation({
	name: 'event.setFault',
	label: 'Said what kind of fault it is',
	args: v.object({
		event: id,
		/** Null takes it back; left out, it stays. */
		faultOf: v.optional(v.nullable(faultOf.wrapped)),
		faultClass: v.optional(v.nullable(faultClass.wrapped)),
		skipped
	}),
	apply: (file: Investigation, { event: eventId, ...said }) => {
		const event = file.events[eventId];
		if (!event) return refused(GONE);
		if (said.faultOf && !event.gate)
			return refused('A part or the system is said of an event with causes beneath it.', 'faultOf');
		if (said.faultClass && (event.residual || file.anomalies[event.anomaly]?.top === eventId))
			return refused('Say it of the events beneath: what nobody knows has no class.', 'faultClass');
		return done([put(file, 'events', eventId, without(event, said))]);
	}
});

/** The event with what was said; null takes a field off, undefined leaves it. */
function without(event: TreeEvent, said: Readonly<Record<string, unknown>>): TreeEvent {
	const taken = new Set(Object.keys(said).filter((key) => said[key] === null));
	const given = Object.entries(said).filter(([, value]) => value !== null && value !== undefined);
	const kept = Object.entries(event).filter(([key]) => !taken.has(key));
	return Object.fromEntries([...kept, ...given]) as TreeEvent;
}

/** What shows that a contributing factor was there, that it mattered, and that it matters again; kept as it grows. */
const setFactor = operation({
	name: 'factor.set',
	label: 'Showed that a contributing factor counts',
	args: v.object({ event: id, factor: factor.wrapped }),
	apply: (file: Investigation, args) => {
		const event = file.events[args.event];
		if (!event || !isBranch(event)) return refused(GONE);
		return done([put(file, 'events', args.event, { ...event, factor: args.factor })]);
	}
});

export const faultOps = [setFault, setFactor];
