/** The standard set of answers: every event and gate before and after, and what each piece of evidence did to it. */
import type { Compiled } from './compile';
import { findContradiction } from './contradiction';
import { afterEvidence, beforeEvidence, diagramsFor, exactFor } from './exact';
import type { Exact } from './worlds';
import { resolve, type Resolved } from './resolve';
import { sampledStates, type SampledStates } from './sampled-states';
import { weighBySampling } from './weigh-sampled';
import type { TreeModel } from './model';
import {
	recordNodes,
	type Contribution,
	type NodeWeight,
	type WeighOptions,
	type Weighing
} from './weighing';
import { densitiesOf, type Changes, type Weigher } from './weights';

/**
 * Weighs a tree that `parseTree` or `checkTree` has accepted. Exact unless the diagrams outgrow `maxNodes`, then
 * sampled with a fixed seed; the same digits on every run either way.
 */
export function weigh(model: TreeModel, options: WeighOptions = {}): Weighing {
	const tree = resolve(model);
	const exact = exactFor(tree, options);
	if (exact) return weighExactly(tree, exact, options);
	// Without evidence the diagram is far smaller: what it can say is still exact.
	const start = startFor(tree, options);
	const alone = start && weighExactly(bare(tree), start, { contributions: false });
	return weighBySampling(tree, options, start, alone);
}

export const bare = (tree: Resolved): Resolved => ({
	...tree,
	observations: [],
	origins: [],
	likelihoods: []
});

/** The diagram of the tree without its evidence, from which a sample can start; undefined when it doesn't fit. */
export function startFor(tree: Resolved, options: WeighOptions): Compiled | undefined {
	const hasEvidence = tree.observations.length + tree.likelihoods.length > 0;
	return hasEvidence ? diagramsFor(bare(tree), options) : undefined;
}

/** The sample that stands for the diagrams of a tree too large for them. */
export const statesFor = (tree: Resolved, options: WeighOptions): SampledStates =>
	sampledStates(tree, options, () => startFor(tree, options));

function weighExactly(tree: Resolved, exact: Exact, { contributions = true }: WeighOptions): Weighing {
	const before = beforeEvidence(exact, tree);
	const logBefore = before.log(tree);
	const priors = before.probabilities();
	const held = (nodes: readonly { node: number; value: boolean }[]) =>
		before.log(tree, { held: new Map(nodes.map(({ node, value }) => [node, value])) });
	const topPossible = tree.top !== undefined && held([{ node: tree.top, value: true }]) > -Infinity;
	const givenTop = topPossible ? before.probabilities() : undefined;
	const logGiven = held(tree.given);

	const after = afterEvidence(exact, tree);
	const logFindings = after.log(tree, { withoutLikelihood: () => true });
	const logAll = after.log(tree);
	const contradiction = findContradiction(tree, after, logGiven > -Infinity, logAll > -Infinity);
	const posteriors = contradiction || !(logAll > -Infinity) ? undefined : after.probabilities();
	const logMost = tree.likelihoods.reduce(
		(sum, _, l) => sum + Math.log(Math.max(...densitiesOf(tree, l))),
		0
	);
	const intervals = posteriors && monteCarloIntervals(tree, after, posteriors);

	const weightOf = (node: number): NodeWeight => ({
		// A starting weight is what was typed, to the last digit.
		prior: node < tree.eventCount ? (tree.p[node] as number) : (priors[node] as number),
		givenTop: givenTop?.[node] ?? null,
		givenAll: posteriors?.[node] ?? null,
		...(intervals ? { interval: intervals[node] as [number, number] } : {})
	});
	return {
		method: 'exact',
		top: tree.top === undefined ? null : (tree.ids[tree.top] as string),
		probabilityOfTop: tree.top === undefined ? null : weightOf(tree.top).prior,
		...recordNodes(tree, weightOf),
		logGiven: finite(logGiven - logBefore),
		logEvidence: contradiction ? null : finite(logFindings - logGiven),
		logDensity: contradiction ? null : finite(logAll - logFindings + logMost),
		contributions: posteriors && contributions ? leaveOneOut(tree, after) : [],
		contradiction,
		warnings: [...tree.warnings],
		nodes: exact.nodes,
		compiled: exact
	};
}

