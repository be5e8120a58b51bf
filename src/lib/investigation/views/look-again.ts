import { checkTree, weigh } from '$lib/reasoning';
import type { Investigation } from '../case';
import type { DispositionState } from '../schema/anomaly';
import { standsInTheWay, type Weighed } from './closure';
import type { InTheWay } from './in-the-way';
import { DISPOSITION_WORDS } from './disposition';
import { hasMoved, listed, oddsFactor } from './leading';
import { branchesOf } from './scored';
import { toTreeModel, withResidualLinks } from './tree-model';
import { percents } from '$lib/quantity/percent';

/** A branch whose number is no longer the one at which it was concluded. */
export interface MovedOn {
	event: string;
	title: string;
	then: number;
	now: number;
}

/** A branch that turned out to be otherwise than it was concluded. */
export interface Otherwise {
	event: string;
	title: string;
	/** What it was called. */
	called: DispositionState;
	true: boolean;
}

/** Why a conclusion is to be looked at again. It stands as it was written until somebody writes it anew. */
export interface LookAgain {
	moved: MovedOn[];
	otherwise: Otherwise[];
	/** What stands in its way by now. */
	inTheWay: InTheWay[];
}

/**
 * What has come between a conclusion and the tree as it stands; null where nothing has, or nothing is concluded.
 * @param weighed  how the tree weighs now; without it only the rules that the case alone can check are looked at
 */
export function lookAgain(file: Investigation, anomaly: string, weighed?: Weighed): LookAgain | null {
	const conclusion = file.conclusions[anomaly];
	if (!conclusion || conclusion.state === 'open') return null;
	const stood = stoodAt(file, anomaly);
	const inTheWay = standsInTheWay(file, anomaly, weighed).filter(({ blocks }) => blocks);
	const moved = branchesOf(file, anomaly).flatMap(([event, { title }]) => {
		const then = stood[event];
		const now = weighed?.givenAll[event];
		return then !== undefined && now !== undefined && hasMoved(then, now)
			? [{ event, title, then, now }]
			: [];
	});
	moved.sort((a, b) => oddsFactor(b.then, b.now) - oddsFactor(a.then, a.now));
	const otherwise = branchesOf(file, anomaly).flatMap(([event, { title, truth, disposition }]) => {
		const called = disposition.state;
		const is = truth?.is === 'true';
		return truth && truth.is !== 'neverKnown' && is !== HELD.has(called)
			? [{ event, title, called, true: is }]
			: [];
	});
	return moved.length + inTheWay.length + otherwise.length === 0 ? null : { moved, inTheWay, otherwise };
}

/** What a conclusion says to have been at work. */
const HELD: ReadonlySet<DispositionState> = new Set(['likely', 'contributed', 'established']);

/** The same with the tree weighed here, for whoever has no page that weighs it. */
export function lookAgainWeighed(file: Investigation, anomaly: string): LookAgain | null {
	if (lookAgain(file, anomaly) !== null || (file.conclusions[anomaly]?.state ?? 'open') === 'open')
		return lookAgain(file, anomaly);
	const { model } = withResidualLinks(toTreeModel(file, anomaly));
	if (checkTree(model).length > 0) return null;
	const { events, gates, contradiction } = weigh(model, { contributions: false });
	const known = Object.entries({ ...events, ...gates }).flatMap(([id, { givenAll }]) =>
		givenAll === null ? [] : [[id, givenAll] as const]
	);
	return lookAgain(file, anomaly, {
		givenAll: Object.fromEntries(known),
		contradiction: contradiction?.message ?? null
	});
}

/** Each branch as it stood when the conclusion was written; empty where that was not kept. */
function stoodAt(file: Investigation, anomaly: string): Readonly<Record<string, number>> {
	const { stood, numbers = [] } = file.conclusions[anomaly] ?? {};
	// Numbers kept to be scored stand still once something is known, and without a start they were not weighed.
	if (stood || branchesOf(file, anomaly).some(([, { truth }]) => truth)) return stood ?? {};
	return Object.fromEntries(
		numbers.flatMap(({ event, start, end }) => (start === null || end === null ? [] : [[event, end]]))
	);
}

/** How many moved branches a sentence names. */
const NAMED = 3;

/** Why, in sentences. `name` gives how a branch is called. */
export function lookAgainSentences(
	{ moved, inTheWay, otherwise }: LookAgain,
	name: (event: string) => string = (event) =>
		`“${[...moved, ...otherwise].find((one) => one.event === event)!.title}”`
): string[] {
	const more = moved.length - NAMED;
	const [first] = inTheWay;
	return [
		...(otherwise.length === 0
			? []
			: [
					`It turned out otherwise: ${listed(
						otherwise.map(
							({ event, called, true: is }) =>
								`${name(event)}, called ${DISPOSITION_WORDS[called]}, was ${is ? 'true' : 'not true'}`
						)
					)}.`
				]),
		...(moved.length === 0
			? []
			: [
					`The numbers moved since this was concluded: ${listed([
						...moved
							.slice(0, NAMED)
							.map(({ event, then, now }) => `${name(event)} ${percents([then, now]).join(' → ')}`),
						...(more > 0 ? [`${more} more`] : [])
					])}.`
				]),
		...(first
			? [
					inTheWay.length === 1
						? `One thing stands in its way by now: ${first.message}`
						: `${inTheWay.length} things stand in its way by now.`
				]
			: [])
	];
}
