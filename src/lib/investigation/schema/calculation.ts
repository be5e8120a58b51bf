import * as v from 'valibot';
import { id, line, minutes, requiredLine, text } from './common';

/** Where an input came from, so that the result can say when its source has changed since. */
export const inputSource = v.object({
	/** Path of the input: 'pieces.2.mass', rows counted from 1; 'wind' for a whole list. */
	input: line,
	collection: line,
	id,
	/** Revision of the case at which it was read. */
	rev: v.pipe(v.number(), v.integer(), v.minValue(0)),
	/** Which value of that record: 'mass', 'wind'. */
	value: v.optional(line, ''),
	/** The value as it was taken, as a person would type it. */
	text: v.optional(text, '')
});
export type InputSource = v.InferOutput<typeof inputSource>;

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

const seed = v.pipe(v.number(), v.integer('The seed is a whole number.'));
const samples = v.pipe(v.number(), v.integer('The number of samples is whole.'), v.minValue(1));
const values = v.record(v.string(), v.unknown());

/** What was asked, as it was typed: enough to ask it again. */
export const calculationRequest = {
	inputs: values,
	observed: v.optional(values, {}),
	/** Scenarios compared, in order, with their parameters; [] where none were chosen. */
	scenarios: v.optional(v.array(values), []),
	/** Nothing is measured yet: it says what measuring would tell. */
	planned: v.optional(v.boolean()),
	seed,
	samples
};

/** A stored run of a calculation: inputs with their sources, version, seed, result and its use as evidence. */
export const calculation = v.object({
	anomaly: v.nullable(id),
	number: v.pipe(v.number(), v.integer(), v.minValue(1)),
	calculation: line,
	title: requiredLine('Say in one line what this run answers.'),
	...calculationRequest,
	sources: v.array(inputSource),
	/** Version of the calculation that gave the result. */
	version: line,
	/** The result as the runner returned it; `readResult` reads it. */
	result: v.unknown(),
	/** Its place on the fault tree, or null where it never had one. */
	likelihood: v.nullable(
		v.object({
			use: v.boolean(),
			scenarios: v.pipe(
				v.array(likelihoodScenario),
				v.minLength(2, 'Compare at least one event with "none of these".')
			)
		})
	),
	/** What it would take to measure what a planned run would compare. */
	costMinutes: v.optional(minutes),
	note: text
});
export type StoredCalculation = v.InferOutput<typeof calculation>;
