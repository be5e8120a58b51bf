import type { Finding, Gate, Link, TreeEvent } from '../schema/anomaly';
import { inputsOf } from './tree';

type Events = Readonly<Record<string, TreeEvent>>;

/** How often an event by itself shows a sign, the base rate included. */
export interface Alone {
	/** Over the ways in which it can come about. */
	least: number;
	most: number;
	/** Links that speak here and start from another event: one above or beneath it, or one that does not happen. */
	through: Link[];
}

/** More ways to bring a gate about than these are not gone through. */
const MOST_WAYS = 200;

/**
 * How often each event of a tree by itself shows a sign: it comes about in one of its ways, nothing happens that this
 * does not take, and the gates make of that what they do. Beneath a NOT, or with too many ways, it simply happens.
 * @param assumed  the link from what nobody has thought of, where nobody set it
 */
export function aloneIn(events: Events): (finding: Finding, event: string, assumed?: number) => Alone {
	const residual = Object.keys(events).find((id) => events[id]!.residual);
	const ways = new Map<string, string[][] | null>();
	const made = new Map<string, ReadonlySet<string>[]>();
	function happenings(event: string) {
		const before = made.get(event);
		if (before) return before;
		const found = waysTo(events, event, ways);
		const sets = (found?.length ? found : [[]]).map((way) => allThatHappens(events, [event, ...way]));
		made.set(event, sets);
		return sets;
	}
	return (finding, event, assumed) => {
		const { baseRate, links, residualLink, firstDecides } = finding;
		const p = residualLink ?? assumed;
		const isSet = residual === undefined || p == null || links.some((link) => link.event === residual);
		const all = isSet ? links : [...links, { event: residual, negated: false, p }];
		const speaking = happenings(event).map((happens) => {
			if (firstDecides) return links.filter((link) => happens.has(link.event)).slice(0, 1);
			return all.filter((link) => link.p > 0 && happens.has(link.event) !== link.negated);
		});
		const shown = speaking.map((some) =>
			firstDecides ? (some[0]?.p ?? baseRate) : 1 - some.reduce((not, { p }) => not * (1 - p), 1 - baseRate)
		);
		return {
			least: Math.min(...shown),
			most: Math.max(...shown),
			through: [...new Set(speaking.flat())].filter((link) => link.event !== event)
		};
	};
}

/** Each way to bring an event about as the basic events that it takes; null where there is a NOT, or too many. */
function waysTo(events: Events, id: string, known: Map<string, string[][] | null>): string[][] | null {
	const before = known.get(id);
	if (before !== undefined) return before;
	const event = events[id];
	const ways = event?.gate
		? waysThrough(event.gate, (input) => waysTo(events, input, known))
		: event?.kind === 'house'
			? event.on
				? [[]]
				: []
			: [[id]];
	known.set(id, ways);
	return ways;
}

/** How many inputs it takes. */
const takes = ({ type, k, inputs, condition }: Gate) =>
	type === 'or' || type === 'xor'
		? 1
		: type === 'atLeast'
			? (k ?? 1)
			: inputs.length + Number(condition !== null);

function waysThrough(gate: Gate, waysOf: (input: string) => string[][] | null): string[][] | null {
	if (gate.type === 'not') return null;
	const count = takes(gate);
	/** Ways so far, by how many inputs they bring about. */
	const ways: string[][][] = Array.from({ length: count + 1 }, (_, n) => (n === 0 ? [[]] : []));
	for (const input of inputsOf({ gate })) {
		const more = waysOf(input);
		if (!more) return null;
		for (let n = count; n > 0; n--) {
			if (ways[n]!.length + ways[n - 1]!.length * more.length > MOST_WAYS) return null;
			for (const way of ways[n - 1]!) for (const one of more) ways[n]!.push([...new Set([...way, ...one])]);
		}
	}
	return ways[count]!;
}

function allThatHappens(events: Events, happen: readonly string[]): ReadonlySet<string> {
	const known = new Map(happen.map((id) => [id, true]));
	function happens(id: string): boolean {
		const before = known.get(id);
		if (before !== undefined) return before;
		const event = events[id];
		const is = event?.gate ? passes(event.gate, happens) : event?.kind === 'house' && event.on === true;
		known.set(id, is);
		return is;
	}
	return new Set(Object.keys(events).filter(happens));
}

function passes(gate: Gate, happens: (id: string) => boolean): boolean {
	const count = inputsOf({ gate }).filter(happens).length;
	if (gate.type === 'not') return count === 0;
	return gate.type === 'xor' ? count === 1 : count >= takes(gate);
}
