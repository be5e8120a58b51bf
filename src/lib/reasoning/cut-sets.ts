/**
 * Minimal cut sets of the top event, without evidence, as a zero-suppressed diagram: counted before they are listed.
 *
 * Prime implicants of f = (x, f1, f0) are those of f1·f0; x with those of f1 that are not among them; and 'not x' with
 * those of f0 that are not among them (Coudert & Madre 1992). In a coherent tree f1·f0 = f0 and nothing is negated, so
 * they are the minimal cut sets (Rauzy 1993).
 */
import { FALSE, TRUE, type Diagram } from './diagram';
import { IntTable } from './int-table';
import { layOut, type Program } from './program';
import { SetFamily, TooManyCutSets } from './set-family';
import type { Structure } from './structure';

export interface CutSetFamily {
	sets: SetFamily;
	root: number;
}

/** A limit so long is none. */
const LONGEST = 10_000;

/**
 * The family of minimal cut sets (prime implicants where there is negation), impossible ones (two exclusive events)
 * left out.
 * @param order largest number of elements in a set
 * @throws {TooManyCutSets} when the family outgrows the limit
 */
export function cutSetFamily(
	{ diagram, top, coherent, exclusiveLevels }: Structure,
	order: number,
	maxNodes: number
): CutSetFamily {
	const sets = new SetFamily(maxNodes);
	const known = new IntTable(diagram.size >> 1);
	// Without a limit the room is always the same, so that results are shared.
	const limited = order < LONGEST;
	const least = coherent && limited ? leastFailures(diagram, top) : undefined;
	const simple = (edge: number, room: number) =>
		edge === FALSE || (least && (least[edge >> 1] as number) > room)
			? 0
			: edge === TRUE
				? 1
				: known.get(edge, room, 0);
	/** Functions begun along the sets without their variable; a list, as there may be thousands. */
	const open: number[] = [];
	const primes = (start: number, room: number): number => {
		if (room < 0) return 0;
		const begun = open.length;
		let edge = start;
		let result = simple(edge, room);
		while (result < 0) {
			open.push(edge);
			const level = diagram.level(edge);
			const low = diagram.low(edge, level);
			edge = coherent ? low : diagram.and(diagram.high(edge, level), low);
			result = simple(edge, room);
		}
		while (open.length > begun) {
			const at = open.pop() as number;
			const level = diagram.level(at);
			const high = diagram.high(at, level);
			const low = diagram.low(at, level);
			const left = limited ? room - 1 : room;
			const less = primes(coherent ? low : diagram.and(high, low), left);
			const positive = sets.difference(primes(high, left), less);
			const negative = coherent ? 0 : sets.difference(primes(low, left), less);
			result = sets.node(2 * level, positive, sets.node(2 * level + 1, negative, result));
			if (known.size >= maxNodes) throw new TooManyCutSets();
			known.set(at, room, 0, result);
		}
		return result;
	};
	const all = primes(top, limited ? order : 0);
	return { sets, root: withoutPairs(sets, all, exclusiveLevels) };
}

/** By node up to the top of a coherent tree, where no edge is complemented: the fewest events that make it true. */
function leastFailures({ highs, lows }: Diagram, top: number): Int32Array {
	const least = new Int32Array((top >> 1) + 1);
	for (let at = 1; at < least.length; at++) {
		const low = lows[at] as number;
		const withIt = 1 + (least[(highs[at] as number) >> 1] as number);
		const without = low === FALSE ? LONGEST : (least[low >> 1] as number);
		least[at] = withIt < without ? withIt : without;
	}
	return least;
}

/** Leaves out the sets that hold two exclusive events. */
function withoutPairs(sets: SetFamily, root: number, groups: readonly (readonly number[])[]): number {
	let family = root;
	for (const group of groups) {
		const members = new Set(group.map((level) => 2 * level));
		const known = new Map<number, number>();
		/** Sets of the family with at most one member more (`room` 1) or none (`room` 0). */
		const keep = (at: number, room: number): number => {
			if (at < 2) return at;
			const key = at * 2 + room;
			const before = known.get(key);
			if (before !== undefined) return before;
			const element = sets.elements[at] as number;
			const member = members.has(element);
			const withIt = member && room === 0 ? 0 : keep(sets.withIt[at] as number, member ? 0 : room);
			const result = sets.node(element, withIt, keep(sets.without[at] as number, room));
			known.set(key, result);
			return result;
		};
		family = keep(family, 1);
	}
	return family;
}

