/** The numbers of a tree laid onto the levels of its diagrams. */
import { enters, type Levels } from './order';
import { mustBeOne } from './compile';
import type { Observation, Resolved } from './resolve';
import type { Weights } from './sweep';

export interface Changes {
	/** Observations and likelihoods (by number) that are left out. */
	withoutObservation?: (observation: number) => boolean;
	withoutLikelihood?: (likelihood: number) => boolean;
	/** An observation not made yet, taken to find no sign. */
	alsoAbsent?: number;
	/** Nodes held true or false: the other weight becomes 0. */
	held?: ReadonlyMap<number, boolean>;
	/** Levels whose variable is held true or false. */
	heldLevels?: ReadonlyMap<number, boolean>;
	density?: { likelihood: number; scenario: number; value: number };
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
	const { count, node } = levels;
	const weights: Weights = {
		high: new Float64Array(count).fill(1),
		low: new Float64Array(count).fill(1),
		logScale: 0
	};
	const set = (level: number, p: number) => {
		weights.high[level] = p;
		weights.low[level] = 1 - p;
	};
	const isOut = (o: number) => changes.withoutObservation?.(o) ?? false;

	levels.rows.forEach((rows, gate) => rows.forEach((level, i) => set(level, tree.gates[gate]?.rows[i] ?? 0)));
	tree.observations.forEach((observation, o) => {
		const own = levels.observations[o];
		if (!own) return;
		// A sign that must not be there leaves its links' factors to the weights of their causes, below.
		const absent = changes.alsoAbsent === o;
		set(own.base, absent ? 0 : isOut(o) ? 1 : observation.baseRate);
		observation.links.forEach(({ p }, i) => set(own.links[i] as number, absent ? 0 : p));
		for (const level of own.dropped) if (level >= 0) set(level, isOut(o) ? 1 : 0);
	});
	levels.origins.forEach((own, origin) => {
		const { reliability, saysAnyway } = tree.origins[origin] as Resolved['origins'][number];
		if (!own) return;
		set(own.genuine, reliability);
		set(own.says, saysAnyway);
	});
	tree.likelihoods.forEach(({ scenarios }, l) => {
		const out = changes.withoutLikelihood?.(l) ?? false;
		const densities = densitiesOf(tree, l, changes);
		const most = Math.max(...densities);
		scenarios.forEach((_, i) =>
			set(levels.scenarios[l]?.[i] as number, out ? 1 : (densities[i] as number) / most)
		);
	});

	// Absent signs: each factor multiplies the weight of the state of the event or gate that would have shown it.
	const whenTrue = new Float64Array(node.length).fill(1);
	const whenFalse = new Float64Array(node.length).fill(1);
	tree.observations.forEach((observation, o) => {
		if (!(isFolded(observation) && !isOut(o)) && changes.alsoAbsent !== o) return;
		weights.logScale += Math.log1p(-observation.baseRate);
		for (const { from, p } of observation.links) {
			const when = from & 1 ? whenFalse : whenTrue;
			when[from >> 1] = (when[from >> 1] as number) * (1 - p);
		}
	});
	for (const [level, value] of changes.heldLevels ?? []) (value ? weights.low : weights.high)[level] = 0;
	for (const [held, value] of changes.held ?? []) (value ? whenFalse : whenTrue)[held] = 0;
	for (let n = 0; n < node.length; n++) {
		const level = node[n] as number;
		const isTrue = whenTrue[n] as number;
		const isFalse = whenFalse[n] as number;
		if (level < 0) {
			// A house event has no variable: its factor is common to all states.
			weights.logScale += Math.log(tree.house[n] ? isTrue : isFalse);
		} else if (n >= tree.eventCount) {
			weights.high[level] = isTrue;
			weights.low[level] = isFalse;
		} else {
			const p = variableP(tree, n);
			const high = p * isTrue;
			const low = (1 - p) * isFalse;
			const sum = high + low;
			weights.high[level] = sum > 0 ? high / sum : 0;
			weights.low[level] = sum > 0 ? low / sum : 1;
			weights.logScale += Math.log(sum);
		}
	}
	return weights;
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
	const group = tree.exclusive[tree.groupOf[event] ?? -1];
	if (!group) return p;
	if (mustBeOne(tree, group)) return p / (1 + p);
	const rest = 1 - group.reduce((sum, other) => sum + (tree.p[other] as number), 0);
	return p / (p + rest);
}
