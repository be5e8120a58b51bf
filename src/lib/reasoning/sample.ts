/**
 * Where no diagram fits: a population of states is led from what is given alone to all of the evidence in small
 * steps, each re-weighted, re-drawn and moved by Metropolis sweeps (sequential Monte Carlo; Neal 2001, Del Moral,
 * Doucet & Jasra 2006). Several populations are led apart from one another; their scatter is the standard error.
 */
import { randomStream, type Random } from '$lib/probability/generator';
import { Chain, LOG_ZERO, type State, type Temper } from './chain';
import type { Compiled } from './compile';
import type { Resolved } from './resolve';
import { Sweep } from './sweep';
import { priorWeights } from './weights';

export interface Sampled {
	/** By node. */
	p: Float64Array;
	standardError: Float64Array;
	/** ln of the probability of all that was asked for, and its standard error; -Infinity when no state was found. */
	log: number;
	/** The same after what is given (0 where that was drawn exactly) and after the findings. */
	logGiven: number;
	logFindings: number;
	logStandardError: number;
	/** Independent samples that would scatter as much. */
	effectiveSampleSize: number;
}

/** One population: its states count alike, and all of them together by `log`, ln of what they say was asked for. */
export interface Population {
	log: number;
	states: State[];
}

export interface SampleRequest {
	given: readonly { node: number; value: boolean }[];
	withEvidence: boolean;
	/** Diagram of the tree without evidence, to start from exact samples of what is given. */
	start?: Compiled | undefined;
	seed: number;
	particles: number;
	/** Takes each population's counted states, in turn. */
	keep?: (population: Population) => void;
}

const POPULATIONS = 8;
/** Sweeps after each step, and at the end, where all are counted. */
const SWEEPS = 1;
const LAST_SWEEPS = 16;
const MAX_STEPS = 200;
/** A given that doesn't hold costs so much once it must hold. */
const HARD = 1e6;

export function sample(tree: Resolved, request: SampleRequest): Sampled {
	const size = Math.max(20, Math.ceil(request.particles / POPULATIONS));
	const runs = Array.from({ length: POPULATIONS }, (_, i) => {
		const random = randomStream(request.seed, `population ${i}`);
		return lead(tree, request, size, random);
	});
	return combine(runs, tree.ids.length);
}

/** What one population says. */
export interface Run {
	p: Float64Array;
	log: number;
	/** After what is given, after the findings, after the calculated likelihoods. */
	logs: readonly number[];
}

/** Leads one population; log is -Infinity when none of it survives. */
function lead(
	tree: Resolved,
	{ given, withEvidence, start, keep }: SampleRequest,
	size: number,
	random: Random
): Run {
	const chain = new Chain(tree, random, given, withEvidence);
	const draw = start && exactDraw(tree, start, given, random);
	const particles = Array.from({ length: size }, () => {
		const state = chain.newState();
		chain.use(state);
		if (draw) draw(chain);
		else chain.drawPrior();
		chain.settle();
		return state;
	});
	const nothing = { p: new Float64Array(tree.ids.length), log: -Infinity, logs: [] };
	let log = 0;
	const temper: Temper = { evidence: new Float64Array(chain.factors.length), violation: draw ? HARD : 0 };
	/** Weighs each particle by e^(by · energy) and draws them anew. */
	const step = (energies: readonly number[], by: number) => {
		const weights = energies.map((energy) => Math.exp(by * energy));
		log += Math.log(weights.reduce((a, b) => a + b, 0) / size);
		redraw(particles, weights, random);
	};
	const move = (sweeps: number) => {
		for (let i = 0; i < sweeps; i++) for (const particle of particles) chain.use(particle).sweep(temper);
	};
	for (let i = 0; temper.violation < HARD; i++) {
		const energies = particles.map((particle) => -chain.use(particle).violations());
		const good = energies.filter((energy) => energy === 0).length;
		if (good === 0 && i >= MAX_STEPS) return nothing;
		const last = good * 2 >= size || i >= MAX_STEPS;
		const by = last ? HARD : largestStep(energies, 5);
		// The steps so far have weighed each violation by e^-violation; the last makes it impossible.
		step(energies, by);
		temper.violation = last ? HARD : temper.violation + by;
		move(SWEEPS);
	}
	const logs = [log];
	for (const [from, to] of chain.evidenceParts) {
		for (let done = 0, i = 0; from < to && done < 1; i++) {
			const energies = particles.map((particle) => chain.use(particle).logEvidence(from, to));
			const by = i < MAX_STEPS ? largestStep(energies, 1 - done) : 1 - done;
			step(energies, by);
			done = by === 1 - done ? 1 : done + by;
			temper.evidence.fill(done, from, to);
			move(SWEEPS);
		}
		logs.push(log);
	}
	const all = chain.evidenceParts[1]?.[1] ?? 0;
	if (particles.every((particle) => chain.use(particle).logEvidence(0, all) <= LOG_ZERO)) return nothing;
	const p = new Float64Array(tree.ids.length);
	const kept: State[] = [];
	for (let i = 0; i < LAST_SWEEPS; i++) {
		move(1);
		for (const { slots, factors } of particles) {
			if (keep) kept.push({ slots: slots.slice(), factors: factors.slice() });
			for (let n = 0; n < p.length; n++) p[n] = (p[n] as number) + (slots[n] as number);
		}
	}
	keep?.({ log, states: kept });
	return { p: p.map((sum) => sum / (size * LAST_SWEEPS)), log, logs };
}