/** Sum of the sets' probabilities, and by element the sum over the sets that hold it: one pass up, one down. */
export function sumsOf({ sets, root }: CutSetFamily, p: (element: number) => number) {
	const value = new Float64Array(Math.max(2, root + 1));
	value[1] = 1;
	const parts = sets.reachable(root);
	for (const at of parts)
		value[at] =
			p(sets.elements[at] as number) * (value[sets.withIt[at] as number] as number) +
			(value[sets.without[at] as number] as number);
	const flow = new Float64Array(value.length);
	flow[root] = 1;
	const byElement = new Map<number, number>();
	for (const at of parts.reverse()) {
		const element = sets.elements[at] as number;
		const withIt = sets.withIt[at] as number;
		const without = sets.without[at] as number;
		const here = flow[at] as number;
		flow[withIt] = (flow[withIt] as number) + here * p(element);
		flow[without] = (flow[without] as number) + here;
		byElement.set(element, (byElement.get(element) ?? 0) + here * p(element) * (value[withIt] as number));
	}
	return { all: value[root] as number, byElement, nodes: parts.length };
}

/** How many sets: exact up to 2^53. */
export function countSets({ sets, root }: CutSetFamily): number {
	return sets.fold(root, 1, (_, withIt, without) => withIt + without);
}

/** The most probable sets, most probable first, at most `limit`, none below `least`. */
export function mostProbableSets(
	{ sets, root }: CutSetFamily,
	probability: (element: number) => number,
	limit: number,
	least: number
): { elements: number[]; probability: number }[] {
	// Best completion below each node: a search that follows it never goes astray.
	const best = new Float64Array(Math.max(2, root + 1));
	best[1] = 1;
	for (let at = 2; at <= root; at++)
		best[at] = Math.max(
			probability(sets.elements[at] as number) * (best[sets.withIt[at] as number] as number),
			best[sets.without[at] as number] as number
		);
	interface Partial {
		at: number;
		product: number;
		bound: number;
		chosen: Chosen | undefined;
	}
	interface Chosen {
		element: number;
		rest: Chosen | undefined;
	}
	const queue: Partial[] = [];
	const push = (at: number, product: number, chosen: Chosen | undefined) => {
		if (at === 0) return;
		const bound = product * (best[at] as number);
		if (bound >= least) pushHeap(queue, { at, product, bound, chosen });
	};
	push(root, 1, undefined);
	const found: { elements: number[]; probability: number }[] = [];
	while (found.length < limit) {
		const next = popHeap(queue);
		if (!next) break;
		if (next.at === 1) {
			const elements: number[] = [];
			for (let c = next.chosen; c; c = c.rest) elements.unshift(c.element);
			found.push({ elements, probability: next.product });
			continue;
		}
		const element = sets.elements[next.at] as number;
		push(sets.withIt[next.at] as number, next.product * probability(element), { element, rest: next.chosen });
		push(sets.without[next.at] as number, next.product, next.chosen);
	}
	return found;
}

function pushHeap<T extends { bound: number }>(heap: T[], item: T) {
	let at = heap.push(item) - 1;
	while (at > 0) {
		const up = (at - 1) >> 1;
		if ((heap[up] as T).bound >= item.bound) break;
		heap[at] = heap[up] as T;
		at = up;
	}
	heap[at] = item;
}

function popHeap<T extends { bound: number }>(heap: T[]): T | undefined {
	const first = heap[0];
	const last = heap.pop();
	if (first === undefined || last === undefined || heap.length === 0) return first;
	let at = 0;
	for (;;) {
		let child = 2 * at + 1;
		if (child >= heap.length) break;
		if (child + 1 < heap.length && (heap[child + 1] as T).bound > (heap[child] as T).bound) child++;
		if ((heap[child] as T).bound <= last.bound) break;
		heap[at] = heap[child] as T;
		at = child;
	}
	heap[at] = last;
	return first;
}

/** That some set of the family has all its elements true, and exclusive events exclude one another. */
export function unionOf({ sets, root }: CutSetFamily, { diagram, constraint }: Structure): Program {
	const edges = new Map<number, number>([
		[0, FALSE],
		[1, TRUE]
	]);
	for (const at of sets.reachable(root)) {
		const element = sets.elements[at] as number;
		const literal = diagram.variable(element >> 1) ^ (element & 1);
		const withIt = diagram.and(literal, edges.get(sets.withIt[at] as number) as number);
		edges.set(at, diagram.or(withIt, edges.get(sets.without[at] as number) as number));
	}
	return layOut(diagram, diagram.and(edges.get(root) as number, constraint));
}

/** The sets of a family that hold an element. */
export function setsWith({ sets, root }: CutSetFamily, element: number): CutSetFamily {
	const known = new Map<number, number>();
	for (const at of sets.reachable(root)) {
		const own = sets.elements[at] as number;
		const part = (child: number) => known.get(child) ?? 0;
		const result =
			own === element
				? sets.node(own, sets.withIt[at] as number, 0)
				: own > element
					? 0
					: sets.node(own, part(sets.withIt[at] as number), part(sets.without[at] as number));
		known.set(at, result);
	}
	return { sets, root: known.get(root) ?? 0 };
}
