import type { Investigation } from '../case';
import type { Finding } from '../schema/anomaly';
import type { Prediction } from '../schema/prediction';
import { below } from './tree';

/** How often a test shows what was predicted where nobody said; common practice, no source. */
export const ASSUMED_OFTEN = 0.9;
export const SOMETHING_ELSE = 'something else';

/** What a locked prediction says in numbers. */
export interface TestOutcomes {
	/** Cases that are events of this tree: of several that are true the first decides, so what stands beneath another comes first. */
	events: string[];
	/** What it could show, 'something else' last, and how probable under each event. */
	outcomes: { words: string; under: number[] }[];
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
 * else' among them. A cause that was left empty shows each outcome as often as the cases together: it stays where it is.
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
	const depth = ({ event }: Prediction['under'][number]) =>
		rows.filter((other) => below(file.events, other.event ?? '').includes(event ?? '')).length;
	rows.sort((a, b) => depth(b) - depth(a));
	if (words.length < 2 || rows.length === 0) return null;
	const outcomes = [...words, SOMETHING_ELSE].map((outcome) => {
		const shows = ({ expected, p = ASSUMED_OFTEN }: Prediction['under'][number]) =>
			sameWords(expected) === sameWords(outcome) ? p : (1 - p) / words.length;
		return {
			words: outcome,
			under: rows.map(shows)
		};
	});
	return {
		events: rows.map(({ event }) => event as string),
		outcomes,
		assumed: rows.some(({ p }) => p === undefined)
	};
}

/**
 * The sign that an outcome is, with the numbers as they were locked.
 * @param otherwise  how often it shows where none of the events is true: as probable as it was before, so that what was
 *   left empty stays where it stands
 */
export function signOf(
	file: Investigation,
	anomaly: string,
	test: string,
	{ events, outcomes }: TestOutcomes,
	at: number,
	otherwise: number
): Omit<Finding, 'anomaly' | 'number'> {
	const { words, under } = outcomes[at]!;
	return {
		statement: `${file.evidence[test]?.title}: ${words}`.slice(0, 300),
		state: 'present',
		baseRate: otherwise,
		firstDecides: true,
		links: events.map((event, i) => ({ event, negated: false, p: Number(under[i]!.toPrecision(12)) })),
		residualLink: null,
		origin: null,
		sameAs: null,
		evidence: [test],
		costMinutes: null,
		destructive: false,
		note: ''
	};
}
