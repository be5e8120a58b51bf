import type { LookValue, ManyOutcomes, ObservationValue } from '$lib/reasoning';
import type { Investigation } from '../case';
import type { Finding } from '../schema/anomaly';
import { hasResult, isTest, standingPrediction } from './predictions';
import { type TestOutcomes, testOutcomes } from './test-outcomes';
import { readResult } from '../schema/calculation-result';

/** Tests without a result that are not withdrawn. */
const openTests = (file: Investigation) =>
	Object.entries(file.evidence).flatMap(([id, item]) =>
		isTest(item) && !item.withdrawn && !hasResult(item) ? [[id, item] as const] : []
	);

/** A test that an open sign of this anomaly cites is what would show the sign, and ranked as that. */
const citedByOpenSign = (file: Investigation, anomaly: string, test: string) =>
	Object.values(file.findings).some(
		(finding) =>
			finding.anomaly === anomaly && finding.state === 'notExamined' && finding.evidence.includes(test)
	);

/** A test as the engine ranks it; what was left empty is not told apart. */
export const lookAt = (id: string, { events, outcomes }: TestOutcomes): ManyOutcomes => ({
	id,
	scenarios: events,
	outcomes: outcomes.map(({ under }) => ({ likelihood: under }))
});

/** What can be looked at besides the signs, as the engine ranks it: tests that are locked, and planned calculations. */
export function manyOutcomes(file: Investigation, anomaly: string): ManyOutcomes[] {
	const tests = openTests(file).flatMap(([id]) => {
		if (citedByOpenSign(file, anomaly, id)) return [];
		const locked = standingPrediction(file, id)?.[1];
		const told = locked && testOutcomes(file, anomaly, locked);
		return told ? [lookAt(id, told)] : [];
	});
	const planned = plannedRuns(file, anomaly).flatMap(([id, { likelihood: place, result }]) => {
		const { expected = [] } = readResult(result) ?? {};
		const scenarios = place?.scenarios.flatMap(({ event }) => event ?? []) ?? [];
		const count = scenarios.length + 1;
		const fits = expected.every(({ from, likelihood }) => from < count && likelihood.length === count);
		return scenarios.length > 0 && fits ? [{ id, scenarios, outcomes: expected }] : [];
	});
	return [...tests, ...planned];
}

/** Signs that nobody has looked at and that no cause is linked to: they can tell nothing yet. */
export const unlinkedSigns = (file: Investigation, anomaly: string): [string, Finding][] =>
	Object.entries(file.findings).filter(
		([, { anomaly: of, state, links, sameAs, residualLink }]) =>
			of === anomaly &&
			state === 'notExamined' &&
			links.length === 0 &&
			sameAs === null &&
			residualLink === null
	);

/** Calculations whose observable nobody has measured yet. */
const plannedRuns = (file: Investigation, anomaly: string) =>
	Object.entries(file.calculations).filter(([, run]) => run.planned && run.anomaly === anomaly);

/** What measuring takes where nobody said; common practice, no source. */
const USUAL_MINUTES = 30;

/** One thing to look at next. */
export interface NextLook {
	kind: 'sign' | 'test' | 'calculation';
	id: string;
	number: number;
	title: string;
	bits: number;
	/** Standard error of the bits, where they were sampled. */
	error: number | null;
	/** Probability that it settles the question; from a sample what does for certain, and what may. */
	settles: [least: number, most: number];
	/** Each outcome that can be listed. */
	outcomes: OutcomeStand[];
	/** Of a calculation: what each scenario would let be measured, in sentences. */
	expected: string[];
	/** Of a sign: tests without a result that it cites; it is what they would show. */
	tests: { id: string; number: number; title: string }[];
	/** Minutes, or null where nobody has said. */
	cost: number | null;
	/** The minutes are common practice, no source. */
	costPractice: boolean;
	perHour: number | null;
	/** Looking destroys something. */
	destroys: boolean;
	/** Something in its numbers was assumed, in words. */
	assumed: string | null;
}

/** Where an outcome would leave the branches; null where it can't come about, or the sample says too little of it. */
export interface OutcomeStand {
	words: string;
	probability: number;
	branches: Readonly<Record<string, number>> | null;
	/** Standard errors, from a sample. */
	probabilityError?: number;
	error?: number;
}

/** What most looks have none of. */
const NONE = { outcomes: [], expected: [], tests: [], destroys: false, assumed: null };

