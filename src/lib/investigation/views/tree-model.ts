import { defaultResidualLink, type TreeModel } from '$lib/reasoning';
import { sameObservation } from '$lib/reasoning/check';
import type { Investigation } from '../case';
import { commonCauseOf, groupsOf } from './common-cause';
import { below, eventsOf, weightOf } from './tree';

/** A fault tree with all that is known about it, as the engine weighs it. */
export interface ToWeigh {
	model: TreeModel;
	/** The branch that nobody has thought of. */
	residual: string | null;
	/** Findings whose link from that branch nobody has set: as probable as under the other causes together. */
	byDefault: string[];
}

/**
 * The engine's model of one anomaly: events and gates under their own identities, findings, origins, and the
 * calculated likelihoods that are in use. The top event is given. All stand in the order of the tree and of their
 * numbers, so that the same tree gives the same digits whatever its records are called.
 * @param tried  starting weights to try instead of those in the case, by event
 */
export function toTreeModel(
	file: Investigation,
	anomaly: string,
	tried: Readonly<Record<string, number>> = {}
): ToWeigh {
	/** Similar parts of one group are tried together. */
	const weights = Object.fromEntries(
		Object.entries(tried).flatMap(([id, p]) =>
			(commonCauseOf(file, id)?.[1].events ?? [id]).map((mate) => [mate, p])
		)
	);
	const events: TreeModel['events'] = [];
	const gates: NonNullable<TreeModel['gates']> = [];
	let residual: string | null = null;
	const top = file.anomalies[anomaly]?.top;
	const place = new Map(below(file.events, top ?? '').map((id, at) => [id, at]));
	const placeOf = (id: string) => place.get(id) ?? place.size;
	const firstOf = (ids: readonly string[]) => Math.min(...ids.map(placeOf));
	for (const [id, event] of eventsOf(file, anomaly).sort(([a], [b]) => placeOf(a) - placeOf(b))) {
		const { gate, kind, title } = event;
		if (event.residual) residual = id;
		if (gate)
			gates.push({
				id,
				label: title,
				type: gate.type,
				inputs: [...gate.inputs],
				...(gate.type === 'atLeast' ? { k: gate.k ?? 1 } : {}),
				...(gate.condition === null ? {} : { condition: gate.condition })
			});
		else if (kind === 'house') events.push({ id, label: title, kind, state: event.on });
		else
			events.push({
				id,
				label: title,
				kind: kind === 'intermediate' ? 'undeveloped' : kind,
				p: weights[id] ?? weightOf(event)
			});
	}
	const own = byNumber(file.findings).filter(([, finding]) => finding.anomaly === anomaly);
	const ids = new Set(own.map(([id]) => id));
	const origins = new Set(own.flatMap(([, { origin }]) => origin ?? []));
	const exclusions = Object.values(file.exclusions).filter((exclusion) => exclusion.anomaly === anomaly);
	return {
		residual,
		byDefault: own
			.filter(([, { residualLink, firstDecides }]) => residualLink === null && !firstDecides)
			.map(([id]) => id),
		model: {
			...(top === undefined ? {} : { top }),
			events,
			gates,
			exclusive: exclusions.map(({ events }) => events).sort((a, b) => firstOf(a) - firstOf(b)),
			commonCause: groupsOf(file, anomaly).sort((a, b) => firstOf(a.members) - firstOf(b.members)),
			origins: [...origins].flatMap((id) => {
				const origin = file.origins[id];
				if (!origin) return [];
				return [{ id, label: origin.name, reliability: origin.reliability, saysAnyway: origin.saysAnyway }];
			}),
			findings: own.map(([id, finding]) => ({
				id,
				label: finding.statement,
				state: finding.state,
				baseRate: finding.baseRate,
				...(finding.firstDecides ? { first: true as const } : {}),
				links: [
					...finding.links.map(({ event, negated, p }) => ({ from: negated ? { not: event } : event, p })),
					...(residual !== null &&
					finding.residualLink !== null &&
					!finding.links.some(({ event }) => event === residual)
						? [{ from: residual, p: finding.residualLink }]
						: [])
				],
				...(finding.origin !== null && file.origins[finding.origin] ? { origin: finding.origin } : {}),
				...(finding.sameAs !== null && ids.has(finding.sameAs) ? { sameAs: finding.sameAs } : {})
			})),
			likelihoods: byNumber(file.calculations).flatMap(([id, { anomaly: of, likelihood, title }]) => {
				if (of !== anomaly || !likelihood?.use) return [];
				const scenarios = likelihood.scenarios.map(({ event, density, standardError, words }) => ({
					...(event === null ? { otherwise: true as const } : { event }),
					density,
					standardError,
					...(words ? { label: words } : {})
				}));
				return [{ id, label: title, scenarios }];
			})
		}
	};
}

const byNumber = <T extends { number: number }>(records: Readonly<Record<string, T>>): [string, T][] =>
	Object.entries(records).sort(([, a], [, b]) => a.number - b.number);

/** An observation as the assumed link sees it: all its links, whichever words they were set in. */
interface Observed {
	id: string;
	baseRate: number;
	links: NonNullable<NonNullable<TreeModel['findings']>[number]['links']>;
}

/**
 * The model with a link from the branch that nobody has thought of to each observation that has none. Every number
 * that is shown anywhere is of this model.
 * @param assume  may hold a number assumed before; by default it is computed (see `defaultResidualLink`)
 * @returns the assumed links by finding as well, to be shown
 */
export function withResidualLinks(
	{ model, residual, byDefault }: ToWeigh,
	assume: (observed: Observed, compute: () => number) => number = (_, compute) => compute()
): { model: TreeModel; residualLinks: Record<string, number> } {
	const residualLinks: Record<string, number> = {};
	if (residual === null || !model.events.some(({ id, kind }) => id === residual && kind !== 'house'))
		return { model, residualLinks };
	const open = new Set(byDefault);
	const extra = new Map<string, number>();
	for (const group of sameObservation(model)) {
		const [first] = group;
		// One number for one observation: a link that somebody set in any of its words holds for all.
		if (!first || !group.every(({ id }) => open.has(id))) continue;
		const links = group.flatMap((finding) => finding.links ?? []);
		const observed = { id: first.id, baseRate: first.baseRate ?? 0, links };
		const p = assume(observed, () => defaultResidualLink(model, observed, residual).p);
		extra.set(first.id, p);
		for (const { id } of group) residualLinks[id] = p;
	}
	const findings = (model.findings ?? []).map((finding) => {
		const p = extra.get(finding.id);
		return p === undefined
			? finding
			: { ...finding, links: [...(finding.links ?? []), { from: residual, p }] };
	});
	return { model: { ...model, findings }, residualLinks };
}
