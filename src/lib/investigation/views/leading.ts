import { type NodeWeight, wordForProbability } from '$lib/reasoning';
import type { TreeEvent } from '../schema/anomaly';
import { namesApart } from './names-apart';
import { inputsOf, isBranch } from './tree';
import { percent, percents } from '$lib/quantity/percent';

/** One branch as it stands. */
export interface Stand {
	id: string;
	title: string;
	/** It is what nobody has thought of. */
	residual: boolean;
	/** Given everything. */
	now: number;
	/** Given only that the top event happened. */
	before: number | null;
}

/** Who leads: the one answer for list, page and report. */
export interface Lead {
	first: Stand;
	/** The first and all that can't be told apart from it. */
	level: readonly Stand[];
	/** The others, the highest first. */
	rest: readonly Stand[];
	/** The highest of the named causes; null where there is none. */
	named: Stand | null;
	/** A named cause, or a gate over named causes, is more probable than not. */
	carried: boolean;
}

/** Odds or densities within this factor of one another are not told apart: common practice, no source. */
export const LEVEL = 1.05;

export const oddsFactor = (a: number, b: number): number =>
	a === b ? 1 : Math.max((a * (1 - b)) / (b * (1 - a)), (b * (1 - a)) / (a * (1 - b)));

/** Whether two probabilities can't be told apart. */
export const isLevelWith = (a: number, b: number): boolean => oddsFactor(a, b) < LEVEL;

/** A move counts beyond one point of the percentage shown and this factor on the odds: common practice, no source. */
const NOTICED = { points: 1, odds: 1.1 };

/** Whether a number moved so far that a reader would call it another. */
export const hasMoved = (then: number, now: number): boolean =>
	Math.abs(Math.round(100 * now) - Math.round(100 * then)) > NOTICED.points &&
	oddsFactor(then, now) > NOTICED.odds;

/** What leads among the branches, what nobody has thought of included; null where nothing is weighed. */
export function leadOf(
	events: Readonly<Record<string, TreeEvent>>,
	weights: Readonly<Record<string, Pick<NodeWeight, 'givenAll' | 'givenTop'>>>
): Lead | null {
	const nameOf = namesApart(events);
	const stands = Object.entries(events)
		.flatMap(([id, event]) => {
			const { givenAll: now = null, givenTop: before = null } = weights[id] ?? {};
			return isBranch(event) && now !== null
				? [{ id, title: nameOf(id), residual: event.residual, now, before }]
				: [];
		})
		// Of equals the named cause comes first.
		.sort((a, b) => b.now - a.now || Number(a.residual) - Number(b.residual));
	const [first] = stands;
	if (!first) return null;
	const isNamed = (event: TreeEvent) =>
		event.gate ? !inputsOf(event).some((id) => events[id]?.residual) : isBranch(event) && !event.residual;
	const isLevel = ({ now }: Stand) => isLevelWith(first.now, now);
	return {
		first,
		level: stands.filter(isLevel),
		rest: stands.filter((stand) => !isLevel(stand)),
		named: stands.find(({ residual }) => !residual) ?? null,
		carried: Object.entries(events).some(
			([id, event]) => isNamed(event) && (weights[id]?.givenAll ?? 0) > 0.5
		)
	};
}

/** 'A', 'A and B', 'A, B and C'. */
export const listed = (items: readonly string[]): string =>
	items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;

/** What is said where what nobody has thought of leads alone and no named cause is probable beside it; '' elsewhere. */
export const nothingCarried = ({ first, level, named, carried }: Lead): string =>
	!first.residual || level.length > 1 || carried
		? ''
		: `No named cause is carried by what was found${named ? `; the highest of them, “${named.title}”, stands at ${percent(named.now)}` : ''}. The tree lacks a cause, or a sign that would lift one has not been looked for.`;

/** What leads in sentences: what stands highest, what it started from, what comes next, and what is left unexplained. */
export function leadingSentences(lead: Lead | null): string[] {
	if (!lead?.named) return [];
	const { first, level, rest } = lead;
	const next = rest.find(({ residual }) => !residual);
	const [now, before, after] = percents([first.now, first.before, next?.now ?? null]);
	const quoted = ({ title }: Stand) => `“${title}”`;
	const sentences =
		level.length > 1
			? [
					`${listed(level.map(quoted))} can’t be told apart; given everything, each: ${wordForProbability(first.now)}, at ${now}.`
				]
			: [
					`${quoted(first)} leads; given everything: ${wordForProbability(first.now)}, at ${now}${first.before === null ? '' : `; given only that it happened it stood at ${before}`}.`
				];
	const carried = nothingCarried(lead);
	if (carried !== '') return [...sentences, carried];
	if (next)
		sentences.push(
			next.now > 0.2
				? `${quoted(next)} comes next at ${after}; more than one may be true together.`
				: `Nothing else named stands above ${after}.`
		);
	const residual = rest.find((stand) => stand.residual);
	if (residual)
		sentences.push(`That the cause is something nobody has thought of still holds ${percent(residual.now)}.`);
	return sentences;
}
