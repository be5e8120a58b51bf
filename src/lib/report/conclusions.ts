import { CAUSE_TYPES } from '$lib/investigation/schema/anomaly';
import { isOpen } from '$lib/investigation/views/change-life';
import { asItStands } from '$lib/investigation/views/proof';
import { DISPOSITION_WORDS } from '$lib/investigation/views/disposition';
import {
	assumptionWords,
	clashSentence,
	countedSentence,
	firmSentences,
	firmWords,
	flatSentence,
	moveWords,
	turningNumbers
} from '$lib/investigation/views/firm';
import { leadOf, nothingCarried } from '$lib/investigation/views/leading';
import { lookAgain, lookAgainSentences } from '$lib/investigation/views/look-again';
import { partsAccount } from '$lib/investigation/views/parts';
import { eventsOf, isBranch } from '$lib/investigation/views/tree';
import { percent, percentSampled } from '$lib/quantity/percent';
import { decidedBy, notUpToDate, weightsOf } from './analysis';
import { byNumber, type Context } from './context';
import { factors } from './fault';
import { anchor, blocks, count, facts, list, plainWords, table } from './text';
import { turnedOut } from './turned-out';
import * as words from './words';

/** Each anomaly in a line, for the head of the report. */
export function synopsis(c: Context): string {
	const anomalies = byNumber(c.file.anomalies);
	if (anomalies.length === 0) return 'No anomaly has been stated yet.';
	return table(
		['Anomaly', 'Concluded', 'Confidence'],
		anomalies.map(([id, anomaly]) => {
			const conclusion = c.file.conclusions[id];
			const state = conclusion?.state ?? 'open';
			const said = conclusion?.statement ? `: ${c.line(plainWords(conclusion.statement))}` : '';
			return [
				`[A${anomaly.number}](#a${anomaly.number}) ${c.line(anomaly.title)}`,
				`**${words.CONCLUSION[state]}**${againOf(c, id) ? ', to be looked at again' : ''}${said}`,
				conclusion?.confidence ?? ''
			];
		})
	);
}

/** What was concluded on one anomaly, how sure, what speaks against it, and what would reopen it. */
export function anomalyConclusion(c: Context, id: string): string {
	const conclusion = c.file.conclusions[id];
	if (!conclusion || conclusion.state === 'open')
		return blocks(
			'**Open.** No conclusion has been written.',
			notUpToDate(c, id),
			causes(c, id),
			whatWouldChange(c, id)
		);
	return blocks(
		c.room(`anomalies/${id}/conclusion`),
		`**${words.CONCLUSION[conclusion.state].replace(/^./, (first) => first.toUpperCase())}.**`,
		again(c, id),
		notUpToDate(c, id),
		c.block(conclusion.statement),
		conclusion.confidence && `How good the basis is: **${conclusion.confidence}**.`,
		c.block(conclusion.confidenceReason),
		conclusion.counterArgument && 'The strongest argument against it:',
		c.block(conclusion.counterArgument),
		causes(c, id),
		whatWouldChange(c, id),
		conclusion.nextTest && 'The test that would settle it:',
		c.block(conclusion.nextTest),
		turnedOut(c, id),
		conclusion.tripwires && 'What would reopen it:',
		c.block(conclusion.tripwires),
		changesOf(c, id, conclusion.noChangeReason),
		facts([['Concluded', decidedBy(c, conclusion.by, conclusion.at)]])
	);
}

function againOf(c: Context, id: string) {
	const { weighing } = c.input.weighed[id] ?? {};
	const givenAll = Object.fromEntries(
		Object.entries({ ...weighing?.events, ...weighing?.gates }).flatMap(([event, { givenAll: p }]) =>
			p === null ? [] : [[event, p] as const]
		)
	);
	return lookAgain(c.file, id, { givenAll, contradiction: weighing?.contradiction?.message ?? null });
}

/** That a conclusion is to be looked at again, and why; '' where it stands. */
function again(c: Context, id: string): string {
	const why = againOf(c, id);
	return why ? `**To be looked at again.** ${c.line(lookAgainSentences(why).join(' '))}` : '';
}

/** Causes by type, each with its disposition and its weight; removing a contributing factor alone would not have helped. */
function causes(c: Context, id: string): string {
	const weighing = c.input.weighed[id]?.weighing;
	const held = eventsOf(c.file, id).filter(
		([, { disposition, causeType }]) =>
			causeType !== null && ['likely', 'contributed', 'established'].includes(disposition.state)
	);
	if (held.length === 0) return '';
	const ordered = CAUSE_TYPES.flatMap((type) => held.filter(([, event]) => event.causeType === type));
	const rows = ordered.map(([eventId, event]) => [
		words.CAUSE_TYPE[event.causeType!],
		`[${c.line(event.title)}](#event-${eventId})`,
		DISPOSITION_WORDS[event.disposition.state],
		percent(weightsOf(weighing, eventId)?.givenAll)
	]);
	return blocks(
		table(['Type', 'Cause', 'Disposition', '>Given all'], rows),
		factors(
			c,
			ordered.map(([, event]) => event)
		)
	);
}

/** How many numbers that could turn the answer are listed. */
const TURNING = 5;

