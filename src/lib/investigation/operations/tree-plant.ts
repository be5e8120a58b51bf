import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, refused } from '../outcome';
import { finding, gate, link, treeEvent, type TreeEvent } from '../schema/anomaly';
import { id, text } from '../schema/common';
import { below, inputsOf, pathDown } from '../views/tree';
import { operation } from './operation';
import { nextNumber, put } from './records';
import { gateProblem, leaf } from './tree-parts';

const MOST_EVENTS = 100;

/** A ready tree as it is planted; its events go by names of their own until they have identities. */
export const readyTree = v.object({
	/** What goes into the top event's note, where that is empty. */
	note: text,
	/** Directly under the top event. */
	causes: v.pipe(v.array(id), v.minLength(1, 'The tree has no causes.')),
	events: v.pipe(
		v.array(
			v.object({
				name: id,
				...v.pick(treeEvent, ['title', 'note', 'weight']).entries,
				kind: v.picklist(['intermediate', 'basic', 'undeveloped', 'house']),
				gate: v.nullable(v.pick(gate, ['type', 'k', 'inputs']))
			})
		),
		v.maxLength(MOST_EVENTS, `At most ${MOST_EVENTS} events can be planted at once.`)
	),
	findings: v.pipe(
		v.array(
			v.object({
				...v.pick(finding, ['statement', 'baseRate', 'destructive', 'note']).entries,
				links: v.array(v.pick(link, ['event', 'p']))
			})
		),
		v.maxLength(MOST_EVENTS, `At most ${MOST_EVENTS} signs can be planted at once.`)
	)
});
export type ReadyTree = v.InferOutput<typeof readyTree>;

/** Nothing but the branch that nobody has thought of stands beneath the top event. */
export function isUnplanted(file: Investigation, anomaly: string): boolean {
	const top = file.events[file.anomalies[anomaly]?.top ?? ''];
	return top?.gate != null && inputsOf(top).every((input) => file.events[input]?.residual);
}

/** What makes a ready tree no tree, in words, or null. */
function fault(
	{ causes, events, findings }: ReadyTree,
	made: Readonly<Record<string, TreeEvent>>,
	idOf: (name: string) => string | undefined
): string | null {
	if (new Set(events.map(({ name }) => name)).size < events.length || new Set(causes).size < causes.length)
		return 'Two of its events have the same name.';
	const named = [
		...causes,
		...events.flatMap((event) => event.gate?.inputs ?? []),
		...findings.flatMap(({ links }) => links.map(({ event }) => event))
	];
	const unknown = named.find((name) => idOf(name) === undefined);
	if (unknown !== undefined) return `It names the event "${unknown}", which it does not hold.`;
	for (const event of events) {
		if ((event.kind === 'intermediate') !== (event.gate !== null))
			return `"${event.title}": an intermediate event has a gate, any other has none.`;
		if (event.gate === null) continue;
		const { type, inputs, k } = event.gate;
		if (type === 'inhibit')
			return `"${event.title}": an inhibit gate can't be planted; its condition comes with it later.`;
		if (inputs.length === 0 || new Set(inputs).size < inputs.length)
			return `"${event.title}": the gate needs inputs, each once.`;
		const crowded = gateProblem({ type, inputs, k, condition: null, complete: false });
		if (crowded) return `"${event.title}": ${crowded}`;
		if ((type === 'atLeast') !== (k !== null) || (k !== null && k > inputs.length))
			return `"${event.title}": say how many of the inputs the gate takes.`;
	}
	for (const { name, title } of events) {
		const from = idOf(name)!;
		const circle = inputsOf(made[from]).some((input) =>
			pathDown({ events: made } as Investigation, input, from)
		);
		if (circle) return `"${title}" stands beneath itself.`;
	}
	const reached = new Set(causes.flatMap((name) => below(made, idOf(name)!)));
	const loose = events.find(({ name }) => !reached.has(idOf(name)!));
	if (loose) return `"${loose.title}" hangs nowhere.`;
	for (const { statement, links } of findings)
		if (new Set(links.map(({ event }) => event)).size < links.length)
			return `"${statement}" is linked twice from one event.`;
	return null;
}

/** [T10] A ready tree is planted whole and in one step, and only where nothing that somebody thought of stands yet. */
const plant = operation({
	name: 'anomaly.plant',
	label: 'Planted a common tree',
	args: v.object({ anomaly: id, tree: readyTree }),
	apply: (file: Investigation, { anomaly, tree }, { newId }) => {
		const topId = file.anomalies[anomaly]?.top ?? '';
		const top = file.events[topId];
		if (!top?.gate) return refused('This anomaly is no longer there.', 'anomaly');
		if (!isUnplanted(file, anomaly))
			return refused(
				'Causes stand in this tree already. A common tree is planted where there are none.',
				'anomaly'
			);
		const ids = new Map(tree.events.map(({ name }) => [name, newId()]));
		const of = (name: string) => ids.get(name) ?? '';
		const made = Object.fromEntries(
			tree.events.map(({ name, title, kind, note, weight, gate }): [string, TreeEvent] => [
				of(name),
				{
					...leaf(anomaly, title, kind),
					note,
					weight: gate ? null : weight,
					weightBasis: 'commonPractice',
					gate: gate && { ...gate, inputs: gate.inputs.map(of), condition: null, complete: false }
				}
			])
		);
		const problem = fault(tree, made, (name) => ids.get(name));
		if (problem) return refused(`This tree can't be planted. ${problem}`, 'tree');
		const first = nextNumber(file.findings);
		return done([
			put(file, 'events', topId, {
				...top,
				note: top.note || tree.note,
				gate: {
					type: 'or',
					k: null,
					inputs: [...tree.causes.map(of), ...top.gate.inputs],
					condition: null,
					complete: false
				}
			}),
			...Object.entries(made).map(([event, record]) => put(file, 'events', event, record)),
			...tree.findings.map(({ links, ...sign }, i) =>
				put(file, 'findings', newId(), {
					...sign,
					anomaly,
					number: first + i,
					state: 'notExamined',
					links: links.map(({ event, p }) => ({ event: of(event), negated: false, p })),
					residualLink: null,
					origin: null,
					sameAs: null,
					evidence: [],
					costMinutes: null
				})
			)
		]);
	}
});

export const plantOps = [plant];