/** Signs that nobody has looked at, locked tests and planned calculations, by what they are expected to tell, the most telling first. */
export function nextLooks(
	file: Investigation,
	anomaly: string,
	observations: readonly ObservationValue[],
	looks: readonly LookValue[]
): NextLook[] {
	const open = new Map(openTests(file));
	const signs = observations.flatMap(({ id, bits, error, probabilitySettles: p, ...stands }): NextLook[] => {
		const sign = file.findings[id];
		if (sign?.state !== 'notExamined') return [];
		const tests = sign.evidence.flatMap((item) => {
			const test = open.get(item);
			return test ? [{ ...test, id: item }] : [];
		});
		const cost =
			sign.costMinutes ?? tests.find(({ costMinutes }) => costMinutes != null)?.costMinutes ?? null;
		return [
			{
				...NONE,
				kind: 'sign',
				id,
				number: sign.number,
				title: sign.statement,
				bits,
				error: error?.bits ?? null,
				settles: error?.settles ?? [p, p],
				outcomes: signOutcomes(stands, error),
				tests: tests.map(({ id, number, title }) => ({ id, number, title })),
				...costing(bits, cost, sign.costPractice === true && sign.costMinutes !== null),
				destroys: sign.destructive || tests.some(({ reversible }) => reversible === 'no')
			}
		];
	});
	const others = looks.flatMap(({ id, bits, error = null, probabilitySettles: p, outcomes }): NextLook[] => {
		const value = { ...NONE, id, bits, error, settles: [p, p] as [number, number] };
		const run = file.calculations[id];
		if (run?.planned) {
			const expected = run.likelihood?.scenarios.map(({ words }) => words) ?? [];
			const cost = costing(bits, run.costMinutes ?? USUAL_MINUTES, run.costMinutes == null);
			return [{ ...value, kind: 'calculation', number: run.number, title: run.title, expected, ...cost }];
		}
		const test = open.get(id);
		const locked = standingPrediction(file, id)?.[1];
		const told = locked && testOutcomes(file, anomaly, locked);
		if (!test || told?.outcomes.length !== outcomes.length) return [];
		return [
			{
				...value,
				kind: 'test',
				number: test.number,
				title: test.title,
				outcomes: outcomes.map((outcome, i) => ({ ...outcome, words: told.outcomes[i]!.words })),
				...costing(bits, test.costMinutes ?? null, false),
				destroys: test.reversible === 'no',
				assumed: told.assumed ? 'that it shows what was predicted in 90 %; common practice, no source' : null
			}
		];
	});
	return [...signs, ...others].sort((a, b) => b.bits - a.bits);
}

const costing = (bits: number, cost: number | null, costPractice: boolean) => ({
	cost,
	costPractice,
	perHour: cost ? (60 * bits) / cost : null
});

function signOutcomes(
	{
		probabilityPresent: p,
		ifPresent,
		ifAbsent
	}: Pick<ObservationValue, 'probabilityPresent' | 'ifPresent' | 'ifAbsent'>,
	error: ObservationValue['error']
): OutcomeStand[] {
	const stand = (words: string, probability: number, branches: OutcomeStand['branches'], of?: number) => ({
		words,
		probability,
		branches,
		...(error ? { probabilityError: error.probabilityPresent, error: of ?? 0 } : {})
	});
	return [
		stand('there', p, ifPresent, error?.ifPresent),
		stand('not there', 1 - p, ifAbsent, error?.ifAbsent)
	];
}

/** What could be ranked but for something that is missing. */
export interface Unranked extends Pick<NextLook, 'kind' | 'id' | 'number' | 'title'> {
	missing: string;
}

/** Tests that wait for a result and planned calculations that are not ranked, each with what is missing. */
export function unranked(file: Investigation, anomaly: string): Unranked[] {
	const tests = openTests(file).flatMap(([id, { number, title }]) => {
		const missing = citedByOpenSign(file, anomaly, id) ? null : missingOf(file, anomaly, id);
		return missing === null ? [] : [{ kind: 'test' as const, id, number, title, missing }];
	});
	const ranked = new Set(manyOutcomes(file, anomaly).map(({ id }) => id));
	const runs = plannedRuns(file, anomaly).flatMap(([id, { number, title }]) =>
		ranked.has(id)
			? []
			: [
					{
						kind: 'calculation' as const,
						id,
						number,
						title,
						missing: 'say which event each of its scenarios stands for'
					}
				]
	);
	return [...tests, ...runs];
}

function missingOf(file: Investigation, anomaly: string, test: string): string | null {
	const isHere = (event: string | null) => event !== null && file.events[event]?.anomaly === anomaly;
	const locked = standingPrediction(file, test)?.[1];
	if (!locked) return Object.keys(file.events).some(isHere) ? 'lock what each cause would show' : null;
	return locked.under.some(({ event }) => isHere(event)) && !testOutcomes(file, anomaly, locked)
		? 'every cause is to show the same, so it tells none of them apart'
		: null;
}
