/** How probable every joint state of the branches is, given everything and whatever else is held. */
import { afterEvidence } from './exact';
import type { Exact } from './worlds';
import { nameOf } from './literal';
import { NEGLIGIBLE } from './looks';
import type { Resolved } from './resolve';
import type { Changes, Weigher } from './weights';

/** Bit i of a state's number says whether branch i is true. */
export class JointStates {
	private readonly after: Weigher;
	private readonly log: number;

	constructor(
		private readonly tree: Resolved,
		exact: Exact
	) {
		this.after = afterEvidence(exact, tree, []);
		this.log = this.after.log(tree);
	}

	name(literal: number): string {
		return nameOf(this.tree, literal);
	}

	/** Probability of the changes, given everything. */
	total(changes: Changes): number {
		if (this.log === -Infinity) return 0;
		return Math.exp(this.after.log(this.tree, changes) - this.log);
	}

	leading(literals: readonly number[]): number {
		const p = literals.map((literal) => this.total({ held: new Map([[literal >> 1, (literal & 1) === 0]]) }));
		return literals[p.indexOf(Math.max(...p))] as number;
	}

	/** Probability of every joint state together with the changes, given everything. */
	states(branches: readonly number[], changes: Changes): number[] {
		const result = new Array<number>(2 ** branches.length).fill(0);
		const all = this.total(changes);
		const visit = (depth: number, state: number, held: Map<number, boolean>, weight: number) => {
			if (weight <= all * NEGLIGIBLE) return;
			const branch = branches[depth];
			if (branch === undefined) {
				result[state] = weight;
				return;
			}
			const node = branch >> 1;
			const inverted = (branch & 1) === 1;
			const known = held.get(node);
			for (const isTrue of [true, false]) {
				const value = isTrue !== inverted;
				if (known !== undefined && known !== value) continue;
				const next = new Map([...held, [node, value] as const]);
				const p = known === value ? weight : this.total({ ...changes, held: next });
				visit(depth + 1, isTrue ? state | (1 << depth) : state, next, p);
			}
		};
		visit(0, 0, new Map(changes.held ?? []), all);
		return result;
	}

	/** The same together with the observation finding no sign, as its origin would report it. */
	absent(branches: readonly number[], observation: number, origin: number): number[] {
		if (origin < 0) return this.states(branches, { alsoAbsent: observation });
		const genuine = this.states(branches, { alsoAbsent: observation, origin: { origin, genuine: true } });
		const not = this.states(branches, { origin: { origin, genuine: false, says: false } });
		return genuine.map((p, i) => p + (not[i] as number));
	}
}

export const sum = (weights: readonly number[]) => weights.reduce((a, b) => a + b, 0);

/** Weight of the states in which branch `bit` is true. */
export const marginal = (weights: readonly number[], bit: number) =>
	weights.reduce((total, weight, state) => ((state >> bit) & 1 ? total + weight : total), 0);
