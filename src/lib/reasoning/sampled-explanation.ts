/**
 * Whole explanations of a tree that is sampled. How probable one state of all events is follows exactly but for one
 * number, how probable all that is known is, and that the sample tells. It also shows where to look: from the states
 * in it that weigh most the search goes on, one event changed or two exchanged, as long as that weighs more.
 */
import { Chain, LOG_ZERO, type State } from './chain';
import { mustBeOne } from './compile';
import { beforeEvidence } from './exact';
import type { Resolved } from './resolve';
import { meanLog } from './sample';
import { effortOf, MOST_SCATTER, notCertain, type SampledStates, UNSEEN } from './sampled-states';
import { bare, startFor } from './weigh';
import type { Explanations, Refusable, WeighOptions } from './weighing';

const refused = (why: string) =>
	({ ok: false, problem: `the tree with its evidence is too large to search exactly, and ${why}` }) as const;

export function sampledExplanations(
	states: SampledStates,
	count: number,
	options: WeighOptions
): Refusable<Explanations> {
	const { tree, all } = states;
	if (!(all.log > -Infinity))
		return { ok: false, problem: 'no state of this tree was found that allows all of the evidence' };
	if (tree.gates.some(({ type }) => type === 'table')) return refused('it has gates of chance');
	if (tree.observations.some(({ reports }) => new Set(reports.map(({ origin }) => origin)).size > 1))
		return refused('one of its signs is told by several sources');
	const { particles } = effortOf(tree, options);
	const scatter = Math.hypot(all.logStandardError, UNSEEN / particles);
	if (!(scatter <= MOST_SCATTER))
		return refused('how probable all that is known is scatters by more than a factor of two');
	const { eventCount } = tree;
	const weights = new StateWeights(tree);
	states.map((_, { slots }) => weights.of(slots.subarray(0, eventCount)));
	for (const [events] of weights.heaviest(count)) climb(tree, weights, events);
	const known = logKnown(tree, options) + all.log;
	return {
		ok: true,
		proven: false,
		list: weights.heaviest(count).map(([events, log]) => {
			const p = Math.exp(log - known);
			const probability = p < 1 ? p : notCertain(1, particles);
			return {
				happened: tree.ids.slice(0, eventCount).filter((_, event) => events[event] === 1),
				probability,
				error: probability * scatter
			};
		})
	};
}

/** ln of the probability of what is given, where the sample began from it. */
function logKnown(tree: Resolved, options: WeighOptions): number {
	const start = startFor(tree, options);
	if (!start) return 0;
	const held = new Map(tree.given.map(({ node, value }) => [node, value]));
	return beforeEvidence(start, bare(tree), []).log(bare(tree), { held });
}

/** Changes one event, or exchanges two where that no longer helps, as long as the state weighs more. */
function climb({ eventCount, house, p }: Resolved, weights: StateWeights, from: Uint8Array) {
	const free = Array.from({ length: eventCount }, (_, event) => event).filter(
		(event) => house[event] === undefined && (p[event] as number) > 0 && (p[event] as number) < 1
	);
	let here = from;
	let most = weights.of(here);
	const tries = (...flipped: number[]): boolean => {
		const next = here.slice();
		for (const event of flipped) next[event] = 1 - (next[event] as number);
		const log = weights.of(next);
		if (log <= most) return false;
		[here, most] = [next, log];
		return true;
	};
	const isOn = (event: number) => here[event] === 1;
	const changed = () => free.some((event) => tries(event));
	const exchanged = () => free.filter(isOn).some((on) => free.some((off) => !isOn(off) && tries(on, off)));
	while (changed() || exchanged());
}

/** Weighs states of all events, all that is summed out summed out, and remembers them. */
class StateWeights {
	private readonly known = new Map<string, number>();
	private readonly chain: Chain;
	/** All sources genuine, and none. */
	private readonly states: [State, State];

	constructor(private readonly tree: Resolved) {
		this.chain = new Chain(tree, () => 0, tree.given, true);
		this.states = [this.chain.newState(), this.chain.newState()];
	}

	/** ln of its probability together with all that is known; -Infinity where that rules it out. */
	of(events: Uint8Array): number {
		const key = String.fromCharCode(...events);
		let log = this.known.get(key);
		if (log === undefined) this.known.set(key, (log = this.logPrior(events) + this.logEvidence(events)));
		return log;
	}

	/** The heaviest states so far. */
	heaviest(count: number): [events: Uint8Array, log: number][] {
		return [...this.known]
			.filter(([, log]) => log > -Infinity)
			.sort(([, a], [, b]) => b - a)
			.slice(0, count)
			.map(([key, log]) => [Uint8Array.from(key, (character) => character.charCodeAt(0)), log]);
	}

	private logPrior(events: Uint8Array): number {
		const { p, house, groupOf, exclusive } = this.tree;
		let log = 0;
		for (const [event, probability] of p.entries())
			if (groupOf[event] === -1 && house[event] === undefined)
				log += Math.log(events[event] === 1 ? probability : 1 - probability);
		for (const group of exclusive) {
			const on = group.filter((event) => events[event] === 1);
			const rest = 1 - group.reduce((sum, event) => sum + (p[event] as number), 0);
			if (on.length > 1 || (on.length === 0 && mustBeOne(this.tree, group))) return -Infinity;
			log += Math.log(on.length === 1 ? (p[on[0] as number] as number) : rest);
		}
		return log;
	}

	private logEvidence(events: Uint8Array): number {
		const { observations, origins, likelihoods, given } = this.tree;
		const [genuine, not] = this.states.map((state, i) => {
			state.slots.set(events);
			this.chain.use(state).settle(() => i === 0);
			// What is impossible has no finite logarithm here, where nothing is tempered.
			return state.factors.map((factor) => (factor <= LOG_ZERO ? -Infinity : factor));
		}) as [Float64Array, Float64Array];
		const first = genuine.length - given.length;
		for (let i = first; i < genuine.length; i++) if (genuine[i] !== 0) return -Infinity;
		let log = 0;
		for (let l = first - likelihoods.length; l < first; l++) log += genuine[l] as number;
		const told = origins.map(({ reliability }) => ({
			genuine: Math.log(reliability),
			not: Math.log1p(-reliability)
		}));
		observations.forEach(({ reports: [report] }, o) => {
			const origin = told[report?.origin ?? -1];
			if (!origin) log += genuine[o] as number;
			else {
				origin.genuine += genuine[o] as number;
				origin.not += not[o] as number;
			}
		});
		told.forEach((origin, i) => {
			const anyway = origin.not + (not[observations.length + i] as number);
			log += meanLog([origin.genuine, anyway]) + Math.LN2;
		});
		return log;
	}
}