const finite = (x: number): number | null => (Number.isFinite(x) ? x : null);

function leaveOneOut(tree: Resolved, after: Weigher): Contribution[] {
	// A copy of one object shares its shape and is quick to fill.
	const shape = Object.fromEntries(tree.ids.map((id) => [id, 0]));
	const without = (changes: Changes): Record<string, number> => {
		after.log(tree, changes);
		const record = { ...shape };
		after.probabilities().forEach((p, node) => (record[tree.ids[node] as string] = p));
		return record;
	};
	const findings = tree.observations.flatMap(({ reports }, o): Contribution[] => {
		const [first, ...others] = reports.filter(({ state }) => state !== 'notExamined');
		if (!first) return [];
		return [
			{
				id: first.id,
				kind: 'finding',
				together: others.map(({ id }) => id),
				state: first.state,
				withoutIt: without({ withoutObservation: (other) => other === o })
			}
		];
	});
	const likelihoods = tree.likelihoods.map(({ id }, l): Contribution => ({
		id,
		kind: 'likelihood',
		together: [],
		withoutIt: without({ withoutLikelihood: (other) => other === l })
	}));
	return [...findings, ...likelihoods];
}

/**
 * How strongly a piece of evidence speaks for an event, in decibans: ten times the logarithm of the factor by which it
 * multiplies the event's odds. Infinite when it settles the event alone.
 */
export function decibans(withIt: number, withoutIt: number): number {
	const logOdds = (p: number) => Math.log10(p) - Math.log10(1 - p);
	return withIt === withoutIt ? 0 : 10 * (logOdds(withIt) - logOdds(withoutIt));
}

/** What each piece of evidence did to one event or gate, in the order of the weighing's contributions. */
export function contributionsTo(
	{ events, gates, contributions }: Weighing,
	id: string
): { id: string; withoutIt: number; decibans: number }[] {
	const withIt = (events[id] ?? gates[id])?.givenAll ?? null;
	if (withIt === null) return [];
	return contributions.map((contribution) => {
		const withoutIt = contribution.withoutIt[id] as number;
		return { id: contribution.id, withoutIt, decibans: decibans(withIt, withoutIt) };
	});
}

/** 95 % interval of each node's probability: each density one standard error up and down, added in squares as log-odds. */
function monteCarloIntervals(tree: Resolved, after: Weigher, posteriors: Float64Array) {
	const uncertain = tree.likelihoods.flatMap(({ scenarios }, likelihood) =>
		scenarios.flatMap(({ density, standardError }, scenario) =>
			standardError > 0 ? [{ likelihood, scenario, density, standardError }] : []
		)
	);
	if (uncertain.length === 0) return undefined;
	const logOdds = (p: number) => Math.log(p) - Math.log1p(-p);
	const variance = new Float64Array(tree.ids.length);
	for (const { likelihood, scenario, density, standardError } of uncertain) {
		const at = (value: number) => {
			after.log(tree, { density: { likelihood, scenario, value } });
			return after.probabilities();
		};
		const above = at(density + standardError);
		// A density can't fall below zero; there the step up is taken twice.
		const below = density > standardError ? at(density - standardError) : undefined;
		posteriors.forEach((p, node) => {
			if (p <= 0 || p >= 1) return;
			const up = logOdds(above[node] as number) - logOdds(p);
			const step = below ? (logOdds(above[node] as number) - logOdds(below[node] as number)) / 2 : up;
			if (Number.isFinite(step)) variance[node] = (variance[node] as number) + step * step;
		});
	}
	return Array.from(posteriors, (p, node): [number, number] => {
		if (p <= 0 || p >= 1) return [p, p];
		const spread = 1.959963984540054 * Math.sqrt(variance[node] as number);
		const logistic = (x: number) => 1 / (1 + Math.exp(-x));
		return [logistic(logOdds(p) - spread), logistic(logOdds(p) + spread)];
	});
}