/** The longest step, up to `most`, that leaves half of the population effective. */
function largestStep(energies: readonly number[], most: number): number {
	const effective = (by: number) => {
		const top = Math.max(...energies);
		let sum = 0;
		let squares = 0;
		for (const e of energies) {
			const w = Math.exp(by * (e - top));
			sum += w;
			squares += w * w;
		}
		return (sum * sum) / squares;
	};
	if (effective(most) >= energies.length / 2) return most;
	let low = 0;
	let high = most;
	for (let i = 0; i < 50; i++) {
		const middle = (low + high) / 2;
		if (effective(middle) >= energies.length / 2) low = middle;
		else high = middle;
	}
	return high;
}

/** Systematic: each particle is kept as often as its weight says, to within one; the lost take on the kept ones' states. */
function redraw(particles: State[], weights: readonly number[], random: Random) {
	const total = weights.reduce((a, b) => a + b, 0);
	const counts = weights.map(() => 0);
	let at = 0;
	let passed = weights[0] as number;
	const offset = random();
	for (let i = 0; i < particles.length; i++) {
		const mark = ((i + offset) / particles.length) * total;
		while (passed < mark && at < weights.length - 1) passed += weights[++at] as number;
		counts[at] = (counts[at] as number) + 1;
	}
	const lost = particles.filter((_, i) => counts[i] === 0);
	counts.forEach((count, i) => {
		const { slots, factors } = particles[i] as State;
		for (let extra = 1; extra < count; extra++) {
			const taker = lost.pop();
			taker?.slots.set(slots);
			taker?.factors.set(factors);
		}
	});
}

/** Draws events and table rows exactly from what is given, walking down the diagram of the tree without evidence. */
function exactDraw(
	tree: Resolved,
	{ levels, prior }: Compiled,
	given: SampleRequest['given'],
	random: Random
): ((chain: Chain) => void) | undefined {
	const weights = priorWeights(tree, levels, new Map(given.map(({ node, value }) => [node, value])));
	const sweep = new Sweep(prior);
	if (!(sweep.up(weights) > 0)) return undefined;
	const states = new Uint8Array(levels.count);
	return (chain) => {
		let entry = prior.root;
		for (let level = 0; level < levels.count; level++) {
			const high = weights.high[level] as number;
			if (prior.levels[entry] === level) {
				const isHigh = random() * sweep.valueOf(entry) < high * sweep.valueOf(prior.high[entry] as number);
				states[level] = Number(isHigh);
				entry = (isHigh ? prior.high[entry] : prior.low[entry]) as number;
			} else states[level] = Number(random() < high);
		}
		tree.house.forEach((state, event) => {
			chain.slots[event] =
				state === undefined ? (states[levels.node[event] as number] as number) : Number(state);
		});
		levels.rows.forEach((rows, gate) =>
			rows.forEach((level, row) => chain.setRow(gate, row, states[level] as number))
		);
	};
}

/** All populations together, each by what it says was asked for; their scatter is the error. */
export function combine(runs: readonly Run[], nodes: number): Sampled {
	const best = Math.max(...runs.map(({ log }) => log));
	const p = new Float64Array(nodes);
	const standardError = new Float64Array(nodes);
	if (best === -Infinity) {
		const nothing = { log: best, logGiven: best, logFindings: best };
		return { p, standardError, ...nothing, logStandardError: 0, effectiveSampleSize: 0 };
	}
	const weights = runs.map(({ log }) => Math.exp(log - best));
	const total = weights.reduce((a, b) => a + b, 0);
	const n = runs.length;
	let spread = 0;
	let scatter = 0;
	for (let node = 0; node < nodes; node++) {
		const mean =
			runs.reduce((sum, run, i) => sum + (weights[i] as number) * (run.p[node] as number), 0) / total;
		const variance = runs.reduce(
			(sum, run, i) => sum + ((weights[i] as number) * ((run.p[node] as number) - mean)) ** 2,
			0
		);
		p[node] = mean;
		standardError[node] = Math.sqrt(((variance / total ** 2) * n) / (n - 1));
		spread += mean * (1 - mean);
		scatter += (standardError[node] as number) ** 2;
	}
	const effectiveSampleSize = scatter > 0 ? spread / scatter : n;
	// No sample shows an error of nothing: half a sample more might have said otherwise.
	for (let node = 0; node < nodes; node++) {
		const shifted = ((p[node] as number) * effectiveSampleSize + 0.5) / (effectiveSampleSize + 1);
		const least = Math.sqrt((shifted * (1 - shifted)) / effectiveSampleSize);
		if (standardError[node] === 0) standardError[node] = least;
	}
	const meanWeight = total / n;
	const relative = weights.reduce((sum, w) => sum + (w / meanWeight - 1) ** 2, 0) / (n - 1);
	return {
		p,
		standardError,
		log: best + Math.log(meanWeight),
		logGiven: meanLog(runs.map(({ logs }) => logs[0] ?? -Infinity)),
		logFindings: meanLog(runs.map(({ logs }) => logs[1] ?? -Infinity)),
		logStandardError: Math.sqrt(relative / n),
		effectiveSampleSize
	};
}

/** ln of the mean of numbers given by their logarithms. */
function meanLog(logs: readonly number[]): number {
	const most = Math.max(...logs);
	return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0) / logs.length);
}
