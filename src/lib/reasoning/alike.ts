/** Findings that hang together: how far they would mislead if counted apart, and those that look alike undeclared. */
import { sameObservation } from './check';
import { readLiteral } from './literal';
import type { TreeFinding, TreeModel } from './model';
import { decibans, weigh } from './weigh';
import type { WeighOptions } from './weighing';

export interface DoubleCount {
	/** Findings that were made and are one observation, or come from one origin. */
	findings: string[];
	because: 'sameObservation' | 'origin';
	/** The origin's id. */
	origin?: string;
	/** What they say together, and the sum of what each says alone, in decibans; the most misled cause first. */
	causes: { id: string; together: number; apart: number }[];
}

/**
 * What each declared dependence keeps from being counted twice: for each cause the joint likelihood ratio of the
 * findings against the product of their own, both as decibans.
 * @param among causes to give it for; by default every basic and undeveloped event
 */
export function doubleCounts(
	model: TreeModel,
	{ among, ...options }: WeighOptions & { among?: readonly string[] | undefined } = {}
): DoubleCount[] {
	const causes =
		among ??
		model.events
			.filter(({ kind = 'basic' }) => kind === 'basic' || kind === 'undeveloped')
			.map(({ id }) => id);
	const only = (kept: readonly string[]) => {
		const findings = (model.findings ?? []).map((finding) =>
			kept.includes(finding.id) ? finding : { ...finding, state: 'notExamined' as const }
		);
		const { events } = weigh(
			{ ...model, findings, likelihoods: [] },
			{ ...options, contributions: false, reuse: undefined }
		);
		return (id: string) => events[id]?.givenAll ?? NaN;
	};
	const groups = dependentGroups(model);
	if (groups.length === 0) return [];
	const before = only([]);
	return groups.map((group) => {
		const together = only(group.findings);
		const alone = group.findings.map((id) => only([id]));
		const said = causes.map((id) => ({
			id,
			together: decibans(together(id), before(id)),
			apart: alone.reduce((sum, by) => sum + decibans(by(id), before(id)), 0)
		}));
		const misled = ({ together: joint, apart }: (typeof said)[number]) => Math.abs(apart - joint);
		return {
			...group,
			causes: said.filter((cause) => Number.isFinite(misled(cause))).sort((a, b) => misled(b) - misled(a))
		};
	});
}

const isMade = ({ state = 'notExamined' }: TreeFinding) => state !== 'notExamined';

function dependentGroups(model: TreeModel): Omit<DoubleCount, 'causes'>[] {
	const made = (model.findings ?? []).filter(isMade);
	const same = sameObservation(model).map((group) => ({
		findings: group.filter(isMade).map(({ id }) => id),
		because: 'sameObservation' as const
	}));
	const origins = (model.origins ?? []).flatMap(({ id, reliability }) =>
		reliability === 1
			? []
			: [
					{
						findings: made.filter(({ origin }) => origin === id).map((finding) => finding.id),
						because: 'origin' as const,
						origin: id
					}
				]
	);
	return [...same, ...origins].filter(({ findings }) => findings.length > 1);
}

export interface Alike {
	findings: [string, string];
	/** Most of the same words; several causes, the same and with the same numbers. */
	because: 'links' | 'words';
}

/** Share of their words that two statements have in common from which on they look alike. */
const SAME_WORDS = 0.6;

/** Pairs of findings that were made, alike in what they say, and declared neither one observation nor of one origin. */
export function alikeFindings(model: TreeModel): Alike[] {
	const groups = sameObservation(model);
	const groupOf = new Map(groups.flatMap((group, i) => group.map(({ id }) => [id, i] as const)));
	const made = (model.findings ?? []).filter(isMade);
	return made.flatMap((a, i) =>
		made.slice(i + 1).flatMap((b): Alike[] => {
			const declared =
				groupOf.get(a.id) === groupOf.get(b.id) || (a.origin !== undefined && a.origin === b.origin);
			if (declared || a.state !== b.state || !haveCommonSource(a, b)) return [];
			const because = sameWords(a, b)
				? 'words'
				: sources(a).length > 1 && said(a) === said(b)
					? 'links'
					: undefined;
			return because ? [{ findings: [a.id, b.id], because }] : [];
		})
	);
}

const sources = ({ links = [] }: TreeFinding) => links.map(({ from }) => readLiteral(from).id);
const haveCommonSource = (a: TreeFinding, b: TreeFinding) => {
	const own = new Set(sources(a));
	return sources(b).some((id) => own.has(id));
};

/** Links and base rate in one text. */
const said = ({ links = [], baseRate = 0 }: TreeFinding) =>
	JSON.stringify([baseRate, links.map(({ from, p }) => JSON.stringify([readLiteral(from), p])).sort()]);

function sameWords(a: TreeFinding, b: TreeFinding): boolean {
	const [one, other] = [a, b].map(
		({ label = '' }) => new Set(label.toLowerCase().match(/\p{L}{4,}/gu) ?? [])
	);
	const common = [...(one ?? [])].filter((word) => other?.has(word)).length;
	const all = new Set([...(one ?? []), ...(other ?? [])]).size;
	return all > 0 && common / all >= SAME_WORDS;
}
