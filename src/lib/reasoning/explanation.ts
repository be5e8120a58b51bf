/** The most probable explanation: which basic events, all together, most probably did and did not happen. */
import { exactFor } from './exact';
import { Worlds, WorldWeigher } from './worlds';
import type { Compiled } from './compile';
import type { TreeModel } from './model';
import { SINKS } from './program';
import { resolve, type Resolved } from './resolve';
import { ScaledSweep, type Deep, type Scaled } from './scaled';
import { Sweep, type Weights } from './sweep';
import { weightsOf } from './weights';
import { sampledExplanations } from './sampled-explanation';
import { statesFor } from './weigh';
import type { Explanations, Refusable, WeighOptions } from './weighing';

const MAX_TRIALS = 20_000;

/**
 * The most probable states of all basic events given everything, the variables of links, base rates, origins and
 * chance gates summed out. Branch and bound: with some events held, sweeping the diagram with the larger branch at
 * each event and the sum at every other variable gives a bound that no completion exceeds.
 */
export function mostProbableExplanations(
	model: TreeModel,
	{
		count = 3,
		maxTrials = MAX_TRIALS,
		...options
	}: WeighOptions & { count?: number; maxTrials?: number } = {}
): Refusable<Explanations> {
	const tree = resolve(model);
	const compiled = exactFor(tree, options);
	if (!compiled) return sampledExplanations(statesFor(tree, options), count, options);
	if (compiled instanceof Worlds) return amongWorlds(compiled, tree, count);
	const sweep = new Sweep(compiled.posterior);
	const base = weightsOf(tree, compiled.levels);
	const total = sweep.log(base) - base.logScale;
	if (base.logScale === -Infinity || total === -Infinity) return IMPOSSIBLE;
	const p = eventProbabilities(tree, compiled, sweep);
	// Settled events first, so that the bound tells early which way can't win.
	const order = [...p.keys()]
		.filter((event) => (compiled.levels.node[event] as number) >= 0)
		.sort((a, b) => Math.abs((p[b] as number) - 0.5) - Math.abs((p[a] as number) - 0.5));
	const search = new Search(tree, compiled, base, order, count, maxTrials, sweep.isScaled);
	const { found, proven } = search.run(p);
	return {
		ok: true,
		proven,
		list: found.map(({ states, log }) => ({
			happened: tree.ids
				.slice(0, tree.eventCount)
				.filter((_, event) => tree.house[event] ?? states[event] === 1),
			probability: Math.exp(log - total)
		}))
	};
}

const IMPOSSIBLE = {
	ok: false,
	problem: 'the evidence is impossible under this tree, so nothing explains it'
} as const;

/** Where every state is written down the heaviest are looked up, what chance gates came to added. */
function amongWorlds(worlds: Worlds, tree: Resolved, count: number): Refusable<Explanations> {
	const weigher = new WorldWeigher(worlds, tree, true);
	if (weigher.log() === -Infinity) return IMPOSSIBLE;
	const { chances, states } = worlds;
	const found = Array.from({ length: worlds.count / chances }, (_, i) => ({
		world: i * chances,
		weight: weigher.weights.subarray(i * chances, (i + 1) * chances).reduce((a, b) => a + b, 0)
	}))
		.filter(({ weight }) => weight > 0)
		.sort((a, b) => b.weight - a.weight)
		.slice(0, count);
	return {
		ok: true,
		proven: true,
		list: found.map(({ world, weight }) => ({
			happened: tree.ids.slice(0, tree.eventCount).filter((_, event) => states[event]?.[world] === 1),
			probability: weight / weigher.total
		}))
	};
}

function eventProbabilities(tree: Resolved, { levels }: Compiled, sweep: Sweep): Float64Array {
	const isTrue = sweep.down().levels;
	return Float64Array.from({ length: tree.eventCount }, (_, event) => {
		const level = levels.node[event] as number;
		return level < 0 ? Number(tree.house[event]) : (isTrue[level] as number) / sweep.total;
	});
}

interface Found {
	states: Uint8Array;
	/** ln of its weight. */
	log: number;
}

const NONE: Scaled = { value: 0, depth: 0 };

class Search {
	private readonly found: Found[] = [];
	private readonly bounds: BoundSweep;
	private readonly weights: Weights;
	private readonly deep: Map<number, Deep>;
	private readonly states: Uint8Array;
	private trials = 0;

	constructor(
		tree: Resolved,
		private readonly compiled: Compiled,
		private readonly base: Weights,
		private readonly order: readonly number[],
		private readonly count: number,
		private readonly maxTrials: number,
		isScaled: boolean
	) {
		const isEvent = new Uint8Array(compiled.levels.count);
		for (const event of order) isEvent[compiled.levels.node[event] as number] = 1;
		this.bounds = new BoundSweep(compiled, isEvent, isScaled);
		this.deep = new Map(base.deep);
		this.weights = { ...base, high: base.high.slice(), low: base.low.slice(), deep: this.deep };
		this.states = new Uint8Array(tree.eventCount);
	}

	run(p: Float64Array): { found: Found[]; proven: boolean } {
		this.climb(p);
		this.branch(0);
		return { found: this.found, proven: this.trials < this.maxTrials };
	}

