import { observationDensity, type Component, type Estimate } from '$lib/probability/density';
import type { Random } from '$lib/probability/generator';
import { sampleQuantiles } from '$lib/probability/summary';
import { formatSi } from '$lib/quantity/format';
import { percent } from '$lib/quantity/percent';
import { ok, refuse, type Result } from '$lib/quantity/result';
import type { Evidence, Observation, ScenarioKind } from './calculation';
import { readInputs, type Problem, type Stored, type Values } from './inputs';

export const NONE_OF_THESE = 'none-of-these';

/** One scenario as compared: in the list's order, the first that is true decides. */
export interface ScenarioLikelihood extends Estimate {
	id: string;
	label: string;
	parameters: Record<string, Stored>;
	/** What it predicts, what was observed, and how they agree, in a sentence. */
	words: string;
	/** Distribution of the free quantity, where there is one. */
	distribution?: string;
}

export interface ChosenScenario<X> {
	kind: ScenarioKind<X>;
	label: string;
	parameters: Record<string, number | undefined>;
	stored: Record<string, Stored>;
}

/** Reads the ordered list of scenarios: ids, or objects with an id and parameters; the last must be 'none-of-these'. */
export function readScenarios<X>(
	evidence: Evidence<X>,
	raw: unknown,
	x: X,
	observations: readonly Observation[]
): Result<ChosenScenario<X>[], Problem> {
	if (!Array.isArray(raw) || raw.length < 2)
		return refuse({
			path: 'scenarios',
			message: `a list of at least one scenario and "${NONE_OF_THESE}" is needed`
		});
	const chosen: ChosenScenario<X>[] = [];
	for (const [i, entry] of raw.entries()) {
		const path = `scenarios.${i + 1}`;
		const { id, ...rest } = (typeof entry === 'string' ? { id: entry } : (entry ?? {})) as Values;
		const kind = evidence.scenarios.find((s) => s.id === id);
		if (!kind)
			return refuse({
				path,
				message: `${id === undefined ? 'a scenario needs its "id":' : `${JSON.stringify(id)} is not`} one of ${evidence.scenarios.map((s) => s.id).join(', ')}`
			});
		const read = readInputs(kind.inputs, rest, `${path}.`);
		if (!read.ok) return read;
		const parameters = read.value.nominal as Record<string, number | undefined>;
		const problem = kind.check?.(parameters, x, observations);
		if (problem) return refuse({ path, message: problem });
		chosen.push({
			kind,
			label: kind.describe?.(parameters, x, observations) ?? kind.label,
			parameters,
			stored: read.value.stored
		});
	}
	const last = chosen.findIndex((c) => c.kind.id === NONE_OF_THESE);
	if (last !== chosen.length - 1)
		return refuse({ path: 'scenarios', message: `the list must end with "${NONE_OF_THESE}", once` });
	return ok(chosen);
}

/** The standard deviations that an observation carries: of each axis, of the number, or none. */
export const spreadsOf = (o: Observation): number[] =>
	o.kind === 'offset' ? [o.eastSd, o.northSd] : o.kind === 'outcome' ? [] : [o.sd];

/** Predicted values of one scenario, gathered for all observations. */
export function emptyComponents(observations: readonly Observation[], n: number): Component[] {
	return observations.map((o): Component => {
		const predicted = new Float64Array(n);
		if (o.kind === 'outcome') return { kind: 'outcome', among: o.among, predicted };
		if (o.kind !== 'offset') {
			const { observed, sd } = o;
			return o.kind === 'scalar' && o.beyond
				? { kind: 'limit', observed, sd, beyond: o.beyond, predicted }
				: { kind: 'scalar', observed, sd, predicted };
		}
		const { east, north, eastSd, northSd } = o;
		return {
			kind: 'offset',
			east,
			north,
			eastSd,
			northSd,
			predictedEast: predicted,
			predictedNorth: new Float64Array(n)
		};
	});
}

