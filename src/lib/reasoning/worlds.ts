/**
 * A small tree with much evidence, exactly and without a diagram: every state of its events ("world") is written down once.
 * In one world each gate is true or false and each piece of evidence is a number with a closed form, links, base rates
 * and origins summed out; so the findings may hang together as they like. Logarithms are added, so none is too small.
 */
import { mustBeOne, signatureOf, type Compiled } from './compile';
import { saidBy } from './chain';
import { holdsWith } from './gate-state';
import type { Likelihood, Observation, Resolved, ResolvedGate } from './resolve';
import type { Changes } from './weights';

/** Worlds times nodes and links: a second or two of work for the slowest question. */
const MOST_WORK = 5e7;
/** Signs times worlds whose logarithms are kept: 64 MB. */
const MOST_WRITTEN = 2 ** 22;
/** Origins that have reports of one observation in common are summed out together, each genuine or not. */
const MOST_TOGETHER = 8;

/** An event alone, the events that exclude one another, or what a chance gate comes to. */
interface Choice {
	nodes: readonly number[];
	/** As many as nodes, and one more where none of them may be true. */
	options: number;
	chance: boolean;
}

export class Worlds {
	readonly signature: string;
	readonly count: number;
	/** Worlds that differ only in what chance gates came to stand side by side, so many of them. */
	readonly chances: number;
	/** By node, its state in each world. */
	readonly states: readonly Uint8Array[];
	get nodes(): number {
		return this.count;
	}

	readonly choices: readonly Choice[];

	/** How many there are; undefined where there are more than `most`, or too much work in them. */
	static countOf(tree: Resolved, most: number): number | undefined {
		const count = choicesOf(tree).reduce((product, { options }) => product * options, 1);
		const links = tree.observations.reduce((sum, observation) => sum + observation.links.length, 0);
		const together = factorsOf(tree).every(({ origins }) => origins.length <= MOST_TOGETHER);
		return together && count <= most && count * (tree.ids.length + links) <= MOST_WORK ? count : undefined;
	}

	constructor(tree: Resolved) {
		this.choices = choicesOf(tree);
		const { choices } = this;
		const count = choices.reduce((product, { options }) => product * options, 1);
		this.signature = signatureOf(tree);
		this.count = count;
		this.chances = choices.reduce(
			(product, { options, chance }) => (chance ? product * options : product),
			1
		);
		const states = tree.ids.map((_, node) => new Uint8Array(count).fill(Number(tree.house[node] ?? false)));
		let block = count;
		for (const { nodes, options } of choices) {
			block /= options;
			for (let w = 0; w < count; w++) {
				const state = states[nodes[Math.floor(w / block) % options] ?? -1];
				if (state) state[w] = 1;
			}
		}
		for (const g of tree.order) settle(tree.gates[g] as ResolvedGate, states, tree.eventCount + g);
		this.states = states;
	}
}

/** Chance gates last, so that their outcomes stand side by side. */
function choicesOf(tree: Resolved): Choice[] {
	const { house, exclusive, groupOf, eventCount, gates } = tree;
	const alone = house.flatMap((state, event) =>
		state === undefined && groupOf[event] === -1 ? [{ nodes: [event], options: 2, chance: false }] : []
	);
	const groups = exclusive.map((nodes) => ({
		nodes,
		options: nodes.length + (mustBeOne(tree, nodes) ? 0 : 1),
		chance: false
	}));
	const chance = gates.flatMap(({ type }, g) =>
		type === 'table' ? [{ nodes: [eventCount + g], options: 2, chance: true }] : []
	);
	return [...alone, ...groups, ...chance];
}

function settle({ type, inputs, min, max }: ResolvedGate, states: readonly Uint8Array[], node: number) {
	if (type === 'table') return;
	const result = states[node] as Uint8Array;
	const holds = (input: number, w: number) => (states[input >> 1] as Uint8Array)[w] !== (input & 1);
	for (let w = 0; w < result.length; w++) {
		let n = 0;
		for (const input of inputs) if (holds(input, w)) n++;
		result[w] = Number(holdsWith(type, n, inputs.length, min, max, () => holds(inputs[0] as number, w)));
	}
}

/** Observations that origins tie together, with these; each of the others is one by itself. */
interface Factor {
	observations: number[];
	origins: number[];
}

