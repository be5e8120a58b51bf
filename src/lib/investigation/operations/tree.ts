import * as v from 'valibot';
import type { Change, Investigation } from '../case';
import { done, type Outcome, refused } from '../outcome';
import { GATE_TYPES, treeEvent } from '../schema/anomaly';
import { id, requiredLine } from '../schema/common';
import { commonCauseOf } from '../views/common-cause';
import { below, parentsOf } from '../views/tree';
import { operation } from './operation';
import { put } from './records';
import { anomalyOps } from './tree-anomaly';
import { commonCauseOps } from './tree-common-causes';
import { exclusionOps } from './tree-exclusions';
import { faultOps } from './tree-fault';
import { plantOps } from './tree-plant';
import { settingOps } from './tree-settings';
import { readOps } from './tree-read';
import {
	conditionOf,
	GONE,
	gateProblem,
	hanging,
	hook,
	isBareCondition,
	leaf,
	merged,
	openDisposition,
	sharesCause,
	orphans,
	removeEvents,
	unhook
} from './tree-parts';

const place = v.optional(v.pipe(v.number(), v.integer(), v.minValue(0)));
const title = requiredLine('Name the failed state, such as "tether parts at the swivel".');
const LEAF_KINDS = ['basic', 'undeveloped', 'house', 'conditioning'] as const;

const applied = (
	file: Investigation,
	eventId: string,
	event: Investigation['events'][string]
): Investigation => ({
	...file,
	events: { ...file.events, [eventId]: event }
});

/** [T1] A new event goes under one that is there; one without a gate gets an OR. */
const add = operation({
	name: 'event.add',
	label: 'Added an event to the tree',
	args: v.object({
		id: v.optional(id),
		under: id,
		at: place,
		kind: v.picklist(LEAF_KINDS),
		title
	}),
	apply: (file: Investigation, args, { newId }) => {
		const parent = file.events[args.under];
		if (!parent) return refused('The event to put this under is not in the tree.', 'under');
		const eventId = args.id ?? newId();
		if (file.events[eventId]) return refused('An event with this identity is there already.');
		const parentNow = hook(file, args.under, eventId, args.at);
		if (!parentNow.ok) return parentNow;
		return done([
			put(file, 'events', eventId, leaf(parent.anomaly, args.title, args.kind)),
			put(file, 'events', args.under, parentNow.value)
		]);
	}
});

const addBeside = operation({
	name: 'event.addBeside',
	label: 'Added an event to the tree',
	args: v.object({
		id: v.optional(id),
		beside: id,
		under: v.optional(id),
		kind: v.picklist(LEAF_KINDS),
		title
	}),
	apply: (file: Investigation, { beside, under, ...args }, context) => {
		if (!file.events[beside]) return refused(GONE, 'beside');
		const parent = under ?? parentsOf(file, beside)[0];
		if (parent === undefined)
			return refused('The top event has nothing beside it. Add a cause below it.', 'beside');
		const at = file.events[parent]?.gate?.inputs.indexOf(beside) ?? -1;
		return add.apply(file, { ...args, under: parent, ...(at < 0 ? {} : { at: at + 1 }) }, context);
	}
});

/** [T2] One event may be an input of several gates; it stays one event, and never feeds itself. */
const share = operation({
	name: 'event.share',
	label: 'Shared an event between branches',
	args: v.object({ event: id, under: id, at: place }),
	apply: (file: Investigation, args) => {
		const event = file.events[args.event];
		if (!event) return refused(GONE, 'event');
		if (file.events[args.under] && file.events[args.under]!.anomaly !== event.anomaly)
			return refused('The two stand in the trees of different anomalies. Copy the branch instead.', 'under');
		if (event.residual)
			return refused('The branch that nobody has thought of stands under the top event alone.', 'event');
		if (event.kind === 'conditioning') return refused('A conditioning event belongs to one gate.', 'event');
		const parent = hook(file, args.under, args.event, args.at);
		return parent.ok ? done([put(file, 'events', args.under, parent.value)]) : parent;
	}
});

