import * as v from 'valibot';
import { calculationById } from '$lib/calculations/registry';
import type { Investigation } from '../case';
import { done, type Outcome, refused } from '../outcome';
import { calculation, type StoredCalculation } from '../schema/calculation';
import { readResult, type Result } from '../schema/calculation-result';
import { id } from '../schema/common';
import { nextNumber, put, removal } from './records';
import { type AnyOperation, operation } from './operation';
import { merged } from './tree-parts';

const GONE = 'This run is no longer there; somebody removed it meanwhile.';
const asked = v.pick(calculation, [
	'inputs',
	'observed',
	'scenarios',
	'planned',
	'seed',
	'samples',
	'sources',
	'result'
]);
const named = v.pick(calculation, ['anomaly', 'title', 'note']);

/** [K1] A result is kept only with the calculation, the version, the seed and the samples that gave it. */
function resultOf(calculationId: string, given: v.InferOutput<typeof asked>): Outcome<Result> {
	const known = calculationById(calculationId);
	if (!known) return refused(`There is no calculation called "${calculationId}".`, 'calculation');
	const result = readResult(given.result);
	const from = given.result as Partial<Record<'seed' | 'samples', unknown>> | null;
	return result?.calculation === known.id &&
		result.version === known.version &&
		from?.seed === given.seed &&
		from.samples === given.samples &&
		(result.expected !== undefined) === (given.planned === true)
		? done(result)
		: refused('This result is of another calculation, version or seed. Run it again.', 'result');
}

/** Numbers that only a picture needs, in six figures: a case keeps every version of a run. */
function lean(result: unknown): unknown {
	const round = (value: unknown): unknown =>
		typeof value === 'number'
			? Number(value.toPrecision(6))
			: Array.isArray(value)
				? value.map(round)
				: typeof value === 'object' && value !== null
					? Object.fromEntries(Object.entries(value).map(([key, part]) => [key, round(part)]))
					: value;
	const { figure, series, ...rest } = result as Record<string, unknown>;
	return {
		...rest,
		...(figure === undefined ? {} : { figure: round(figure) }),
		...(series === undefined ? {} : { series: round(series) })
	};
}

const add = operation({
	name: 'calculation.add',
	label: 'Kept a calculation',
	args: v.object({
		id: v.optional(id),
		calculation: calculation.entries.calculation,
		...named.entries,
		...asked.entries
	}),
	apply: (file: Investigation, { id: given, ...record }, { newId }) => {
		if (record.anomaly !== null && !file.anomalies[record.anomaly])
			return refused('This anomaly is no longer there.', 'anomaly');
		const result = resultOf(record.calculation, record);
		if (!result.ok) return result;
		const runId = given ?? newId();
		if (file.calculations[runId]) return refused('A record with this identity is there already.');
		return done([
			put(file, 'calculations', runId, {
				...record,
				result: lean(record.result),
				version: String(result.value.version),
				number: nextNumber(file.calculations),
				likelihood: null
			})
		]);
	}
});

/** [K2] A run that goes to another anomaly leaves the tree that it weighed on. */
const change = operation({
	name: 'calculation.change',
	label: 'Changed what a calculation is called or belongs to',
	args: v.object({ id, ...v.partial(named).entries }),
	apply: (file: Investigation, { id: runId, ...patch }) => {
		const before = file.calculations[runId];
		if (!before) return refused(GONE);
		const after = merged(before, patch);
		if (after.anomaly !== null && !file.anomalies[after.anomaly])
			return refused('This anomaly is no longer there.', 'anomaly');
		const moved = after.anomaly !== before.anomaly;
		return done([put(file, 'calculations', runId, moved ? { ...after, likelihood: null } : after)]);
	}
});

/**
 * [K3] What was computed again keeps its place on the tree with the new densities. A scenario that was not compared
 * before needs an event first, unless the run does not weigh.
 */
const again = {
	args: v.object({ id, ...asked.entries }),
	apply: (file: Investigation, { id: runId, ...request }: { id: string } & v.InferOutput<typeof asked>) => {
		const before = file.calculations[runId];
		if (!before) return refused(GONE);
		const result = resultOf(before.calculation, request);
		if (!result.ok) return result;
		if (request.planned && before.likelihood?.use)
			return refused('It weighs on the tree as measured. Take it off the tree first.', 'planned');
		const { planned: _, ...was } = before;
		const after = {
			...was,
			...request,
			result: lean(request.result),
			version: String(result.value.version)
		};
		if (!before.likelihood) return done([put(file, 'calculations', runId, after)]);
		const events = carriedOver(before.likelihood.scenarios, before.scenarios, {
			compared: result.value.likelihoods,
			asked: request.scenarios
		});
		const weighing = likelihoodOf(file, before.anomaly, result.value, events);
		if (weighing.ok) {
			const likelihood = { use: before.likelihood.use, scenarios: weighing.value };
			return done([put(file, 'calculations', runId, { ...after, likelihood })]);
		}
		return before.likelihood.use
			? refused(
					'It now compares other scenarios than those on the tree. Take it off the tree, keep this result, then choose the events anew.',
					'scenarios'
				)
			: done([put(file, 'calculations', runId, { ...after, likelihood: null })]);
	}
};
const rerun = operation({ name: 'calculation.rerun', label: 'Computed a calculation again', ...again });
/** The same, because values of the case have changed that a run on the tree had taken: no step of a person's. */
const follow = operation({
	name: 'calculation.follow',
	label: 'A calculation on the tree followed the case',
	...again
});

type Scenarios = NonNullable<StoredCalculation['likelihood']>['scenarios'];

/**
 * Events of the scenarios compared before: of the same scenario asked in the same words, else of the same kind in
 * order, where as many of that kind are compared as before.
 * @param askedBefore  the scenarios as they were asked for, in the order of `before`; none where the usual ones were
 */
