import { observationDensity, type Component } from '$lib/probability/density';
import { drawObservation, observedAs } from '$lib/probability/drawn';
import type { Random } from '$lib/probability/generator';
import type { Evidence, Observation } from './calculation';
import type { Problem } from './inputs';

/** A value that might be measured, drawn under one scenario, and how well each scenario would explain it. */
export interface Draw {
	/** Number of the scenario in the list. */
	from: number;
	/** Density by scenario, the greatest 1: only their ratios weigh. */
	likelihood: number[];
}

/** Why nothing can be said before it is measured, or undefined. */
export function notPlannable(
	{ scenarios }: Evidence<unknown>,
	observations: readonly Observation[]
): Problem | undefined {
	const path = 'observed';
	if (scenarios.some((kind) => 'exact' in kind))
		return { path, message: 'what this compares can’t be drawn beforehand: run it once it is measured' };
	if (observations.length === 0)
		return {
			path,
			message: 'say about what you expect to measure, and how well you would measure it, such as 20 ± 2 m/s'
		};
	if (observations.some((o) => o.kind === 'scalar' && o.beyond))
		return { path, message: 'before it is measured nobody knows whether it will be only a limit' };
	return undefined;
}

/** Drawn under each scenario, and samples that each density rests on: bits to about 0.03. */
const DRAWS = 100;
const SAMPLES = 400;

/**
 * What measuring would show, before anybody measures: for each scenario values drawn from its predictions with the
 * measurement error, and what every scenario makes of them (nested Monte Carlo). Yields between draws.
 * @param predictions  by scenario, for all observations
 */
export function* expectedDraws(
	predictions: readonly Component[][],
	random: (stream: string) => Random
): Generator<void, Draw[]> {
	const few = predictions.map((components) => components.map(firstOf));
	const draws: Draw[] = [];
	for (const [from, own] of predictions.entries()) {
		const stream = random(`expected ${from}`);
		for (let i = 0; i < DRAWS; i++) {
			const drawn = drawObservation(own, stream);
			const densities = few.map((components) => observationDensity(observedAs(components, drawn)).density);
			const most = Math.max(...densities);
			// Four figures are kept: more would only fill the file.
			draws.push({ from, likelihood: densities.map((d) => Number((d / most).toPrecision(4))) });
			yield;
		}
	}
	return draws;
}

function firstOf(c: Component): Component {
	return c.kind === 'offset'
		? {
				...c,
				predictedEast: c.predictedEast.subarray(0, SAMPLES),
				predictedNorth: c.predictedNorth.subarray(0, SAMPLES)
			}
		: { ...c, predicted: c.predicted.subarray(0, SAMPLES) };
}
