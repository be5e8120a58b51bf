import type { Exact } from '$lib/reasoning/worlds';
import {
	checkTree,
	type Contribution,
	expectedInformation,
	type Explanation,
	type InformationResult,
	information,
	importanceAndCutSets,
	type ImportanceResult,
	minimalCutSets,
	type LookValue,
	type ManyOutcomes,
	type Outcomes,
	outcomesFor,
	type Refusable,
	type Steps,
	stepsOf,
	weigh,
	type Weighing
} from '$lib/reasoning';
import { leadingExplanations, moreAsProbable } from '$lib/investigation/views/explanations';
import { type Firm, firmness } from '$lib/investigation/views/firm';
import {
	type DraftEffect,
	effectOfDraft,
	type SharedCause,
	sharedCauses
} from '$lib/investigation/views/shared-causes';
import { type Both, combinationsOf, type Combinations, withOthers } from '$lib/investigation/views/together';
import { named } from '$lib/investigation/views/tree-words';
import { type ToWeigh, withResidualLinks } from '$lib/investigation/views/tree-model';

export interface WeighRequest extends ToWeigh {
	/** A weight is only being tried: the links that were assumed stay as they are. */
	trying: boolean;
	/** Event whose argument is laid out on the page. */
	argued?: string | null;
	/** What can be looked at besides the signs. */
	looks?: readonly ManyOutcomes[];
	/** Only what a group that is being typed would do: the same tree without it. */
	apart?: ToWeigh;
}

/** What came of weighing one anomaly, or in words why it can't be weighed. Plain data: it crosses to the page. */
export type Weighed =
	| {
			ok: true;
			weighing: Omit<Weighing, 'compiled'>;
			residualLinks: Record<string, number>;
			/** Some of the assumed links are those of an earlier tree; a better answer follows at once. */
			stale: boolean;
	  }
	| { ok: false; problems: string[] };

/** What each piece of evidence did. Plain data. */
export interface Told {
	contributions: readonly Contribution[];
	/** By event, what was given everything when these were worked out: to be compared with what they leave. */
	givenAll: Readonly<Record<string, number | null>>;
}

/** What takes longer and may come a moment later; null where it can't be had, empty explanations with a sampled tree. */
export interface Deeper {
	information: InformationResult | null;
	/** What each of the looks is expected to tell. */
	looks: LookValue[];
	explanations: Explanation[];
	/** 'and 5 more as probable'. */
	moreExplanations: string;
	/** Why there are none. */
	noExplanation: string;
	cutSets: Combinations | null;
	/** By common-cause group: what it does to the top event. */
	shared: Record<string, SharedCause>;
}
/** The argument for and against one event. */
export interface Argued {
	argued: string;
	/** Null where there is nothing to argue; undefined where it takes long and follows. */
	steps: Refusable<Steps> | null | undefined;
	outcomes: readonly Outcomes[];
	/** With each other branch, the most probable first. */
	both: readonly Both[];
	/** Follows a moment later; undefined until then. */
	matters?: Matters | null;
}
/** What matters for the top event by the tree alone, without evidence. */
export interface Matters extends ImportanceResult {
	/** Null where there are too many to list. */
	combinations: Combinations | null;
}

/** Diagrams of the last few trees, the newest first: whoever turns a finding to and fro comes back to one of them. */
let kept: Exact[] = [];
const MOST_KEPT = 4;
const keep = (compiled: Weighing['compiled']) => {
	if (compiled) kept = [compiled, ...kept.filter((other) => other !== compiled)].slice(0, MOST_KEPT);
};

let assumed = new Map<string, { key: string; p: number }>();

/** Weighs, and leaves nothing out in turn: that takes fifty times as long. The diagrams of the call before are used again where only numbers have changed. */
export function weighCase(request: WeighRequest): Weighed {
	const problems = checkTree(request.model);
	if (problems.length > 0) return { ok: false, problems: problems.map((p) => named(p, request.model)) };
	const { model, residualLinks, stale } = withAssumedLinks(request);
	const { compiled, ...weighing } = weigh(model, { contributions: false, reuse: kept });
	keep(compiled);
	return { ok: true, weighing, residualLinks, stale };
}