function carriedOver(
	before: Scenarios,
	askedBefore: readonly unknown[],
	now: { compared: Result['likelihoods']; asked: readonly unknown[] }
): (string | null)[] {
	const left = before.map(({ event, scenario }, i) => ({
		event,
		kind: scenario,
		words: JSON.stringify(askedBefore[i] ?? scenario)
	}));
	const take = (fits: (one: (typeof left)[number]) => boolean) => {
		const at = left.findIndex(fits);
		return at < 0 ? undefined : left.splice(at, 1)[0];
	};
	const same = now.compared.map(({ id }, i) => {
		const words = JSON.stringify(now.asked[i] ?? id);
		return take((one) => one.kind === id && one.words === words);
	});
	const asMany = (kind: string) =>
		before.filter(({ scenario }) => scenario === kind).length ===
		now.compared.filter(({ id }) => id === kind).length;
	return now.compared.map(
		({ id }, i) => (same[i] ?? (asMany(id) ? take(({ kind }) => kind === id) : undefined))?.event ?? null
	);
}

/** [K4] Scenarios in their order, each an event of this tree, none twice, ending with 'none of these'. */
function likelihoodOf(
	file: Investigation,
	anomaly: string | null,
	{ likelihoods }: Result,
	events: readonly (string | null)[]
): Outcome<Scenarios> {
	const top = anomaly === null ? undefined : file.anomalies[anomaly]?.top;
	if (top === undefined) return refused('Say first to which anomaly this run belongs.', 'anomaly');
	if (likelihoods.length < 2)
		return refused('Say what was observed and which scenarios to compare; then it can weigh.', 'observed');
	if (events.length !== likelihoods.length) return refused('Choose one event for each scenario.', 'events');
	const scenarios: Scenarios = [];
	for (const [i, { id: kind, label, density, standardError, words }] of likelihoods.entries()) {
		const event = events[i] ?? null;
		const last = i === likelihoods.length - 1;
		const fault = last
			? event !== null && '"None of these" stands for no event.'
			: event === null || file.events[event]?.anomaly !== anomaly
				? `Choose the event of the tree that "${label}" stands for.`
				: event === top
					? 'The top event is given: it can’t be told from anything by this. Choose an event below it.'
					: events.indexOf(event) < i &&
						'This event stands for an earlier scenario already; the first that is true decides.';
		if (fault) return refused(fault, `events.${i}`);
		scenarios.push({ event, scenario: kind, density, standardError, words });
	}
	if (scenarios.every(({ density }) => density === 0))
		return refused(
			'Under none of these scenarios can what was observed happen at all. See to the inputs.',
			'events'
		);
	return done(scenarios);
}

/** [K6] A planned run never weighs: what its scenarios stand for is kept, so that what measuring would tell is ranked. */
const plan = operation({
	name: 'calculation.plan',
	label: 'Said what the scenarios of a planned calculation stand for, or what it takes',
	args: v.object({ id, events: v.array(v.nullable(id)), costMinutes: calculation.entries.costMinutes }),
	apply: (file: Investigation, { id: runId, events, costMinutes }) => {
		const run = file.calculations[runId];
		if (!run) return refused(GONE);
		if (!run.planned) return refused('This is measured already: let it weigh instead.');
		const result = readResult(run.result);
		if (!result) return refused('Its stored result is of another version. Compute it again first.');
		const scenarios = likelihoodOf(file, run.anomaly, result, events);
		if (!scenarios.ok) return scenarios;
		const likelihood = { use: false, scenarios: scenarios.value };
		return done([put(file, 'calculations', runId, { ...run, likelihood, costMinutes })]);
	}
});

const useAsEvidence = operation({
	name: 'calculation.useAsEvidence',
	label: 'Let a calculation weigh, or took it off the tree',
	args: v.object({ id, use: v.boolean(), events: v.optional(v.array(v.nullable(id))) }),
	apply: (file: Investigation, { id: runId, use, events }) => {
		const run = file.calculations[runId];
		if (!run) return refused(GONE);
		if (use && run.planned)
			return refused(
				'Nothing is measured yet. Enter what was measured and compute it again; then it can weigh.'
			);
		if (!use)
			return done([
				put(file, 'calculations', runId, {
					...run,
					likelihood: run.likelihood && { ...run.likelihood, use: false }
				})
			]);
		const result = readResult(run.result);
		if (!result) return refused('Its stored result is of another version. Compute it again first.');
		const scenarios = likelihoodOf(
			file,
			run.anomaly,
			result,
			events ?? run.likelihood?.scenarios.map(({ event }) => event) ?? []
		);
		return scenarios.ok
			? done([put(file, 'calculations', runId, { ...run, likelihood: { use, scenarios: scenarios.value } })])
			: scenarios;
	}
});

/** [K5] A run that a decision or the step of a change cites stays until it is no longer cited. */
const remove = operation({
	name: 'calculation.remove',
	label: 'Removed a calculation',
	args: v.object({ id }),
	apply: (file: Investigation, { id: runId }) => {
		if (!file.calculations[runId]) return refused(GONE);
		const branch = Object.values(file.events).find((e) => e.disposition.cites.includes(runId));
		if (branch) return refused(`What was decided on "${branch.title}" cites it. Take it off there first.`);
		const raised = Object.values(file.changes).find((c) =>
			c.steps.some((step) => step.cites.includes(runId))
		);
		return raised
			? refused(`Change C${raised.number} ("${raised.title}") cites it, so it stays.`)
			: done([removal(file, 'calculations', runId)]);
	}
});

export const calculationOps = [
	add,
	change,
	rerun,
	follow,
	useAsEvidence,
	plan,
	remove
] as unknown as AnyOperation<Investigation>[];
