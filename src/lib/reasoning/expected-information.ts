/**
 * What a look with any number of outcomes is expected to tell about the branches under the top event: a test whose
 * outcomes were predicted, or a value that each scenario predicts otherwise. Mutual information (Lindley 1956) from
 * the joint distribution of branches and scenarios given everything; where outcomes are drawn, nested Monte Carlo.
 */
import { canHold, exactFor } from './exact';
import type { Exact } from './worlds';
import { JointStates, marginal, sum } from './joint-states';
import { readLiteral } from './literal';
import type { TreeModel } from './model';
import { resolve, type Resolved } from './resolve';
import { entropy, isSettled } from './settled';
import { statesFor } from './weigh';
import type { WeighOptions } from './weighing';

/** Plain data. */
export interface ManyOutcomes {
	id: string;
	/** Events or gates in order, the first that is true decides; where none is, 'none of these', not named here. */
	scenarios: readonly string[];
	outcomes: readonly Outcome[];
}

interface Outcome {
	/**
	 * By scenario, 'none of these' last: its probability, or up to a common factor the density of what was drawn. Where
	 * 'none of these' is left out it is as probable as under the scenarios together, so that they alone are told apart.
	 */
	likelihood: readonly number[];
	/** The scenario under which it was drawn, as one of many; left out where all outcomes are listed. */
	from?: number;
}

export interface LookValue {
	id: string;
	bits: number;
	/** Standard error of the bits, where outcomes were drawn or the tree sampled. */
	error?: number;
	/** Probability that afterwards one branch stands above 90 % and all others below 10 %. */
	probabilitySettles: number;
	/** Of listed outcomes: how probable each is, and where it would leave the branches (null where it can't come about). */
	outcomes: { probability: number; branches: Record<string, number> | null }[];
}

/**
 * @param about  the branches, as `information` names them
 * @returns in the order of the looks; a look that names an event which is not in the tree is left out
 */
export function expectedInformation(
	model: TreeModel,
	about: readonly string[],
	looks: readonly ManyOutcomes[],
	options: WeighOptions = {}
): LookValue[] {
	const plain = resolve(model);
	const known = looks.filter(({ scenarios }) => scenarios.every((id) => plain.index.has(id)));
	if (known.length === 0) return [];
	const exact = exactFor(plain, options);
	const [tree, weighed] = exact ? withVariables(model, plain, exact, known, options) : [plain];
	const literals = about.map((name) => {
		const { id, negated } = readLiteral(name);
		return 2 * (tree.index.get(id) as number) + Number(negated);
	});
	const nodesOf = ({ scenarios }: ManyOutcomes) => scenarios.map((id) => tree.index.get(id) as number);
	if (!weighed)
		return known.map((look) => sampledValue(plain, literals, nodesOf(look), about, look, options));
	const states = new JointStates(tree, weighed);
	return known.map((look) => {
		const nodes = nodesOf(look);
		const joint = [...nodes.keys(), nodes.length].map((first) => {
			const held = new Map(nodes.slice(0, first).map((node) => [node, false]));
			if (first < nodes.length) held.set(nodes[first] as number, true);
			return states.states(literals, { held });
		});
		const { bits, drawn, settles, outcomes } = valueOf(joint, look, about);
		return {
			id: look.id,
			bits: Math.max(0, bits),
			...(drawn === null ? {} : { error: drawn }),
			probabilitySettles: settles,
			outcomes
		};
	});
}

/** Gates without a variable of their own can't be held: a sign that nobody looks at gives them one. */
function withVariables(
	model: TreeModel,
	tree: Resolved,
	exact: Exact,
	looks: readonly ManyOutcomes[],
	options: WeighOptions
): [Resolved, Exact | undefined] {
	const named = [...new Set(looks.flatMap(({ scenarios }) => scenarios))];
	const lacks = (id: string) => {
		const node = tree.index.get(id) as number;
		return !canHold(exact, tree, node);
	};
	if (!named.some(lacks)) return [tree, exact];
	const unseen = { id: 'scenarios of looks', links: named.map((from) => ({ from, p: 0 })) };
	const more = resolve({ ...model, findings: [...(model.findings ?? []), unseen] });
	return [more, exactFor(more, options)];
}