/** Puts sample i of a scenario's predictions into the components; a distance keeps the length of its offset only. */
export function predictInto<X>(
	components: readonly Component[],
	i: number,
	{ kind, parameters }: ChosenScenario<X>,
	x: X,
	observations: readonly Observation[],
	random: Random
): void {
	const predicted = kind.predict?.(x, parameters, observations, random) ?? [];
	components.forEach((c, k) => {
		const p = predicted[k] ?? NaN;
		const numbers = typeof p === 'number' ? [p] : p;
		if (!numbers.every(Number.isFinite)) throw new RangeError(`scenario ${kind.id} predicts no number`);
		if (c.kind === 'offset') [c.predictedEast[i], c.predictedNorth[i]] = [numbers[0], numbers[1]];
		else c.predicted[i] = numbers.length === 1 ? numbers[0]! : Math.hypot(numbers[0], numbers[1]);
	});
}

/** Density and sentence of every scenario, given their predictions in the same order. */
export function likelihoods<X>(
	chosen: readonly ChosenScenario<X>[],
	predictions: readonly Component[][],
	observations: readonly Observation[],
	trials: string,
	x: X
): ScenarioLikelihood[] {
	const ids = chosen.map(({ kind }) => kind.id);
	const exact = chosen.map(({ kind }) => kind.exact?.(x, observations, ids));
	const estimates = exact.map((known, s) =>
		known ? { density: known.density, standardError: 0 } : observationDensity(predictions[s]!)
	);
	const best = estimates.reduce((b, e, i) => (e.density > (estimates[b]?.density ?? 0) ? i : b), 0);
	return chosen.map((scenario, s) => {
		const estimate = estimates[s]!;
		const sentences = exact[s]
			? [exact[s].words]
			: observations.map((o, k) => compare(o, predictions[s]![k]!, trials));
		const factor = estimates[best]!.density / estimate.density;
		const verdict =
			s === best
				? 'No scenario in the list explains this better.'
				: `"${chosen[best]!.label}" explains this ${timesAs(factor)} as well.`;
		return {
			id: scenario.kind.id,
			label: scenario.label,
			parameters: scenario.stored,
			...estimate,
			words: `${scenario.label}: ${sentences.map((t, i) => (i ? capital(t) : t)).join(' ')} ${verdict}`,
			...(scenario.kind.distribution ? { distribution: scenario.kind.distribution } : {})
		};
	});
}

