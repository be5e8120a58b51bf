/**
 * What would change the answer. The weight of all that was found together with any event is linear in each single
 * number (a starting weight, a link, a base rate, a density) while the others stay: two re-weightings give it for every
 * value of that number (sensitivity function; Castillo, Gutiérrez & Hadi 1997, from memory), and the value at which
 * one cause overtakes another is the root of a linear equation. Where links assumed from what nobody has thought of
 * follow the number, it is a square in a link, three re-weightings, and searched in a starting weight. Nothing is rebuilt.
 */
import { AssumedLinks, type Assumed } from './assumed-links';
import { assumptionsOf, type Assumption, type Movable } from './assumptions';
import { afterEvidence, beforeEvidence, exactFor } from './exact';
import type { Exact } from './worlds';
import type { TreeModel } from './model';
import { resolve, type Resolved } from './resolve';
import { sampledRobustness } from './sampled-robustness';
import {
	change,
	LEAST,
	summary,
	type Moved,
	type Overturn,
	type Robustness,
	type Stand,
	type Swept
} from './stands';
import { sideOf } from './settled';
import { statesFor } from './weigh';
import type { Refusable, WeighOptions } from './weighing';
import type { Changes, Weigher } from './weights';

export interface RobustnessOptions extends WeighOptions {
	/** The causes among which one leads; by default every basic and undeveloped event. */
	among?: readonly string[];
	/** Links that follow the number moved (not with a sampled tree, where they stay). */
	assumed?: Assumed | undefined;
}

/** What is left of a weight once it should have vanished. */
const ROUNDING = 1e-12;

/** Decibans: a search outward stops here, at the last at a factor of ten thousand. */
const STOPS = [10, 40];
/** By a hair, where two stand equal now. */
const HAIR = 1e-4;
const MOST_TRIES = 60;

/** Sweeps every assumption and leaves every piece of evidence out in turn. The model must have passed `checkTree`. */
export function robustness(model: TreeModel, options: RobustnessOptions = {}): Refusable<Robustness> {
	const tree = resolve(model);
	const among = options.among ?? causesOf(model);
	const nodes = among
		.map((id) => tree.index.get(id) ?? -1)
		.filter((node) => (tree.house[node] ?? null) === null);
	const exact = exactFor(tree, options);
	if (!exact) return sampledRobustness(statesFor(tree, options), model, nodes);
	const follows = options.assumed && new AssumedLinks(tree, beforeEvidence(exact, tree), options.assumed);
	const standing = new Standing(tree, exact, nodes, follows);
	const { now } = standing;
	if (nodes.length === 0 || now.total === 0)
		return {
			ok: false,
			problem: nodes.length === 0 ? 'the tree has no cause' : 'the evidence is impossible under this tree'
		};
	const { leader, leaderAt } = standing.stand(now);
	const settled = nodes
		.filter((_, i) => sideOf((now.of[i] as number) / now.total) !== 0)
		.map((n) => tree.ids[n] as string);
	const assumptions = assumptionsOf(model, tree).map((movable) => standing.sweep(movable));
	return { ok: true, ...summary({ leader, leaderAt, settled }, assumptions), evidence: standing.leaveOut() };
}

const causesOf = ({ events }: TreeModel) =>
	events.filter(({ kind = 'basic' }) => kind === 'basic' || kind === 'undeveloped').map(({ id }) => id);

/** Weight of all that was found, and with each cause true; relative to how it stands now. */
interface Joint {
	total: number;
	of: Float64Array;
}

class Standing {
	readonly now: Joint;
	private readonly before: Weigher;
	private readonly after: Weigher;
	private readonly log: number;
	private readonly logPrior: number;

	constructor(
		private readonly tree: Resolved,
		exact: Exact,
		private readonly nodes: readonly number[],
		private readonly assumed?: AssumedLinks
	) {
		this.before = beforeEvidence(exact, tree, []);
		this.after = afterEvidence(exact, tree, nodes);
		this.logPrior = this.before.log(tree);
		this.log = this.after.log(tree);
		this.now = this.joint(tree, false);
	}

