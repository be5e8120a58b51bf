import type { Component } from '$lib/probability/density';
import { GENERATOR, randomStream } from '$lib/probability/generator';
import { weightedQuantiles } from '$lib/probability/summary';
import { ok, refuse, type Result } from '$lib/quantity/result';
import type {
	AddedOutput,
	Addition,
	AnyCalculation,
	Observation,
	OutputSummary,
	Source
} from './calculation';
import { inChosenDimension } from './chosen-dimension';
import { expectedDraws, notPlannable, type Draw } from './expected';
import type { Figure } from './figure';
import { readInputs, type Problem, type ReadInputs, type Stored, type Values } from './inputs';
import {
	emptyComponents,
	expectations,
	likelihoods,
	predictInto,
	readScenarios,
	type ChosenScenario,
	type ScenarioLikelihood
} from './likelihood';
import {
	attempt,
	drawSamples,
	flat,
	keyOf,
	outputOf,
	sensitivities,
	summarise,
	type Sensitivity
} from './sampling';

/** A request as the command line, a form or the case gives it; quantities in any form that `readQuantity` accepts. */
export interface Request {
	inputs: Values;
	observed?: Values;
	scenarios?: unknown;
	/** Nothing is measured yet: what is given as observed says how well it would be, and what measuring would show is drawn. */
	planned?: boolean;
	seed?: number;
	samples?: number;
}

/** Everything that a result must hold to be shown, stored, repeated and doubted. Plain data. */
export interface CalculationResult {
	calculation: string;
	title: string;
	version: number;
	seed: number;
	samples: number;
	generator: { name: string; library: string; version: string };
	inputs: Record<string, Stored>;
	observed?: Record<string, Stored>;
	outputs: Record<string, OutputSummary>;
	sensitivity: Sensitivity[];
	likelihoods?: ScenarioLikelihood[];
	/** Of a planned run: what might be measured, drawn under each of the scenarios. */
	expected?: Draw[];
	/** The answer in sentences. */
	statements: string[];
	/** Where not to believe it. */
	warnings: string[];
	/** What was assumed. */
	notes: string[];
	cautions: readonly string[];
	sources: readonly Source[];
	figure?: Figure;
	/** What the calculation adds for others to draw, such as footprints for the plan; see its own type. */
	series?: unknown;
}

export const DEFAULT_SAMPLES = 4000;
export const SAMPLE_LIMIT = 200_000;
const CHUNK = 100;

type Outcome = Result<CalculationResult, Problem>;

/** Runs to the end in one go. */
export function runCalculation(calculation: AnyCalculation, request: Request): Outcome {
	const steps = calculationSteps(calculation, request);
	for (;;) {
		const step = steps.next();
		if (step.done) return step.value;
	}
}

/** Runs in slices, giving way between them; a cancelled run refuses with 'cancelled'. */
export async function runCalculationAsync(
	calculation: AnyCalculation,
	request: Request,
	watch: { onProgress?: (share: number) => void; signal?: AbortSignal } = {}
): Promise<Outcome> {
	for (const steps = calculationSteps(calculation, request); ;) {
		if (watch.signal?.aborted) return refuse({ path: '', message: 'cancelled' });
		const step = steps.next();
		if (step.done) return step.value;
		watch.onProgress?.(step.value);
		await new Promise((resume) => setTimeout(resume, 0));
	}
}

/** The inputs as read, or the first thing that is missing or wrong among them. */
export function readyInputs(calculation: AnyCalculation, inputs: Values): Result<ReadInputs, Problem> {
	const read = readInputs(calculation.inputs, inputs);
	if (!read.ok) return read;
	const checked = attempt(() => calculation.check?.(read.value.nominal));
	const problem = checked.ok ? checked.value : checked.error;
	if (!problem) return read;
	return refuse(typeof problem === 'string' ? { path: '', message: problem } : problem);
}

