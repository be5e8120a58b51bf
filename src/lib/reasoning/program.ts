/** A function's diagram laid out flat for sweeping: no complement edges, deepest entries first. */
import { FALSE, TRUE, type Diagram } from './diagram';

/** Index 0 is false, 1 is true; every other entry is (level, high, low), with both its children before it. */
export interface Program {
	root: number;
	size: number;
	high: Int32Array;
	low: Int32Array;
	/** Entries of level l are start[l+1] … start[l]-1: deeper levels come first. */
	start: Int32Array;
	/** 1 when some path to true leaves this level out. */
	skipped: Uint8Array;
}

export function layOut(diagram: Diagram, root: number): Program {
	const { levelCount, levels, highs, lows } = diagram;
	const start = new Int32Array(levelCount + 1);
	const skipped = new Uint8Array(levelCount);
	if (root <= 1) {
		start.fill(2);
		if (root === TRUE) skipped.fill(1);
		return {
			root: root === TRUE ? 1 : 0,
			size: 2,
			high: new Int32Array(2),
			low: new Int32Array(2),
			start,
			skipped
		};
	}
	// A node reached both plain and complemented becomes two entries.
	const index = new Int32Array(2 * diagram.size);
	const reached = [root];
	index[root] = -1;
	for (let i = 0; i < reached.length; i++) {
		const edge = reached[i] as number;
		const at = edge >> 1;
		const flip = edge & 1;
		for (const child of [(highs[at] as number) ^ flip, (lows[at] as number) ^ flip])
			if (child > 1 && index[child] === 0) {
				index[child] = -1;
				reached.push(child);
			}
	}
	const perLevel = new Int32Array(levelCount + 1);
	for (const edge of reached) (perLevel[levels[edge >> 1] as number] as number)++;
	start[levelCount] = 2;
	for (let l = levelCount - 1; l >= 0; l--) start[l] = (start[l + 1] as number) + (perLevel[l] as number);
	const next = start.slice(1);
	// In order of node index within a level, so that the layout does not hang on the search.
	reached.sort((a, b) => a - b);
	for (const edge of reached) {
		const l = levels[edge >> 1] as number;
		index[edge] = next[l] as number;
		next[l] = (next[l] as number) + 1;
	}
	index[TRUE] = 1;
	index[FALSE] = 0;
	const size = reached.length + 2;
	const high = new Int32Array(size);
	const low = new Int32Array(size);
	const crossings = new Int32Array(levelCount + 1);
	const cross = (from: number, edge: number) => {
		if (edge === FALSE) return;
		(crossings[from + 1] as number)++;
		(crossings[levels[edge >> 1] as number] as number)--;
	};
	cross(-1, root);
	for (const edge of reached) {
		const at = edge >> 1;
		const flip = edge & 1;
		const entry = index[edge] as number;
		const l = levels[at] as number;
		high[entry] = index[(highs[at] as number) ^ flip] as number;
		low[entry] = index[(lows[at] as number) ^ flip] as number;
		cross(l, (highs[at] as number) ^ flip);
		cross(l, (lows[at] as number) ^ flip);
	}
	let open = 0;
	for (let l = 0; l < levelCount; l++) {
		open += crossings[l] as number;
		if (open > 0) skipped[l] = 1;
	}
	return { root: index[root] as number, size, high, low, start, skipped };
}

/** A variable's weight when true and when false, by level. */
export interface Weights {
	high: Float64Array;
	low: Float64Array;
	/** Logarithm of a factor common to all states. */
	logScale: number;
}

/** Sweeps one program again and again under different weights, redoing only the levels that a change can reach. */
export class Sweep {
	private readonly value: Float64Array;
	private readonly flow: Float64Array;
	private readonly high: Float64Array;
	private readonly low: Float64Array;

	constructor(readonly program: Program) {
		const levelCount = program.start.length - 1;
		this.value = new Float64Array(program.size);
		this.flow = new Float64Array(program.size);
		this.value[1] = 1;
		this.high = new Float64Array(levelCount).fill(NaN);
		this.low = new Float64Array(levelCount).fill(NaN);
	}

	/** Weight of all states in which the function is true, without the weights' own scale. */
	up(weights: Weights): number {
		const { high, low, start, root } = this.program;
		const { value } = this;
		let level = start.length - 2;
		while (level >= 0 && this.high[level] === weights.high[level] && this.low[level] === weights.low[level])
			level--;
		for (; level >= 0; level--) {
			const a = (this.high[level] = weights.high[level] as number);
			const b = (this.low[level] = weights.low[level] as number);
			const end = start[level] as number;
			for (let i = start[level + 1] as number; i < end; i++)
				value[i] = a * (value[high[i] as number] as number) + b * (value[low[i] as number] as number);
		}
		return value[root] as number;
	}

	/** Result of the last `up`. */
	get total(): number {
		return this.value[this.program.root] as number;
	}

	/**
	 * After `up`: by level, the weight of the states in which the function and the variable are true. A level that
	 * paths may leave out must have weights that add up to 1.
	 */
	down(): Float64Array {
		const { high, low, start, root, skipped } = this.program;
		const { value, flow } = this;
		const levelCount = start.length - 1;
		const result = new Float64Array(levelCount);
		flow.fill(0);
		flow[root] = 1;
		const total = value[root] as number;
		for (let level = 0; level < levelCount; level++) {
			const a = this.high[level] as number;
			const b = this.low[level] as number;
			let through = 0;
			let isTrue = 0;
			const end = start[level] as number;
			for (let i = start[level + 1] as number; i < end; i++) {
				const f = flow[i] as number;
				const h = high[i] as number;
				const l = low[i] as number;
				flow[h] = (flow[h] as number) + a * f;
				flow[l] = (flow[l] as number) + b * f;
				isTrue += f * (value[h] as number);
				through += f * (value[i] as number);
			}
			isTrue *= a;
			if (skipped[level] === 1) {
				// Subtraction is exact enough unless almost nothing is left.
				const around = total - through;
				isTrue += a * (around > 1e-3 * total ? around : this.around(level));
			}
			result[level] = isTrue;
		}
		return result;
	}

	/** Weight of the paths that leave a level out, added up edge by edge. */
	private around(level: number): number {
		const { high, low, start, root } = this.program;
		const { value, flow } = this;
		// Deeper entries have the lower indices: an edge leaves the level out when it ends below this index.
		const below = start[level + 1] as number;
		let sum = root < below ? (value[root] as number) : 0;
		for (let l = 0; l < level; l++) {
			const end = start[l] as number;
			for (let i = start[l + 1] as number; i < end; i++) {
				const h = high[i] as number;
				const w = low[i] as number;
				const f = flow[i] as number;
				if (h < below) sum += f * (this.high[l] as number) * (value[h] as number);
				if (w < below) sum += f * (this.low[l] as number) * (value[w] as number);
			}
		}
		return sum;
	}
}
