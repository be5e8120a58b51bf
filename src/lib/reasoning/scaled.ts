/**
 * Weights below the range of a double: a mantissa and how many steps it lies below. What is built of many findings may be
 * as improbable as it likes and still be exact; only what no state allows is zero.
 */
import { SINKS, type Flat, type Program } from './program';

/** Two mantissas multiplied stay within the range of a double. */
export const STEP = 2 ** -480;
export const LOG_STEP = -480 * Math.LN2;

/** `value` times the step to the power of `depth`. */
export interface Scaled {
	value: number;
	depth: number;
}

/** So much of it as a double holds. */
export const unscaled = ({ value, depth }: Scaled): number =>
	depth === 0 ? value : depth === 1 ? value * STEP : 0;

/** A product that grows by one factor. */
function multiply(product: Scaled, factor: number) {
	product.value *= factor;
	if (product.value < STEP && product.value > 0) {
		product.value /= STEP;
		product.depth++;
	}
}

/** The weights of a variable that a double can't hold. */
export interface Deep {
	high: Scaled;
	low: Scaled;
}

export interface ScaledWeights {
	high: Float64Array;
	low: Float64Array;
	/** By level. */
	deep?: ReadonlyMap<number, Deep>;
}

/**
 * Sweeps a program with a depth beside each value: slower than `Sweep`, and needed where that leaves the range. Each edge
 * then carries its share of the weight beneath its entry, so that all that flows down lies between 0 and 1.
 */
export class ScaledSweep {
	private readonly value: Float64Array;
	private readonly depth: Int32Array;
	private readonly toHigh: Float64Array;
	private readonly toLow: Float64Array;
	private readonly flow: Float64Array;
	/** By level, as a double. */
	private weights: ScaledWeights = { high: new Float64Array(0), low: new Float64Array(0) };

	constructor(private readonly program: Program) {
		const size = program.size + SINKS;
		this.value = new Float64Array(size);
		this.value[1] = 1;
		this.depth = new Int32Array(size);
		this.toHigh = new Float64Array(size);
		this.toLow = new Float64Array(size);
		this.flow = new Float64Array(size);
	}

	/**
	 * ln of the weight of all states in which the function is true.
	 * @param larger  by level: 1 where the larger branch counts, not the sum of both
	 */
	up(weights: ScaledWeights, larger?: Uint8Array): number {
		this.weights = weights;
		const { start, root, high, low } = this.program;
		const { value, depth } = this;
		const a = { value: 0, depth: 0 };
		const b = { value: 0, depth: 0 };
		for (let level = start.length - 2; level >= 0; level--) {
			const deep = weights.deep?.get(level);
			const own = {
				high: { ...(deep?.high ?? { value: weights.high[level] as number, depth: 0 }) },
				low: { ...(deep?.low ?? { value: weights.low[level] as number, depth: 0 }) }
			};
			for (const weight of [own.high, own.low]) multiply(weight, 1);
			for (let i = start[level + 1] as number; i < (start[level] as number); i++) {
				const [h, l] = [high[i] as number, low[i] as number];
				a.value = own.high.value;
				a.depth = own.high.depth + (depth[h] as number);
				multiply(a, value[h] as number);
				b.value = own.low.value;
				b.depth = own.low.depth + (depth[l] as number);
				multiply(b, value[l] as number);
				const least = a.value > 0 && (b.value === 0 || a.depth <= b.depth) ? a.depth : b.depth;
				a.depth -= least;
				b.depth -= least;
				const [x, y] = [unscaled(a), unscaled(b)];
				const both = larger?.[level] === 1 ? Math.max(x, y) : x + y;
				value[i] = both;
				depth[i] = least;
				this.toHigh[i] = both > 0 ? x / both : 0;
				this.toLow[i] = both > 0 ? y / both : 0;
			}
		}
		return Math.log(value[root] as number) + (depth[root] as number) * LOG_STEP;
	}

	/** After `up`: as `Sweep.down`, each relative to the whole. */
	down(functions: readonly (Flat | undefined)[]): { levels: Float64Array; functions: Float64Array } {
		const { start, root, high, low, skipped } = this.program;
		const { flow, toHigh, toLow, weights } = this;
		const levels = new Float64Array(skipped.length);
		flow.fill(0);
		flow[root] = 1;
		for (let level = 0; level < levels.length; level++) {
			let isTrue = 0;
			// Deeper entries have the lower indices: an edge leaves the level out when it ends below this index.
			const below = start[level + 1] as number;
			for (let i = below; i < (start[level] as number); i++) {
				const own = flow[i] as number;
				const [h, l] = [high[i] as number, low[i] as number];
				isTrue += own * (toHigh[i] as number);
				flow[h] = (flow[h] as number) + own * (toHigh[i] as number);
				flow[l] = (flow[l] as number) + own * (toLow[i] as number);
			}
			if (skipped[level] === 1) {
				let around = root < below ? 1 : 0;
				for (let i = start[level] as number; i < this.program.size; i++) {
					if ((high[i] as number) < below) around += (flow[i] as number) * (toHigh[i] as number);
					if ((low[i] as number) < below) around += (flow[i] as number) * (toLow[i] as number);
				}
				isTrue += around * (weights.high[level] as number);
			}
			levels[level] = isTrue;
		}
		return { levels, functions: Float64Array.from(functions, (f) => (f ? this.join(f) : 0)) };
	}

	/** Share of the states in which another function is true: pairs of entries carry the flow down, level by level. */
	private join(other: Flat): number {
		const { program, toHigh, toLow, weights } = this;
		const levelCount = program.skipped.length;
		const pairs: Map<number, number>[] = Array.from({ length: levelCount }, () => new Map<number, number>());
		let sum = 0;
		const send = (mine: number, theirs: number, weight: number) => {
			if (theirs === 0 || weight === 0) return;
			if (theirs === 1) {
				sum += weight;
				return;
			}
			const level = Math.min(program.levels[mine] as number, other.levels[theirs] as number);
			const key = mine * other.size + theirs;
			pairs[level]?.set(key, (pairs[level]?.get(key) ?? 0) + weight);
		};
		send(program.root, other.root, 1);
		for (let level = 0; level < levelCount; level++)
			for (const [key, weight] of pairs[level] ?? []) {
				const theirs = key % other.size;
				const mine = (key - theirs) / other.size;
				const here = program.levels[mine] === level;
				const there = other.levels[theirs] === level;
				const step = (mineTo: Int32Array, theirsTo: Int32Array, share: number) =>
					send(
						here ? (mineTo[mine] as number) : mine,
						there ? (theirsTo[theirs] as number) : theirs,
						weight * share
					);
				step(program.high, other.high, (here ? toHigh[mine] : weights.high[level]) as number);
				step(program.low, other.low, (here ? toLow[mine] : weights.low[level]) as number);
			}
		return sum;
	}
}
