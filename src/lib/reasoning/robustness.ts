/**
 * What would change the answer. The weight of all that was found together with any event is linear in each single
 * number (a starting weight, a link, a base rate, a density) while the others stay: two re-weightings give it for every
 * value of that number (sensitivity function; Castillo, Gutiérrez & Hadi 1997, from memory), and the value at which
 * one cause overtakes another is the root of a linear equation. Nothing is rebuilt.
 */
import { assumptionsOf, type Assumption, type Movable } from './assumptions';
import { afterEvidence, beforeEvidence, exactFor } from './exact';
import type { Exact } from './worlds';
import type { TreeModel } from './model';
import { resolve, type Resolved } from './resolve';
import { sampledRobustness } from './sampled-robustness';
import {
	change,
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
}

/** What is left of a weight once it should have vanished. */
const ROUNDING = 1e-12;

/** Decibans: a search outward goes in such steps, and no further than a factor of ten thousand. */
const STEP = 1;
const FURTHEST = 40;

/** Sweeps every assumption and leaves every piece of evidence out in turn. The model must have passed `checkTree`. */
export function robustness(model: TreeModel, options: RobustnessOptions = {}): Refusable<Robustness> {
	const tree = resolve(model);
	const among = options.among ?? causesOf(model);
	const nodes = among
		.map((id) => tree.index.get(id) ?? -1)
		.filter((node) => (tree.house[node] ?? null) === null);
	const exact = exactFor(tree, options);
	if (!exact) return sampledRobustness(statesFor(tree, options), model, nodes);
	const standing = new Standing(tree, exact, nodes);
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
		private readonly nodes: readonly number[]
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

	sweep({ at, far, rescales, linear, lower, higher, ...assumption }: Movable): Swept {
		const { value } = assumption;
		const other = linear ? this.joint(at(far), rescales) : this.now;
		const { now } = this;
		const along = (x: number): Joint => {
			if (!linear) return this.joint(at(x), rescales);
			const share = (x - value) / (far - value);
			const mix = (a: number, b: number) => Math.max(0, a + share * (b - a));
			return { total: mix(now.total, other.total), of: now.of.map((a, i) => mix(a, other.of[i] as number)) };
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
			overturns: linear ? this.overturn(assumption, other, far) : this.searchOverturn(value, along)
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

	/** The same where it is not linear: outward in steps of the odds, then halving. */
	private searchOverturn(value: number, along: (x: number) => Joint): Overturn | null {
		const { leader } = this.stand(this.now);
		const at = (decibans: number) => {
			const odds = (value / (1 - value)) * 10 ** (decibans / 10);
			return odds / (1 + odds);
		};
		const leads = (decibans: number) => {
			const joint = along(at(decibans));
			return joint.total === 0 ? leader : this.stand(joint).leader;
		};
		for (let step = STEP; step <= FURTHEST; step += STEP)
			for (const side of [1, -1]) {
				if (leads(side * step) === leader) continue;
				let [near, far] = [step - STEP, step];
				for (let i = 0; i < 40; i++) {
					const middle = (near + far) / 2;
					if (leads(side * middle) === leader) near = middle;
					else far = middle;
				}
				return { to: at(side * far), leader: leads(side * far), decibans: far };
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
