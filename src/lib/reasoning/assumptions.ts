/** The single numbers that an answer rests on, and the tree with one of them changed. */
import { withWeight } from './common-cause';
import type { TreeModel } from './model';
import { nameOf } from './literal';
import { resolve, type Observation, type Resolved } from './resolve';
import { HOW_OFTEN } from './words';

export interface Assumption {
	kind: 'weight' | 'link' | 'baseRate' | 'reliability' | 'saysAnyway' | 'density';
	/** The event, finding, origin or calculated likelihood that it belongs to. */
	id: string;
	/** Of a link where it starts, of a density its scenario: an event or gate, `!` before it where negated. */
	from?: string;
	value: number;
}

export interface Movable extends Assumption {
	/** The same tree with another value; its diagrams stay as they are. */
	at: (value: number) => Resolved;
	/** A second value, far from the first: what is linear in the value is known from the two. */
	far: number;
	/** Swept to these; null where there is no further step. */
	lower: number | null;
	higher: number | null;
	/** Its change alters the weight of all states together, evidence or not. */
	rescales: boolean;
	/** False where it stands behind several parts of a common-cause group, which multiply. */
	linear: boolean;
}

/** All numbers that bear on what was found, but those that are certain by themselves: a weight of 0 or 1, a switch. */
export function assumptionsOf(model: TreeModel, tree: Resolved): Movable[] {
	const used = new Set<number>();
	const observations = tree.observations.flatMap((observation, o) => {
		const looked = observation.reports.filter(({ state }) => state !== 'notExamined');
		for (const { origin } of looked) if (origin >= 0) used.add(origin);
		return looked[0] ? numbersOf(tree, observation, o, looked[0].id) : [];
	});
	const origins = tree.origins.flatMap(({ id, reliability, saysAnyway }, o) => {
		if (!used.has(o)) return [];
		const changed = (change: object) => ({ ...tree, origins: replaced(tree.origins, o, change) });
		return [
			often('reliability', id, reliability, (value) => changed({ reliability: value })),
			often('saysAnyway', id, saysAnyway, (value) => changed({ saysAnyway: value }))
		];
	});
	return [...weights(tree), ...groupWeights(model), ...observations, ...origins, ...densities(tree)];
}

function numbersOf(tree: Resolved, observation: Observation, o: number, id: string): Movable[] {
	const changed = (change: object) => ({ ...tree, observations: replaced(tree.observations, o, change) });
	const linked = observation.links.map(({ from, p }, i): Movable => {
		const at = (value: number) => changed({ links: replaced(observation.links, i, { p: value }) });
		const cause = from % 2 === 0 ? tree.standsFor.get(from >> 1) : undefined;
		return cause === null
			? often('baseRate', id, p, at)
			: { ...often('link', id, p, at), from: nameOf(tree, cause ?? from) };
	});
	if (linked.some(({ kind }) => kind === 'baseRate')) return linked;
	return [...linked, often('baseRate', id, observation.baseRate, (value) => changed({ baseRate: value }))];
}

/** A probability of how often something happens: swept one step of the scale of words. */
function often(kind: Assumption['kind'], id: string, value: number, at: Movable['at']): Movable {
	const scale = HOW_OFTEN.map(({ p }) => p);
	return {
		kind,
		id,
		value,
		at,
		far: value > 0.5 ? 0 : 1,
		lower: scale.findLast((p) => p < value - 1e-9) ?? null,
		higher: scale.find((p) => p > value + 1e-9) ?? null,
		rescales: false,
		linear: true
	};
}

/** Starting weights, swept by a factor of ten of their odds. Exclusive events give way to one another in proportion. */
function weights(tree: Resolved): Movable[] {
	const parts = new Set(tree.parts);
	return tree.p.flatMap((p, event): Movable[] => {
		if (tree.house[event] !== undefined || parts.has(event) || p <= 0 || p >= 1) return [];
		const group = tree.exclusive[tree.groupOf[event] ?? -1] ?? [];
		const at = (value: number) => {
			const changed = [...tree.p];
			for (const other of group) changed[other] = ((changed[other] as number) * (1 - value)) / (1 - p);
			changed[event] = value;
			return { ...tree, p: changed };
		};
		return [
			{
				kind: 'weight',
				id: tree.ids[event] as string,
				value: p,
				at,
				// At 1 nothing would be left for the others of its group.
				far: p > 0.5 ? 0 : group.length > 0 ? (1 + p) / 2 : 1,
				...tenfold(p),
				rescales: group.length > 0,
				linear: true
			}
		];
	});
}

function tenfold(p: number) {
	const odds = p / (1 - p);
	const of = (changed: number) => changed / (1 + changed);
	return { lower: of(odds / 10), higher: of(odds * 10) };
}

/** The one weight that the members of a common-cause group have, under the first of them. */
function groupWeights(model: TreeModel): Movable[] {
	return (model.commonCause ?? []).flatMap(({ members: [id = ''] }): Movable[] => {
		const p = model.events.find((event) => event.id === id)?.p ?? 0;
		if (p <= 0 || p >= 1) return [];
		const at = (value: number) => resolve(withWeight(model, id, value));
		return [{ kind: 'weight', id, value: p, at, far: p, ...tenfold(p), rescales: false, linear: false }];
	});
}

function densities(tree: Resolved): Movable[] {
	return tree.likelihoods.flatMap(({ id, scenarios }, l) => {
		const most = Math.max(...scenarios.map(({ density }) => density));
		return scenarios.map(({ event, density }, s): Movable => ({
			kind: 'density',
			id,
			...(event === undefined ? {} : { from: nameOf(tree, event) }),
			value: density,
			at: (value) => ({
				...tree,
				likelihoods: replaced(tree.likelihoods, l, {
					scenarios: replaced(scenarios, s, { density: value })
				})
			}),
			far: density > most / 2 ? 0 : 2 * most,
			lower: null,
			higher: null,
			rescales: false,
			linear: true
		}));
	});
}

const replaced = <T extends object>(list: readonly T[], at: number, change: object): T[] =>
	list.map((entry, i) => (i === at ? { ...entry, ...change } : entry));

/**
 * The same tree with no cause preferred at the start: each basic and undeveloped event gets the same weight, the
 * geometric mean of all odds, so that the tree as a whole is about as probable as before; exclusive events share
 * theirs. Conditions, switches and weights of 0 or 1 stay.
 */
export function withFlatWeights(model: TreeModel): TreeModel {
	const grouped = new Set((model.exclusive ?? []).flat());
	const isCause = ({ kind = 'basic', p = 0 }: TreeModel['events'][number]) =>
		(kind === 'basic' || kind === 'undeveloped') && p > 0 && p < 1;
	const logOdds = model.events.filter(isCause).map(({ p = 0 }) => Math.log(p) - Math.log1p(-p));
	const mean = logOdds.reduce((sum, x) => sum + x, 0) / Math.max(1, logOdds.length);
	const flat = 1 / (1 + Math.exp(-mean));
	const shared = new Map(
		(model.exclusive ?? []).flatMap((group) => {
			const members = model.events.filter(({ id }) => group.includes(id)).filter(isCause);
			const sum = members.reduce((total, { p = 0 }) => total + p, 0);
			return members.map(({ id }) => [id, sum / members.length] as const);
		})
	);
	return {
		...model,
		events: model.events.map((event) =>
			isCause(event) ? { ...event, p: grouped.has(event.id) ? (shared.get(event.id) ?? flat) : flat } : event
		)
	};
}