const isMade = ({ state }: Observation['reports'][number]) => state !== 'notExamined';

function factorsOf({ observations, origins }: Resolved): Factor[] {
	const factors: Factor[] = origins.map((_, origin) => ({ observations: [], origins: [origin] }));
	observations.forEach(({ reports }, o) => {
		const said = new Set(reports.filter(isMade).map(({ origin }) => origin));
		const tied = factors.filter((factor) => factor.origins.some((origin) => said.has(origin)));
		const joined: Factor = {
			observations: [...tied.flatMap((factor) => factor.observations), o],
			origins: tied.flatMap((factor) => factor.origins)
		};
		for (const factor of tied) factors.splice(factors.indexOf(factor), 1);
		factors.push(joined);
	});
	return factors;
}

/** What answers exactly. */
export type Exact = Compiled | Worlds;

/** ln of what one piece makes of a world; undefined where it says nothing of any. */
type Piece = ((world: number) => number) | undefined;

/** Weighs all worlds of one tree again and again under changes, working out anew only what they touch. */
export class WorldWeigher {
	/** By world, after `log`: its weight relative to the heaviest. */
	readonly weights: Float64Array;
	total = 0;
	private readonly alone: Float64Array;
	/** Sum of the logarithms of all pieces but those that are zero, and how many are. */
	private readonly sum: Float64Array;
	private readonly zeros: Uint16Array;
	/** The zeros of what is given alone. */
	private readonly notGiven: Uint16Array;
	private readonly factors: Factor[];
	private readonly tables = new Map<Observation, Float64Array>();

	constructor(
		private readonly worlds: Worlds,
		private readonly tree: Resolved,
		private readonly withEvidence: boolean
	) {
		const { count } = worlds;
		this.weights = new Float64Array(count);
		this.sum = new Float64Array(count);
		this.zeros = new Uint16Array(count);
		this.notGiven = new Uint16Array(count);
		this.alone = this.priorOf(tree);
		this.factors = factorsOf(tree);
		if (!withEvidence) return;
		for (const { node, value } of tree.given) {
			const state = worlds.states[node] as Uint8Array;
			for (let w = 0; w < count; w++) if (state[w] !== Number(value)) this.zeros[w]!++;
		}
		this.notGiven.set(this.zeros);
		for (const factor of this.factors) this.add(this.sum, this.zeros, this.signs(factor, tree, {}), 1);
		tree.likelihoods.forEach((likelihood) => this.add(this.sum, this.zeros, this.densities(likelihood), 1));
	}

	/** ln of the weight of all worlds. @param tree  the same but for its numbers */
	log(tree: Resolved = this.tree, changes: Changes = {}): number {
		const { weights, worlds } = this;
		const isSame = tree.p === this.tree.p && tree.gates === this.tree.gates;
		weights.set(isSame ? this.alone : this.priorOf(tree));
		const touched = this.factors.filter((factor) => this.isTouched(factor, tree, changes));
		const densities = tree.likelihoods.flatMap((likelihood, l): { before: Likelihood; after: Piece }[] => {
			const before = this.tree.likelihoods[l] as Likelihood;
			const out = changes.withoutLikelihood?.(l) ?? false;
			const moved = changes.density?.likelihood === l ? changes.density : undefined;
			return this.withEvidence && (out || moved || likelihood !== before)
				? [{ before, after: out ? undefined : this.densities(likelihood, moved) }]
				: [];
		});
		// Where most of it changes it is sooner put together anew than taken apart.
		const fresh = 2 * touched.length > this.factors.length;
		const zeros = (fresh ? this.notGiven : this.zeros).slice();
		if (!fresh)
			for (let w = 0; w < weights.length; w++) weights[w] = (weights[w] as number) + (this.sum[w] as number);
		for (const factor of fresh ? this.factors : touched) {
			if (!fresh && this.withEvidence) this.add(weights, zeros, this.signs(factor, this.tree, {}), -1);
			const left = this.withEvidence ? changes : { ...changes, withoutObservation: () => true };
			this.add(weights, zeros, this.signs(factor, tree, left), 1);
		}
		if (fresh && this.withEvidence)
			for (const likelihood of this.tree.likelihoods) this.add(weights, zeros, this.densities(likelihood), 1);
		for (const { before, after } of densities) {
			this.add(weights, zeros, this.densities(before), -1);
			this.add(weights, zeros, after, 1);
		}
		for (const [node, value] of changes.held ?? []) {
			const state = worlds.states[node] as Uint8Array;
			for (let w = 0; w < zeros.length; w++) if (state[w] !== Number(value)) zeros[w]!++;
		}
		let most = -Infinity;
		for (let w = 0; w < weights.length; w++) {
			if (zeros[w] !== 0) weights[w] = -Infinity;
			most = Math.max(most, weights[w] as number);
		}
		this.total = 0;
		for (let w = 0; w < weights.length; w++)
			this.total += weights[w] = most > -Infinity ? Math.exp((weights[w] as number) - most) : 0;
		return most + Math.log(this.total);
	}

