import { hasResult, isTest } from '$lib/investigation/views/predictions';
import type { Anomaly, Finding, TreeEvent } from '$lib/investigation/schema/anomaly';
import { oldValuesWords, weighByOldValues } from '$lib/investigation/views/changed-sources';
import { DISPOSITION_WORDS } from '$lib/investigation/views/disposition';
import { howItSpreads, nameIn, partsIn } from '$lib/investigation/views/common-cause';
import { settingsOf, settingsThatHold } from '$lib/investigation/views/settings';
import { eventsOf, inputsOf } from '$lib/investigation/views/tree';
import {
	percent,
	percentWithin,
	percentSampled,
	roundedProbability,
	typedApart,
	typedProbability
} from '$lib/quantity/percent';
import type { NodeWeight, Weighing } from '$lib/reasoning/weighing';
import { byNumber, type Context, utcMoment } from './context';
import { faultWords, topStatement } from './fault';
import type { Weighed } from './weighed';
import { anchor, blocks, count, insert, list, sentenceList, table } from './text';
import * as words from './words';

/** How causes were weighed, in the same words in every report. */
export function method(c: Context): string {
	const weighings = Object.values(c.input.weighed).map(({ weighing }) => weighing);
	const sampled = weighings.filter((weighing) => weighing.method === 'sampled').length;
	return blocks(
		'Each anomaly is stated as a departure from the expected, without a cause. Its **fault tree** says which combinations of events would produce it; events may be shared, and causes may be true together. Under every top event stands a branch for **what nobody has thought of**.',
		'Each basic event has a **starting weight**, its probability before anything about this flight was known. A **finding** is a sign that was looked for. A link says how probable the sign is under one event alone; the base rate says how often the sign is there anyway (noisy-OR). A sign that is absent counts too. Where physics can predict what should have been seen, a **calculation** compares the prediction under each scenario with what was observed, with the uncertainty of all its inputs. Findings that are the same observation are counted once, and findings that rest on one person, sensor or photo share its reliability.',
		weighings.length === 0
			? 'No tree could be weighed.'
			: `From all of this together follow three probabilities of each event: its starting weight, given the top event, and given all. They were computed ${sampled === 0 ? 'exactly' : sampled === weighings.length ? 'by sampling, with the error stated' : `exactly, except for ${count(sampled, 'tree')} by sampling, with the error stated`}. What was decided on a branch, its disposition, is a person’s judgement, and cites what it rests on.`,
		'How strongly one piece of evidence speaks, how probable a cause is, and how good the basis of that number is are three different things, and stand apart in this report.'
	);
}

/** How far each item of evidence can be trusted: a judgement, so it stands here and not among the facts. */
export function trust(c: Context): string {
	const items = byNumber(c.file.evidence).filter(
		([, item]) => !(isTest(item) && !hasResult(item)) && (item.trustReason !== '' || item.trust !== 'high')
	);
	const conflicts = Object.values(c.file.conflicts);
	return blocks(
		items.length === 0
			? 'All items are trusted highly; no reason to doubt one was recorded.'
			: table(
					['No.', 'What', 'Trusted', 'Why', 'Basis'],
					items.map(([id, item]) => [
						c.cite(id),
						c.line(item.title),
						item.trust ?? '',
						c.line(item.trustReason),
						item.basis ?? ''
					])
				),
		conflicts.length > 0 &&
			table(
				['Cannot both be true', 'Between', 'Stands', 'Resolution'],
				conflicts.map((conflict) => [
					c.line(conflict.what),
					c.cites(conflict.between),
					conflict.state,
					c.line(conflict.resolution)
				])
			)
	);
}

