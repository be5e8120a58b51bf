/**
 * What an observation not made is expected to tell, read from a sample: by joint state of the branches the share of the
 * sample, and how probably the observation would find no sign in its states, for which there is a closed form. Such
 * information is too large by what the sample happens to differ, so its bias is taken off (jackknife).
 */
import { saidBy, type Chain } from './chain';
import {
	MAX_BRANCHES,
	NEGLIGIBLE,
	onlyLeading,
	unmade,
	type InformationResult,
	type ObservationValue
} from './looks';
import { nameOf } from './literal';
import type { Resolved } from './resolve';
import { CLEAR, LEAST_SAMPLES, UNSEEN, type Means, type SampledStates } from './sampled-states';
import { entropy, isSettled } from './settled';
import type { Refusable } from './weighing';

/** @param variables  literals of the branches that can be true or false */
export function sampledInformation(
	states: SampledStates,
	variables: readonly number[]
): Refusable<InformationResult> {
	const { tree, all } = states;
	if (!(all.log > -Infinity))
		return { ok: false, problem: 'no state of this tree was found that allows all of the evidence' };
	const name = (literal: number) => nameOf(tree, literal);
	const stands = variables.map((literal) => {
		const p = all.p[literal >> 1] as number;
		return literal & 1 ? 1 - p : p;
	});
	const leading = variables[stands.indexOf(Math.max(...stands))] as number;
	const about = variables.length > MAX_BRANCHES ? [leading] : variables;
	// Joint states that the sample has seen, in the order in which it came to them.
	const places = new Map<number, number>();
	const joints = states.map((chain) => {
		const joint = about.reduce((bits, literal, i) => (chain.holds(literal) ? bits | (1 << i) : bits), 0);
		if (!places.has(joint)) places.set(joint, places.size);
		return joint;
	});
	const seen = [...places.keys()];
	const count = seen.length;
	const before = states.read(count, (_, sums, at) => {
		const place = places.get(joints[at] as number) as number;
		sums[place] = (sums[place] as number) + 1;
	});
	const start = before.tell((means) => [entropy([...means])]);
	const observations = unmade(tree).map(({ id, observation, origin }) => {
		const absent = absenceOf(tree, observation, origin);
		// By joint state its share and that of it without a sign; then the squares of both outcomes.
		const means = states.read(2 * count + 2, (chain, sums, at) => {
			const place = places.get(joints[at] as number) as number;
			const p = absent(chain);
			for (const [k, x] of [
				[place, 1],
				[count + place, p],
				[2 * count, (1 - p) ** 2],
				[2 * count + 1, p * p]
			] as const)
				sums[k] = (sums[k] as number) + x;
		});
		return { id, ...valueOf(means, seen, about.map(name), all.effectiveSampleSize) };
	});
	observations.sort((a, b) => b.bits - a.bits);
	return {
		ok: true,
		about: about.map(name),
		note: variables.length > MAX_BRANCHES ? onlyLeading(variables.length, name(leading)) : null,
		entropy: Math.max(0, (start.value[0] as number) - (start.bias[0] as number)),
		entropyError: Math.hypot(start.error[0] as number, UNSEEN / all.effectiveSampleSize),
		observations
	};
}

/** @returns how probably the observation would be reported absent in a state */
export function absenceOf(tree: Resolved, observation: number, origin: number): (chain: Chain) => number {
	const { reliability, saysAnyway } = tree.origins[origin] ?? { reliability: 1, saysAnyway: 0 };
	const said = saidBy(tree, origin);
	return (chain) => {
		// Another report that can be relied on knows of the sign itself.
		const known = chain.said(observation);
		const none = known === undefined ? chain.noSign(observation) : known === false ? 1 : 0;
		if (origin < 0) return none;
		if (said.size === 0) return reliability * none + (1 - reliability) * (1 - saysAnyway);
		// What it says anyway it has said already.
		return chain.isGenuine(origin) ? none : said.has('present') ? 0 : 1;
	};
}

/**
 * @param means  by joint state its share and that of it without a sign; then the squares of presence and absence
 * @param seen  the joint states: bit i says whether branch i is true
 */
function valueOf(
	means: Means,
	seen: readonly number[],
	branches: readonly string[],
	samples: number
): Omit<ObservationValue, 'id'> {
	const count = seen.length;
	const { value, error, bias } = means.tell((m) => {
		const all = [...m.subarray(0, count)];
		const absent = [...m.subarray(count, 2 * count)];
		const present = all.map((weight, i) => Math.max(0, weight - (absent[i] as number)));
		const of = (weights: readonly number[]) => {
			const p = weights.reduce((a, b) => a + b, 0);
			const marginal = (bit: number) =>
				weights.reduce((sum, weight, i) => (((seen[i] as number) >> bit) & 1 ? sum + weight : sum), 0);
			return {
				p,
				entropy: p * entropy(weights),
				branches: branches.map((_, i) => (p > 0 ? marginal(i) / p : 0))
			};
		};
		const [there, not] = [of(present), of(absent)];
		return [entropy(all) - there.entropy - not.entropy, there.p, ...there.branches, ...not.branches];
	});
	const n = branches.length;
	const [bits = 0, p = 0] = value;
	/** What no state of the sample shows tells no more than how much rarer it makes the rarer outcome. */
	const unseen = (UNSEEN / samples) * Math.log2(1 / Math.max(NEGLIGIBLE, Math.min(p, 1 - p)));
	const outcome = (from: number, share: number, square: number) => {
		/** Independent samples that speak of this outcome (Kish). */
		const counted = (samples * share ** 2) / square;
		if (!(share > NEGLIGIBLE && counted >= LEAST_SAMPLES)) return null;
		const errors = error.slice(from, from + n).map((own) => Math.hypot(own, UNSEEN / counted));
		const p = value.slice(from, from + n);
		return {
			share,
			error: Math.max(0, ...errors),
			p: Object.fromEntries(branches.map((branch, i) => [branch, p[i] as number])),
			settles: [0, CLEAR, -CLEAR].map((by) => isSettled(p, (i) => by * (errors[i] as number)))
		};
	};
	const outcomes = [
		outcome(2, p, means.all[2 * count] as number),
		outcome(2 + n, 1 - p, means.all[2 * count + 1] as number)
	] as const;
	const [there, not] = outcomes;
	/** An outcome that the sample says too little of may settle, and counts among those that may. */
	const settled = (which: number, untold: boolean) =>
		outcomes.reduce((sum, own, i) => {
			const counts = own ? own.settles[which] : untold;
			return counts ? sum + (i === 0 ? p : 1 - p) : sum;
		}, 0);
	return {
		bits: Math.max(0, bits - (bias[0] as number)),
		probabilityPresent: p,
		probabilitySettles: settled(0, false),
		ifPresent: there?.p ?? null,
		ifAbsent: not?.p ?? null,
		error: {
			bits: Math.hypot(error[0] as number, unseen),
			probabilityPresent: Math.hypot(error[1] as number, (UNSEEN / samples) * Math.max(p, 1 - p)),
			ifPresent: there?.error ?? 0,
			ifAbsent: not?.error ?? 0,
			settles: [settled(1, false), settled(2, true)]
		}
	};
}