	/** After `log`. */
	probability(node: number): number {
		const state = this.worlds.states[node] as Uint8Array;
		let sum = 0;
		for (let w = 0; w < state.length; w++) if (state[w] === 1) sum += this.weights[w] as number;
		return Math.min(1, sum / this.total);
	}

	private add(sums: Float64Array, zeros: Uint16Array, piece: Piece, sign: 1 | -1) {
		if (!piece) return;
		for (let w = 0; w < sums.length; w++) {
			const log = piece(w);
			if (log === -Infinity) zeros[w] = (zeros[w] as number) + sign;
			else sums[w] = (sums[w] as number) + sign * log;
		}
	}

	private isTouched(factor: Factor, tree: Resolved, changes: Changes): boolean {
		const { alsoAbsent, origin, withoutObservation } = changes;
		return (
			factor.observations.some(
				(o) =>
					o === alsoAbsent ||
					(this.withEvidence &&
						((withoutObservation?.(o) ?? false) || tree.observations[o] !== this.tree.observations[o]))
			) ||
			factor.origins.some(
				(own) => own === origin?.origin || (this.withEvidence && tree.origins[own] !== this.tree.origins[own])
			)
		);
	}

	/** By world, ln of its weight before anything is known. */
	private priorOf({ p, gates, eventCount }: Resolved): Float64Array {
		const { states, choices, count } = this.worlds;
		const logs = new Float64Array(count);
		for (const { nodes, chance, options } of choices) {
			const [first = 0] = nodes;
			const { inputs, rows } = chance
				? (gates[first - eventCount] as ResolvedGate)
				: { inputs: [], rows: [] };
			const none = options > nodes.length ? 1 - nodes.reduce((sum, node) => sum + (p[node] as number), 0) : 0;
			for (let w = 0; w < count; w++) {
				let weight = none;
				if (chance) {
					// Rows in the order TT, TF, FT, FF.
					const row = inputs.reduce(
						(at, input) => 2 * at + Number(states[input >> 1]?.[w] === (input & 1)),
						0
					);
					const isTrue = rows[row] ?? 0;
					weight = states[first]?.[w] === 1 ? isTrue : 1 - isTrue;
				} else for (const node of nodes) if (states[node]?.[w] === 1) weight = p[node] as number;
				logs[w] = (logs[w] as number) + Math.log(weight);
			}
		}
		return logs;
	}

	/** The density of the first scenario that is true, relative to the greatest. */
	private densities({ scenarios }: Likelihood, moved?: { scenario: number; value: number }): Piece {
		const densities = scenarios.map(({ density }, i) => (moved?.scenario === i ? moved.value : density));
		const most = Math.max(...densities);
		const logs = densities.map((density) => Math.log(density / most));
		const { states } = this.worlds;
		return (w) =>
			logs[
				scenarios.findIndex(({ event }) => event === undefined || states[event >> 1]?.[w] !== (event & 1))
			] as number;
	}

	/** Written down once for the signs of the tree itself, where that takes little room. */
	private logsOf(observation: Observation): (w: number, to: Signs) => void {
		const { worlds, tables, tree } = this;
		const logs = signsIn(worlds, observation);
		if (worlds.count * tree.observations.length > MOST_WRITTEN || !tree.observations.includes(observation))
			return logs;
		let table = tables.get(observation);
		if (!table) {
			table = new Float64Array(2 * worlds.count);
			tables.set(observation, table);
			const both: Signs = [0, 0];
			for (let w = 0; w < worlds.count; w++) {
				logs(w, both);
				table.set(both, 2 * w);
			}
		}
		const written = table;
		return (w, to) => {
			to[0] = written[2 * w] as number;
			to[1] = written[2 * w + 1] as number;
		};
	}