/** [T3] Moving is unhooking here and hooking there, in one step. */
const move = operation({
	name: 'event.move',
	label: 'Moved a branch of the tree',
	args: v.object({ event: id, from: id, under: id, at: place }),
	apply: (file: Investigation, args) => {
		const { event: eventId, from, under } = args;
		const event = file.events[eventId];
		const parent = file.events[from];
		if (!event || !parent?.gate) return refused(GONE, 'event');
		if (![...parent.gate.inputs, parent.gate.condition].includes(eventId))
			return refused(`"${event.title}" does not stand under "${parent.title}" any more.`, 'from');
		if (event.residual && from !== under)
			return refused('The branch that nobody has thought of stands under the top event alone.', 'event');
		if (event.kind === 'conditioning' && from !== under)
			return refused('A conditioning event stays with its gate.', 'event');
		if (file.events[under] && file.events[under].anomaly !== event.anomaly)
			return refused('The two stand in the trees of different anomalies. Copy the branch instead.', 'under');
		if (parent.gate.condition === eventId) return done([]);
		if (from === under) {
			const inputs = parent.gate.inputs.filter((input) => input !== eventId);
			const last = file.events[inputs.at(-1) ?? '']?.residual ? inputs.length - 1 : inputs.length;
			inputs.splice(event.residual ? inputs.length : Math.min(args.at ?? last, last), 0, eventId);
			return done([put(file, 'events', from, { ...parent, gate: { ...parent.gate, inputs } })]);
		}
		const left = unhook(parent, eventId);
		const problem = left.gate && gateProblem(left.gate);
		if (problem) return refused(problem, 'from');
		const there = hook(applied(file, from, left), under, eventId, args.at);
		if (!there.ok) return there;
		return done([put(file, 'events', from, left), put(file, 'events', under, there.value)]);
	}
});

const changeable = v.partial(v.pick(treeEvent, ['title', 'kind', 'note', 'on']));

const change = operation({
	name: 'event.change',
	label: 'Changed an event of the tree',
	args: v.object({ id, record: changeable }),
	apply: (file: Investigation, args) => {
		const before = file.events[args.id];
		if (!before) return refused(GONE);
		const { kind } = args.record;
		if (kind !== undefined && kind !== before.kind) {
			if (before.gate)
				return refused(
					'An event with causes beneath it is an intermediate event; take them out first.',
					'kind'
				);
			if (kind === 'intermediate')
				return refused('Add a cause below it, and it becomes an intermediate event.', 'kind');
			if (before.residual)
				return refused('This branch stays undeveloped: nobody knows what is in it.', 'kind');
			const group = kind === 'house' ? commonCauseOf(file, args.id) : null;
			if (group) return refused(sharesCause(before, group[1]), 'kind');
			if (before.kind === 'conditioning' || kind === 'conditioning')
				return refused('A conditioning event comes and goes with its inhibit gate.', 'kind');
		}
		return done([put(file, 'events', args.id, merged(before, args.record))]);
	}
});

/**
 * [T5] An inhibit gate gets its conditioning event with it. That goes with the gate while nobody has worked on it; else
 * AND keeps it as an input, and under any other gate it would be a cause that it never was.
 */
const setGate = operation({
	name: 'event.setGate',
	label: 'Changed a gate',
	args: v.object({
		event: id,
		type: v.picklist(GATE_TYPES),
		k: v.optional(
			v.nullable(v.pipe(v.number('Enter a whole number.'), v.integer('Enter a whole number.'))),
			null
		)
	}),
	apply: (file: Investigation, { event: eventId, type, k }, { newId }) => {
		const event = file.events[eventId];
		if (!event) return refused(GONE);
		if (!event.gate) return refused('A gate stands over causes. Add one below this event first.');
		const n = event.gate.inputs.length;
		if (type === 'atLeast' && (k === null || k < 1 || k > n))
			return refused(`Choose how many of the ${n} inputs it takes: 1 to ${n}.`, 'k');
		const changes: Change[] = [];
		let { inputs, condition } = event.gate;
		if (type === 'inhibit' && condition === null) {
			condition = newId();
			changes.push(put(file, 'events', condition, leaf(event.anomaly, conditionOf(event), 'conditioning')));
		} else if (type !== 'inhibit' && condition !== null) {
			const given = file.events[condition]!;
			if (isBareCondition(file, event)) changes.push(...removeEvents(file, new Set([condition])));
			else if (type === 'and') {
				changes.push(put(file, 'events', condition, { ...given, kind: 'basic' }));
				inputs = [...inputs, condition];
			} else
				return refused(
					`“${given.title}” would become a cause by itself. Choose AND, or remove the condition first.`,
					'type'
				);
			condition = null;
		}
		const needs = type === 'atLeast' ? k : null;
		const complete = event.gate.complete && event.gate.type === type;
		const gate = { type, k: needs, inputs, condition, complete };
		const problem = gateProblem(gate);
		return problem
			? refused(problem, 'type')
			: done([...changes, put(file, 'events', eventId, { ...event, gate })]);
	}
});

