/** How causes stand once the states of a sample are weighed anew, as far as the sample can tell. */
import type { Moved, Stand } from './stands';
import {
	CLEAR,
	LEAST_KEPT,
	LEAST_SAMPLES,
	notCertain,
	UNSEEN,
	type Means,
	type SampledStates
} from './sampled-states';
import { sideOf } from './settled';

/** The sample with the weight of each state multiplied by a ratio. */
export interface Reweighed {
	means: Means;
	/** Of such means the mean ratio, and that of the states in which each cause is true. */
	total: (means: Float64Array) => number;
	of: (means: Float64Array) => Float64Array;
	/** Mean of the squared ratio. */
	squared: number;
	/** The least and the greatest ratio that any state could have, seen or not. */
	least: number;
	most: number;
}

type SampledStand = Stand & { error: number };

/** Causes among which one leads. */
export class SampledStanding {
	/** By state, the causes that are true in it. */
	readonly trueIn: readonly number[][];
	readonly now: SampledStand;
	/** Index of the leader. */
	readonly first: number;
	readonly settled: string[];
	/** Of the sample as it is: one, one, and the share of each cause. */
	readonly asIs: Means;
	private readonly samples: number;
	private readonly sides: number[] = [];

	constructor(
		readonly states: SampledStates,
		readonly nodes: readonly number[]
	) {
		this.samples = states.all.effectiveSampleSize;
		this.trueIn = states.map((_, { slots }) => nodes.flatMap((node, i) => (slots[node] === 1 ? [i] : [])));
		const asIs = this.reweigh(() => 1, 1, 1);
		this.asIs = asIs.means;
		const { p, error } = this.shares(asIs);
		this.sides = p.map((share, i) => sideOf(share, CLEAR * (error[i] as number)));
		this.settled = nodes.flatMap((_, i) => (this.sides[i] === 0 ? [] : [this.name(i)]));
		this.now = this.stand(asIs);
		this.first = this.leading(asIs);
	}

	name(cause: number): string {
		return this.states.tree.ids[this.nodes[cause] as number] as string;
	}

	/** @param ratio  what is made of a state's weight, by its count through all populations */
	reweigh(ratio: (at: number) => number, least: number, most: number): Reweighed {
		const means = this.states.read(2 + this.nodes.length, (_, sums, at) => {
			const r = ratio(at);
			sums[0] = (sums[0] as number) + r;
			sums[1] = (sums[1] as number) + r * r;
			for (const i of this.trueIn[at] as number[]) sums[2 + i] = (sums[2 + i] as number) + r;
		});
		const squared = means.all[1] as number;
		return { means, total: ([r = 0]) => r, of: (m) => m.subarray(2), squared, least, most };
	}

	/**
	 * Whether enough of the sample counts. Half a sample of each extreme is added, so that what no state happens to
	 * show is not taken for impossible.
	 */
	counts({ means, total, squared, least, most }: Reweighed): boolean {
		const n = this.samples;
		const sum = n * total(means.all) + UNSEEN * (least + most);
		const squares = n * squared + UNSEEN * (least ** 2 + most ** 2);
		const kept = sum ** 2 / (squares * (n + 2 * UNSEEN));
		return sum > 0 && kept >= LEAST_KEPT && kept * n >= LEAST_SAMPLES;
	}

	leading({ means, of }: Reweighed): number {
		const weights = of(means.all);
		return weights.indexOf(Math.max(...weights));
	}

	/** Each cause's probability and how far the leader is before it, with their standard errors. */
	private shares(reweighed: Reweighed) {
		const { means, total, of, most } = reweighed;
		const first = this.leading(reweighed);
		const { value, error } = means.tell((m) => {
			const all = total(m);
			const shares = Array.from(of(m), (weight) => weight / all);
			return [...shares, ...shares.map((share) => (shares[first] as number) - share)];
		});
		const unseen = (UNSEEN * most) / (this.samples * total(means.all));
		const errors = error.map((own) => Math.hypot(own, unseen));
		const size = this.nodes.length;
		return {
			p: value.slice(0, size),
			error: errors.slice(0, size),
			lead: value.slice(size),
			leadError: errors.slice(size)
		};
	}

	stand(reweighed: Reweighed, shares = this.shares(reweighed)): SampledStand {
		const { p, error, lead, leadError } = shares;
		const first = this.leading(reweighed);
		const clear = (i: number) =>
			i === first ? Infinity : (lead[i] as number) - CLEAR * (leadError[i] as number);
		const rival = p.reduce((closest, _, i) => (clear(i) < clear(closest) ? i : closest), first);
		return {
			leader: this.name(first),
			leaderAt: notCertain(p[first] as number, this.samples),
			error: error[first] as number,
			...(clear(rival) < 0 ? { close: this.name(rival) } : {}),
			unsettled: p.flatMap((share, i) => {
				const side = this.sides[i];
				return side === 0 || sideOf(share, CLEAR * (error[i] as number)) === side ? [] : [this.name(i)];
			})
		};
	}

	/**
	 * @param own  the cause whose starting weight it is, or -1
	 * @returns null where too few of the sample count
	 */
	moved(value: number, reweighed: Reweighed, own: number): Moved | null {
		if (!this.counts(reweighed)) return null;
		const shares = this.shares(reweighed);
		const { [own]: p } = shares.p;
		return {
			value,
			...(p === undefined ? {} : { own: notCertain(p, this.samples), ownError: shares.error[own] as number }),
			...this.stand(reweighed, shares)
		};
	}

	/** Standard error of the place at which a rival catches up with the leader, from how fast it comes nearer there. */
	errorOfCrossing(line: (value: number) => Reweighed, to: number, before: number, rival: number): number {
		const at = (value: number) => {
			const { means, total, of } = line(value);
			const told = means.tell((m) => {
				const weights = of(m);
				return [((weights[this.first] as number) - (weights[rival] as number)) / total(m)];
			});
			return { lead: told.value[0] as number, error: told.error[0] as number };
		};
		const [here, there] = [at(to), at(before)];
		return Math.abs((here.error * (to - before)) / (here.lead - there.lead));
	}
}
