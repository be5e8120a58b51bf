/** A function's diagram laid out flat for sweeping: no complement edges, deepest entries first. */
import { FALSE, TRUE, type Diagram } from './diagram';

/** Index 0 is false, 1 is true; every other entry is (level, high, low). The constants lie below all levels. */
export interface Flat {
	root: number;
	size: number;
	levels: Int32Array;
	high: Int32Array;
	low: Int32Array;
}

/** Places for edges to false in a laid-out program. */
export const SINKS = 64;

/**
 * Laid out for sweeping: deeper levels first, so that both children of an entry stand before it;
 * edges to false point to `SINKS` places after the last entry, whose value is 0.
 */
export interface Program extends Flat {
	/** Entries of level l are start[l+1] … start[l]-1. */
	start: Int32Array;
	/** 1 when some path to true leaves this level out. */
	skipped: Uint8Array;
}

/** All edges reached from the root but the constants, the root first. A node reached both plain and complemented counts twice. */
function reach(
	{ highs, lows }: Diagram,
	root: number,
	seen: { has(edge: number): boolean; add(edge: number): unknown }
) {
	const reached = root > 1 ? [root] : [];
	seen.add(root);
	for (let i = 0; i < reached.length; i++) {
		const edge = reached[i] as number;
		const flip = edge & 1;
		for (const child of [(highs[edge >> 1] as number) ^ flip, (lows[edge >> 1] as number) ^ flip])
			if (child > 1 && !seen.has(child)) {
				seen.add(child);
				reached.push(child);
			}
	}
	return reached;
}

/** A function laid out with its entries in any order. */
export function layOutFlat(diagram: Diagram, root: number): Flat {
	return fill(diagram, root, reach(diagram, root, new Set()), new Map());
}

function fill(
	{ levelCount, levels, highs, lows }: Diagram,
	root: number,
	edges: ArrayLike<number>,
	index: { get(edge: number): number | undefined; set(edge: number, at: number): unknown }
): Flat {
	index.set(FALSE, 0);
	index.set(TRUE, 1);
	for (let i = 0; i < edges.length; i++) index.set(edges[i] as number, i + 2);
	const size = edges.length + 2;
	const flat = {
		root: index.get(root) as number,
		size,
		levels: new Int32Array(size).fill(levelCount),
		high: new Int32Array(size),
		low: new Int32Array(size)
	};
	for (let i = 0; i < edges.length; i++) {
		const edge = edges[i] as number;
		const at = edge >> 1;
		const flip = edge & 1;
		flat.levels[i + 2] = levels[at] as number;
		flat.high[i + 2] = index.get((highs[at] as number) ^ flip) as number;
		flat.low[i + 2] = index.get((lows[at] as number) ^ flip) as number;
	}
	return flat;
}

export function layOut(diagram: Diagram, root: number): Program {
	const { levelCount } = diagram;
	const place = new Int32Array(root > 1 ? 2 * diagram.size : 2);
	const seen = { has: (edge: number) => place[edge] !== 0, add: (edge: number) => (place[edge] = -1) };
	const edges = deepestFirst(place, reach(diagram, root, seen).length, diagram);
	const flat = fill(diagram, root, edges, {
		get: (edge) => place[edge],
		set: (edge, at) => (place[edge] = at)
	});
	const skipped = skippedLevels(flat, levelCount);
	// Edges to false end in places of their own above the entries, so that no sweep waits on one cell.
	for (const edges of [flat.high, flat.low])
		for (let i = 2; i < flat.size; i++) if (edges[i] === 0) edges[i] = flat.size + (i % SINKS);
	const start = new Int32Array(levelCount + 1);
	start[levelCount] = 2;
	for (let i = 2; i < flat.size; i++) start[flat.levels[i] as number] = i + 1;
	for (let l = levelCount - 1; l >= 0; l--) start[l] = Math.max(start[l] as number, start[l + 1] as number);
	return { ...flat, start, skipped };
}

/** In order of node within a level, so that the layout does not hang on the search. @param seen by edge: 0 if not */
function deepestFirst(seen: Int32Array, count: number, { levelCount, levels }: Diagram): Int32Array {
	const next = new Int32Array(levelCount + 1);
	for (let edge = 2; edge < seen.length; edge++)
		if (seen[edge] !== 0) {
			const level = levels[edge >> 1] as number;
			if (level > 0) next[level - 1] = (next[level - 1] as number) + 1;
		}
	for (let level = levelCount - 1; level >= 0; level--)
		next[level] = (next[level] as number) + (next[level + 1] as number);
	const sorted = new Int32Array(count);
	for (let edge = 2; edge < seen.length; edge++)
		if (seen[edge] !== 0) {
			const level = levels[edge >> 1] as number;
			const at = next[level] as number;
			sorted[at] = edge;
			next[level] = at + 1;
		}
	return sorted;
}

function skippedLevels({ root, size, levels, high, low }: Flat, levelCount: number): Uint8Array {
	const opens = new Int32Array(levelCount + 1);
	const cross = (from: number, entry: number) => {
		if (entry === 0) return;
		opens[from + 1] = (opens[from + 1] as number) + 1;
		const end = levels[entry] as number;
		opens[end] = (opens[end] as number) - 1;
	};
	cross(-1, root);
	for (let i = 2; i < size; i++) {
		cross(levels[i] as number, high[i] as number);
		cross(levels[i] as number, low[i] as number);
	}
	let open = 0;
	return Uint8Array.from({ length: levelCount }, (_, l) => Number((open += opens[l] as number) > 0));
}
