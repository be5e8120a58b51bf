/**
 * Groups of similar parts that one cause could fail together.
 *
 * A member of a group fails by itself, or with some of the others from a cause that they share. So it becomes a gate
 * under its own id, an OR over what can fail it, and the parts of the group become the basic events: one for each set
 * of members that can fail together. Whatever speaks of the member goes on speaking of it as a whole.
 *
 * How the probability Q of a member is shared out among sets of k of its group's n members: Open-PSA Model Exchange
 * Format (model texts seen); NUREG/CR-4780, NUREG/CR-5485 (formulas, from memory).
 */
import type { TreeEvent, TreeGate, TreeGroup, TreeModel } from './model';

/** A basic event of a group: these members fail, and no others, by this. */
export interface Part {
	id: string;
	group: string;
	members: string[];
	p: number;
}

/** 127 parts; more than that nobody has numbers for. */
export const MAX_SHARING = 7;

/**
 * Probability of one certain set of k members, at place k - 1; undefined where the model has no such set.
 * C(n-1, k-1) sets of k hold a given member.
 */
export function bySize({ members, model, factors, staggered }: TreeGroup, q: number): (number | undefined)[] {
	const n = members.length;
	if (model === 'beta') {
		const [beta = 0] = factors;
		return members.map((_, i) => (i === 0 ? (1 - beta) * q : i === n - 1 ? beta * q : undefined));
	}
	if (model === 'multiLetter') {
		const letters = [1, ...factors];
		let product = q;
		return members.map((_, i) => {
			product *= letters[i] ?? 0;
			return (product * (1 - (letters[i + 1] ?? 0))) / choose(n - 1, i);
		});
	}
	const total = factors.reduce((sum, alpha, i) => sum + (i + 1) * alpha, 0);
	return factors.map((alpha, i) => (((staggered ? 1 : (i + 1) / total) * alpha) / choose(n - 1, i)) * q);
}

/** Number of sets of k out of n. */
export function choose(n: number, k: number): number {
	let ways = 1;
	for (let i = 0; i < k; i++) ways = (ways * (n - i)) / (i + 1);
	return ways;
}

/** Sets of k, in the order in which the members stand. */
function setsOf(members: readonly string[], k: number): string[][] {
	if (k === 0) return [[]];
	return members.flatMap((first, i) => setsOf(members.slice(i + 1), k - 1).map((rest) => [first, ...rest]));
}

const partId = (members: readonly string[]) =>
	members.length === 1 ? `${members[0]} alone` : `${members.join(' and ')} together`;

/** The parts of every group, smallest sets first. The groups must have passed `checkTree`. */
export function partsOf({ commonCause = [], events }: TreeModel): Part[] {
	return commonCause.flatMap((group) => {
		const q = events.find(({ id }) => id === group.members[0])?.p ?? 0;
		return bySize(group, q).flatMap((p, i) =>
			p === undefined
				? []
				: setsOf(group.members, i + 1).map((members) => ({
						id: partId(members),
						group: group.id,
						members,
						p
					}))
		);
	});
}

/** The tree with its groups taken apart; without groups, the very tree. */
export function takeGroupsApart(model: TreeModel): TreeModel {
	const parts = partsOf(model);
	if (parts.length === 0) return model;
	const grouped = new Set(parts.flatMap(({ members }) => members));
	const member = ({ id, label }: TreeEvent): TreeGate => ({
		id,
		label,
		type: 'or',
		inputs: parts.filter(({ members }) => members.includes(id)).map((part) => part.id)
	});
	return {
		...model,
		commonCause: [],
		events: [
			...model.events.filter(({ id }) => !grouped.has(id)),
			...parts.map(({ id, p }): TreeEvent => ({ id, p }))
		],
		gates: [...model.events.filter(({ id }) => grouped.has(id)).map(member), ...(model.gates ?? [])]
	};
}

/** The model with another starting weight of an event; similar parts of one group have one weight. */
export function withWeight(model: TreeModel, event: string, p: number): TreeModel {
	const mates = new Set(
		(model.commonCause ?? []).find(({ members }) => members.includes(event))?.members ?? [event]
	);
	return { ...model, events: model.events.map((own) => (mates.has(own.id) ? { ...own, p } : own)) };
}

