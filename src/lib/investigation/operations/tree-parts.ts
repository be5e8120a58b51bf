import type { Change, Investigation } from '../case';
import { type Outcome, refused } from '../outcome';
import type { Gate, TreeEvent } from '../schema/anomaly';
import type { CommonCause } from '../schema/common-cause';
import { commonCauseOf } from '../views/common-cause';
import { below, inputsOf, pathDown } from '../views/tree';
import { put, removal } from './records';
import { withoutEvents } from './tree-common-causes';

/** A new event beneath which nothing stands yet. */
export function leaf(anomaly: string, title: string, kind: TreeEvent['kind'], residual = false): TreeEvent {
	return {
		anomaly,
		title,
		kind,
		note: '',
		weight: residual ? 0.05 : null,
		weightBasis: 'guess',
		weightNote: '',
		residual,
		on: false,
		gate: null,
		causeType: null,
		disposition: openDisposition()
	};
}

export const openDisposition = (): TreeEvent['disposition'] => ({
	state: 'open',
	reason: '',
	cites: [],
	despite: '',
	weightThen: null,
	by: '',
	at: '',
	reviewedBy: ''
});

/** What the condition of an inhibit gate is called until somebody names it. */
export const conditionOf = ({ title }: TreeEvent): string =>
	`Condition that lets "${title}" happen`.slice(0, 300);

/** [T5] Nobody has named or weighed the condition under this event's gate, and nothing speaks of it. */
export function isBareCondition(file: Investigation, event: TreeEvent): boolean {
	const id = event.gate?.condition ?? null;
	const condition = id === null ? undefined : file.events[id];
	if (id === null || condition?.title !== conditionOf(event)) return false;
	const { findings, firmly } = hanging(file, new Set([id]));
	return condition.weight === null && condition.note === '' && findings.length + firmly.length === 0;
}

/** [T11] Only basic events stand in a group. */
export const sharesCause = ({ title }: TreeEvent, group: CommonCause) =>
	`“${title}” could fail together with others from ${group.title}, as a basic event. Take it off there first.`;

export const GONE = 'This event is no longer there; somebody removed it meanwhile.';

/** How many inputs a gate may have. */
const ROOM: Partial<Record<Gate['type'], { least: number; most: number; words: string }>> = {
	xor: { least: 2, most: 2, words: 'An exclusive OR is about exactly two inputs' },
	not: { least: 1, most: 1, words: 'A NOT is about exactly one input' },
	inhibit: { least: 1, most: Infinity, words: 'An inhibit gate has an input beside its condition' }
};

/** [T4] A gate's inputs are as many as its type allows. */
export function gateProblem(gate: Gate): string | null {
	const room = ROOM[gate.type];
	const n = gate.inputs.length;
	if (!room || (n >= room.least && n <= room.most)) return null;
	return `${room.words}; here there ${n === 1 ? 'is 1' : `are ${n}`}. Choose another gate first.`;
}

/** The event with these inputs under its gate; with none left it becomes an undeveloped event again. */
export function withInputs(
	event: TreeEvent,
	inputs: string[],
	condition = event.gate?.condition ?? null
): TreeEvent {
	if (inputs.length === 0 && condition === null)
		return { ...event, kind: event.kind === 'intermediate' ? 'undeveloped' : event.kind, gate: null };
	const gate = event.gate ?? { type: 'or' as const, k: null, inputs: [], condition: null, complete: false };
	const k = gate.k === null ? null : Math.max(1, Math.min(gate.k, inputs.length));
	const same = inputs.length === gate.inputs.length && inputs.every((id) => gate.inputs.includes(id));
	return {
		...event,
		kind: 'intermediate',
		weight: null,
		gate: { ...gate, inputs, condition, k, complete: gate.complete && same }
	};
}

