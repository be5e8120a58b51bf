/**
 * Reduced ordered binary decision diagrams with complement edges, hash-consed in typed arrays.
 *
 * An *edge* is a number: node index times two, plus one when the function is the node's complement. Node 0 is the
 * constant true. A node's high edge (its variable true) is never complemented, so each function has one edge only.
 * Levels count from 0 at the root. No node is ever freed: a diagram lives as long as one tree is weighed; then its
 * arrays may serve the next one (`release`), as new ones of this size would wake the garbage collector each time.
 */
import { largestFirst } from './largest-first';

export const TRUE = 0;
export const FALSE = 1;

export const not = (edge: number): number => edge ^ 1;

/** Thrown when a diagram outgrows its budget; caught by the callers, which then sample. */
export class DiagramLimit extends Error {}

export interface Budget {
	maxNodes: number;
	/** Steps of `and` that may be spent, so that work without new nodes ends too. */
	maxSteps: number;
	/** Nodes from which on a better order is looked for; never without. */
	siftFrom?: number;
}

/** The arrays of a diagram, with room for `capacity` nodes. */
interface Room {
	capacity: number;
	levels: Int32Array;
	highs: Int32Array;
	lows: Int32Array;
	/** Open addressing, by hash: node, or 0. */
	table: Int32Array;
	/** Results of `and`, three numbers each. */
	cache: Int32Array;
}

const roomFor = (capacity: number): Room => ({
	capacity,
	levels: new Int32Array(capacity),
	highs: new Int32Array(capacity),
	lows: new Int32Array(capacity),
	table: new Int32Array(2 * capacity),
	cache: new Int32Array((3 * capacity) / 2)
});

const LEAST_ROOM = 1 << 12;
/** Of an unfinished conjunction: both functions, the result where the variable is true, the hash. */
const FRAME = 4;
/** So many nodes are expected; where there are more, it grows. */
const NODES_PER_LEVEL = 16;
/** More than this (14 MB) is not held while nothing is weighed. */
const MOST_KEPT = 1 << 19;
let spare: Room | undefined;

export class Diagram {
	levels!: Int32Array;
	highs!: Int32Array;
	lows!: Int32Array;
	size = 1;
	private room!: Room;
	private table!: Int32Array;
	private cache!: Int32Array;
	/** As much of table and cache as is in use, less one: both may be longer. */
	private mask: number;
	private steps = 0;
	private readonly stack: Int32Array;

	constructor(
		readonly levelCount: number,
		private readonly budget: Budget
	) {
		let capacity = LEAST_ROOM;
		while (capacity < NODES_PER_LEVEL * levelCount && capacity < MOST_KEPT) capacity *= 2;
		this.moveTo(spare && spare.capacity >= capacity ? spare : roomFor(capacity));
		spare = undefined;
		this.mask = 2 * capacity - 1;
		this.forget();
		this.levels[0] = levelCount;
		this.stack = new Int32Array(FRAME * (levelCount + 2));
	}

	/** The cache holds fewer results than there are places for nodes: one that stays near is worth more than a large one. */
	private get cacheMask(): number {
		return this.mask >> 2;
	}

	/** Leaves the arrays to the next diagram; this one must not be used any more. */
	release() {
		if (this.room.capacity <= MOST_KEPT && this.room.capacity > (spare?.capacity ?? 0)) spare = this.room;
	}

	/** Forgets all nodes; the steps that were spent stay spent. */
	clear() {
		this.size = 1;
		this.forget();
	}

	/** A new question: the steps that it may take are counted from here. */
	renewSteps() {
		this.steps = 0;
	}

	/** The function that is true when the variable of this level is. */
	variable(level: number): number {
		return this.node(level, TRUE, FALSE);
	}

	level(edge: number): number {
		return this.levels[edge >> 1] as number;
	}

	/** The function 'if the variable of this level then `high` else `low`', both deeper than the level. */
	node(level: number, high: number, low: number): number {
		if (high === low) return high;
		const complement = high & 1;
		high ^= complement;
		low ^= complement;
		const { mask } = this;
		let slot = hash(level, high, low) & mask;
		for (let at = this.table[slot] as number; at !== 0; at = this.table[slot] as number) {
			if (this.levels[at] === level && this.highs[at] === high && this.lows[at] === low)
				return (at << 1) | complement;
			slot = (slot + 1) & mask;
		}
		if (this.size >= this.budget.maxNodes) throw new DiagramLimit(`more than ${this.budget.maxNodes} nodes`);
		const at = this.size++;
		this.levels[at] = level;
		this.highs[at] = high;
		this.lows[at] = low;
		this.table[slot] = at;
		if (this.size * 2 > this.mask) this.grow();
		return (at << 1) | complement;
	}

