/** Weights laid on a program: one sweep up for the whole, one sweep down for every variable. */
import { SINKS, type Flat, type Program } from './program';
import { ScaledSweep, type ScaledWeights } from './scaled';

/** A variable's weight when true and when false, by level. */
export interface Weights extends ScaledWeights {
	/** Logarithm of a factor common to all states. */
	logScale: number;
}

/** What a double leaves out weighs nothing beside a total above this; below it the sweep is done again with scaled values. */
const LEAST = 2 ** -640;

/** Sweeps one program again and again under different weights, redoing only the levels that a change can reach. */
export class Sweep {
	private readonly value: Float64Array;
	private readonly flow: Float64Array;
	private readonly high: Float64Array;
	private readonly low: Float64Array;
	private scaled: ScaledSweep | undefined;
	/** Whether the last `log` lay below the range of a double. */
	isScaled = false;

	/** @param wanted by level: 1 where `down` is asked about it; all without. */
	constructor(
		readonly program: Program,
		private readonly wanted?: Uint8Array
	) {
		const levelCount = program.start.length - 1;
		this.value = new Float64Array(program.size + SINKS);
		this.flow = new Float64Array(program.size + SINKS);
		this.value[1] = 1;
		this.high = new Float64Array(levelCount).fill(NaN);
		this.low = new Float64Array(levelCount).fill(NaN);
	}

	/** Weight of all states in which the function is true, without the weights' own scale. */
	up(weights: Weights): number {
		const { high, low, start, root } = this.program;
		const { value } = this;
		this.isScaled = false;
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

	/** The same as a logarithm, its scale included: however small, it is -Infinity only where no state is left. */
	log(weights: Weights): number {
		if (weights.logScale === -Infinity) return -Infinity;
		const total = this.up(weights);
		if (total >= LEAST) return Math.log(total) + weights.logScale;
		this.isScaled = true;
		this.scaled ??= new ScaledSweep(this.program);
		return this.scaled.up(weights) + weights.logScale;
	}

	/** Weight of one entry under the last `up`. */
	valueOf(entry: number): number {
		return this.value[entry] as number;
	}

	/** What `down` is relative to: the result of the last `up`; 1 where that had to be scaled. */
	get total(): number {
		return this.isScaled ? 1 : (this.value[this.program.root] as number);
	}

	/**
	 * After `up` or `log`: by level, the weight of the states in which this function and the variable are true, and the same
	 * for functions of the same variables. A level that paths may leave out must have weights that add up to 1.
	 */
	down(functions: readonly (Flat | undefined)[] = []): { levels: Float64Array; functions: Float64Array } {
		if (this.isScaled && this.scaled) return this.scaled.down(functions);
		const { high, low, start, root, skipped } = this.program;
		const { value, flow, wanted } = this;
		const levelCount = start.length - 1;
		const result = { levels: new Float64Array(levelCount), functions: new Float64Array(functions.length) };
		const begins = byFirstLevel(functions);
		flow.fill(0);
		flow[root] = 1;
		for (let level = 0; level < levelCount; level++) {
			for (const f of begins.get(level) ?? []) result.functions[f] = this.join(functions[f] as Flat, level);
			const a = this.high[level] as number;
			const b = this.low[level] as number;
			const end = start[level] as number;
			for (let i = start[level + 1] as number; i < end; i++) {
				const f = flow[i] as number;
				const h = high[i] as number;
				const l = low[i] as number;
				flow[h] = (flow[h] as number) + a * f;
				flow[l] = (flow[l] as number) + b * f;
			}
			if (wanted && wanted[level] === 0) continue;
			let through = 0;
			let isTrue = 0;
			for (let i = start[level + 1] as number; i < end; i++) {
				isTrue += (flow[i] as number) * (value[high[i] as number] as number);
				through += (flow[i] as number) * (value[i] as number);
			}
			if (skipped[level] === 1) isTrue += this.around(level, through);
			result.levels[level] = a * isTrue;
		}
		return result;
	}

	/** After `down`: by level, the weight of this function with the variable held true and held false. */
	cofactors(): { high: Float64Array; low: Float64Array } {
		const { high, low, start, skipped } = this.program;
		const { value, flow } = this;
		const held = { high: new Float64Array(skipped.length), low: new Float64Array(skipped.length) };
		for (let level = 0; level < skipped.length; level++) {
			let isTrue = 0;
			let isFalse = 0;
			let through = 0;
			for (let i = start[level + 1] as number; i < (start[level] as number); i++) {
				isTrue += (flow[i] as number) * (value[high[i] as number] as number);
				isFalse += (flow[i] as number) * (value[low[i] as number] as number);
				through += (flow[i] as number) * (value[i] as number);
			}
			const around = skipped[level] === 1 ? this.around(level, through) : 0;
			held.high[level] = isTrue + around;
			held.low[level] = isFalse + around;
		}
		return held;
	}

	/**
	 * Weight of the states in which this function and another are true. All that has flowed down to the other's first
	 * level meets it there; from there on pairs of entries carry the flow, level by level.
	 */
	private join(other: Flat, first: number): number {
		const { value, flow, program } = this;
		const pairs: (Map<number, number> | undefined)[] = [];
		let sum = 0;
		const send = (mine: number, theirs: number, weight: number) => {
			if (mine >= program.size || theirs === 0 || weight === 0) return;
			if (theirs === 1) {
				sum += weight * (value[mine] as number);
				return;
			}
			const level = Math.min(program.levels[mine] as number, other.levels[theirs] as number);
			const key = mine * other.size + theirs;
			const here = (pairs[level] ??= new Map<number, number>());
			here.set(key, (here.get(key) ?? 0) + weight);
		};
		// Entries from this level down stand before the others; what flow has reached of them it has not passed.
		for (let entry = 1; entry < (program.start[first] as number); entry++)
			if (flow[entry] !== 0) send(entry, other.root, flow[entry] as number);
		for (let level = other.levels[other.root] as number; level < this.high.length; level++)
			for (const [key, weight] of pairs[level] ?? []) {
				const theirs = key % other.size;
				const mine = (key - theirs) / other.size;
				const here = program.levels[mine] === level;
				const there = other.levels[theirs] === level;
				send(
					here ? (program.high[mine] as number) : mine,
					there ? (other.high[theirs] as number) : theirs,
					weight * (this.high[level] as number)
				);
				send(
					here ? (program.low[mine] as number) : mine,
					there ? (other.low[theirs] as number) : theirs,
					weight * (this.low[level] as number)
				);
			}
		return sum;
	}

	/** Weight of the paths that leave a level out, given that of the paths through it. */
	private around(level: number, through: number): number {
		const { high, low, start, root } = this.program;
		const { value, flow } = this;
		const left = this.total - through;
		// Subtraction is exact enough unless almost nothing is left; then it is added up edge by edge.
		if (left > 1e-3 * this.total) return left;
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

function byFirstLevel(functions: readonly (Flat | undefined)[]): Map<number, number[]> {
	const begins = new Map<number, number[]>();
	functions.forEach((program, f) => {
		if (!program) return;
		const first = program.root > 1 ? (program.levels[program.root] as number) : 0;
		begins.set(first, [...(begins.get(first) ?? []), f]);
	});
	return begins;
}