/** One anomaly: tree, weights, findings, calculations. */
export function anomalyAnalysis(c: Context, id: string, anomaly: Anomaly): string {
	const weighed = c.input.weighed[id];
	const runs = byNumber(c.file.calculations).filter(([, run]) => run.anomaly === id);
	return blocks(
		c.room(`anomalies/${id}/tree`),
		`Expected: ${c.line(anomaly.expected)}\n\nObserved: ${c.line(anomaly.observed)}`,
		topStatement(c, anomaly),
		anomaly.firstImpression && 'First impression, written before the evidence was weighed:',
		c.block(anomaly.firstImpression),
		c.input.figures.trees.includes(id) && insert(`figure:tree:${id}`),
		switched(c, id),
		events(c, id, anomaly, weighed?.weighing),
		notUpToDate(c, id),
		weighed ? notes(c, weighed.weighing) : 'This tree can’t be weighed as it stands.',
		weighed && notThoughtOf(c, id, weighed),
		weighed && combinations(c, id, weighed),
		commonCauses(c, id, weighed),
		exclusions(c, id),
		findings(c, id),
		runs.length > 0 && 'Calculations, with inputs, intervals and limits in appendix B:',
		list(runs.map(([run, { title }]) => `${c.cite(run)} ${c.line(title)}`))
	);
}

/** That calculations weigh on the tree by values that have changed since; '' where all follow the case. */
export function notUpToDate(c: Context, anomaly: string): string {
	const stale = weighByOldValues(c.file, anomaly);
	return stale.length === 0
		? ''
		: `**${oldValuesWords(stale)}** What rests on it is not up to date: ${stale.map(([run]) => c.cite(run)).join(', ')} ${stale.length === 1 ? 'is' : 'are'} to be computed again.`;
}

function notes(c: Context, weighing: Weighing): string {
	return blocks(
		weighing.contradiction !== null &&
			'**The evidence contradicts itself under this tree**, so no probability given all can be stated.',
		weighing.method === 'sampled' &&
			`These probabilities were sampled, not computed exactly${weighing.effectiveSampleSize === undefined ? '' : ` (as good as ${Math.round(weighing.effectiveSampleSize)} independent samples)`}.`,
		...weighing.warnings.map(c.line)
	);
}

/** What the tree leaves out still has a weight, and the report says from what. */
function notThoughtOf(c: Context, anomaly: string, { weighing, assumedLinks }: Weighed): string {
	const residual = Object.entries(c.file.events).find(
		([, event]) => event.anomaly === anomaly && event.residual
	);
	const weight = residual && weightsOf(weighing, residual[0]);
	if (!weight) return '';
	const assumed = Object.keys(assumedLinks)
		.flatMap((id) => (c.file.findings[id] ? [c.cite(id)] : []))
		.join(', ');
	return `That nobody has thought of the cause is held at ${percent(weight.givenAll)}, from a starting weight of ${typedProbability(weight.prior)}.${assumed ? ` It was assumed to show ${assumed} as often as the other causes do together.` : ''}`;
}

/** Which events suffice together. */
function combinations(c: Context, anomaly: string, { cutSets }: Weighed): string {
	if (!cutSets || cutSets.list.length === 0) return '';
	const parts = partsIn(c.file, anomaly);
	const title = (id: string) => nameIn(c.file, parts, id, (event) => linked(c, event), c.line);
	const { list: shown, count: all } = cutSets;
	return blocks(
		`Smallest combinations that suffice (minimal cut sets)${all > shown.length ? `, the ${shown.length} most probable of ${all}` : ''}:`,
		table(
			['Combination', '>By the tree alone', '>Now'],
			shown.map(({ events: together, givenTop, givenAll }) => [
				together.map(title).join(' and '),
				percent(givenTop),
				percent(givenAll)
			])
		)
	);
}

/** Weights of one event, whether it is at the foot of the tree or above. */
export const weightsOf = (weighing: Weighing | undefined, event: string): NodeWeight | undefined =>
	weighing?.events[event] ?? weighing?.gates[event];

