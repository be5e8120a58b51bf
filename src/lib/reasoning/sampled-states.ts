/**
 * The states that were drawn given everything, and what is read from them. Whatever is asked of one tree is read from
 * one sample; its populations were led apart from one another, so leaving each of them out in turn gives the
 * standard error and the bias of any number formed from all (jackknife; Quenouille 1956, Tukey 1958, from memory).
 */
import { Chain, type State } from './chain';
import type { Compiled } from './compile';
import type { InTurn } from './jackknife';
import type { Resolved } from './resolve';
import { sample, type Population, type Sampled } from './sample';
import type { WeighOptions } from './weighing';

const DEFAULT_SEED = 1;
/** States led at once; fewer in a tree so large that each costs more. */
const defaultParticles = (slots: number) => Math.max(160, Math.min(800, Math.round(80_000 / slots)));

/** Fewer independent samples than this, or a smaller share of the sample that still counts, say nothing. */
export const LEAST_SAMPLES = 30;
export const LEAST_KEPT = 0.1;
/** What lies further off than so many standard errors is clear: 95 % of Student's t with the 7 degrees of freedom of eight populations. */
export const CLEAR = 2.365;
/** Samples that might have come out otherwise, of all: none shows an error of nothing. */
export const UNSEEN = 0.5;

/** ln of a factor of two: odds and probabilities of evidence that scatter by more say nothing. */
export const MOST_SCATTER = Math.LN2;

/** What all or none of the states show is not certain: half a sample might have shown the other. */
export const notCertain = (p: number, samples: number): number =>
	p > 0 && p < 1 ? p : (p * samples + UNSEEN) / (samples + 2 * UNSEEN);

export const effortOf = (
	{ ids }: Resolved,
	{ seed = DEFAULT_SEED, particles = defaultParticles(ids.length) }: WeighOptions
) => ({ seed, particles });

export class SampledStates {
	readonly chain: Chain;
	/** Of populations, what their states count together. */
	private readonly weights: number[];

	constructor(
		readonly tree: Resolved,
		readonly all: Sampled,
		readonly populations: readonly Population[]
	) {
		this.chain = new Chain(tree, () => 0, tree.given, true);
		const best = Math.max(...populations.map(({ log }) => log));
		this.weights = populations.map(({ log }) => Math.exp(log - best));
	}

	/**
	 * Means over the states of each population.
	 * @param known  means read before, after which the new ones stand
	 * @param add  adds what one state says to the sums; `at` counts the states of all populations through
	 */
	read(size: number, add: (chain: Chain, sums: Float64Array, at: number) => void, known?: Means): Means {
		let at = 0;
		const by = this.populations.map(({ states }, i) => {
			const sums = new Float64Array(size);
			for (const state of states) add(this.chain.use(state), sums, at++);
			const means = sums.map((sum) => sum / states.length);
			return known ? Float64Array.from([...(known.by[i] as Float64Array), ...means]) : means;
		});
		return new Means(this.weights, by);
	}

	/** What is made of each state, by its count through all populations. */
	map<T>(of: (chain: Chain, state: State) => T): T[] {
		return this.populations.flatMap(({ states }) => states.map((state) => of(this.chain.use(state), state)));
	}
}

/** What was told, how far it scatters, and how far it lies beside what an endless sample would tell. */
export interface Told {
	value: number[];
	error: number[];
	bias: number[];
}

/** Means by population, each of which counts with its weight. */
export class Means {
	/** Of all populations together, and with each of them left out. */
	readonly all: Float64Array;
	private readonly without: Float64Array[];

	constructor(
		weights: readonly number[],
		readonly by: readonly Float64Array[]
	) {
		const mean = (left: number) => {
			const total = weights.reduce((sum, weight, i) => (i === left ? sum : sum + weight), 0);
			const result = new Float64Array(by[0]?.length ?? 0);
			by.forEach((means, i) => {
				const share = i === left ? 0 : (weights[i] as number) / total;
				if (share > 0)
					for (let k = 0; k < result.length; k++)
						result[k] = (result[k] as number) + share * (means[k] as number);
			});
			return result;
		};
		this.all = mean(-1);
		this.without = by.map((_, i) => mean(i));
	}

	/** A number formed from the means of all, then with each population left out. */
	inTurn(of: (means: Float64Array) => number): InTurn {
		return [this.all, ...this.without].map(of);
	}

	/** Numbers formed from the means, each with its jackknife error and bias; not finite where too few populations are left. */
	tell(of: (means: Float64Array) => readonly number[]): Told {
		const value = [...of(this.all)];
		const n = this.without.length;
		const others = this.without.map(of);
		const mean = value.map((_, k) => others.reduce((sum, other) => sum + (other[k] as number), 0) / n);
		return {
			value,
			error: mean.map((middle, k) =>
				n < 2
					? Infinity
					: Math.sqrt(
							((n - 1) / n) * others.reduce((sum, other) => sum + ((other[k] as number) - middle) ** 2, 0)
						)
			),
			bias: mean.map((middle, k) => (n - 1) * (middle - (value[k] as number)))
		};
	}
}

let last: { key: string; states: SampledStates } | undefined;

/** The sample given everything; the last one is kept, as all that is asked of one tree is read from it. */
export function sampledStates(
	tree: Resolved,
	options: WeighOptions,
	start: () => Compiled | undefined
): SampledStates {
	const effort = effortOf(tree, options);
	const key = JSON.stringify([tree, effort, options.maxNodes]);
	if (last?.key === key) return last.states;
	const populations: Population[] = [];
	const keep = (population: Population) => populations.push(population);
	const all = sample(tree, { ...effort, given: tree.given, withEvidence: true, start: start(), keep });
	last = { key, states: new SampledStates(tree, all, populations) };
	return last.states;
}
