/** What an observation that has not been made is expected to tell about the branches under the top event. */
import type { Compiled } from './compile';
import type { TreeModel } from './model';
import { resolve, type Resolved } from './resolve';
import { sampledInformation } from './sampled-information';
import { entropy, isSettled } from './settled';
import { Sweep } from './sweep';
import { compiledFor, logWeight, statesFor } from './weigh';
import { nameOf } from './literal';
import {
	MAX_BRANCHES,
	NEGLIGIBLE,
	onlyLeading,
	unmade,
	type InformationResult,
	type ObservationValue
} from './looks';
import type { Refusable, WeighOptions } from './weighing';
import { weightsOf, type Changes } from './weights';

export function information(model: TreeModel, options: WeighOptions = {}): Refusable<InformationResult> {
	const tree = resolve(model);
	const { gates, eventCount, top, house } = tree;
	const inputs = top === undefined ? undefined : gates[top - eventCount]?.inputs;
	if (!inputs)
		return { ok: false, problem: 'the tree has no top gate, so there are no branches to tell apart' };
	const variables = inputs.filter((input) => house[input >> 1] === undefined);
	const compiled = compiledFor(tree, options);
	if (!compiled) return sampledInformation(statesFor(tree, options), variables);
	const joint = new JointStates(tree, compiled);
	if (joint.total({}) === 0) return { ok: false, problem: 'the evidence is impossible under this tree' };
	let about = variables;
	let note: string | null = null;
	if (about.length > MAX_BRANCHES) {
		const leading = joint.leading(variables);
		about = [leading];
		note = onlyLeading(variables.length, joint.name(leading));
	}
	const before = joint.states(about, {});
	const observations = unmade(tree).map(({ id, observation, origin }): ObservationValue => {
		const absent = joint.absent(about, observation, origin);
		// Rounding must not make a difference of two equal numbers negative.
		const present = before.map((weight, i) => Math.max(0, weight - (absent[i] as number)));
		const pPresent = sum(present);
		const pAbsent = sum(absent);
		const bits = entropy(before) - pPresent * entropy(present) - pAbsent * entropy(absent);
		const marginals = (weights: number[], p: number) =>
			p > NEGLIGIBLE
				? Object.fromEntries(about.map((branch, i) => [joint.name(branch), marginal(weights, i) / p]))
				: null;
		const ifPresent = marginals(present, pPresent);
		const ifAbsent = marginals(absent, pAbsent);
		const settles = (p: Record<string, number> | null) => p !== null && isSettled(Object.values(p));
		return {
			id,
			bits: Math.max(0, bits),
			probabilityPresent: pPresent,
			probabilitySettles: (settles(ifPresent) ? pPresent : 0) + (settles(ifAbsent) ? pAbsent : 0),
			ifPresent,
			ifAbsent
		};
	});
	observations.sort((a, b) => b.bits - a.bits);
	return {
		ok: true,
		about: about.map((branch) => joint.name(branch)),
		note,
		entropy: entropy(before),
		observations
	};
}

/** Bit i of a state's number says whether branch i is true. */
class JointStates {
	private readonly sweep: Sweep;
	private readonly log: number;

	constructor(
		private readonly tree: Resolved,
		private readonly compiled: Compiled
	) {
		this.sweep = new Sweep(compiled.posterior);
		this.log = logWeight(this.sweep, weightsOf(tree, compiled.levels));
	}

	name(literal: number): string {
		return nameOf(this.tree, literal);
	}

	/** Probability of the changes, given everything. */
	total(changes: Changes): number {
		if (this.log === -Infinity) return 0;
		return Math.exp(logWeight(this.sweep, weightsOf(this.tree, this.compiled.levels, changes)) - this.log);
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
		const plain = (changes: Changes) => this.states(branches, changes);
		if (origin < 0) return plain({ alsoAbsent: observation });
		const { reliability, saysAnyway } = this.tree.origins[origin] as Resolved['origins'][number];
		const own = this.compiled.levels.origins[origin];
		if (!own) {
			const genuine = plain({ alsoAbsent: observation });
			return plain({}).map(
				(p, i) => reliability * (genuine[i] as number) + (1 - reliability) * (1 - saysAnyway) * p
			);
		}
		const genuine = plain({ alsoAbsent: observation, heldLevels: new Map([[own.genuine, true]]) });
		const not = plain({
			heldLevels: new Map([
				[own.genuine, false],
				[own.says, false]
			])
		});
		return genuine.map((p, i) => p + (not[i] as number));
	}
}

const sum = (weights: readonly number[]) => weights.reduce((a, b) => a + b, 0);

const marginal = (weights: readonly number[], bit: number) =>
	weights.reduce((total, weight, state) => ((state >> bit) & 1 ? total + weight : total), 0);