/** Every event with each piece of evidence left out in turn. */
export function whatEachDid(request: WeighRequest): Told {
	if (checkTree(request.model).length > 0) return { contributions: [], givenAll: {} };
	const weighing = weigh(withAssumedLinks(request).model, { reuse: kept });
	keep(weighing.compiled);
	const nodes = Object.entries({ ...weighing.events, ...weighing.gates });
	const givenAll = Object.fromEntries(nodes.map(([id, node]) => [id, node.givenAll]));
	return { contributions: weighing.contributions, givenAll };
}

/** The slower questions about the same tree. */
export function lookDeeper(request: WeighRequest): Deeper {
	const nothing: Deeper = {
		information: null,
		looks: [],
		explanations: [],
		moreExplanations: '',
		noExplanation: '',
		cutSets: null,
		shared: {}
	};
	if (checkTree(request.model).length > 0) return nothing;
	const { model } = withAssumedLinks(request);
	const first = weigh(model, { contributions: false, reuse: kept });
	keep(first.compiled);
	const exact = first.method === 'exact';
	const listed = minimalCutSets(model, { order: 4, list: 40 });
	const cutSets = combinationsOf(model, listed, exact ? { reuse: kept } : null);
	if (first.contradiction) return { ...nothing, cutSets, shared: sharedCauses(model) };
	const told = information(model, { reuse: kept });
	const explained = leadingExplanations(model, { reuse: kept, maxTrials: 2000 });
	return {
		information: told.ok ? told : null,
		looks: told.ok ? expectedInformation(model, told.about, request.looks ?? [], { reuse: kept }) : [],
		explanations: explained.ok ? explained.list : [],
		moreExplanations: explained.ok ? moreAsProbable(explained) : '',
		noExplanation: explained.ok ? '' : named(explained.problem, model),
		cutSets,
		shared: sharedCauses(model, { reuse: kept })
	};
}

/** How the event that is argued got to where it stands, and what would refute it. */
export function argue(request: WeighRequest, argued: string): Argued {
	const { model } = request;
	const nothing: Argued = { argued, steps: null, outcomes: [], both: [] };
	if (
		checkTree(model).length > 0 ||
		![...model.events, ...(model.gates ?? [])].some(({ id }) => id === argued)
	)
		return nothing;
	if (argued === model.top) return nothing;
	const linked = withAssumedLinks(request).model;
	const told = outcomesFor(linked, argued, { reuse: kept });
	const outcomes = told.ok ? told.outcomes : [];
	const isSampled = outcomes.some(({ error }) => error !== undefined);
	return {
		argued,
		steps: isSampled ? undefined : stepsOf(linked, argued, { reuse: kept }),
		outcomes,
		both: told.ok && !isSampled ? withOthers(linked, argued, { reuse: kept }) : []
	};
}

/** How it got there, where that was left for later. */
export const stepByStep = (request: WeighRequest, argued: string): Refusable<Steps> =>
	stepsOf(withAssumedLinks(request).model, argued, { reuse: kept });

/** What a group would do that is being typed. */
export const whatItWouldDo = (request: WeighRequest, apart: ToWeigh): { effect: DraftEffect | null } => ({
	effect: effectOfDraft(request, apart)
});

/** What matters for the top event, without evidence. */
export function whatMatters(request: WeighRequest): Matters | null {
	if (checkTree(request.model).length > 0) return null;
	const { importance, cutSets } = importanceAndCutSets(request.model, { list: 200 });
	if (!importance.ok) return null;
	const linked = withAssumedLinks(request).model;
	return { ...importance, combinations: combinationsOf(linked, cutSets, { reuse: kept }) };
}

/** What would change the answer; null where the tree can't be weighed. */
export function howFirm(request: WeighRequest): { firm: Firm | null } {
	if (checkTree(request.model).length > 0) return { firm: null };
	return { firm: firmness(request, withAssumedLinks(request).model, kept) };
}

/** The model with the assumed links; while a weight is only being tried, those of before stay as they are. */
function withAssumedLinks(request: WeighRequest) {
	const { model, trying } = request;
	const tree = JSON.stringify([model.events, model.gates, model.exclusive, model.commonCause, model.top]);
	const kept: typeof assumed = new Map();
	let stale = false;
	const linked = withResidualLinks(request, (finding, compute) => {
		const key = `${tree} ${JSON.stringify(finding)}`;
		const before = assumed.get(finding.id);
		const held = before && (trying || before.key === key) ? before : { key, p: compute() };
		if (held.key !== key) stale = true;
		kept.set(finding.id, held);
		return held.p;
	});
	assumed = kept;
	return { ...linked, stale };
}