	/** What some observations and the origins that tie them together make of a world. */
	private signs({ observations, origins }: Factor, tree: Resolved, changes: Changes): Piece {
		const cases = casesOf(observations, origins, tree, changes);
		const used = observations.flatMap((o, i) =>
			cases.some(({ signs }) => signs[i] !== undefined)
				? [{ i, logs: this.logsOf(tree.observations[o] as Observation) }]
				: []
		);
		if (used.length === 0 && cases.length === 1 && cases[0]?.log === 0) return undefined;
		const both = observations.map((): Signs => [0, 0]);
		return (w) => {
			for (const { i, logs } of used) logs(w, both[i] as Signs);
			let [most, sum] = [-Infinity, 0];
			for (const { log, signs } of cases) {
				let all = log;
				for (const { i } of used) if (signs[i] !== undefined) all += (both[i] as Signs)[signs[i] ? 0 : 1];
				if (all === -Infinity) continue;
				if (all > most) [sum, most] = [sum * Math.exp(most - all) + 1, all];
				else sum += Math.exp(all - most);
			}
			return most === -Infinity ? -Infinity : most + Math.log(sum);
		};
	}
}

/** ln of the probability that a sign is there, and that it is not. */
type Signs = [present: number, absent: number];

function signsIn({ states }: Worlds, { baseRate, links }: Observation): (w: number, to: Signs) => void {
	const from = links.map((link) => states[link.from >> 1] as Uint8Array);
	const negated = links.map((link) => link.from & 1);
	return (w, to) => {
		let [isThere, isNot] = [baseRate, 1 - baseRate];
		for (let k = 0; k < links.length; k++) {
			if ((from[k] as Uint8Array)[w] === negated[k]) continue;
			const { p } = links[k] as Observation['links'][number];
			isThere += p * (1 - isThere);
			isNot *= 1 - p;
		}
		to[0] = Math.log(isThere);
		to[1] = Math.log(isNot);
	};
}

/** Which origins are genuine: ln of its probability, and by observation whether the sign was there, as far as that is said. */
interface Case {
	log: number;
	signs: (boolean | undefined)[];
}

function casesOf(
	observations: readonly number[],
	origins: readonly number[],
	tree: Resolved,
	{ withoutObservation, alsoAbsent, origin: held }: Changes
): Case[] {
	const isOut = (o: number) => withoutObservation?.(o) ?? false;
	const kept = {
		...tree,
		observations: tree.observations.map((own, o) => (isOut(o) ? { ...own, reports: [] } : own))
	};
	const cases: Case[] = [];
	for (let bits = 0; bits < 2 ** origins.length; bits++) {
		const isGenuine = (origin: number) => origin < 0 || ((bits >> origins.indexOf(origin)) & 1) === 1;
		let weight = 1;
		for (const origin of origins) {
			const { reliability, saysAnyway } = tree.origins[origin] as Resolved['origins'][number];
			const own = held?.origin === origin ? held : undefined;
			if (own && own.genuine !== isGenuine(origin)) weight = 0;
			if (isGenuine(origin)) weight *= reliability;
			else {
				const said = new Set([
					...saidBy(kept, origin),
					...(own?.says === undefined ? [] : [own.says ? 'present' : 'absent'])
				]);
				const anyway =
					said.size === 0 ? 1 : said.size > 1 ? 0 : said.has('present') ? saysAnyway : 1 - saysAnyway;
				weight *= (1 - reliability) * anyway;
			}
		}
		let clashes = false;
		const signs = observations.map((o) => {
			const said = new Set(
				(kept.observations[o] as Observation).reports
					.filter((report) => isMade(report) && isGenuine(report.origin))
					.map(({ state }) => state === 'present')
			);
			if (o === alsoAbsent) said.add(false);
			clashes ||= said.size > 1;
			return [...said][0];
		});
		if (weight > 0 && !clashes) cases.push({ log: Math.log(weight), signs });
	}
	return cases;
}
