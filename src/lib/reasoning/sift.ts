/**
 * A better order for a diagram that has grown large: sifting (Rudell 1993). Each variable in turn, those with the most
 * nodes first, is moved through all levels by exchanging it with its neighbour, and left where the whole was smallest.
 *
 * Exchanging two neighbouring levels touches their nodes only, and each node goes on standing for the same function,
 * so whoever holds an edge need not know. Done on a copy of the nodes that are still needed, with counted references.
 */
import { type Diagram } from './diagram';

export interface Sifted {
	/** By level as it was: the level now. */
	levelOf: Int32Array;
	/** The edges that were asked for, as they are now. */
	roots: number[];
	/** Nodes before and after, dead ones not counted. */
	before: number;
	after: number;
}

/** A variable turns back where the whole has grown by this factor over the least. */
const MOST_GROWTH = 1.2;
/** Nodes that may be looked at: some tenths of a second. Counted, not timed, so that every run does the same. */
const MOST_VISITS = 500_000;

/** Sifts the diagram; all but what these edges need is forgotten, and every other edge into it is void. */
export function sift(diagram: Diagram, roots: readonly number[]): Sifted {
	const sifter = new Sifter(diagram);
	const held = roots.map((edge) => sifter.take(edge));
	const before = sifter.size;
	sifter.run();
	const edgeOf = sifter.putBack();
	return { levelOf: sifter.levelOf, roots: held.map(edgeOf), before, after: sifter.size };
}

class Sifter {
	size = 0;
	/** By variable, named by the level at which it stood before: its level now; and the other way round. */
	readonly levelOf: Int32Array;
	private readonly order: Int32Array;
	private variable: Int32Array;
	private high: Int32Array;
	private low: Int32Array;
	private references: Int32Array;
	/** By variable: its nodes, by both edges. */
	private readonly tables: Map<number, number>[];
	private used = 1;
	private readonly free: number[] = [];
	private visits = 0;
	/** Number of a node of the diagram here. */
	private readonly numbers = new Map<number, number>([[0, 0]]);

	constructor(private readonly diagram: Diagram) {
		const { levelCount, size } = diagram;
		const room = 2 * size + 16;
		this.variable = new Int32Array(room);
		this.high = new Int32Array(room);
		this.low = new Int32Array(room);
		this.references = new Int32Array(room);
		this.variable[0] = levelCount;
		this.order = Int32Array.from({ length: levelCount }, (_, level) => level);
		this.levelOf = this.order.slice();
		this.tables = Array.from({ length: levelCount }, () => new Map<number, number>());
	}

	/** Copies what the edge stands on and holds it. */
	take(edge: number): number {
		const { highs, lows, levels } = this.diagram;
		const waiting = [edge >> 1];
		for (let at = waiting.at(-1); at !== undefined; at = waiting.at(-1)) {
			const children = [highs[at] as number, lows[at] as number];
			const missing = this.numbers.has(at)
				? []
				: children.map((child) => child >> 1).filter((child) => !this.numbers.has(child));
			if (missing.length > 0) {
				waiting.push(...missing);
				continue;
			}
			waiting.pop();
			if (this.numbers.has(at)) continue;
			const [high = 0, low = 0] = children.map((child) => this.numbered(child));
			this.numbers.set(at, this.node(levels[at] as number, high, low) >> 1);
		}
		const taken = this.numbered(edge);
		this.hold(taken);
		return taken;
	}

	private numbered(edge: number): number {
		return (2 * (this.numbers.get(edge >> 1) as number)) | (edge & 1);
	}

	run() {
		const bySize = this.tables
			.map((table, variable) => ({ variable, nodes: table.size }))
			.sort((a, b) => b.nodes - a.nodes || a.variable - b.variable);
		for (const { variable, nodes } of bySize) {
			if (nodes === 0 || this.visits > MOST_VISITS) return;
			this.settle(variable);
		}
	}

	/** Fills the diagram anew, deepest nodes first. @returns where an edge of the copy is now */
	putBack(): (edge: number) => number {
		const places = new Int32Array(this.used);
		const edgeOf = (edge: number) => (places[edge >> 1] as number) ^ (edge & 1);
		this.diagram.clear();
		for (let level = this.order.length - 1; level >= 0; level--)
			for (const n of (this.tables[this.order[level] as number] as Map<number, number>).values())
				places[n] = this.diagram.node(level, edgeOf(this.high[n] as number), edgeOf(this.low[n] as number));
		return edgeOf;
	}

