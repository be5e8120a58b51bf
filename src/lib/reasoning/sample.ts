/**
 * Where no diagram fits: a population of states is led from what is given alone to all of the evidence in small
 * steps, each re-weighted, re-drawn and moved by Metropolis sweeps (sequential Monte Carlo; Neal 2001, Del Moral,
 * Doucet & Jasra 2006). Several populations are led apart from one another; their scatter is the standard error.
 */
import { randomStream, type Random } from '$lib/probability/generator';
import { Chain, type State, type Temper } from './chain';
import type { Compiled } from './compile';
import { piecesOf, type Piece } from './contradiction';
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
	/** Pieces of evidence that count after each stage; without them all findings, then all that was calculated too. */
	stages?: readonly (readonly Piece[])[];
	/** Takes each population's counted states, in turn. */
	keep?: (population: Population) => void;
}

const POPULATIONS = 8;
/** Sweeps after each step, and at the end, where all are counted. */
const SWEEPS = 1;
const LAST_SWEEPS = 16;
const MAX_STEPS = 200;
/** A given that doesn't hold costs so much once it must hold; before that no more than this, as e^-60 is as good as never. */
const HARD = 1e6;
const MAX_VIOLATION = 60;
/** ln of what a state that none shows might weigh more than those that do, where it is read how probable all is. */
const MAX_GAP = Math.log(10);
/** The error that such a state may make in each stage, as a part; half of one may have been missed. */
export const unseenIn = (particles: number) => (0.5 * Math.exp(MAX_GAP)) / particles;

export function sample(tree: Resolved, request: SampleRequest): Sampled {
	return combine(populations(tree, request, LAST_SWEEPS), tree.ids.length);
}

/** By population: ln of what it says of all that was asked for, after what is given and after each stage. */
export const leadThrough = (tree: Resolved, request: SampleRequest): (readonly number[])[] =>
	populations(tree, request, 0).map(({ logs }) => logs);

function populations(tree: Resolved, request: SampleRequest, lastSweeps: number): Run[] {
	const size = Math.max(20, Math.ceil(request.particles / POPULATIONS));
	return Array.from({ length: POPULATIONS }, (_, i) => {
		const random = randomStream(request.seed, `population ${i}`);
		return lead(tree, request, size, lastSweeps, random);
	});
}

/** What one population says. */
export interface Run {
	p: Float64Array;
	log: number;
	/** After what is given, and after each stage, -Infinity where none of it survived. */
	logs: readonly number[];
}

/** Leads one population; log is -Infinity when none of it survives. */
function lead(
	tree: Resolved,
	{ given, withEvidence, start, stages = defaultStages(tree), keep }: SampleRequest,
	size: number,
	lastSweeps: number,
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
	const p = new Float64Array(tree.ids.length);
	const after = 1 + (withEvidence ? stages.length : 0);
	const logs: number[] = [];
	const nothing = () => ({
		p,
		log: -Infinity,
		logs: [...logs, ...new Array<number>(after - logs.length).fill(-Infinity)]
	});
	let log = 0;
	const temper: Temper = { evidence: chain.exponents([]), violation: draw ? HARD : 0 };
	/** Weighs each particle by e^(by · energy) and draws them anew. */
	const step = (energies: readonly number[], by: number) => {
		const most = Math.max(...energies);
		const weights = energies.map((energy) => Math.exp(by * (energy - most)));
		log += meanLog(energies.map((energy) => by * energy));
		redraw(particles, weights, random);
	};
	const move = (sweeps: number) => {
		for (let i = 0; i < sweeps; i++) for (const particle of particles) chain.use(particle).sweep(temper);
	};
	while (temper.violation < HARD) {
		const energies = particles.map((particle) => -chain.use(particle).violations());
		const good = energies.filter((energy) => energy === 0).length;
		const inVain = temper.violation >= MAX_VIOLATION;
		if (good === 0 && inVain) return nothing();
		const last = good * 2 >= size || inVain;
		// Where none of the given holds yet nothing bounds a step but this: longer ones would pass over what is rare.
		const by = last ? HARD : largestStep(energies, 1);
		// The steps so far have weighed each violation by e^-violation; the last makes it impossible.
		step(energies, by);
		temper.violation = last ? HARD : temper.violation + by;
		move(SWEEPS);
	}
	logs.push(log);
	for (const kept of withEvidence ? stages : []) {
		const before = temper.evidence;
		const all = chain.exponents(kept);
		const more = all.map((exponent, f) => exponent - (before[f] as number));
		const allowed = () => particles.some((particle) => chain.use(particle).isAllowed(all));
		/** As far as half of the population counts, and no state that is missing from it could count for much. */
		const longest = (energies: readonly number[], most: number) => {
			const gap = lastSweeps > 0 ? 0 : chain.mostUnder(more) - meanLog(energies);
			return largestStep(energies, gap * most > MAX_GAP ? MAX_GAP / gap : most);
		};
		const energiesOf = () => particles.map((particle) => chain.use(particle).logUnder(more));
		// Where nothing is read but how probable all is, one step may take in several stages.
		const whole = lastSweeps > 0 ? [] : energiesOf();
		if (whole.length > 0 && longest(whole, 1) === 1 && allowed()) {
			logs.push(log + meanLog(whole));
			continue;
		}
		for (let done = more.some((by) => by !== 0) ? 0 : 1, i = 0; done < 1; i++) {
			const energies = energiesOf();
			const by = i < MAX_STEPS ? longest(energies, 1 - done) : 1 - done;
			step(energies, by);
			done = by === 1 - done ? 1 : done + by;
			temper.evidence = done === 1 ? all : before.map((exponent, f) => exponent + done * (more[f] as number));
			move(SWEEPS);
		}
		if (!allowed()) return nothing();
		logs.push(log);
	}
	const states: State[] = [];
	for (let i = 0; i < lastSweeps; i++) {
		move(1);
		for (const { slots, factors } of particles) {
			if (keep) states.push({ slots: slots.slice(), factors: factors.slice() });
			for (let n = 0; n < p.length; n++) p[n] = (p[n] as number) + (slots[n] as number);
		}
	}
	keep?.({ log, states });
	return { p: p.map((sum) => sum / (size * lastSweeps)), log, logs };
}

function defaultStages(tree: Resolved): Piece[][] {
	const all = piecesOf(tree);
	return [all.filter(({ observation }) => observation >= 0), all];
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
export function meanLog(logs: readonly number[]): number {
	const most = Math.max(...logs);
	if (most === -Infinity) return most;
	return most + Math.log(logs.reduce((sum, log) => sum + Math.exp(log - most), 0) / logs.length);
}
