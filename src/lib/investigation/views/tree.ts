import type { Investigation } from '../case';
import type { TreeEvent } from '../schema/anomaly';

/** Events of one anomaly's tree in the order in which they were made. */
export function eventsOf(file: Investigation, anomaly: string): [string, TreeEvent][] {
	return Object.entries(file.events)
		.filter(([, event]) => event.anomaly === anomaly)
		.sort(([a], [b]) => (a < b ? -1 : 1));
}

/** The same in the order in which the tree is read, from its top down; what nobody has thought of comes last. */
export function inTreeOrder(file: Investigation, anomaly: string): [string, TreeEvent][] {
	const events = eventsOf(file, anomaly);
	const inOrder = below(Object.fromEntries(events), file.anomalies[anomaly]?.top ?? '');
	const place = new Map(inOrder.map((id, at) => [id, at]));
	const at = ([id, { residual }]: [string, TreeEvent]) =>
		residual ? Infinity : (place.get(id) ?? Number.MAX_SAFE_INTEGER);
	return events.sort((a, b) => at(a) - at(b) || 0);
}

/** What a scenario of a calculation may stand for: all but the top. */
export function standIns(file: Investigation, anomaly: string): [string, TreeEvent][] {
	const top = file.anomalies[anomaly]?.top;
	return inTreeOrder(file, anomaly).filter(([id]) => id !== top);
}

/** What stands directly under an event: its gate's inputs and, last, its condition. */
export function inputsOf(event: Pick<TreeEvent, 'gate'> | undefined): readonly string[] {
	if (!event?.gate) return [];
	return event.gate.condition === null ? event.gate.inputs : [...event.gate.inputs, event.gate.condition];
}

/** Events whose gate takes this one, in the order of the tree. */
export function parentsOf(file: Investigation, id: string): string[] {
	return Object.keys(file.events)
		.filter((parent) => inputsOf(file.events[parent]).includes(id))
		.sort();
}

/** The way down from one event to another, both named, or null where there is none. */
export function pathDown(file: Investigation, from: string, to: string): string[] | null {
	const dead = new Set<string>();
	const walk = (at: string): string[] | null => {
		if (at === to) return [at];
		if (dead.has(at)) return null;
		dead.add(at);
		for (const input of inputsOf(file.events[at])) {
			const rest = walk(input);
			if (rest) return [at, ...rest];
		}
		return null;
	};
	return walk(from);
}

/** An event and everything beneath it, each once, parents before what is first met beneath them. */
export function below(events: Readonly<Record<string, TreeEvent>>, from: string): string[] {
	const met = new Set<string>();
	const walk = (id: string) => {
		if (met.has(id) || !events[id]) return;
		met.add(id);
		inputsOf(events[id]).forEach(walk);
	};
	walk(from);
	return [...met];
}

/** Branches that carry a weight and need a disposition of their own; house and conditioning events do not. */
export const isBranch = (event: TreeEvent): boolean => event.kind === 'basic' || event.kind === 'undeveloped';

/** Events that exclude one another with this one, itself included; just itself where nothing is declared. */
export function exclusionOf(file: Investigation, id: string): [string, readonly string[]] | null {
	for (const [exclusion, { events }] of Object.entries(file.exclusions))
		if (events.includes(id)) return [exclusion, events];
	return null;
}

/** A starting weight that nobody chose: small, the same for all, and always shown as assumed. */
export const ASSUMED_WEIGHT = 0.05;

/** The weight that an event is weighed with; a house event is switched. */
export function weightOf(event: TreeEvent): number {
	return event.kind === 'house' ? Number(event.on) : (event.weight ?? ASSUMED_WEIGHT);
}