	/** Moves one variable through the levels, the shorter way first, and leaves it where the whole is smallest. */
	private settle(variable: number) {
		const last = this.order.length - 1;
		const start = this.levelOf[variable] as number;
		let least = this.size;
		let best = start;
		const go = (step: 1 | -1) => {
			for (;;) {
				const at = this.levelOf[variable] as number;
				const isBack = (at - start) * step < 0;
				if (at + step < 0 || at + step > last || (!isBack && this.size > MOST_GROWTH * least)) return;
				this.exchange(step > 0 ? at : at - 1);
				if (this.size < least) {
					least = this.size;
					best = this.levelOf[variable] as number;
				}
			}
		};
		const first = start > last / 2 ? 1 : -1;
		go(first);
		go(first > 0 ? -1 : 1);
		for (let at = this.levelOf[variable] as number; at !== best; at = this.levelOf[variable] as number)
			this.exchange(at < best ? at : at - 1);
	}

	/** Exchanges a level with the one below it. */
	private exchange(level: number) {
		const x = this.order[level] as number;
		const y = this.order[level + 1] as number;
		const own = this.tables[x] as Map<number, number>;
		const other = this.tables[y] as Map<number, number>;
		const nodes = [...own.values()];
		this.visits += nodes.length;
		for (const n of nodes) {
			const h = this.high[n] as number;
			const w = this.low[n] as number;
			if (this.variable[h >> 1] !== y && this.variable[w >> 1] !== y) continue;
			own.delete(keyOf(h, w));
			const high = this.node(x, this.cofactor(this.high, h, y), this.cofactor(this.high, w, y));
			this.hold(high);
			const low = this.node(x, this.cofactor(this.low, h, y), this.cofactor(this.low, w, y));
			this.hold(low);
			this.variable[n] = y;
			this.high[n] = high;
			this.low[n] = low;
			other.set(keyOf(high, low), n);
			this.drop(h);
			this.drop(w);
		}
		this.order[level] = y;
		this.order[level + 1] = x;
		this.levelOf[y] = level;
		this.levelOf[x] = level + 1;
	}

	/** Where the edge leads when this variable is held, by the array of its true or its false sides. */
	private cofactor(side: Int32Array, edge: number, variable: number): number {
		return this.variable[edge >> 1] === variable ? (side[edge >> 1] as number) ^ (edge & 1) : edge;
	}

	private node(variable: number, high: number, low: number): number {
		if (high === low) return high;
		const complement = high & 1;
		high ^= complement;
		low ^= complement;
		const table = this.tables[variable] as Map<number, number>;
		const key = keyOf(high, low);
		const there = table.get(key);
		if (there !== undefined) return (2 * there) | complement;
		const at = this.free.pop() ?? this.used++;
		if (at >= this.variable.length) this.grow();
		this.variable[at] = variable;
		this.high[at] = high;
		this.low[at] = low;
		this.references[at] = 0;
		this.hold(high);
		this.hold(low);
		table.set(key, at);
		this.size++;
		return (2 * at) | complement;
	}

	private hold(edge: number) {
		const at = edge >> 1;
		this.references[at] = (this.references[at] as number) + 1;
	}

	/** One holder less; what nobody holds is forgotten, and lets go of its own. */
	private drop(edge: number) {
		const waiting = [edge >> 1];
		for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
			const left = (this.references[at] as number) - 1;
			this.references[at] = left;
			if (left > 0 || at === 0) continue;
			const high = this.high[at] as number;
			const low = this.low[at] as number;
			this.tables[this.variable[at] as number]?.delete(keyOf(high, low));
			this.free.push(at);
			this.size--;
			waiting.push(high >> 1, low >> 1);
		}
	}

	private grow() {
		const twice = (array: Int32Array) => {
			const grown = new Int32Array(2 * array.length);
			grown.set(array);
			return grown;
		};
		this.variable = twice(this.variable);
		this.high = twice(this.high);
		this.low = twice(this.low);
		this.references = twice(this.references);
	}
}

const keyOf = (high: number, low: number) => high * 2 ** 24 + low;