function events(c: Context, id: string, anomaly: Anomaly, weighing: Weighing | undefined): string {
	const rows = inTreeOrder(c, id, anomaly.top).map(({ event: eventId, depth, again }) => {
		const event = c.file.events[eventId]!;
		const weight = weightsOf(weighing, eventId);
		const title = `${'· '.repeat(depth)}${again ? '' : anchor(`event-${eventId}`)}${c.line(event.title)}`;
		if (again) return [title, 'as above', '', '', '', ''];
		const isTop = eventId === anomaly.top;
		return [
			title,
			kindOf(c, event),
			startingWeight(c, event, weight),
			isTop ? '' : percent(weight?.givenTop),
			isTop ? '' : givenAll(weight),
			isTop ? '' : decided(c, event)
		];
	});
	return table(
		['Event', 'Kind', '>Starting weight', '>Given the top event', '>Given all', 'Disposition'],
		rows
	);
}

/** With how good its basis is, which is another thing than how large it is. */
const startingWeight = (c: Context, event: TreeEvent, weight: NodeWeight | undefined): string => {
	const note = event.weightNote ? `: ${c.line(event.weightNote)}` : '';
	const basis = event.weight === null ? '' : `, ${words.WEIGHT_BASIS[event.weightBasis]}${note}`;
	const starts = weight?.prior ?? event.weight;
	return (starts === null ? '–' : event.gate ? roundedProbability(starts) : typedProbability(starts)) + basis;
};

const givenAll = (weight: NodeWeight | undefined): string => {
	const { givenAll: p = null, interval, standardError } = weight ?? {};
	return p !== null && interval ? percentWithin(p, interval) : percentSampled(p, standardError);
};

function kindOf(c: Context, event: TreeEvent): string {
	const gate = event.gate;
	const named = event.residual ? 'not thought of' : words.EVENT_KIND[event.kind];
	const under = gate
		? gate.type === 'atLeast'
			? `at least ${gate.k ?? 1} of ${gate.inputs.length}`
			: words.GATE[gate.type]
		: '';
	const cause = event.causeType ? words.CAUSE_TYPE[event.causeType].toLowerCase() : '';
	return [named, under, cause, ...faultWords(c, event)].filter(Boolean).join(', ');
}

function decided(c: Context, { disposition, kind }: TreeEvent): string {
	if (disposition.state === 'open') return kind === 'basic' || kind === 'undeveloped' ? 'open' : '';
	return [
		`**${DISPOSITION_WORDS[disposition.state]}**`,
		c.line(disposition.reason),
		disposition.despite &&
			`Although the evidence gave it ${percent(disposition.weightThen)}: ${c.line(disposition.despite)}`,
		disposition.cites.length > 0 ? `(${c.cites(disposition.cites)})` : '',
		disposition.reviewedBy
			? `Looked at by ${c.line(disposition.reviewedBy)}.`
			: '*Not independently reviewed.*'
	]
		.filter(Boolean)
		.join(' ');
}

/** The tree as a list, each event where it first stands; events outside the tree follow. */
function inTreeOrder(
	c: Context,
	anomaly: string,
	top: string
): { event: string; depth: number; again: boolean }[] {
	const rows: { event: string; depth: number; again: boolean }[] = [];
	const met = new Set<string>();
	const walk = (event: string, depth: number) => {
		if (!c.file.events[event]) return;
		const again = met.has(event);
		rows.push({ event, depth, again });
		if (again) return;
		met.add(event);
		for (const input of inputsOf(c.file.events[event])) walk(input, depth + 1);
	};
	walk(top, 0);
	for (const [event] of eventsOf(c.file, anomaly)) if (!met.has(event)) walk(event, 0);
	return rows;
}

/** For which phase or configuration the numbers are. */
function switched(c: Context, anomaly: string): string {
	const settings = settingsOf(c.file, anomaly);
	if (settings.length === 0) return '';
	const now = settingsThatHold(c.file, anomaly).map((title) => `**${c.line(title)}**`);
	return blocks(
		`${now.length > 0 ? `The tree is switched for ${sentenceList(now)}` : 'The tree is switched by hand, as in none of its settings'}; numbers and conclusion are for that.`,
		table(
			['Setting', 'On', 'Off'],
			settings.map(([, { title, switches }]) => {
				const those = (on: boolean) =>
					switches.filter((own) => own.on === on).map(({ event }) => linked(c, event));
				return [c.line(title), those(true).join(', '), those(false).join(', ')];
			})
		)
	);
}

