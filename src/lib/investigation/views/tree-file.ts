import type { TreeModel } from '$lib/reasoning';
import { readLiteral } from '$lib/reasoning/literal';
import type { Literal } from '$lib/reasoning/model';
import type { Investigation } from '../case';
import { below, eventsOf } from './tree';
import { toTreeModel, withResidualLinks } from './tree-model';

/** Marks the branch that nobody has thought of in a file, so that it is not one more cause when it is read again. */
export const RESIDUAL = 'witness-mark-residual';
/** Said of a link that nobody set. */
export const ASSUMED = 'assumed';

/** A title that can stand as a name in a file, as of a tree that was read from one; no name that files give themselves. */
const isName = (title: string) => /^[A-Za-z_][\w.-]*$/.test(title) && !/^(TOP|[FCOS]\d+)$/i.test(title);

/** What events are called in files: by a title that is a name, else `TOP` and `E1`, `E2` … in the order of the tree. */
export function treeNames(file: Investigation, anomaly: string): Map<string, string> {
	const top = file.anomalies[anomaly]?.top ?? '';
	const events = Object.fromEntries(eventsOf(file, anomaly));
	const inOrder = new Set([...below(events, top), ...Object.keys(events)]);
	const names = new Map<string, string>(top === '' ? [] : [[top, 'TOP']]);
	const taken = new Set(['top']);
	for (const id of inOrder) {
		const { title = '' } = events[id] ?? {};
		if (id === top || !isName(title) || taken.has(title.toLowerCase())) continue;
		names.set(id, title);
		taken.add(title.toLowerCase());
	}
	let n = 0;
	for (const id of inOrder) {
		if (names.has(id)) continue;
		do n++;
		while (taken.has(`e${n}`));
		names.set(id, `E${n}`);
	}
	return new Map([...inOrder].map((id) => [id, names.get(id)!]));
}

/**
 * The tree of one anomaly as a file of its own, exactly as it is weighed on the page. Findings and calculations
 * keep their numbers behind `F` and `C`; what a person named stands as label.
 */
export function treeFile(file: Investigation, anomaly: string): TreeModel {
	const toWeigh = toTreeModel(file, anomaly);
	const { model, residualLinks } = withResidualLinks(toWeigh);
	const top = file.anomalies[anomaly]?.top ?? '';
	const events = Object.fromEntries(eventsOf(file, anomaly));
	const ofEvents = treeNames(file, anomaly);
	const names = new Map([
		...ofEvents,
		...(model.findings ?? []).map(({ id }) => [id, `F${file.findings[id]?.number}`] as const),
		...(model.likelihoods ?? []).map(({ id }) => [id, `C${file.calculations[id]?.number}`] as const),
		...(model.origins ?? []).map(({ id }, i) => [id, `O${i + 1}`] as const),
		...(model.commonCause ?? []).map(({ id }, i) => [id, `S${i + 1}`] as const)
	]);
	const name = (id: string) => names.get(id) ?? id;
	const literal = (written: Literal): Literal => {
		const { id, negated } = readLiteral(written);
		return negated ? { not: name(id) } : name(id);
	};
	const order = new Map([...ofEvents.keys()].map((id, i) => [id, i]));
	const sorted = <T extends { id: string }>(nodes: readonly T[]) =>
		[...nodes].sort((a, b) => (order.get(a.id) ?? 0) - (order.get(b.id) ?? 0));
	const notes = (id: string) => {
		const { note = '', weightNote = '' } = events[id] ?? {};
		return { ...(note ? { note } : {}), ...(weightNote ? { source: weightNote } : {}) };
	};
	return {
		kind: 'tree',
		title: file.anomalies[anomaly]?.title ?? '',
		...model,
		top: name(top),
		events: sorted(model.events).map((event) => ({
			...event,
			...notes(event.id),
			...(event.id === toWeigh.residual ? { attributes: { [RESIDUAL]: 'true' } } : {}),
			id: name(event.id)
		})),
		gates: sorted(model.gates ?? []).map(({ condition, ...gate }) => ({
			...gate,
			...notes(gate.id),
			id: name(gate.id),
			inputs: gate.inputs.map(literal),
			...(condition === undefined ? {} : { condition: literal(condition) })
		})),
		exclusive: (model.exclusive ?? []).map((group) => group.map(name)),
		commonCause: (model.commonCause ?? []).map(({ members, ...group }) => ({
			...group,
			id: name(group.id),
			members: members.map(name)
		})),
		origins: (model.origins ?? []).map((origin) => ({ ...origin, id: name(origin.id) })),
		findings: (model.findings ?? []).map(({ links = [], origin, sameAs, ...finding }) => ({
			...finding,
			id: name(finding.id),
			links: links.map(({ from, p }) => ({
				from: literal(from),
				p,
				...(from === toWeigh.residual && finding.id in residualLinks ? { note: ASSUMED } : {})
			})),
			...(origin === undefined ? {} : { origin: name(origin) }),
			...(sameAs === undefined ? {} : { sameAs: name(sameAs) })
		})),
		likelihoods: (model.likelihoods ?? []).map(({ scenarios, ...likelihood }) => ({
			...likelihood,
			id: name(likelihood.id),
			scenarios: scenarios.map(({ event, ...scenario }) => ({
				...scenario,
				...(event === undefined ? {} : { event: literal(event) })
			}))
		}))
	};
}
