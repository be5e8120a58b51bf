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

/** A function laid out with its entries in any order. A node reached both plain and complemented counts twice. */
export function layOutFlat({ levelCount, levels, highs, lows }: Diagram, root: number): Flat {
	const index = new Map([
		[FALSE, 0],
		[TRUE, 1]
	]);
	const edges = root > 1 ? [root] : [];
	if (root > 1) index.set(root, 2);
	const placeOf = (edge: number) => {
		const known = index.get(edge);
		if (known !== undefined) return known;
		const place = edges.push(edge) + 1;
		index.set(edge, place);
		return place;
	};
	const high = [0, 0];
	const low = [0, 0];
	for (let i = 0; i < edges.length; i++) {
		const edge = edges[i] as number;
		high.push(placeOf((highs[edge >> 1] as number) ^ (edge & 1)));
		low.push(placeOf((lows[edge >> 1] as number) ^ (edge & 1)));
	}
	return {
		root: index.get(root) as number,
		size: edges.length + 2,
		levels: Int32Array.from([levelCount, levelCount, ...edges.map((edge) => levels[edge >> 1] as number)]),
		high: Int32Array.from(high),
		low: Int32Array.from(low)
	};
}

/** A node is younger than its children, so that one pass from the root on marks what it reaches, and one back lays it out. */
export function layOut({ levelCount, levels: levelOf, highs, lows }: Diagram, root: number): Program {
	const last = root | 1;
	const place = new Int32Array(last + 1);
	place[root] = 1;
	const start = new Int32Array(levelCount + 1);
	for (let edge = last; edge > 1; edge--) {
		if (place[edge] === 0) continue;
		place[(highs[edge >> 1] as number) ^ (edge & 1)] = 1;
		place[(lows[edge >> 1] as number) ^ (edge & 1)] = 1;
		const level = levelOf[edge >> 1] as number;
		start[level] = (start[level] as number) + 1;
	}
	// From how many stand on each level to where the first of them stands.
	let size = 2;
	for (let level = levelCount; level >= 0; level--) {
		const count = start[level] as number;
		start[level] = size;
		size += count;
	}
	const levels = new Int32Array(size).fill(levelCount);
	const high = new Int32Array(size);
	const low = new Int32Array(size);
	const open = new Int32Array(levelCount + 2);
	/** Edges to false end in places of their own above the entries, so that no sweep waits on one cell. */
	const end = (edge: number, from: number, entry: number) => {
		if (edge === FALSE) return size + (entry % SINKS);
		open[from + 1] = (open[from + 1] as number) + 1;
		const to = levelOf[edge >> 1] as number;
		open[to] = (open[to] as number) - 1;
		return place[edge] as number;
	};
	place[FALSE] = 0;
	place[TRUE] = 1;
	end(root, -1, 0);
	for (let edge = 2; edge <= last; edge++) {
		if (place[edge] === 0) continue;
		const level = levelOf[edge >> 1] as number;
		const entry = start[level] as number;
		start[level] = entry + 1;
		place[edge] = entry;
		levels[entry] = level;
		high[entry] = end((highs[edge >> 1] as number) ^ (edge & 1), level, entry);
		low[entry] = end((lows[edge >> 1] as number) ^ (edge & 1), level, entry);
	}
	const skipped = new Uint8Array(levelCount);
	for (let level = 0, count = 0; level < levelCount; level++) {
		count += open[level] as number;
		skipped[level] = Number(count > 0);
	}
	return { root: place[root], size, levels, high, low, start, skipped };
}