const linked = (c: Context, event: string) =>
	`[${c.line(c.file.events[event]?.title ?? 'an event no longer there')}](#event-${event})`;

/** What could make several events true at once, how often, and what that does to the top event. */
function commonCauses(c: Context, anomaly: string, weighed: Weighed | undefined): string {
	const declared = Object.entries(c.file.commonCauses).filter(([, group]) => group.anomaly === anomaly);
	if (declared.length === 0) return '';
	return blocks(
		'Events that one cause could make true together; each also happens by itself:',
		table(
			['They share', 'Events', 'How often', '>Top event with this', '>and without', '>At work, given all'],
			declared.map(([id, group]) => {
				const { together = null, apart = null, atWork = null } = weighed?.shared[id] ?? {};
				const top = together === null || apart === null ? ['–', '–'] : typedApart(together, apart);
				const basis = [words.WEIGHT_BASIS[group.basis], c.line(group.basisNote)].filter(Boolean).join(': ');
				return [
					c.line(group.title),
					sentenceList(group.events.map((event) => linked(c, event))),
					`${howItSpreads(group)} (${basis})`,
					...top,
					percent(atWork)
				];
			})
		)
	);
}

function exclusions(c: Context, anomaly: string): string {
	const declared = Object.values(c.file.exclusions).filter((exclusion) => exclusion.anomaly === anomaly);
	if (declared.length === 0) return '';
	return table(
		['Cannot be true together', 'Because'],
		declared.map(({ events, reason }) => [
			sentenceList(events.map((event) => c.line(c.file.events[event]?.title ?? 'an event no longer there'))),
			c.line(reason)
		])
	);
}

function findings(c: Context, anomaly: string): string {
	const own = byNumber(c.file.findings).filter(([, finding]) => finding.anomaly === anomaly);
	if (own.length === 0) return 'No sign was looked for.';
	const open = own.filter(([, finding]) => finding.state === 'notExamined').length;
	return blocks(
		open > 0 && `${open} of ${count(own.length, 'sign')} not examined yet.`,
		table(
			['No.', 'Sign', 'Stands', '>There anyway', 'Probability under one cause alone', 'Evidence', 'Rests on'],
			own.map(([, finding]) => [
				`${anchor(`f${finding.number}`)}F${finding.number}`,
				c.line(finding.statement),
				`**${words.FINDING_STATE[finding.state]}**`,
				typedProbability(finding.baseRate),
				links(c, finding),
				c.cites(finding.evidence),
				restsOn(c, finding)
			])
		)
	);
}

function links(c: Context, finding: Finding): string {
	const said = finding.links.map(({ event, negated, p }) => {
		const title = c.line(c.file.events[event]?.title ?? 'an event no longer there');
		return `${typedProbability(p)} ${negated ? 'if not: ' : ''}[${title}](#event-${event})`;
	});
	return `${said.join('; ')}${finding.firstDecides ? ' (locked before the result; the first that happened decides)' : ''}`;
}

function restsOn(c: Context, finding: Finding): string {
	const origin = finding.origin ? c.file.origins[finding.origin] : undefined;
	const same = finding.sameAs ? c.file.findings[finding.sameAs] : undefined;
	return [
		origin && `${c.line(origin.name)}, right in ${typedProbability(origin.reliability)}`,
		same && `same observation as [F${same.number}](#f${same.number})`
	]
		.filter(Boolean)
		.join('; ');
}

/** When something was decided and by whom, as the report says it. */
export const decidedBy = (c: Context, by: string, at: string): string =>
	[c.line(by), utcMoment(at)].filter(Boolean).join(', ');