/** The same before anything is measured: what each scenario would let be read; every density is 1. */
export function expectations<X>(
	chosen: readonly ChosenScenario<X>[],
	predictions: readonly Component[][],
	observations: readonly Observation[],
	trials: string
): ScenarioLikelihood[] {
	return chosen.map(({ kind, label, stored }, s) => ({
		id: kind.id,
		label,
		parameters: stored,
		density: 1,
		standardError: 0,
		words: `${label}: ${observations.map((o, k) => expectation(o, predictions[s]![k]!, trials)).join('; ')}.`,
		...(kind.distribution ? { distribution: kind.distribution } : {})
	}));
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

const timesAs = (factor: number) =>
	factor < 1.05
		? 'just'
		: factor < 9.5
			? `${factor.toFixed(1)} times`
			: factor < 9.5e5
				? `${Number(factor.toPrecision(2)).toLocaleString('en-GB').replace(/,/g, '\u202F')} times`
				: 'more than a million times';

const mean = (values: Float64Array) => values.reduce((sum, p) => sum + p, 0) / values.length;

/** 'the rate would be 6.1 m/s to 7.4 m/s in 90 of 100 descents' */
function expectation(o: Observation, c: Component, trials: string): string {
	if (o.kind === 'outcome' || c.kind === 'outcome')
		return `${o.label} in ${outOf100(mean((c as Extract<Component, { kind: 'outcome' }>).predicted))} ${trials}`;
	const { span } = spanOf(o, c);
	return `${o.label} would ${o.kind === 'scalar' ? `be ${span}` : `lie ${span} away`} in 90 of 100 ${trials}`;
}

/** The middle 90 % of what is predicted: a number, or a length. */
function spanOf(o: Exclude<Observation, { kind: 'outcome' }>, c: Exclude<Component, { kind: 'outcome' }>) {
	const scalar =
		c.kind === 'offset'
			? Float64Array.from(c.predictedEast, (e, i) => Math.hypot(e, c.predictedNorth[i]!))
			: c.predicted;
	const [dimension, unit] = o.kind === 'scalar' ? [o.dimension, o.unit] : (['length', 'm'] as const);
	const show = (si: number) => formatSi(si, dimension, { unit, figures: 3 });
	const [low = 0, high = 0] = sampleQuantiles(scalar, [0.05, 0.95]);
	return {
		scalar,
		show,
		low,
		high,
		span: show(low) === show(high) ? show(low) : `${show(low)} to ${show(high)}`
	};
}

/** 'it would lie 9.1 m away or more in 95 of 100 falls; 2.1 m was measured, nearer than in 99 of 100.' */
function compare(o: Observation, c: Component, trials: string): string {
	if (o.kind === 'outcome' || c.kind === 'outcome') {
		return `${expectation(o, c, trials)}, as it happened.`;
	}
	const { scalar, show, low, high, span } = spanOf(o, c);
	const observed = o.kind === 'offset' ? Math.hypot(o.east, o.north) : o.observed;
	const below = scalar.reduce((n, v) => n + (v <= observed ? 1 : 0), 0) / scalar.length;
	const place = o.kind !== 'scalar';
	const expected = place
		? observed < low
			? `${o.label} would lie ${show(low)} away or more in 95 of 100 ${trials}`
			: observed > high
				? `${o.label} would lie ${show(high)} away or less in 95 of 100 ${trials}`
				: `${o.label} would lie ${span} away in 90 of 100 ${trials}`
		: `${o.label} would be ${span} in 90 of 100 ${trials}`;
	if (o.kind === 'scalar' && o.beyond) {
		const [least, part] = o.beyond === 'above' ? ['at least', 1 - below] : ['at most', below];
		return `${expected}; ${least} ${show(observed)} is known, which comes about in ${outOf100(part)} ${trials}.`;
	}
	const off = o.kind === 'offset' && c.kind === 'offset' ? `; ${offMiddle(o, c, show)}` : '';
	return `${expected}; ${show(observed)} was measured, ${share(below, place, trials)}${off}.`;
}

/** A length hides the direction: how far from the middle (median east and north) of all predicted places it lay. */
function offMiddle(
	o: Extract<Observation, { kind: 'offset' }>,
	{ predictedEast, predictedNorth }: Extract<Component, { kind: 'offset' }>,
	show: (si: number) => string
): string {
	const [east = 0] = sampleQuantiles(predictedEast, [0.5]);
	const [north = 0] = sampleQuantiles(predictedNorth, [0.5]);
	const lay = Math.hypot(o.east - east, o.north - north);
	const nearer =
		predictedEast.reduce(
			(n, e, i) => n + (Math.hypot(e - east, predictedNorth[i]! - north) < lay ? 1 : 0),
			0
		) / predictedEast.length;
	const [word, part] = nearer < 0.5 ? ['nearer', 1 - nearer] : ['farther', nearer];
	return `it lay ${show(lay)} from the middle of where that would put it, ${word} than in ${outOf100(part)}`;
}

/** '33 of 100', for sentences. */
export const outOf100 = (part: number) =>
	part < 0.005
		? 'fewer than 1 of 100'
		: part > 0.995
			? 'more than 99 of 100'
			: `${Math.round(100 * part)} of 100`;

/**
 * '3 of 100' for so many of n trials computed; for none what that allows: with 95 % confidence fewer than 3/n (the rule
 * of three: Hanley and Lippman-Hand, JAMA 249 (1983) 1743, from memory).
 */
export const countOf100 = (hits: number, n: number) =>
	hits > 0
		? outOf100(hits / n)
		: `none of ${n} (so in fewer than ${Math.max(1, Math.ceil(300 / n - 1e-9))} of 100)`;

/** The same, '33 %', beneath the name of a row of a figure, where room is short; samples tell no finer than 1 %. */
export const percentOf = (part: number) =>
	part < 0.005 ? '<1\u202F%' : part > 0.995 ? '>99\u202F%' : percent(Math.round(100 * part) / 100);

function share(below: number, place: boolean, trials: string): string {
	const [less, more] = place
		? ['as near or nearer', 'as far or farther']
		: ['as little or less', 'as much or more'];
	const [part, word] = below < 0.5 ? [below, less] : [1 - below, more];
	return part < 0.005
		? `${word} in fewer than 1 of 100 ${trials}`
		: `${word} in ${Math.round(100 * part)} of 100`;
}
