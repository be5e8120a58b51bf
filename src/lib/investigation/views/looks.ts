import type { LookValue, ManyOutcomes, ObservationValue } from '$lib/reasoning';
import type { Investigation } from '../case';
import { hasResult, isTest, standingPrediction } from './predictions';
import { testOutcomes } from './test-outcomes';

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

/** What can be looked at besides the signs, as the engine ranks it: tests locked and waiting for their result. */
export function manyOutcomes(file: Investigation, anomaly: string): ManyOutcomes[] {
	return openTests(file).flatMap(([id]) => {
		if (citedByOpenSign(file, anomaly, id)) return [];
		const locked = standingPrediction(file, id)?.[1];
		const told = locked && testOutcomes(file, anomaly, locked);
		if (!told) return [];
		const outcomes = told.outcomes.map(({ under, otherwise }) => ({ likelihood: [...under, otherwise] }));
		return [{ id, scenarios: told.events, outcomes }];
	});
}

/** One thing to look at next. */
export interface NextLook {
	kind: 'sign' | 'test';
	id: string;
	number: number;
	title: string;
	bits: number;
	/** Standard error of the bits, where they were sampled. */
	error: number | null;
	/** Probability that it settles the question; from a sample what does for certain, and what may. */
	settles: [least: number, most: number];
	outcomes: OutcomeStand[];
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

/** Signs that nobody has looked at and locked tests, by what they are expected to tell, the most telling first. */
export function nextLooks(
	file: Investigation,
	anomaly: string,
	observations: readonly ObservationValue[],
	looks: readonly LookValue[]
): NextLook[] {
	const open = new Map(openTests(file));
	const signs = observations.flatMap(({ id, bits, error, probabilitySettles, ...stands }): NextLook[] => {
		const sign = file.findings[id];
		if (sign?.state !== 'notExamined') return [];
		const tests = sign.evidence.flatMap((item) => {
			const test = open.get(item);
			return test ? [{ id: item, number: test.number, title: test.title }] : [];
		});
		const byTest = sign.evidence.map((item) => open.get(item)).filter((test) => test !== undefined);
		const cost =
			sign.costMinutes ?? byTest.find(({ costMinutes }) => costMinutes != null)?.costMinutes ?? null;
		return [
			{
				kind: 'sign',
				id,
				number: sign.number,
				title: sign.statement,
				bits,
				error: error?.bits ?? null,
				settles: error?.settles ?? [probabilitySettles, probabilitySettles],
				outcomes: signOutcomes(stands, error),
				tests,
				...costing(bits, cost, sign.costPractice === true && sign.costMinutes !== null),
				destroys: sign.destructive || byTest.some(({ reversible }) => reversible === 'no'),
				assumed: null
			}
		];
	});
	const tests = looks.flatMap(({ id, bits, error, probabilitySettles, outcomes }): NextLook[] => {
		const test = open.get(id);
		const locked = standingPrediction(file, id)?.[1];
		const told = locked && testOutcomes(file, anomaly, locked);
		if (!test || told?.outcomes.length !== outcomes.length) return [];
		return [
			{
				kind: 'test',
				id,
				number: test.number,
				title: test.title,
				bits,
				error: error ?? null,
				settles: [probabilitySettles, probabilitySettles],
				outcomes: outcomes.map((outcome, i) => ({ ...outcome, words: told.outcomes[i]!.words })),
				tests: [],
				...costing(bits, test.costMinutes ?? null, false),
				destroys: test.reversible === 'no',
				assumed: told.assumed ? 'that it shows what was predicted in 90 %; common practice, no source' : null
			}
		];
	});
	return [...signs, ...tests].sort((a, b) => b.bits - a.bits);
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

/** Tests that wait for a result and are not ranked, each with what is missing. */
export function unranked(file: Investigation, anomaly: string): { id: string; missing: string }[] {
	const events = Object.values(file.events).filter((event) => event.anomaly === anomaly);
	return openTests(file).flatMap(([id]) => {
		if (citedByOpenSign(file, anomaly, id)) return [];
		const locked = standingPrediction(file, id)?.[1];
		if (!locked) return events.length > 0 ? [{ id, missing: 'lock what each cause would show' }] : [];
		const speaks = locked.under.some(
			({ event }) => event !== null && file.events[event]?.anomaly === anomaly
		);
		return speaks && !testOutcomes(file, anomaly, locked)
			? [{ id, missing: 'every cause is to show the same, so it tells none of them apart' }]
			: [];
	});
}
