/** What is asked of a family of minimal cut sets, held as a zero-suppressed diagram: counted before they are listed. */
import { FALSE, TRUE } from './diagram';
import { layOut, type Program } from './program';
import type { SetFamily } from './set-family';
import type { Structure } from './structure';

export interface CutSetFamily {
	sets: SetFamily;
	root: number;
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
