import {
	checkTree,
	defaultResidualLink,
	type Explanation,
	type InformationResult,
	information,
	type CutSets,
	minimalCutSets,
	mostProbableExplanations,
	type TreeModel,
	weigh,
	type Weighing
} from '$lib/reasoning';
import { sameObservation } from '$lib/reasoning/check';
import type { ToWeigh } from '$lib/investigation/views/tree-model';

export interface WeighRequest extends ToWeigh {
	/** A weight is only being tried: the links that were assumed stay as they are. */
	trying: boolean;
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

/** What takes longer and may come a moment later; null where it can't be had, as with a sampled tree. */
export interface Deeper {
	information: InformationResult | null;
	explanations: Explanation[];
	cutSets: CutSets | null;
	/** By branch: where it and the leader stand if its starting weight were ten times lower, or higher. */
	robust: Record<string, { lower: Stand; higher: Stand }>;
}
export interface Stand {
	own: number;
	leads: string;
}

let compiled: Weighing['compiled'];
let assumed = new Map<string, { key: string; p: number }>();

/** Weighs; the diagrams of the call before are used again where only numbers have changed. */
export function weighCase(request: WeighRequest): Weighed {
	const problems = checkTree(request.model);
	if (problems.length > 0) return { ok: false, problems: problems.map((p) => named(p, request.model)) };
	const { model, residualLinks, stale } = withResidualLinks(request);
	const { compiled: kept, ...weighing } = weigh(model, { reuse: compiled });
	compiled = kept;
	return { ok: true, weighing, residualLinks, stale };
}

/** The slower questions about the same tree. */
export function lookDeeper(request: WeighRequest): Deeper {
	const nothing: Deeper = { information: null, explanations: [], cutSets: null, robust: {} };
	if (checkTree(request.model).length > 0) return nothing;
	const { model } = withResidualLinks(request);
	const first = weigh(model, { contributions: false, reuse: compiled });
	compiled = first.compiled;
	const cutSets = minimalCutSets(model, { order: 4, list: 12 });
	if (first.method === 'sampled' || first.contradiction)
		return { ...nothing, cutSets: cutSets.ok ? cutSets : null };
	const told = information(model, { reuse: compiled });
	const explained = mostProbableExplanations(model, { reuse: compiled, maxTrials: 2000 });
	return {
		information: told.ok ? told : null,
		explanations: explained.ok ? explained.list : [],
		cutSets: cutSets.ok ? cutSets : null,
		robust: sweepWeights(model, request.residual)
	};
}

/** Every starting weight ten times lower and higher in turn, as odds at the upper end, so that it stays below 1. */
function sweepWeights(model: TreeModel, residual: string | null): Deeper['robust'] {
	const branches = model.events.filter(({ kind }) => kind === 'basic' || kind === 'undeveloped');
	const exclusive = new Set((model.exclusive ?? []).flat());
	const stand = (id: string, p: number): Stand => {
		const events = model.events.map((event) => (event.id === id ? { ...event, p } : event));
		const { events: weights } = weigh({ ...model, events }, { contributions: false, reuse: compiled });
		const named = branches.filter((branch) => branch.id !== residual);
		const leads = named.reduce(
			(best, { id: other }) =>
				(weights[other]?.givenAll ?? 0) > (weights[best]?.givenAll ?? -1) ? other : best,
			''
		);
		return { own: weights[id]?.givenAll ?? 0, leads };
	};
	return Object.fromEntries(
		branches
			.filter(({ id, p = 0 }) => p > 0 && p < 1 && !exclusive.has(id))
			.map(({ id, p = 0 }) => {
				const odds = (10 * p) / (1 - p);
				return [id, { lower: stand(id, p / 10), higher: stand(id, odds / (1 + odds)) }];
			})
	);
}

/** The model with a link from the unthought-of branch to each observation that has none: see `defaultResidualLink`. */
function withResidualLinks({ model, residual, byDefault, trying }: WeighRequest) {
	const residualLinks: Record<string, number> = {};
	let stale = false;
	if (residual === null || !model.events.some(({ id, kind }) => id === residual && kind !== 'house'))
		return { model, residualLinks, stale };
	const tree = JSON.stringify([model.events, model.gates, model.exclusive, model.top]);
	const open = new Set(byDefault);
	const kept: typeof assumed = new Map();
	const extra = new Map<string, number>();
	for (const group of sameObservation(model)) {
		const [first] = group;
		// One number for one observation: a link that somebody set in any of its words holds for all.
		if (!first || !group.every(({ id }) => open.has(id))) continue;
		const links = group.flatMap((finding) => finding.links ?? []);
		const key = `${tree} ${JSON.stringify(links)} ${first.baseRate}`;
		const before = assumed.get(first.id);
		const p =
			before && (trying || before.key === key)
				? before.p
				: defaultResidualLink(model, { id: first.id, baseRate: first.baseRate ?? 0, links }, residual).p;
		if (before && trying && before.key !== key) stale = true;
		kept.set(first.id, { key: before && trying ? before.key : key, p });
		extra.set(first.id, p);
		for (const { id } of group) residualLinks[id] = p;
	}
	assumed = kept;
	const findings = (model.findings ?? []).map((finding) => {
		const p = extra.get(finding.id);
		return p === undefined
			? finding
			: { ...finding, links: [...(finding.links ?? []), { from: residual, p }] };
	});
	return { model: { ...model, findings }, residualLinks, stale };
}

/** The engine speaks of identities; people know titles. */
export function named(message: string, { events, gates, findings, likelihoods, origins }: TreeModel): string {
	const labels = new Map(
		[...events, ...(gates ?? []), ...(findings ?? []), ...(likelihoods ?? []), ...(origins ?? [])].map(
			({ id, label }) => [id, label ?? id]
		)
	);
	const said = message.replace(/'(!?)([a-z0-9-]+)'/g, (whole, not: string, id: string) => {
		const label = labels.get(id);
		return label === undefined ? whole : `${not ? 'not ' : ''}“${label}”`;
	});
	return said.charAt(0).toUpperCase() + said.slice(1) + (/[.!?]$/.test(said) ? '' : '.');
}