/** [T1] The parent with one more input, in place `at` (last by default), or why it can't have it. */
export function hook(file: Investigation, parentId: string, id: string, at?: number): Outcome<TreeEvent> {
	const parent = file.events[parentId];
	if (!parent) return refused('The event to put this under is not in the tree.', 'under');
	if (parent.residual)
		return refused(
			'This branch stands for what nobody has thought of. A cause that you can name belongs beside it.',
			'under'
		);
	if (!parent.gate && parent.kind !== 'basic' && parent.kind !== 'undeveloped')
		return refused('A house or conditioning event has nothing beneath it. Change its kind first.', 'under');
	if (inputsOf(parent).includes(id))
		return refused(`"${file.events[id]?.title}" is already an input of "${parent.title}".`, 'under');
	const group = parent.gate ? null : commonCauseOf(file, parentId);
	if (group) return refused(sharesCause(parent, group[1]), 'under');
	const circle = file.events[id] && pathDown(file, id, parentId);
	if (circle) {
		const names = [...circle, id].map((step) => file.events[step]?.title).join(' → ');
		return refused(`That would run in a circle: ${names}.`, 'under');
	}
	const inputs = [...(parent.gate?.inputs ?? [])];
	// What nobody has thought of stays last.
	const last = file.events[inputs.at(-1) ?? '']?.residual ? inputs.length - 1 : inputs.length;
	inputs.splice(Math.min(at ?? last, last), 0, id);
	const next = withInputs(parent, inputs);
	const problem = next.gate && gateProblem(next.gate);
	return problem ? refused(problem, 'under') : { ok: true, value: next };
}

/** The parent without this input. */
export function unhook(parent: TreeEvent, id: string): TreeEvent {
	const { inputs, condition } = parent.gate ?? { inputs: [], condition: null };
	if (condition !== id)
		return withInputs(
			parent,
			inputs.filter((input) => input !== id)
		);
	const without = withInputs(parent, inputs, null);
	return without.gate ? { ...without, gate: { ...without.gate, type: 'and' } } : without;
}

/** Parents that are hooked to nothing any more go, once their last place in the tree is gone. */
export function orphans(file: Investigation, events: Record<string, TreeEvent>, anomaly: string): string[] {
	const top = file.anomalies[anomaly]?.top ?? '';
	const kept = new Set(below(events, top));
	return Object.keys(events).filter((id) => events[id]?.anomaly === anomaly && !kept.has(id));
}

/** What elsewhere names these events and would be left pointing at nothing. */
export interface Hanging {
	/** Findings with a link from one of them. */
	findings: string[];
	/** In words: what must be changed before they can go. */
	firmly: string[];
}

export function hanging(file: Investigation, ids: ReadonlySet<string>): Hanging {
	const findings = Object.entries(file.findings)
		.filter(([, finding]) => finding.links.some((link) => ids.has(link.event)))
		.map(([id]) => id);
	const firmly = [
		...Object.values(file.calculations)
			.filter((c) => c.likelihood?.scenarios.some(({ event }) => event !== null && ids.has(event)))
			.map((c) => `K${c.number}, “${c.title}”, uses it as a scenario`),
		...Object.values(file.changes)
			.filter((change) => change.answers !== null && ids.has(change.answers))
			.map((change) => `C${change.number}, “${change.title}”, answers it`)
	];
	return { findings, firmly };
}

/** Takes events out of the tree, with the links, exclusions, common causes and switches that name them. */
export function removeEvents(file: Investigation, ids: ReadonlySet<string>): Change[] {
	const changes = [...ids].map((id) => removal(file, 'events', id));
	for (const [id, finding] of Object.entries(file.findings)) {
		const links = finding.links.filter((link) => !ids.has(link.event));
		if (links.length < finding.links.length) changes.push(put(file, 'findings', id, { ...finding, links }));
	}
	for (const [id, exclusion] of Object.entries(file.exclusions)) {
		const events = exclusion.events.filter((event) => !ids.has(event));
		if (events.length === exclusion.events.length) continue;
		changes.push(
			events.length < 2
				? removal(file, 'exclusions', id)
				: put(file, 'exclusions', id, { ...exclusion, events })
		);
	}
	for (const [id, setting] of Object.entries(file.settings)) {
		const switches = setting.switches.filter(({ event }) => !ids.has(event));
		if (switches.length === setting.switches.length) continue;
		changes.push(
			switches.length === 0
				? removal(file, 'settings', id)
				: put(file, 'settings', id, { ...setting, switches })
		);
	}
	for (const [id, group] of Object.entries(file.commonCauses)) {
		if (!group.events.some((event) => ids.has(event))) continue;
		const left = withoutEvents(group, ids);
		changes.push(left ? put(file, 'commonCauses', id, left) : removal(file, 'commonCauses', id));
	}
	return changes;
}

/** The record with the fields that were given; a field left out stays as it was. */
export const merged = <T extends object>(before: T, patch: { [K in keyof T]?: T[K] | undefined }): T => {
	const given = Object.entries(patch).filter(([, value]) => value !== undefined);
	return { ...before, ...Object.fromEntries(given) };
};
