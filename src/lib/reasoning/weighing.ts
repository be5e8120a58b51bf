/** What a weighing asks and answers. */
import type { Contradiction } from './contradiction';
import type { FindingState } from './model';
import type { Resolved } from './resolve';
import type { Exact } from './worlds';

/** An answer, or in words why there is none. */
export type Refusable<T> = ({ ok: true } & T) | { ok: false; problem: string };

/** Nodes that the diagrams of one tree may have: a second or two of work. */
export const DEFAULT_MAX_NODES = 600_000;

export interface WeighOptions {
	/** Nodes that a diagram, or worlds that a small tree may have before the answer is sampled instead. */
	maxNodes?: number;
	/** Seed and effort of sampling. */
	seed?: number;
	particles?: number;
	/** Leave every observation out in turn. On by default. */
	contributions?: boolean;
	/** Diagrams (or worlds) of earlier calls; used again when only numbers have changed. */
	reuse?: Exact | readonly Exact[] | undefined;
}

export interface NodeWeight {
	/** Starting weight: before anything is known. */
	prior: number;
	/** Given the top event alone; null when there is no top event or it is impossible. */
	givenTop: number | null;
	/** Given all that is given, every finding and every calculated likelihood; null when they contradict each other. */
	givenAll: number | null;
	/** 95 % interval of `givenAll` from the Monte Carlo error of calculated likelihoods, where one is stated. */
	interval?: [number, number];
	/** Standard errors, where the numbers were sampled; `prior` and `givenTop` are, only in trees too large even without evidence. */
	standardError?: number;
	priorStandardError?: number;
	givenTopStandardError?: number;
}

export interface Contribution {
	/** The finding, or the calculated likelihood, that was left out. */
	id: string;
	kind: 'finding' | 'likelihood';
	/** Other findings that are the same observation, left out with it. */
	together: string[];
	state?: FindingState;
	/** Probability of every event, gate and part given all but this. */
	withoutIt: Record<string, number>;
	/** Standard errors of these, where they were sampled. */
	standardError?: Record<string, number>;
}

export interface Weighing {
	method: 'exact' | 'sampled';
	top: string | null;
	/** Probability of the top event before anything is known. */
	probabilityOfTop: number | null;
	events: Record<string, NodeWeight>;
	gates: Record<string, NodeWeight>;
	/** The parts of common-cause groups, by which their members are true alone or together; empty without groups. */
	parts: Record<string, NodeWeight>;
	/** ln P(given). */
	logGiven: number | null;
	/** ln P(findings | given): the discrete evidence, calculations left out. */
	logEvidence: number | null;
	/** ln of the density of all calculated likelihoods given the findings; 0 when there are none. */
	logDensity: number | null;
	contributions: Contribution[];
	contradiction: Contradiction | null;
	warnings: string[];
	/** Nodes of the diagrams, or worlds of a small tree; 0 when sampled. */
	nodes: number;
	/** Sampled only: effective number of independent samples, and standard error of logEvidence + logDensity. */
	effectiveSampleSize?: number;
	logStandardError?: number;
	/** To pass as `reuse` in the next call, where exact. Not plain data. */
	compiled?: Exact;
}

export interface Explanation {
	/** Ids of the basic events that happened; all others did not. */
	happened: string[];
	/** Probability of exactly this state of all basic events, given everything. */
	probability: number;
	/** Its standard error, where it was sampled. */
	error?: number;
}

export interface Explanations {
	/** Most probable first. */
	list: Explanation[];
	/** Nothing more probable exists; false when the search was cut short, or a sample read, and then better ones may. */
	proven: boolean;
}

/** The same for every event, gate and part, by id. */
export function recordNodes<T>({ ids, typedEvents, typedGates, parts }: Resolved, of: (node: number) => T) {
	const record = (nodes: readonly number[]): Record<string, T> =>
		Object.fromEntries(nodes.map((node) => [ids[node] as string, of(node)]));
	return { events: record(typedEvents), gates: record(typedGates), parts: record(parts) };
}