/** [T6] 'Complete' is said of the inputs as they stand: it lapses when they change. */
const setComplete = operation({
	name: 'event.setComplete',
	label: 'Looked over the causes under a gate',
	args: v.object({ event: id, complete: v.boolean() }),
	apply: (file: Investigation, { event: eventId, complete }) => {
		const event = file.events[eventId];
		if (!event?.gate) return refused(GONE);
		return done([put(file, 'events', eventId, { ...event, gate: { ...event.gate, complete } })]);
	}
});

/**
 * [T7] Takes an event from under one gate, or from all where none is named; what then hangs nowhere goes with it.
 * Links of findings go only when that is said; a calculation or change that names it holds it.
 */
const remove = operation({
	name: 'event.remove',
	label: 'Removed a branch of the tree',
	args: v.object({ event: id, from: v.optional(id), andLinks: v.optional(v.boolean(), false) }),
	apply: (file: Investigation, { event: eventId, from, andLinks }): Outcome<Change[]> => {
		const event = file.events[eventId];
		if (!event) return refused(GONE);
		if (file.anomalies[event.anomaly]?.top === eventId)
			return refused('The top event stays as long as its anomaly does.');
		if (event.residual)
			return refused('The branch that nobody has thought of stays: there is always something.');
		const parents = from === undefined ? parentsOf(file, eventId) : [from];
		const events = { ...file.events };
		for (const parent of parents) {
			const next = unhook(events[parent]!, eventId);
			const problem = next.gate && gateProblem(next.gate);
			if (problem) return refused(problem);
			events[parent] = next;
		}
		const gone = new Set(orphans(file, events, event.anomaly));
		const { findings, firmly } = hanging(file, gone);
		if (firmly.length > 0) return refused(`This can't go while ${firmly.join(' and ')}.`);
		if (findings.length > 0 && !andLinks) {
			const numbers = findings.map((finding) => `F${file.findings[finding]!.number}`).join(', ');
			return refused(
				`${numbers} ${findings.length === 1 ? 'has a link' : 'have links'} from what would go. Remove it with its links, or change the links first.`,
				'andLinks'
			);
		}
		return done([
			...removeEvents(file, gone),
			...parents.filter((p) => !gone.has(p)).map((p) => put(file, 'events', p, events[p]!))
		]);
	}
});

/** [T8] A copy is a new set of events, with weights but without dispositions or links; what it shares stays shared. */
const copyBranch = operation({
	name: 'event.copyBranch',
	label: 'Copied a branch of the tree',
	args: v.object({ event: id, under: id }),
	apply: (file: Investigation, { event: eventId, under }, { newId }) => {
		const source = file.events[eventId];
		const target = file.events[under];
		if (!source || !target) return refused(GONE);
		if (source.residual) return refused('The branch that nobody has thought of stands once in each tree.');
		const copies = new Map(below(file.events, eventId).map((old) => [old, newId()]));
		const parent = hook(file, under, copies.get(eventId)!);
		if (!parent.ok) return parent;
		const changes = [...copies].map(([old, copy]) => {
			const { impression: _, truth: __, factor: ___, ...event } = file.events[old]!;
			const of = (input: string) => copies.get(input)!;
			return put(file, 'events', copy, {
				...event,
				anomaly: target.anomaly,
				causeType: null,
				disposition: openDisposition(),
				gate: event.gate && {
					...event.gate,
					inputs: event.gate.inputs.map(of),
					condition: event.gate.condition && of(event.gate.condition)
				}
			});
		});
		return done([...changes, put(file, 'events', under, parent.value)]);
	}
});

export const treeOps = [
	...anomalyOps,
	...plantOps,
	...faultOps,
	...readOps,
	add,
	addBeside,
	share,
	move,
	change,
	setGate,
	setComplete,
	remove,
	copyBranch,
	...exclusionOps,
	...commonCauseOps,
	...settingOps
];
