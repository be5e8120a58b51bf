import { airOf } from '../through-wind';
import type { Inputs } from './inputs';

/** Cells in which the probability of heights is gathered. */
const CELLS = 1200;

/** √ρ by height in the nominal air, and its integral from the pad. */
export function sqrtDensity(x: Inputs, highest: number) {
	const air = airOf(x);
	const cells = 256;
	const step = highest / cells;
	const root = Float64Array.from({ length: cells + 1 }, (_, i) => Math.sqrt(air.densityKgM3(i * step)));
	const sum = new Float64Array(cells + 1);
	for (let i = 0; i < cells; i++) sum[i + 1] = sum[i]! + (step * (root[i]! + root[i + 1]!)) / 2;
	const interpolate = (table: Float64Array) => (height: number) => {
		const at = Math.min(height / step, cells);
		const i = Math.min(Math.floor(at), cells - 1);
		return table[i]! + (at - i) * (table[i + 1]! - table[i]!);
	};
	return { at: interpolate(root), below: interpolate(sum) };
}

/** The probability of heights, gathered in cells that are narrower near the ground. */
export class Gathered {
	readonly weights = new Float64Array(CELLS);
	/** By sample, how much of the probability it carries. */
	readonly ofSamples: number[] = [];
	/** How well the best height of the best sample explains what was observed; 1 is perfect. */
	best = 0;
	readonly #moment = new Float64Array(CELLS);
	readonly #greatest: number;

	constructor(greatest: number) {
		this.#greatest = greatest;
	}
	add(heights: readonly number[], weights: ArrayLike<number>, best: number) {
		let sum = 0;
		for (const [k, height] of heights.entries()) {
			const cell = Math.min(CELLS - 1, Math.floor(CELLS * Math.sqrt(height / this.#greatest)));
			this.weights[cell]! += weights[k]!;
			this.#moment[cell]! += weights[k]! * height;
			sum += weights[k]!;
		}
		this.ofSamples.push(sum);
		this.best = Math.max(this.best, best);
	}
	/** The mean height in each cell. */
	get heights(): Float64Array {
		return this.#moment.map((moment, cell) => (this.weights[cell]! > 0 ? moment / this.weights[cell]! : 0));
	}
}
