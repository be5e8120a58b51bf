import type { Investigation } from '../case';
import type { Finding } from '../schema/anomaly';
import type { Prediction } from '../schema/prediction';
import { below } from './tree';

/** How often a test shows what was predicted where nobody said; common practice, no source. */
export const ASSUMED_OFTEN = 0.9;
export const SOMETHING_ELSE = 'something else';

/** What a locked prediction says in numbers. */
export interface TestOutcomes {
	/** Cases that are events of this tree, in the order in which they were written. */
	events: string[];
	/** What it could show, 'something else' last: how probable under each event, and under what nothing was said of. */
	outcomes: { words: string; under: number[]; otherwise: number }[];
	/** Of some case nobody said how often. */
	assumed: boolean;
}

const sameWords = (text: string) => text.trim().toLowerCase().replace(/\s+/g, ' ').replace(/[.!]$/, '');

/** What could be shown, each once: cases that expect the same in the same words expect one outcome. */
export function predictedOutcomes(under: readonly { expected: string }[]): string[] {
	const met = new Map(
		[...under].reverse().map(({ expected }) => [sameWords(expected), expected.trim()] as const)
	);
	return under
		.map(({ expected }) => sameWords(expected))
		.filter((words, i, all) => words !== '' && all.indexOf(words) === i)
		.map((words) => met.get(words) as string);
}

/**
 * Under each case its outcome is as probable as was said, and the rest is shared evenly by the other outcomes, 'something
 * else' among them. Of a cause that nothing was said of, each outcome is as probable as under the cases on average.
 * @returns null where the prediction says nothing of this tree, or all cases expect the same
 */
export function testOutcomes(
	file: Investigation,
	anomaly: string,
	{ under }: Prediction
): TestOutcomes | null {
	const words = predictedOutcomes(under);
	const rows = under.filter(
		({ event }, i) =>
			event !== null &&
			file.events[event]?.anomaly === anomaly &&
			under.findIndex((other) => other.event === event) === i
	);
	if (words.length < 2 || rows.length === 0) return null;
	const outcomes = [...words, SOMETHING_ELSE].map((outcome) => {
		const shows = ({ expected, p = ASSUMED_OFTEN }: Prediction['under'][number]) =>
			sameWords(expected) === sameWords(outcome) ? p : (1 - p) / words.length;
		return {
			words: outcome,
			under: rows.map(shows),
			otherwise: under.reduce((sum, row) => sum + shows(row), 0) / under.length
		};
	});
	return {
		events: rows.map(({ event }) => event as string),
		outcomes,
		assumed: rows.some(({ p }) => p === undefined)
	};
}

/**
 * The sign that an outcome is, as the prediction has it: each event shows it as often as was said, base rate included.
 * The base rate is the least of all; branches that nothing was said of show it as often as the cases on average.
 */
export function signOf(
	file: Investigation,
	anomaly: string,
	test: string,
	{ events, outcomes }: TestOutcomes,
	at: number
): Omit<Finding, 'anomaly' | 'number'> {
	const { words, under, otherwise } = outcomes[at]!;
	const baseRate = rounded(Math.min(...under, otherwise));
	const alone = (p: number) => rounded(baseRate < 1 ? Math.max(0, (p - baseRate) / (1 - baseRate)) : 0);
	const top = file.anomalies[anomaly]?.top ?? '';
	const silent = (file.events[top]?.gate?.inputs ?? []).filter((branch) => {
		const event = file.events[branch];
		const beneath = below(file.events, branch);
		return event && !event.residual && event.kind !== 'house' && !events.some((id) => beneath.includes(id));
	});
	const shown = [
		...events.map((event, i) => ({ event, p: alone(under[i]!) })),
		...silent.map((event) => ({ event, p: alone(otherwise) }))
	];
	const isResidual = ({ event }: { event: string }) => file.events[event]?.residual === true;
	return {
		statement: `${file.evidence[test]?.title}: ${words}`.slice(0, 300),
		state: 'present',
		baseRate,
		links: shown
			.filter((link) => link.p > 0 && !isResidual(link))
			.map(({ event, p }) => ({ event, negated: false, p })),
		residualLink: shown.find(isResidual)?.p ?? null,
		origin: null,
		sameAs: null,
		evidence: [test],
		costMinutes: null,
		destructive: false,
		note: ''
	};
}

const rounded = (p: number) => Number(p.toPrecision(4));