/** What would change the answer: single numbers, single pieces of evidence, equal starting weights. */
function whatWouldChange(c: Context, id: string): string {
	const { firm, weighing } = c.input.weighed[id] ?? {};
	if (!firm) return '';
	const lead = leadOf(Object.fromEntries(eventsOf(c.file, id)), { ...weighing?.events, ...weighing?.gates });
	const { robust, flat, near, clash, counted, alike } = firm;
	const name = (record: string) => {
		const { events, findings, calculations, origins } = c.file;
		const said = findings[record]?.statement ?? calculations[record]?.title;
		const title = said ?? events[record]?.title ?? origins[record]?.name ?? '';
		return said === undefined ? `“${c.line(title)}”` : `${c.cite(record)} “${c.line(title)}”`;
	};
	const { near: turning, nearest } = robust ? turningNumbers(robust, TURNING) : { near: [], nearest: null };
	const without = (robust?.evidence ?? []).filter(
		({ leader, close }) => leader !== robust?.leader && close === undefined
	);
	return blocks(
		'**What would change the answer.**',
		...(robust ? firmSentences(robust, lead, name) : []),
		lead && c.line(nothingCarried(lead)),
		turning.length > 0 && 'The least change of one number alone that lets another cause lead:',
		turning.length > 0 &&
			table(
				['Number', '>Now, and then', 'Then leads'],
				turning.map((one) => [
					assumptionWords(one, name),
					moveWords(one, one.overturns),
					name(one.overturns.leader)
				])
			),
		robust && turning.length === 0 && firmWords(robust, nearest, name),
		list(
			without.map(
				({ id: piece, leader, leaderAt, error }) =>
					`Without ${name(piece)}, ${name(leader)} would lead, at ${percentSampled(leaderAt, error)}.`
			)
		),
		flat && flatSentence(flat, lead, name),
		clash && `**No named cause allows all that was found.** ${clashSentence(clash, c.file.findings, name)}`,
		!clash &&
			near &&
			`**The tree hardly allows what was found:** ${near.clash.map(name).join(', ')} ${near.clash.length === 1 ? 'is' : 'together are'} almost impossible under it. A cause is missing from it, one of these is wrong, or something rare did happen.`,
		list(
			counted
				.map((group) => countedSentence(group, c.cites(group.findings), name))
				.filter((sentence) => sentence !== null)
		),
		alike.length > 0 &&
			`Alike, but counted apart: ${alike.map(({ findings }) => findings.map(c.cite).join(' and ')).join('; ')}.`
	);
}

function changesOf(c: Context, id: string, noChangeReason: string): string {
	const own = byNumber(c.file.changes).filter(([, change]) => change.anomaly === id);
	const list = (head: string, isRejected: boolean) => {
		const some = own.filter(([, { state }]) => (state === 'rejected') === isRejected);
		const named = some.map(([, { number, title }]) => `[C${number}](#c${number}) ${c.line(title)}`);
		return named.length === 0 ? '' : `${head}: ${named.join('; ')}.`;
	};
	const rejected = list('Considered and rejected', true);
	if (own.some(([, { state }]) => state !== 'rejected')) return blocks(list('Changes', false), rejected);
	return blocks(rejected, whyNone(c, noChangeReason));
}

function whyNone(c: Context, noChangeReason: string): string {
	return noChangeReason
		? blocks('No change follows, because:', c.block(noChangeReason))
		: 'No change has been raised, and no reason was given for none.';
}

export function observations(c: Context): string {
	const own = byNumber(c.file.observations);
	if (own.length === 0) return 'None recorded.';
	return table(
		['No.', 'Observation', 'Evidence', 'Watch on the next flight'],
		own.map(([, { number, statement, evidence, watch }]) => [
			`${anchor(`o${number}`)}O${number}`,
			c.line(statement),
			c.cites(evidence),
			watch ? 'yes' : ''
		])
	);
}

/** What the investigation leaves unsettled, so that nobody reads an ending into silence. */
export function leftOpen(c: Context): string {
	const { file } = c;
	const hazards = Object.values(file.hazards).filter((hazard) => hazard.state !== 'safe');
	const { counts } = partsAccount(file);
	const branches = Object.values(file.events).filter(
		(event) => isBranch(event) && event.disposition.state === 'open'
	).length;
	const unexamined = Object.values(file.findings).filter(({ state }) => state === 'notExamined').length;
	const conflicts = Object.values(file.conflicts).filter(({ state }) => state === 'unresolved').length;
	const changes = Object.values(file.changes).filter((change) => isOpen(asItStands(file, change))).length;
	const items = [
		...hazards.map((hazard) => `${c.line(hazard.what)}: ${words.HAZARD_STATE[hazard.state]}.`),
		counts.missing > 0 && `${count(counts.missing, 'part')} missing.`,
		counts.notSaid > 0 && `${count(counts.notSaid, 'part')} not accounted for.`,
		conflicts > 0 && `${count(conflicts, 'conflict')} between items of evidence unresolved.`,
		branches > 0 && `${count(branches, 'branch', 'branches')} of the trees open.`,
		unexamined > 0 && `${count(unexamined, 'sign')} not examined.`,
		changes > 0 && `${count(changes, 'change')} not closed.`
	].filter((item) => item !== false);
	return items.length === 0 ? 'Nothing.' : list(items);
}
