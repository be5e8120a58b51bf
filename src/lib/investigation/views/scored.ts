import { brierScore, logLossBits, type Stated } from '$lib/probability/scoring';
import type { Investigation } from '../case';
import type { StatedNumbers, Truth } from '../schema/truth';
import { listed } from './leading';
import { inTreeOrder, isBranch } from './tree';

/** The three numbers that are scored, in the order in which they were given. */
export const STAGES = ['impression', 'start', 'end'] as const;
export type Stage = (typeof STAGES)[number];

/** One branch of a concluded anomaly: what was stated of it, and what turned out. */
export interface Outcome extends StatedNumbers {
	title: string;
	truth: Truth | null;
}

/** An anomaly of which it is known, at least in part, what was true. */
export interface ScoredAnomaly {
	id: string;
	number: number;
	title: string;
	/** Stated probabilities whose truth is known, for each stage. */
	stated: Readonly<Record<Stage, readonly Stated[]>>;
	neverKnown: number;
}

/** Weights as the page shows them when something is decided. */
export type WeightsThen = Readonly<Record<string, { givenTop: number | null; givenAll: number | null }>>;

/** The numbers of every branch as they stand now; `weights` is what the page shows. */
export const numbersNow = (file: Investigation, anomaly: string, weights: WeightsThen): StatedNumbers[] =>
	branchesOf(file, anomaly).map(([event, { impression, disposition }]) => ({
		event,
		impression: impression?.p ?? null,
		start: weights[event]?.givenTop ?? null,
		end: weights[event]?.givenAll ?? disposition.weightThen
	}));

/** Every branch with the numbers that its conclusion kept, or those of now where it kept none. */
export function outcomes(file: Investigation, anomaly: string): Outcome[] {
	const kept = new Map((file.conclusions[anomaly]?.numbers ?? []).map((row) => [row.event, row]));
	const now = numbersNow(file, anomaly, {});
	return now.map((row) => {
		const { title, truth } = file.events[row.event]!;
		return { ...row, ...kept.get(row.event), title, truth: truth ?? null };
	});
}

/** Anomalies of which something is known to be true or not, with what was stated. */
export function scoredAnomalies(file: Investigation): ScoredAnomaly[] {
	return Object.entries(file.anomalies)
		.map(([id, { number, title }]) => {
			const rows = outcomes(file, id).filter(({ truth }) => truth !== null);
			const known = rows.filter(({ truth }) => truth!.is !== 'neverKnown');
			const at = (stage: Stage) =>
				known.flatMap((row) =>
					row[stage] === null ? [] : [{ p: row[stage], true: row.truth!.is === 'true' }]
				);
			return {
				id,
				number,
				title,
				stated: { impression: at('impression'), start: at('start'), end: at('end') },
				neverKnown: rows.length - known.length
			};
		})
		.filter(({ stated, neverKnown }) => neverKnown > 0 || STAGES.some((stage) => stated[stage].length > 0))
		.sort((a, b) => a.number - b.number);
}

/** Both scores of what was stated; null where nothing was. */
export const scoresOf = (stated: readonly Stated[]) =>
	stated.length === 0 ? null : { brier: brierScore(stated), bits: logLossBits(stated) };

/** What the numbers of an anomaly rest on by now: signs that were looked at, their evidence, calculations on the tree. */
export const weighedNow = (file: Investigation, anomaly: string): string[] => [
	...Object.entries(file.findings).flatMap(([id, { anomaly: of, state, evidence }]) =>
		of === anomaly && state !== 'notExamined' ? [id, ...evidence] : []
	),
	...Object.entries(file.calculations).flatMap(([id, run]) =>
		run.anomaly === anomaly && run.likelihood?.use ? [id] : []
	)
];

/** What turned out of an anomaly as it was concluded, in a sentence; '' where nothing is known to have been true. */
export function turnedOutTrue(file: Investigation, anomaly: string): string {
	const titles = branchesOf(file, anomaly).flatMap(([, { title, truth }]) =>
		truth?.is === 'true' ? [`“${title}”`] : []
	);
	return titles.length === 0
		? ''
		: `It turned out that ${listed(titles)} ${titles.length === 1 ? 'was' : 'were'} true.`;
}

/** Nothing was looked at and no calculation weighs yet: a first impression can still be one. */
export const isUnweighed = (file: Investigation, anomaly: string): boolean =>
	!Object.values(file.findings).some((f) => f.anomaly === anomaly && f.state !== 'notExamined') &&
	!Object.values(file.calculations).some((run) => run.anomaly === anomaly && run.likelihood !== null);

export const branchesOf = (file: Investigation, anomaly: string) =>
	inTreeOrder(file, anomaly).filter(([, event]) => isBranch(event));
