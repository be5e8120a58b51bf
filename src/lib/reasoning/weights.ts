/** The numbers of a tree laid onto the levels of its diagrams. */
import { enters, type Levels } from './order';
import { mustBeOne } from './compile';
import type { Observation, Resolved } from './resolve';
import { LOG_STEP, STEP, unscaled, type Deep } from './scaled';
import type { Weights } from './sweep';

export interface Changes {
	/** Observations and likelihoods (by number) that are left out. */
	withoutObservation?: (observation: number) => boolean;
	withoutLikelihood?: (likelihood: number) => boolean;
	/** An observation not made yet, taken to find no sign. */
	alsoAbsent?: number;
	/** Nodes held true or false: the other weight becomes 0. */
	held?: ReadonlyMap<number, boolean>;
	/** An origin held to be genuine or not, and perhaps what it says anyway. */
	origin?: { origin: number; genuine: boolean; says?: boolean };
	density?: { likelihood: number; scenario: number; value: number };
}

/** Weighs all states of one tree again and again. */
export interface Weigher {
	/** ln of the weight of all states that the changes leave. @param tree  the same but for its numbers */
	log(tree: Resolved, changes?: Changes): number;
	/** After `log`: the probability of every node, or of those asked for by number. */
	probabilities(): Float64Array;
}

/** Weights of the tree alone: what each event weighs before anything is known. */
export function priorWeights(tree: Resolved, levels: Levels, held?: ReadonlyMap<number, boolean>): Weights {
	return weightsOf(tree, levels, {
		withoutObservation: () => true,
		withoutLikelihood: () => true,
		...(held ? { held } : {})
	});
}

/** Weights under all evidence but the changes. */
export function weightsOf(tree: Resolved, levels: Levels, changes: Changes = {}): Weights {
	const { count } = levels;
	const high = new Float64Array(count).fill(1);
	const low = new Float64Array(count).fill(1);
	const weights: Weights = { high, low, logScale: 0 };
	setEvidence(tree, levels, changes, (level, p) => {
		high[level] = p;
		low[level] = 1 - p;
	});
	setNodes(tree, levels, changes, weights);
	if (changes.origin) holdOrigin(tree, levels, changes.origin, weights);
	return weights;
}

function holdOrigin(
	tree: Resolved,
	levels: Levels,
	{ origin, genuine, says }: NonNullable<Changes['origin']>,
	weights: Weights
) {
	const { reliability, saysAnyway } = tree.origins[origin] as Resolved['origins'][number];
	const own = levels.origins[origin];
	const hold = (level: number | undefined, value: boolean, p: number) => {
		if (level !== undefined) (value ? weights.low : weights.high)[level] = 0;
		else weights.logScale += Math.log(value ? p : 1 - p);
	};
	hold(own?.genuine, genuine, reliability);
	if (says !== undefined) hold(own?.says, says, saysAnyway);
}

/** The variables of table rows, findings, origins and likelihoods. */
function setEvidence(
	tree: Resolved,
	levels: Levels,
	changes: Changes,
	set: (level: number, p: number) => void
) {
	levels.rows.forEach((rows, gate) => rows.forEach((level, i) => set(level, tree.gates[gate]?.rows[i] ?? 0)));
	tree.observations.forEach((observation, o) => {
		const own = levels.observations[o];
		if (!own) return;
		// A sign that must not be there leaves its links' factors to the weights of their causes.
		const absent = changes.alsoAbsent === o;
		const out = changes.withoutObservation?.(o) ?? false;
		set(own.base, absent ? 0 : out ? 1 : observation.baseRate);
		observation.links.forEach(({ p }, i) => set(own.links[i] as number, absent ? 0 : p));
		for (const level of own.dropped) if (level >= 0) set(level, out ? 1 : 0);
	});
	tree.origins.forEach(({ reliability, saysAnyway }, origin) => {
		const own = levels.origins[origin];
		if (!own) return;
		set(own.genuine, reliability);
		set(own.says, saysAnyway);
	});
	tree.likelihoods.forEach((_, l) => {
		const densities = densitiesOf(tree, l, changes);
		const most = Math.max(...densities);
		const out = changes.withoutLikelihood?.(l) ?? false;
		densities.forEach((density, i) => set(levels.scenarios[l]?.[i] as number, out ? 1 : density / most));
	});
}

