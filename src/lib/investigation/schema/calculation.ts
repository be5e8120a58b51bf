import * as v from 'valibot';
import { id, line, requiredLine, text } from './common';

/** Where an input came from, so that the result can say when its source has changed since. */
export const inputSource = v.object({
	input: line,
	collection: line,
	id,
	/** Revision of the case at which it was read. */
	rev: v.pipe(v.number(), v.integer(), v.minValue(0))
});

/** One scenario of a calculated likelihood, in order; the first that is true decides. */
export const likelihoodScenario = v.object({
	/** Event of the tree, or null for 'none of these', which ends the list. */
	event: v.nullable(id),
	/** Scenario of the calculation that this event stands for. */
	scenario: line,
	density: v.pipe(v.number(), v.finite(), v.minValue(0)),
	standardError: v.pipe(v.number(), v.finite(), v.minValue(0)),
	words: text
});

/** A stored run of a calculation: inputs with their sources, version, seed, result and its use as evidence. */
export const calculation = v.object({
	anomaly: v.nullable(id),
	number: v.pipe(v.number(), v.integer(), v.minValue(1)),
	calculation: line,
	title: requiredLine('Say what this run answers.'),
	/** Inputs as the calculation's own description reads them. */
	inputs: v.record(v.string(), v.unknown()),
	sources: v.array(inputSource),
	seed: v.pipe(v.number(), v.integer()),
	samples: v.pipe(v.number(), v.integer(), v.minValue(1)),
	version: line,
	/** The result as the runner returned it. */
	result: v.unknown(),
	likelihood: v.nullable(
		v.object({
			use: v.boolean(),
			observed: v.record(v.string(), v.unknown()),
			scenarios: v.pipe(
				v.array(likelihoodScenario),
				v.minLength(2, 'Compare at least one event with "none of these".')
			)
		})
	),
	note: text
});
export type StoredCalculation = v.InferOutput<typeof calculation>;