	/** Conjunction. Explicit stack: a diagram may be deeper than the machine's own. */
	and(left: number, right: number): number {
		const { stack } = this;
		let { levels, highs, lows, cache } = this;
		let depth = 0;
		let a = left;
		let b = right;
		for (;;) {
			let result = simple(a, b);
			if (result < 0) {
				if (a > b) {
					const swap = a;
					a = b;
					b = swap;
				}
				const mixed = hash(a, b, 0);
				const slot = 3 * (mixed & this.cacheMask);
				if (cache[slot] === a && cache[slot + 1] === b) result = cache[slot + 2] as number;
				else {
					if (++this.steps > this.budget.maxSteps) throw new DiagramLimit('too many steps');
					stack[depth] = a;
					stack[depth + 1] = b;
					stack[depth + 2] = -1;
					stack[depth + 3] = mixed;
					depth += FRAME;
					const ofA = levels[a >> 1] as number;
					const ofB = levels[b >> 1] as number;
					if (ofA <= ofB) a = (highs[a >> 1] as number) ^ (a & 1);
					if (ofB <= ofA) b = (highs[b >> 1] as number) ^ (b & 1);
					continue;
				}
			}
			for (;;) {
				if (depth === 0) return result;
				a = stack[depth - FRAME] as number;
				b = stack[depth - FRAME + 1] as number;
				const high = stack[depth - FRAME + 2] as number;
				const ofA = levels[a >> 1] as number;
				const ofB = levels[b >> 1] as number;
				if (high < 0) {
					stack[depth - FRAME + 2] = result;
					if (ofA <= ofB) a = (lows[a >> 1] as number) ^ (a & 1);
					if (ofB <= ofA) b = (lows[b >> 1] as number) ^ (b & 1);
					break;
				}
				result = this.node(ofA < ofB ? ofA : ofB, high, result);
				// It may have grown.
				({ levels, highs, lows, cache } = this);
				depth -= FRAME;
				const slot = 3 * ((stack[depth + 3] as number) & this.cacheMask);
				cache[slot] = a;
				cache[slot + 1] = b;
				cache[slot + 2] = result;
			}
		}
	}

	or(a: number, b: number): number {
		return not(this.and(not(a), not(b)));
	}

	iff(a: number, b: number): number {
		return this.and(not(this.and(a, not(b))), not(this.and(not(a), b)));
	}

	/** From min to max of the functions are true. */
	count(edges: readonly number[], min: number, max: number): number {
		const enough = this.atLeast(edges, min);
		return max >= edges.length ? enough : this.and(enough, not(this.atLeast(edges, max + 1)));
	}

	atLeast(edges: readonly number[], k: number): number {
		if (k <= 0) return TRUE;
		if (k > edges.length) return FALSE;
		// reached[j]: at least j of the functions seen so far.
		const reached = [TRUE, ...new Array<number>(k).fill(FALSE)];
		let left = edges.length;
		for (const edge of this.deepestFirst(edges)) {
			left--;
			for (let j = k; j >= 1 && j + left >= k; j--)
				reached[j] = this.or(reached[j] as number, this.and(edge, reached[j - 1] as number));
		}
		return reached[k] as number;
	}

	all(edges: readonly number[]): number {
		return this.deepestFirst(edges).reduce((result, edge) => this.and(edge, result), TRUE);
	}

	any(edges: readonly number[]): number {
		return not(this.all(edges.map(not)));
	}

	/** In this order the intermediate results stay small. */
	private deepestFirst(edges: readonly number[]): number[] {
		return largestFirst(edges, (edge) => this.level(edge));
	}

	/** Cofactor of the function when the variable of this level (its own or one above) is true. */
	high(edge: number, level: number): number {
		return this.levels[edge >> 1] === level ? (this.highs[edge >> 1] as number) ^ (edge & 1) : edge;
	}

	low(edge: number, level: number): number {
		return this.levels[edge >> 1] === level ? (this.lows[edge >> 1] as number) ^ (edge & 1) : edge;
	}

	/** Uses twice as much of the room, or moves to one twice as large. */
	private grow() {
		const { levels, highs, lows, room, mask } = this;
		this.mask = 2 * mask + 1;
		if (this.mask >= room.table.length) {
			this.moveTo(roomFor(2 * room.capacity));
			this.levels.set(levels);
			this.highs.set(highs);
			this.lows.set(lows);
		}
		this.rehash();
	}

	private moveTo(room: Room) {
		this.room = room;
		({
			levels: this.levels,
			highs: this.highs,
			lows: this.lows,
			table: this.table,
			cache: this.cache
		} = room);
	}

	private rehash() {
		this.forget();
		const { table, mask } = this;
		for (let at = 1; at < this.size; at++) {
			let slot = hash(this.levels[at] as number, this.highs[at] as number, this.lows[at] as number) & mask;
			while (table[slot] !== 0) slot = (slot + 1) & mask;
			table[slot] = at;
		}
	}

	private forget() {
		this.table.fill(0, 0, this.mask + 1);
		this.cache.fill(0, 0, 3 * (this.cacheMask + 1));
	}
}

/** The conjunction where it needs no work, else -1. */
function simple(a: number, b: number): number {
	if (a === b || b === TRUE) return a;
	if (a === TRUE) return b;
	if (a === FALSE || b === FALSE || (a ^ b) === 1) return FALSE;
	return -1;
}

/** 32 well-mixed bits from three whole numbers. */
export function hash(a: number, b: number, c: number): number {
	let h = Math.imul(a, 0x9e3779b1) ^ Math.imul(b, 0x85ebca6b) ^ Math.imul(c, 0xc2b2ae35);
	h ^= h >>> 15;
	h = Math.imul(h, 0x2c1b3c6d);
	return h ^ (h >>> 13);
}