/** Events and gates, each state multiplied by what the absence of its signs makes of it. */
function setNodes(tree: Resolved, { node }: Levels, changes: Changes, weights: Weights) {
	const whenTrue = new Products(node.length);
	const whenFalse = new Products(node.length);
	tree.observations.forEach((observation, o) => {
		const absent = isFolded(observation) && !changes.withoutObservation?.(o);
		if (!absent && changes.alsoAbsent !== o) return;
		weights.logScale += Math.log1p(-observation.baseRate);
		for (const { from, p } of observation.links) (from & 1 ? whenFalse : whenTrue).multiply(from >> 1, 1 - p);
	});
	for (const [held, value] of changes.held ?? []) (value ? whenFalse : whenTrue).value[held] = 0;
	const deep = new Map<number, Deep>();
	for (let n = 0; n < node.length; n++) {
		const level = node[n] as number;
		const isEvent = n < tree.eventCount;
		if (level < 0 && !isEvent) continue;
		const high = whenTrue.value[n] as number;
		const low = whenFalse.value[n] as number;
		if (level < 0) {
			const own = tree.house[n] ? whenTrue : whenFalse;
			weights.logScale += Math.log(own.value[n] as number) + own.depthOf(n) * LOG_STEP;
			continue;
		}
		// An event's weights add up to one, as a path may leave it out; their common factor is kept apart.
		const p = isEvent ? variableP(tree, n) : 1;
		const both: Deep = {
			high: { value: high * p, depth: whenTrue.depthOf(n) },
			low: { value: isEvent ? low * (1 - p) : low, depth: whenFalse.depthOf(n) }
		};
		if (isEvent) weights.logScale += toOne(both);
		weights.high[level] = unscaled(both.high);
		weights.low[level] = unscaled(both.low);
		if (both.high.depth > 0 || both.low.depth > 0) deep.set(level, both);
	}
	if (deep.size > 0) weights.deep = deep;
}

/** Makes both add up to one. @returns ln of what they were divided by */
function toOne({ high, low }: Deep): number {
	const depth = high.value > 0 && (low.value === 0 || high.depth <= low.depth) ? high.depth : low.depth;
	high.depth -= depth;
	low.depth -= depth;
	const sum = unscaled(high) + unscaled(low);
	high.value = sum > 0 ? high.value / sum : 0;
	low.value = sum > 0 ? low.value / sum : 1;
	return Math.log(sum) + depth * LOG_STEP;
}

/** By node a product, with its depth where there is one that needs it. */
class Products {
	readonly value: Float64Array;
	private depth: Int32Array | undefined;

	constructor(size: number) {
		this.value = new Float64Array(size).fill(1);
	}

	multiply(node: number, factor: number) {
		const product = (this.value[node] as number) * factor;
		this.value[node] = product;
		if (product >= STEP || product === 0) return;
		this.value[node] = product / STEP;
		this.depth ??= new Int32Array(this.value.length);
		this.depth[node] = this.depthOf(node) + 1;
	}

	depthOf(node: number): number {
		return this.depth?.[node] ?? 0;
	}
}

/** Densities of a likelihood's scenarios, one of them perhaps changed. */
export function densitiesOf(tree: Resolved, likelihood: number, { density }: Changes = {}): number[] {
	return (tree.likelihoods[likelihood]?.scenarios ?? []).map((scenario, i) =>
		density?.likelihood === likelihood && density.scenario === i ? density.value : scenario.density
	);
}

/** The sign is known to be absent and has no variables of its own. */
function isFolded(observation: Observation): boolean {
	return !enters(observation) && observation.reports.some(({ state }) => state === 'absent');
}

/**
 * Weight of an event's variable. An exclusive event's is chosen so that, once two of its group at a time are
 * excluded, its probability is the stated one: odds p / (1 - sum).
 */
export function variableP(tree: Resolved, event: number): number {
	const p = tree.p[event] as number;
	const own = tree.groupOf[event] as number;
	if (own < 0) return p;
	const group = tree.exclusive[own] as number[];
	if (mustBeOne(tree, group)) return p / (1 + p);
	const rest = 1 - group.reduce((sum, other) => sum + (tree.p[other] as number), 0);
	return p / (p + rest);
}
