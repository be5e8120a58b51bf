import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, refused } from '../outcome';
import type { TreeEvent } from '../schema/anomaly';
import { id } from '../schema/common';
import { type ReadyTree, readyTree } from '../schema/ready-tree';
import { below, inputsOf, pathDown } from '../views/tree';
import { operation } from './operation';
import { nextNumber, put } from './records';
import { GONE, gateProblem, hook, leaf } from './tree-parts';

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
		...events.flatMap(({ gate }) =>
			gate ? [...gate.inputs, ...(gate.condition ? [gate.condition] : [])] : []
		),
		...findings.flatMap(({ links }) => links.map(({ event }) => event))
	];
	const unknown = named.find((name) => idOf(name) === undefined);
	if (unknown !== undefined) return `It names the event "${unknown}", which it does not hold.`;
	for (const event of events) {
		if ((event.kind === 'intermediate') !== (event.gate !== null))
			return `"${event.title}": an intermediate event has a gate, any other has none.`;
		if (event.gate === null) continue;
		const { type, inputs, k, condition } = event.gate;
		if ((type === 'inhibit') !== (condition !== null))
			return `"${event.title}": an inhibit gate has a condition, any other has none.`;
		if (inputs.length === 0 || new Set(inputs).size < inputs.length)
			return `"${event.title}": the gate needs inputs, each once.`;
		const crowded = gateProblem({ type, inputs, k, condition, complete: false });
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
		if (new Set(links.map(({ event, negated }) => `${event} ${negated}`)).size < links.length)
			return `"${statement}" is linked twice from one event.`;
	return null;
}

/**
 * [T10] A ready tree is planted whole and in one step: beneath the top only where nothing that somebody thought of
 * stands yet, or, as a branch, beneath an event that is named.
 */
const plant = operation({
	name: 'anomaly.plant',
	label: 'Planted a ready tree',
	args: v.object({ anomaly: id, tree: readyTree, under: v.optional(id) }),
	apply: (file: Investigation, { anomaly, tree, under }, { newId }) => {
		const topId = file.anomalies[anomaly]?.top ?? '';
		const top = file.events[topId];
		if (!top?.gate) return refused('This anomaly is no longer there.', 'anomaly');
		if (under === undefined && !isUnplanted(file, anomaly))
			return refused(
				'Causes stand in this tree already. A common tree is planted where there are none.',
				'anomaly'
			);
		const placeId = under ?? topId;
		if (file.events[placeId]?.anomaly !== anomaly) return refused(GONE, 'under');
		const ids = new Map(tree.events.map(({ name }) => [name, newId()]));
		const of = (name: string) => ids.get(name) ?? '';
		const made = Object.fromEntries(
			tree.events.map(
				({
					name,
					title,
					kind,
					note,
					weight,
					weightBasis,
					weightNote,
					gate,
					...fault
				}): [string, TreeEvent] => [
					of(name),
					{
						...leaf(anomaly, title, kind),
						...fault,
						note,
						weight: gate ? null : weight,
						weightBasis: weightBasis ?? 'commonPractice',
						weightNote: weightNote ?? '',
						gate: gate && {
							...gate,
							inputs: gate.inputs.map(of),
							condition: gate.condition && of(gate.condition),
							complete: false
						}
					}
				]
			)
		);
		const problem = fault(tree, made, (name) => ids.get(name));
		if (problem) return refused(`This tree can't be planted. ${problem}`, 'tree');
		let planted: Investigation = { ...file, events: { ...file.events, ...made } };
		for (const cause of tree.causes) {
			const place = hook(planted, placeId, of(cause));
			if (!place.ok) return place;
			planted = { ...planted, events: { ...planted.events, [placeId]: place.value } };
		}
		const place = planted.events[placeId]!;
		const first = nextNumber(file.findings);
		return done([
			put(file, 'events', placeId, { ...place, note: place.note || tree.note }),
			...Object.entries(made).map(([event, record]) => put(file, 'events', event, record)),
			...tree.findings.map(({ links, ...sign }, i) =>
				put(file, 'findings', newId(), {
					...sign,
					anomaly,
					number: first + i,
					state: 'notExamined',
					links: links.map(({ event, negated, p }) => ({ event: of(event), negated, p })),
					residualLink: null,
					origin: null,
					sameAs: null,
					evidence: []
				})
			)
		]);
	}
});

export const plantOps = [plant];
