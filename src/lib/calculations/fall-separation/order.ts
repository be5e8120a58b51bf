import { weightedQuantiles } from '$lib/probability/summary';
import type { Observation } from '../calculation';
import { percentOf } from '../likelihood';
import { Gathered } from './heights';
import { metres } from './parting';

/** How probable an order must be before it is stated. */
const TOLD = 0.9;
/** How many times as well one account must explain the places before it is said to. */
const BETTER = 3;

/**
 * Which piece left the first one before which. Each has a parting of its own, at a height judged by its own place; all
 * share a sample's wind and speeds, so that an error of the wind moves all of them together.
 */
export class Order {
	readonly #heights: Gathered[];
	/** By pair: weight of the states in which the one left higher up. */
	readonly #first: number[][];
	/** Weight of all states in which each has a parting of its own, and in which the pair has one. */
	readonly #apart: number[][];
	readonly #together: number[][];

	constructor(
		private readonly watched: readonly Observation[],
		greatest: number
	) {
		const square = () => watched.map(() => watched.map(() => 0));
		this.#heights = watched.map(() => new Gathered(greatest));
		this.#first = square();
		this.#apart = square();
		this.#together = square();
	}

	/**
	 * One sample.
	 * @param weighed  by piece and height: how well the height explains the piece's place, times the prior
	 * @param prior    by height
	 */
	add(heights: readonly number[], weighed: readonly ArrayLike<number>[], prior: readonly number[]) {
		for (const [a, ofA] of weighed.entries()) {
			this.#heights[a]!.add(heights, ofA, 0);
			for (const [b, ofB] of weighed.entries()) {
				if (b === a) continue;
				let below = 0;
				let first = 0;
				let together = 0;
				for (let k = 0; k < heights.length; k++) {
					first += ofA[k]! * (below + ofB[k]! / 2);
					below += ofB[k]!;
					if (prior[k]! > 0) together += (ofA[k]! * ofB[k]!) / prior[k]!;
				}
				let sum = 0;
				for (let k = 0; k < heights.length; k++) sum += ofA[k]!;
				this.#first[a]![b]! += first;
				this.#apart[a]![b]! += sum * below;
				this.#together[a]![b]! += together;
			}
		}
	}

	/** Probability that piece a left before (higher up than) piece b. */
	probabilityFirst(a: number, b: number): number {
		return this.#first[a]![b]! / this.#apart[a]![b]!;
	}

	outputs() {
		return this.watched.map(({ label }, i) => ({
			id: 'ownHeight',
			of: label,
			samples: this.#heights[i]!.heights,
			weights: this.#heights[i]!.weights
		}));
	}

	/** The order of neighbours in height, and whether they parted at one moment. */
	statements(): string[] {
		const medians = this.#heights.map(({ heights, weights }) =>
			weights.some((w) => w > 0) ? weightedQuantiles(heights, weights, [0.5])[0]! : NaN
		);
		const highestFirst = medians
			.map((_, i) => i)
			.filter((i) => Number.isFinite(medians[i]))
			.sort((a, b) => medians[b]! - medians[a]!);
		return highestFirst.slice(1).map((b, i) => this.#pair(highestFirst[i]!, b, medians));
	}

	#pair(a: number, b: number, medians: readonly number[]): string {
		const [nameA, nameB] = [this.watched[a]!.label, this.watched[b]!.label];
		const p = this.probabilityFirst(a, b);
		const once = this.#together[a]![b]! / this.#apart[a]![b]!;
		const judged = `By their own places ${nameA} left at about ${metres(medians[a]!)} and ${nameB} at about ${metres(medians[b]!)}.`;
		const order =
			p >= TOLD
				? `If they left one after the other, ${nameA} was first with ${percentOf(p)} probability.`
				: `Which of them left first can’t be told from where they lie: ${Math.round(100 * p)} to ${Math.round(100 - 100 * p)} of 100.`;
		const moment =
			once >= BETTER
				? `One parting of both explains the places ${times(once)} as well as two at different moments.`
				: once <= 1 / BETTER
					? `Two partings explain the places ${times(1 / once)} as well as one of both together.`
					: 'Whether they parted at one moment can’t be told.';
		return `${judged} ${order} ${moment}`;
	}
}

const times = (factor: number) =>
	factor > 1000
		? 'more than a thousand times'
		: `${factor < 9.5 ? factor.toFixed(1) : Math.round(factor)} times`;
