/** What an observation that has not been made is expected to tell about the branches under the top event. */
import { exactFor } from './exact';
import { JointStates, marginal, sum } from './joint-states';
import type { TreeModel } from './model';
import { resolve } from './resolve';
import { sampledInformation } from './sampled-information';
import { entropy, isSettled } from './settled';
import { statesFor } from './weigh';
import {
	MAX_BRANCHES,
	NEGLIGIBLE,
	onlyLeading,
	unmade,
	type InformationResult,
	type ObservationValue
} from './looks';
import type { Refusable, WeighOptions } from './weighing';

export function information(model: TreeModel, options: WeighOptions = {}): Refusable<InformationResult> {
	const tree = resolve(model);
	const { gates, eventCount, top, house } = tree;
	const inputs = top === undefined ? undefined : gates[top - eventCount]?.inputs;
	if (!inputs)
		return { ok: false, problem: 'the tree has no top gate, so there are no branches to tell apart' };
	const variables = inputs.filter((input) => house[input >> 1] === undefined);
	const exact = exactFor(tree, options);
	if (!exact) return sampledInformation(statesFor(tree, options), variables);
	const joint = new JointStates(tree, exact);
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