/** The run itself; yields the share done (0 to 1) between slices of work. The same request gives the same digits. */
export function* calculationSteps(described: AnyCalculation, request: Request): Generator<number, Outcome> {
	const calculation = inChosenDimension(described, request.inputs);
	const { seed = 1, samples: n = DEFAULT_SAMPLES } = request;
	if (!Number.isSafeInteger(seed))
		return refuse({ path: 'seed', message: 'the seed must be a whole number' });
	if (!Number.isInteger(n) || n < 50 || n > SAMPLE_LIMIT)
		return refuse({ path: 'samples', message: `samples must be a whole number from 50 to ${SAMPLE_LIMIT}` });
	const read = readyInputs(calculation, request.inputs);
	if (!read.ok) return read;
	const x: unknown = read.value.nominal;
	const asked = readEvidence(calculation, request, x);
	if (!asked.ok) return asked;
	const { observations, scenarios } = asked.value;
	// What stands in the place of an observation in a plan was not seen.
	const seen = request.planned ? [] : observations;

	const nominal = attempt(() => calculation.model(x, () => 0.5, true));
	if (!nominal.ok) return refuse({ path: '', message: nominal.error });
	const bad = flat(nominal.value).find(({ value }) => !Number.isFinite(value));
	if (bad)
		return refuse({
			path: '',
			message: `these inputs give no number for ${outputOf(calculation, bad.id).label}: one of them is far from what can be; check them and their units`
		});

	const total = n * (1 + scenarios.length + (calculation.addition ? 1 : 0));
	let done = 0;
	const drawn = drawSamples(calculation, read.value, nominal.value, seed, n);
	for (let i = 0; i < n; i++) {
		drawn.next();
		if (++done % CHUNK === 0) yield Math.min(0.99, done / total);
	}
	const { xs, failures } = drawn;
	const columns = drawn.columns.map((c) => ({ ...c, values: c.values.subarray(0, xs.length) }));
	if (xs.length < n / 2)
		return refuse({
			path: '',
			message: `most combinations of these inputs are impossible: ${failures.reason}`
		});

	const predictions: Component[][] = [];
	for (const [s, scenario] of scenarios.entries()) {
		if (scenario.kind.exact) {
			predictions.push([]);
			continue;
		}
		const components = emptyComponents(observations, xs.length);
		const random = randomStream(seed, `scenario ${s} ${scenario.kind.id}`);
		for (const [i, sample] of xs.entries()) {
			const predicted = attempt(() => predictInto(components, i, scenario, sample, observations, random));
			if (!predicted.ok) return refuse({ path: `scenarios.${s + 1}`, message: predicted.error });
			if (++done % CHUNK === 0) yield Math.min(0.99, done / total);
		}
		predictions.push(components);
	}

	let expected: Draw[] | undefined;
	if (request.planned) {
		const draws = expectedDraws(predictions, (stream) => randomStream(seed, stream));
		let step = attempt(() => draws.next());
		for (; step.ok && !step.value.done; step = attempt(() => draws.next())) yield 0.99;
		if (!step.ok) return refuse({ path: 'observed', message: step.error });
		expected = step.value.value as Draw[];
	}

	const outputs = summarise(calculation, columns);
	const limits = attempt(() => calculation.limits?.(x, nominal.value) ?? []);
	if (!limits.ok) return refuse({ path: '', message: limits.error });
	const warnings = [...read.value.warnings, ...asked.value.warnings, ...limits.value];
	if (failures.count)
		warnings.push(
			`${failures.count} of ${n} combinations of the inputs were impossible and left out: ${failures.reason}.`
		);
	const statements: string[] = [];
	const ranked: Parameters<typeof sensitivities>[1][number][] = [...columns];
	let series: unknown;
	if (calculation.addition) {
		const steps = calculation.addition({
			nominal: x,
			samples: xs,
			observations: seen,
			random: (stream) => randomStream(seed, stream)
		});
		let step = attempt(() => steps.next());
		while (step.ok && !step.value.done) {
			yield Math.min(0.99, done / total);
			done += CHUNK;
			step = attempt(() => steps.next());
		}
		if (!step.ok) return refuse({ path: '', message: step.error });
		const added = step.value.value as Addition;
		series = added.series;
		statements.push(...(added.statements ?? []));
		warnings.push(...(added.warnings ?? []));
		for (const given of added.outputs ?? []) {
			outputs[keyOf(given)] = summaryOf(calculation, given);
			if (given.bySample) ranked.push({ ...given, values: given.bySample });
		}
	}
	const trials = calculation.evidence?.trials ?? 'trials';
	const picture = attempt(() => calculation.figure?.({ nominal: x, observations: seen, outputs, series }));
	if (!picture.ok) return refuse({ path: '', message: picture.error });
	const figure = picture.value;
	return ok({
		calculation: calculation.id,
		title: calculation.title,
		version: calculation.version,
		seed,
		samples: n,
		generator: GENERATOR,
		inputs: read.value.stored,
		...(asked.value.stored ? { observed: asked.value.stored } : {}),
		outputs,
		sensitivity: sensitivities(calculation, ranked, read.value, xs as Values[]),
		...(scenarios.length
			? {
					likelihoods: expected
						? expectations(scenarios, predictions, observations, trials)
						: likelihoods(scenarios, predictions, observations, trials, x)
				}
			: {}),
		...(expected ? { expected } : {}),
		statements,
		warnings,
		notes: [...read.value.notes, ...asked.value.notes, ...fewSamples(n)],
		cautions: calculation.cautions ?? [],
		sources: calculation.sources,
		...(figure ? { figure } : {}),
		...(series === undefined ? {} : { series })
	});
}

