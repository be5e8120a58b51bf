/**
 * Events that exclude one another, which the format has no word for. Each is written as what has its weight where none
 * before it happened: A; B only without A, with p(B) / (1 - p(A)); and so on. Exact for every reader; ours takes the
 * chain back into the events that it stands for.
 */
import { negationOf, readLiteral } from '../literal';
import type { TreeEvent, TreeGate, TreeModel } from '../model';

/** Place of an event in its group, as it stands in the file: '2.3' is the third of the second group. */
export const placeOf = (group: number, member: number): string => `${group + 1}.${member + 1}`;

/** What an event of a group must take where none before it happened. */
export const chanceOf = (p: number, before: number): number =>
	before >= 1 ? 0 : Math.min(1, p / (1 - before));

/** What a file says of an event of a group. */
export interface Place {
	/** As `placeOf` made it. */
	at: string;
	kind?: TreeEvent['kind'];
	/** Its weight, of which the chain holds a quotient. */
	p: number;
}

/**
 * @param model as read, with the chains as gates; one that somebody has changed into something else stays as it is
 * @param places by id
 */
export function takeChainsBack(model: TreeModel, places: ReadonlyMap<string, Place>): TreeModel {
	const groups = new Map<string, [member: number, id: string][]>();
	for (const [id, { at }] of places) {
		const [group = '', member = ''] = at.split('.');
		groups.set(group, [...(groups.get(group) ?? []), [Number(member), id]]);
	}
	let taken = model;
	for (const members of groups.values()) {
		const ids = members.sort(([a], [b]) => a - b).map(([, id]) => id);
		taken = takeBack(taken, places, ids) ?? taken;
	}
	return taken;
}

function takeBack(
	model: TreeModel,
	places: ReadonlyMap<string, Place>,
	ids: readonly string[]
): TreeModel | undefined {
	const { events, gates = [], exclusive = [] } = model;
	const [first, ...others] = ids;
	const weight = (id: string | undefined) => events.find((event) => event.id === id)?.p;
	let before = weight(first);
	if (before === undefined || others.length === 0) return undefined;
	const restored = new Map<string, TreeEvent>();
	const chances = new Set<string>();
	for (const [i, id] of others.entries()) {
		const gate = gates.find((one) => one.id === id);
		const chance = gate && chanceIn(gate, ids.slice(0, i + 1));
		const share = weight(chance);
		if (!gate || chance === undefined || share === undefined || isFedTo(gates, chance, id)) return undefined;
		const now = share * (1 - before);
		// As it was written, unless its number in the chain was changed since.
		const written = places.get(id)?.p ?? NaN;
		const p = Math.abs(now - written) < 1e-12 ? written : now;
		before += p;
		chances.add(chance);
		const { type: _, inputs: __, ...notes } = gate;
		const kind = places.get(id)?.kind;
		restored.set(id, { ...notes, ...(kind === undefined ? {} : { kind }), p });
	}
	return {
		...model,
		events: events.flatMap((event) =>
			chances.has(event.id) ? [] : event.id === first ? [event, ...restored.values()] : [event]
		),
		gates: gates.filter(({ id }) => !restored.has(id)),
		exclusive: [...exclusive, [...ids]]
	};
}

/** The event that a link of the chain adds to 'none of those before it', or undefined where it is no such link. */
function chanceIn({ type, inputs }: TreeGate, before: readonly string[]): string | undefined {
	if (type !== 'and' || inputs.length !== before.length + 1) return undefined;
	const negated = new Set(inputs.map(readLiteral).flatMap(({ id, negated }) => (negated ? [id] : [])));
	const plain = inputs.map(readLiteral).filter(({ negated }) => !negated);
	return plain.length === 1 && before.every((id) => negated.has(id)) ? plain[0]?.id : undefined;
}

const isFedTo = (gates: readonly TreeGate[], event: string, but: string): boolean =>
	gates.some(
		({ id, inputs, condition }) =>
			id !== but &&
			[...inputs, ...(condition === undefined ? [] : [condition])].some(
				(input) => readLiteral(input).id === event
			)
	);

/** Inputs of a link: none of those before it, and its own chance. */
export const linkInputs = (before: readonly string[], chance: string) => [...before.map(negationOf), chance];