	private joint(tree: Resolved, rescales: boolean, changes: Changes = {}): Joint {
		const log = this.after.log(tree, changes) - this.log;
		const all = rescales ? this.before.log(tree) - this.logPrior : 0;
		const logMost = tree.likelihoods.reduce((sum, { scenarios }, l) => {
			const before = this.tree.likelihoods[l]?.scenarios ?? scenarios;
			const most = (of: typeof scenarios) => Math.log(Math.max(...of.map(({ density }) => density)));
			return scenarios === before ? sum : sum + most(scenarios) - most(before);
		}, 0);
		const total = Math.exp(log - all + logMost);
		if (!(total > 0)) return { total: 0, of: new Float64Array(this.nodes.length) };
		const of = this.after.probabilities().map((p) => total * p);
		return { total, of };
	}

	stand({ total, of }: Joint): Stand {
		const best = of.indexOf(Math.max(...of));
		const unsettled = this.nodes.flatMap((node, i) => {
			const before = this.now === undefined ? 0 : sideOf((this.now.of[i] as number) / this.now.total);
			return before !== 0 && sideOf((of[i] as number) / total) !== before
				? [this.tree.ids[node] as string]
				: [];
		});
		return {
			leader: this.tree.ids[this.nodes[best] as number] as string,
			leaderAt: Math.min(1, (of[best] as number) / total),
			unsettled
		};
	}

	sweep(movable: Movable): Swept {
		const { at: _at, far, rescales, linear, lower, higher, ...assumption } = movable;
		const { value } = assumption;
		const { at, degree } = this.assumed?.follow(movable) ?? { at: movable.at, degree: linear ? 1 : null };
		const { now } = this;
		const other = degree === null ? now : this.joint(at(far), rescales);
		const middle = degree === 2 ? this.joint(at((value + far) / 2), rescales) : now;
		const known = new Map<string, Joint>();
		const along = (x: number): Joint => {
			if (degree === null) {
				const key = x.toPrecision(14);
				const joint = known.get(key) ?? this.joint(at(x), rescales);
				known.set(key, joint);
				return joint;
			}
			const share = (x - value) / (far - value);
			const [a, m, b] =
				degree === 1
					? [1 - share, 0, share]
					: [(1 - share) * (1 - 2 * share), 4 * share * (1 - share), share * (2 * share - 1)];
			const mix = (here: number, half: number, there: number) => Math.max(0, a * here + m * half + b * there);
			return {
				total: mix(now.total, middle.total, other.total),
				of: now.of.map((here, i) => mix(here, middle.of[i] as number, other.of[i] as number))
			};
		};
		const own =
			assumption.kind === 'weight' ? this.nodes.indexOf(this.tree.index.get(assumption.id) ?? -1) : -1;
		const moved = (to: number | null): Moved | null => {
			if (to === null) return null;
			const joint = along(to);
			if (joint.total === 0) return null;
			const { [own]: weight } = joint.of;
			return {
				value: to,
				...(weight === undefined ? {} : { own: Math.min(1, weight / joint.total) }),
				...this.stand(joint)
			};
		};
		return {
			...assumption,
			lower: moved(lower),
			higher: moved(higher),
			overturns: degree === 1 ? this.overturn(assumption, other, far) : this.searchOverturn(assumption, along)
		};
	}

