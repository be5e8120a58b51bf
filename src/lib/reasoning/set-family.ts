/**
 * Sets of sets as a zero-suppressed decision diagram. An element is a level times two, plus one for 'not'; sets of
 * sets share their ends.
 */
import { IntTable } from './int-table';

export class TooManyCutSets extends Error {}

export class SetFamily {
	/** Node 0: no set at all. Node 1: the empty set alone. Others: (element, sets with it, sets without it). */
	elements = new Int32Array(1 << 10);
	withIt = new Int32Array(1 << 10);
	without = new Int32Array(1 << 10);
	size = 2;
	private readonly unique = new IntTable();
	/** Results of `union` and `difference` by operation and both families. */
	private readonly merged = new IntTable();
	/** Pairs that a merge has begun and not ended, those of the merges that called it before its own. */
	private readonly open: number[] = [];

	/** @param maxNodes beyond which it throws TooManyCutSets */
	constructor(private readonly maxNodes: number) {
		this.elements[0] = this.elements[1] = 0x7fffffff;
	}

	node(element: number, withIt: number, without: number): number {
		if (withIt === 0) return without;
		const known = this.unique.get(element, withIt, without);
		if (known >= 0) return known;
		if (this.size >= this.maxNodes) throw new TooManyCutSets();
		if (this.size === this.elements.length) this.grow();
		const at = this.size++;
		this.elements[at] = element;
		this.withIt[at] = withIt;
		this.without[at] = without;
		this.unique.set(element, withIt, without, at);
		return at;
	}

	union(a: number, b: number): number {
		return this.merge(UNION, a, b);
	}

	/** Sets of a that are not sets of b. */
	difference(a: number, b: number): number {
		return this.merge(DIFFERENCE, a, b);
	}

	/**
	 * One pass over both families, element by element. It runs along the 'without' parts with a list of its own, as
	 * there may be thousands; it calls itself for the 'with' parts, no deeper than the largest set.
	 */
	private merge(operation: number, a: number, b: number): number {
		const { open } = this;
		const begun = open.length;
		let result = simple(operation, a, b);
		while (result < 0) {
			result = this.merged.get(operation, a, b);
			if (result >= 0) break;
			open.push(a, b);
			const ofA = this.elements[a] as number;
			const ofB = this.elements[b] as number;
			if (ofA <= ofB) a = this.without[a] as number;
			if (ofB <= ofA) b = this.without[b] as number;
			result = simple(operation, a, b);
		}
		while (open.length > begun) {
			const ofB = open.pop() as number;
			const ofA = open.pop() as number;
			const element = Math.min(this.elements[ofA] as number, this.elements[ofB] as number);
			const withA = this.elements[ofA] === element ? (this.withIt[ofA] as number) : 0;
			const withB = this.elements[ofB] === element ? (this.withIt[ofB] as number) : 0;
			result = this.node(element, this.merge(operation, withA, withB), result);
			this.merged.set(operation, ofA, ofB, result);
		}
		return result;
	}

	/** By node: `empty` for the empty set, else from the node's own element and its two parts. */
	fold(
		root: number,
		empty: number,
		step: (element: number, withIt: number, without: number) => number
	): number {
		const value = new Float64Array(root + 1);
		if (root >= 1) value[1] = empty;
		for (let at = 2; at <= root; at++)
			value[at] = step(
				this.elements[at] as number,
				value[this.withIt[at] as number] as number,
				value[this.without[at] as number] as number
			);
		return value[root] as number;
	}

	/** Nodes below a root, parts before wholes. */
	reachable(root: number): number[] {
		const seen = new Set<number>(root > 1 ? [root] : []);
		for (const at of seen)
			for (const part of [this.withIt[at] as number, this.without[at] as number])
				if (part > 1) seen.add(part);
		return [...seen].sort((a, b) => a - b);
	}

	private grow() {
		for (const name of ['elements', 'withIt', 'without'] as const) {
			const grown = new Int32Array(this.size * 2);
			grown.set(this[name]);
			this[name] = grown;
		}
	}
}

const UNION = 0;
const DIFFERENCE = 1;

/** The result where it needs no work, else -1. */
function simple(operation: number, a: number, b: number): number {
	if (a === 0 || a === b) return operation === UNION ? b : 0;
	return b === 0 ? a : -1;
}