/** A member's parts may come together, so it is a little less probable than was typed; said where one would see it. */
export function overlapWarnings(model: TreeModel): string[] {
	const parts = partsOf(model);
	return (model.commonCause ?? []).flatMap(({ id, members }) => {
		const [first] = members;
		const typed = model.events.find((event) => event.id === first)?.p ?? 0;
		const own = parts.filter((part) => part.group === id && part.members.includes(first ?? ''));
		const union = -Math.expm1(own.reduce((log, { p }) => log + Math.log1p(-p), 0));
		if (typed - union <= NOTICEABLE * typed) return [];
		const names = members.map((member) => `'${member}'`).join(' and ');
		return [
			`${names} start at ${rounded(union)} instead of ${rounded(typed)}: failing alone and failing from the cause that they share may come together`
		];
	});
}

const NOTICEABLE = 0.01;
const rounded = (p: number) => Number(p.toPrecision(3));

/** All faults of the groups in words. */
export function checkGroups(model: TreeModel, say: (problem: string) => void) {
	const { events, gates = [], commonCause = [], exclusive = [] } = model;
	const byId = new Map(events.map((event) => [event.id, event]));
	const isGate = new Set(gates.map(({ id }) => id));
	const excluded = new Set(exclusive.flat());
	const named = new Set<string>();
	const groupOf = new Map<string, string>();
	for (const group of commonCause) {
		const where = `common-cause group '${group.id}'`;
		if (named.has(group.id)) say(`the ${where} is there twice`);
		named.add(group.id);
		if (new Set(group.members).size < 2) say(`${where} needs at least two different events`);
		for (const id of new Set(group.members)) {
			const event = byId.get(id);
			const other = groupOf.get(id);
			if (isGate.has(id)) say(`${where} names the gate '${id}'; name the basic events beneath it`);
			else if (!event) say(`${where} names '${id}', which is not an event`);
			else if (event.kind === 'house')
				say(`${where} names the house event '${id}', which is switched and can't fail`);
			if (other !== undefined && other !== group.id)
				say(`'${id}' is in the groups '${other}' and '${group.id}'; an event can be in one`);
			if (excluded.has(id))
				say(`'${id}' is exclusive and in the ${where}: what excludes one another can't fail together`);
			groupOf.set(id, group.id);
		}
		if (new Set(group.members).size < group.members.length) say(`${where} names an event twice`);
		const q = new Set(group.members.flatMap((id) => byId.get(id)?.p ?? []));
		if (q.size > 1)
			say(
				`the events of ${where} have different probabilities (${[...q].join(', ')}); similar parts have one`
			);
		checkFactors(group, where, say);
	}
	const taken = new Set([...byId.keys(), ...isGate]);
	for (const { id } of groupsFit(model) ? partsOf(model) : []) {
		if (taken.has(id)) say(`'${id}' is what a part of a common-cause group is called; choose another id`);
		taken.add(id);
	}
}

const groupsFit = ({ commonCause = [] }: TreeModel) =>
	commonCause.every(({ members, model }) => model === 'beta' || members.length <= MAX_SHARING);

function checkFactors(
	{ members, model, factors, staggered }: TreeGroup,
	where: string,
	say: (p: string) => void
) {
	const n = members.length;
	const wanted = { beta: 1, multiLetter: n - 1, alpha: n }[model];
	const meant = {
		beta: 'beta, the share of failures that hit all of them',
		multiLetter: 'one less than it has events: beta, gamma …',
		alpha: 'one for each number of events that fail together, from one alone to all'
	}[model];
	if (factors.length !== wanted)
		say(
			`${where} (${model}) of ${n} takes ${wanted} factor${wanted === 1 ? '' : 's'}, not ${factors.length}: ${meant}`
		);
	const sum = factors.reduce((a, b) => a + b, 0);
	if (model === 'alpha' && Math.abs(sum - 1) > 1e-6)
		say(
			`${where}: the alpha factors share out all failures, so they add up to 1, not ${Number(sum.toPrecision(6))}`
		);
	if (staggered !== undefined && model !== 'alpha')
		say(`${where} (${model}) has 'staggered', which belongs to alpha`);
	if (model !== 'beta' && n > MAX_SHARING)
		say(`${where} (${model}) has ${n} events; at most ${MAX_SHARING}. "beta" takes any number`);
}