/** With none in n a share may still be 3/n (rule of three, 95 % confidence). */
const fewSamples = (n: number) =>
	n < 300
		? [
				`Only ${n} samples were drawn: a share under ${Math.ceil(300 / n)} of 100 can’t be told from none by so few.`
			]
		: [];

interface Asked {
	observations: Observation[];
	scenarios: ChosenScenario<unknown>[];
	stored?: Record<string, Stored>;
	notes: string[];
	warnings: string[];
}

/** What was observed and which scenarios are to be compared, if anything. */
function readEvidence({ evidence }: AnyCalculation, request: Request, x: unknown): Result<Asked, Problem> {
	if (!request.observed && !request.scenarios && !request.planned && !evidence?.required)
		return ok({ observations: [], scenarios: [], notes: [], warnings: [] });
	if (!evidence)
		return refuse({ path: 'observed', message: 'this calculation compares nothing with an observation' });
	const read = readInputs(evidence.observed, request.observed ?? {}, 'observed.');
	if (!read.ok) return read;
	const observations = evidence.observations(read.value.nominal, x, spreads(read.value));
	if (typeof observations === 'string') return refuse({ path: 'observed', message: observations });
	const { stored, notes, warnings } = read.value;
	const unready = request.planned && notPlannable(evidence, observations);
	if (unready) return refuse(unready);
	if (!observations.length) {
		if (request.scenarios)
			return refuse({ path: 'observed', message: 'scenarios can be compared only with something observed' });
		return ok({ observations, scenarios: [], stored, notes, warnings });
	}
	const list = request.scenarios ?? evidence.defaultScenarios?.(x, observations);
	if (list === undefined && request.planned)
		return refuse({ path: 'scenarios', message: 'choose the scenarios to tell apart' });
	if (list === undefined) return ok({ observations, scenarios: [], stored, notes, warnings });
	const scenarios = readScenarios(evidence, list, x, observations);
	return scenarios.ok ? ok({ observations, scenarios: scenarios.value, stored, notes, warnings }) : scenarios;
}

function summaryOf(calculation: AnyCalculation, given: AddedOutput): OutputSummary {
	const { label, dimension, unit } = outputOf(calculation, given.id);
	const [low90 = NaN, median = NaN, high90 = NaN] =
		'quantiles' in given
			? given.quantiles
			: weightedQuantiles(
					given.samples,
					given.weights ?? new Float64Array(given.samples.length).fill(1),
					[0.05, 0.5, 0.95]
				);
	const { id, of, nominal } = given;
	return {
		id,
		label,
		dimension,
		unit,
		...(nominal === undefined ? {} : { nominal }),
		median,
		low90,
		high90,
		...(of === undefined ? {} : { of })
	};
}

/** Standard deviation of an observed field, by its path without 'observed.'. */
const spreads = (read: ReadInputs) => (path: string) =>
	read.varying.find((v) => v.path === `observed.${path}`)?.standardDeviation ?? 0;