	/** A good start makes the bound bite: from the likelier state of each event, flip whatever helps most. */
	private climb(p: Float64Array) {
		for (const event of this.order) this.hold(event, (p[event] as number) > 0.5 ? 1 : 0);
		let here = this.bounds.up(this.weights);
		for (let better = true; better && this.trials < this.maxTrials / 4;) {
			better = false;
			let best = -1;
			for (const event of this.order) {
				this.flip(event);
				const there = this.bounds.up(this.weights);
				this.trials++;
				this.keep(there);
				if (there > here) {
					here = there;
					best = event;
				}
				this.flip(event);
			}
			if (best >= 0) {
				this.flip(best);
				better = true;
			}
		}
		this.keep(here);
		for (const event of this.order) this.free(event);
	}

	private branch(depth: number) {
		if (this.trials++ >= this.maxTrials) return;
		const bound = this.bounds.up(this.weights);
		if (bound === -Infinity || bound + 1e-12 <= this.worstKept()) return;
		const event = this.order[depth];
		if (event === undefined) {
			this.keep(bound);
			return;
		}
		const level = this.compiled.levels.node[event] as number;
		const first = (this.base.high[level] as number) > 0.5 ? 1 : 0;
		for (const state of [first, 1 - first]) {
			this.hold(event, state);
			this.branch(depth + 1);
		}
		this.free(event);
	}

	private worstKept(): number {
		return this.found.length < this.count ? -Infinity : (this.found.at(-1)?.log ?? -Infinity);
	}

	private keep(log: number) {
		if (!(log > this.worstKept())) return;
		const same = (other: Found) => this.order.every((event) => other.states[event] === this.states[event]);
		if (this.found.some(same)) return;
		this.found.push({ states: this.states.slice(), log });
		this.found.sort((a, b) => b.log - a.log);
		this.found.length = Math.min(this.found.length, this.count);
	}

	private hold(event: number, state: number) {
		const level = this.compiled.levels.node[event] as number;
		this.states[event] = state;
		this.weights.high[level] = state === 1 ? (this.base.high[level] as number) : 0;
		this.weights.low[level] = state === 1 ? 0 : (this.base.low[level] as number);
		const own = this.base.deep?.get(level);
		if (own) this.deep.set(level, state === 1 ? { ...own, low: NONE } : { ...own, high: NONE });
	}

	private flip(event: number) {
		this.hold(event, 1 - (this.states[event] as number));
	}

	private free(event: number) {
		const level = this.compiled.levels.node[event] as number;
		this.weights.high[level] = this.base.high[level] as number;
		this.weights.low[level] = this.base.low[level] as number;
		const own = this.base.deep?.get(level);
		if (own) this.deep.set(level, own);
	}
}

/** Sweeps up with the larger branch at events and the sum elsewhere. */
class BoundSweep {
	private readonly value: Float64Array;
	private readonly high: Float64Array;
	private readonly low: Float64Array;
	private readonly scaled: ScaledSweep | undefined;

	/** @param isScaled  all of it lies below the range of a double */
	constructor(
		private readonly compiled: Compiled,
		private readonly isEvent: Uint8Array,
		isScaled: boolean
	) {
		if (isScaled) this.scaled = new ScaledSweep(compiled.posterior);
		this.value = new Float64Array(compiled.posterior.size + SINKS);
		this.value[1] = 1;
		this.high = new Float64Array(isEvent.length).fill(NaN);
		this.low = new Float64Array(isEvent.length).fill(NaN);
	}

	/** ln of the bound. */
	up(weights: Weights): number {
		const { high, low, start, root } = this.compiled.posterior;
		const { value, isEvent } = this;
		if (this.scaled) return this.upScaled(this.scaled, weights);
		let deepest = start.length - 2;
		while (
			deepest >= 0 &&
			this.high[deepest] === weights.high[deepest] &&
			this.low[deepest] === weights.low[deepest]
		)
			deepest--;
		let scale = 1;
		for (let level = 0; level < isEvent.length; level++)
			if (isEvent[level] === 1)
				scale *= Math.max(weights.high[level] as number, weights.low[level] as number);
		for (let level = deepest; level >= 0; level--) {
			let a = (this.high[level] = weights.high[level] as number);
			let b = (this.low[level] = weights.low[level] as number);
			const end = start[level] as number;
			if (isEvent[level] === 1) {
				// Relative to the larger weight, so that a path that leaves the event out has the factor 1.
				const most = Math.max(a, b);
				a = most > 0 ? a / most : 0;
				b = most > 0 ? b / most : 0;
				for (let i = start[level + 1] as number; i < end; i++)
					value[i] = Math.max(
						a * (value[high[i] as number] as number),
						b * (value[low[i] as number] as number)
					);
			} else
				for (let i = start[level + 1] as number; i < end; i++)
					value[i] = a * (value[high[i] as number] as number) + b * (value[low[i] as number] as number);
		}
		return Math.log(value[root] as number) + Math.log(scale);
	}

	private upScaled(sweep: ScaledSweep, weights: Weights): number {
		const [high, low, deep] = [weights.high.slice(), weights.low.slice(), new Map(weights.deep)];
		let log = 0;
		for (let level = 0; level < this.isEvent.length; level++) {
			const own = deep.get(level);
			const most = Math.max(
				(own?.high.value ?? high[level]) as number,
				(own?.low.value ?? low[level]) as number
			);
			if (this.isEvent[level] === 0) continue;
			if (!(most > 0)) return -Infinity;
			const at = ({ value, depth }: Scaled) => ({ value: value / most, depth });
			if (own) deep.set(level, { high: at(own.high), low: at(own.low) });
			high[level] = (high[level] as number) / most;
			low[level] = (low[level] as number) / most;
			log += Math.log(most);
		}
		return log + sweep.up({ high, low, deep }, this.isEvent);
	}
}