/** The same from a sample of states, with what the sample makes of it taken off (jackknife). */
function sampledValue(
	tree: Resolved,
	literals: readonly number[],
	nodes: readonly number[],
	about: readonly string[],
	look: ManyOutcomes,
	options: WeighOptions
): LookValue {
	const states = statesFor(tree, options);
	const count = 2 ** literals.length;
	const means = states.read(count * (nodes.length + 1), (chain, sums) => {
		const state = literals.reduce((bits, literal, i) => (chain.holds(literal) ? bits | (1 << i) : bits), 0);
		const first = nodes.findIndex((node) => chain.holds(2 * node));
		const at = (first < 0 ? nodes.length : first) * count + state;
		sums[at] = (sums[at] as number) + 1;
	});
	const jointOf = (all: Float64Array) =>
		Array.from({ length: nodes.length + 1 }, (_, s) => [...all.subarray(s * count, (s + 1) * count)]);
	const { value, error, bias } = means.tell((all) => [valueOf(jointOf(all), look, about).bits]);
	const { drawn, settles, outcomes } = valueOf(jointOf(means.all), look, about);
	return {
		id: look.id,
		bits: Math.max(0, (value[0] as number) - (bias[0] as number)),
		error: Math.hypot(error[0] as number, drawn ?? 0),
		probabilitySettles: settles,
		outcomes
	};
}

/** @param joint  by scenario, 'none of these' last, the weight of every joint state of the branches */
function valueOf(joint: readonly number[][], { outcomes: looked }: ManyOutcomes, about: readonly string[]) {
	const total = sum(joint.map(sum));
	const share = joint.map((weights) => sum(weights) / total);
	const draws = joint.map((_, s) => looked.filter(({ from }) => from === s).length);
	const before = entropy(
		added(
			joint,
			share.map(() => 1)
		)
	);
	const gains: number[][] = joint.map(() => []);
	let bits = 0;
	let settles = 0;
	const outcomes: LookValue['outcomes'] = [];
	for (const { likelihood: said, from } of looked) {
		const likelihood = said.length < joint.length ? [...said, together(said, share)] : said;
		const probability =
			from === undefined
				? share.reduce((p, own, s) => p + own * (likelihood[s] as number), 0)
				: (share[from] as number) / (draws[from] as number);
		const after = added(joint, likelihood);
		const weight = sum(after);
		const branches = weight > 0 ? about.map((_, i) => marginal(after, i) / weight) : null;
		if (branches && probability > 0) {
			const gain = before - entropy(after);
			bits += probability * gain;
			if (from !== undefined) (gains[from] as number[]).push(gain);
			if (isSettled(branches)) settles += probability;
		}
		if (from === undefined)
			outcomes.push({
				probability,
				branches: branches && Object.fromEntries(about.map((id, i) => [id, branches[i] as number]))
			});
	}
	const drawn = looked.some(({ from }) => from !== undefined)
		? Math.sqrt(gains.reduce((all, own, s) => all + (share[s] as number) ** 2 * squaredError(own), 0))
		: null;
	return { bits, drawn, settles, outcomes };
}

/** The mean under the scenarios, each counting by how probable it is. */
function together(likelihood: readonly number[], share: readonly number[]): number {
	const all = sum(share.slice(0, likelihood.length));
	return likelihood.reduce(
		(mean, own, s) => mean + own * (all > 0 ? (share[s] as number) / all : 1 / likelihood.length),
		0
	);
}

/** Weight of every joint state, each scenario counting by its factor. */
const added = (joint: readonly number[][], factors: readonly number[]): number[] =>
	(joint[0] as number[]).map((_, state) =>
		joint.reduce((all, own, s) => all + (factors[s] as number) * (own[state] as number), 0)
	);

/** Of a mean: its variance over how many there are. */
function squaredError(values: readonly number[]): number {
	const n = values.length;
	if (n < 2) return 0;
	const mean = sum(values) / n;
	return sum(values.map((x) => (x - mean) ** 2)) / (n - 1) / n;
}