	/** The nearest value at which some other cause catches up with the leader. */
	private overturn({ kind, value }: Assumption, other: Joint, far: number): Overturn | null {
		const { now } = this;
		const first = now.of.indexOf(Math.max(...now.of));
		const most = Math.max(now.total, other.total);
		const isNothing = (weight: number) => Math.abs(weight) <= ROUNDING * most;
		const lead = (joint: Joint, i: number) => (joint.of[first] as number) - (joint.of[i] as number);
		let best: Overturn | null = null;
		this.nodes.forEach((node, i) => {
			if (i === first) return;
			const [here, there] = [lead(now, i), lead(other, i)];
			// Their distance does not hang on this number.
			if (isNothing(here - there)) return;
			// Two that stand equal now part at the least change.
			const level = isNothing(here);
			const to = level ? value : value + ((far - value) * here) / (here - there);
			const size = level ? 0 : Math.abs(change(kind, value, to));
			if (!(size < (best?.decibans ?? Infinity))) return;
			// Where the leader itself would be impossible, rounding alone makes others equal to it.
			const [a, b] = [now.of[first] as number, other.of[first] as number];
			if (!(a + ((to - value) / (far - value)) * (b - a) > ROUNDING * Math.max(a, b))) return;
			best = { to, leader: this.tree.ids[node] as string, decibans: size };
		});
		return best;
	}

	/** The same where it is not linear: outward from stop to stop, then by false position. */
	private searchOverturn({ value }: Assumption, along: (x: number) => Joint): Overturn | null {
		const { now } = this;
		const first = now.of.indexOf(Math.max(...now.of));
		const start = value === 0 ? LEAST : value === 1 ? 1 - LEAST : value;
		const at = (decibans: number) => {
			const odds = (start / (1 - start)) * 10 ** (decibans / 10);
			return odds / (1 + odds);
		};
		/** Who is highest of the others, and by how much above the first. */
		const look = (decibans: number) => {
			const { total, of } = along(at(decibans));
			const rival = of.reduce((best, w, i) => (i !== first && !(w <= (of[best] ?? -1)) ? i : best), -1);
			const above = ((of[rival] ?? 0) - (of[first] as number)) / total;
			return { rival, above: total > 0 && rival >= 0 ? above : -1 };
		};
		const level = now.of.some((w, i) => i !== first && (now.of[first] as number) - w <= ROUNDING * now.total);
		const stops = level ? [HAIR, ...STOPS] : STOPS;
		for (const [i, stop] of stops.entries())
			for (const side of [1, -1]) {
				const beyond = look(side * stop);
				if (!(beyond.above > ROUNDING)) continue;
				const { decibans, rival } =
					stop === HAIR
						? { decibans: 0, rival: beyond.rival }
						: crossing((to) => look(side * to), stops[i - 1] ?? 0, stop);
				const leader = this.tree.ids[this.nodes[rival] as number] as string;
				return { to: decibans === 0 ? value : at(side * decibans), leader, decibans };
			}
		return null;
	}

	leaveOut(): Robustness['evidence'] {
		const { tree } = this;
		const without = (changes: Changes) => this.stand(this.joint(tree, false, changes));
		return [
			...tree.observations.flatMap(({ reports }, o) => {
				const made = reports.find(({ state }) => state !== 'notExamined');
				const stand = made && without({ withoutObservation: (other) => other === o });
				return stand ? [{ id: made.id, kind: 'finding' as const, ...stand }] : [];
			}),
			...tree.likelihoods.map(({ id }, l) => ({
				id,
				kind: 'likelihood' as const,
				...without({ withoutLikelihood: (other) => other === l })
			}))
		];
	}
}

/** Where a rival catches up, by false position (Illinois): behind at the first place, above at the second. */
function crossing(look: (at: number) => { rival: number; above: number }, near: number, far: number) {
	let [low, high] = [
		{ at: near, ...look(near) },
		{ at: far, ...look(far) }
	];
	let [below, above] = [low.above, high.above];
	for (let tries = 0, last = 0; tries < MOST_TRIES && high.at - low.at > ROUNDING; tries++) {
		const at = (low.at * above - high.at * below) / (above - below);
		const tried = { at, ...look(at) };
		if (Math.abs(tried.above) < ROUNDING) return { decibans: at, rival: tried.rival };
		const side = Math.sign(tried.above);
		if (side > 0) {
			if (side === last) below /= 2;
			[high, above] = [tried, tried.above];
		} else {
			if (side === last) above /= 2;
			[low, below] = [tried, tried.above];
		}
		last = side;
	}
	return { decibans: high.at, rival: high.rival };
}
