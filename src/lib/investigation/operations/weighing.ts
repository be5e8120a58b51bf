import * as v from 'valibot';
import { applyChanges, type Change, type Investigation } from '../case';
import { done, type Outcome, refused } from '../outcome';
import { finding, type Finding, link, treeEvent } from '../schema/anomaly';
import { id, probability } from '../schema/common';
import { commonCauseOf } from '../views/common-cause';
import { standingPrediction } from '../views/predictions';
import { ASSUMED_WEIGHT, exclusionOf } from '../views/tree';
import { exclusionProblem } from './tree-exclusions';
import { operation } from './operation';
import { nextNumber, put, recordOperations, removal } from './records';
import { GONE, merged } from './tree-parts';

const FINDING_GONE = 'This finding is no longer there; somebody removed it meanwhile.';

/** [W1] Only an event without a gate has a starting weight; what stands above follows from it. */
const weigh = operation({
	name: 'event.weigh',
	label: 'Gave an event its starting weight',
	args: v.object({
		event: id,
		/** Left out where only what it rests on is said. */
		weight: v.exactOptional(probability),
		...v.partial(v.pick(treeEvent, ['weightBasis', 'weightNote'])).entries
	}),
	apply: (file: Investigation, { event: eventId, ...record }) => {
		const event = file.events[eventId];
		if (!event) return refused(GONE);
		if (event.gate) return refused('Its weight follows from what stands beneath it. Weigh that.', 'weight');
		if (event.kind === 'house') return refused('A house event is switched on or off, not weighed.', 'weight');
		const next = merged(event, record);
		const group = exclusionOf(file, eventId);
		const exclusion = group && file.exclusions[group[0]];
		if (exclusion) {
			const weighed = { ...file, events: { ...file.events, [eventId]: next } };
			const problem = exclusionProblem(weighed, exclusion, group[0]);
			if (problem) return refused(problem, 'weight');
		}
		// [W6] Similar parts of one group have one starting weight.
		const mates = commonCauseOf(file, eventId)?.[1].events.filter((mate) => mate !== eventId) ?? [];
		const { weight, weightBasis } = next;
		return done([
			put(file, 'events', eventId, next),
			...(record.weight === undefined ? [] : mates).map((mate) =>
				put(file, 'events', mate, { ...file.events[mate]!, weight, weightBasis })
			)
		]);
	}
});

/** [W8] Takes the assumed weight of each for its own, as a guess. */
const acceptWeights = operation({
	name: 'event.acceptWeights',
	label: 'Accepted the assumed starting weights',
	args: v.object({ events: v.array(id) }),
	apply: (file: Investigation, { events }, context) => {
		const changes: Change[] = [];
		for (const event of events) {
			const now = applyChanges(file, changes);
			// Somebody weighed it meanwhile, or it fails together with one before.
			if (now.events[event]?.weight !== null) continue;
			const did = weigh.apply(now, { event, weight: ASSUMED_WEIGHT }, context);
			if (!did.ok) return did;
			changes.push(...did.value);
		}
		return changes.length > 0 ? done(changes) : refused('Each has a starting weight by now.');
	}
});

const said = v.omit(finding, ['anomaly', 'number', 'said']);

const addFinding = operation({
	name: 'finding.add',
	label: 'Added a finding',
	args: v.object({ id: v.optional(id), anomaly: id, record: said }),
	apply: (file: Investigation, args, { newId }) => {
		if (!file.anomalies[args.anomaly]) return refused('This anomaly is no longer there.', 'anomaly');
		const findingId = args.id ?? newId();
		if (file.findings[findingId]) return refused('A record with this identity is there already.');
		const record = { ...args.record, anomaly: args.anomaly, number: nextNumber(file.findings) };
		return settled(file, findingId, record);
	}
});

const changeFinding = operation({
	name: 'finding.change',
	label: 'Changed a finding',
	args: v.object({ id, record: v.partial(said) }),
	apply: (file: Investigation, args) => {
		const before = file.findings[args.id];
		if (!before) return refused(FINDING_GONE);
		const next = merged(before, args.record);
		// [W7] Said anew it is another outcome of the same lock, whole.
		if (isLocked(file, before) && args.record.links === undefined && !sameNumbers(before, next))
			return refused(LOCKED, 'links');
		return settled(file, args.id, args.record.links && next.firstDecides ? looked(next) : next);
	}
});

const LOCKED = 'These numbers were locked before the result of the test, so they stay.';
/** [W7] The result of a test, with the numbers that were locked for it. */
const isLocked = (file: Investigation, { firstDecides, evidence }: Finding) =>
	firstDecides === true && evidence.some((item) => standingPrediction(file, item));
const sameNumbers = (a: Finding, b: Finding) =>
	a.baseRate === b.baseRate && a.residualLink === b.residualLink && a.firstDecides === b.firstDecides;

/** What a finding may name, and one state and one base rate for all that are the same observation. */
function settled(file: Investigation, findingId: string, given: Finding): Outcome<Change[]> {
	const { said, ...bare } = given;
	const still = Object.entries(said ?? {}).filter(([item]) => given.evidence.includes(item));
	const record = still.length === 0 ? bare : { ...bare, said: Object.fromEntries(still) };
	const seen = new Set<string>();
	for (const { event, negated } of record.links) {
		const key = `${event} ${negated}`;
		if (file.events[event]?.anomaly !== record.anomaly)
			return refused('A link starts from an event of this tree.', 'links');
		/* [W2] One event speaks once about one sign. */
		if (seen.has(key))
			return refused(`"${file.events[event].title}" is linked twice. Keep one of the two.`, 'links');
		seen.add(key);
	}
	if (record.origin && !file.origins[record.origin])
		return refused('This person, sensor or photo is no longer listed.', 'origin');
	if (record.evidence.some((item) => !file.evidence[item]))
		return refused('One of the evidence items chosen is no longer there. Choose again.', 'evidence');
	if (record.sameAs) {
		const other = file.findings[record.sameAs];
		if (record.sameAs === findingId || other?.anomaly !== record.anomaly)
			return refused('Choose another finding of this anomaly.', 'sameAs');
		if (record.firstDecides || other.firstDecides)
			return refused('What a test showed is an observation of its own.', 'sameAs');
		const clash = linkClash(record, other);
		if (clash)
			return refused(
				`The two are one observation, but "${file.events[clash]?.title}" shows it with different probabilities. Make them equal first.`,
				'sameAs'
			);
	}
	/* [W3] The same observation is present, absent or not examined in all its words, unless its origins differ. */
	const alike = sameObservation(file, findingId, record.sameAs).filter((other) => other !== findingId);
	const changes = [put(file, 'findings', findingId, record)];
	for (const other of alike) {
		const twin = file.findings[other]!;
		const state = twin.origin === record.origin ? record.state : twin.state;
		if (state !== twin.state || record.baseRate !== twin.baseRate)
			changes.push(put(file, 'findings', other, { ...twin, state, baseRate: record.baseRate }));
	}
	return done(changes);
}

function linkClash(a: Finding, b: Finding): string | null {
	for (const one of a.links)
		for (const other of b.links)
			if (one.event === other.event && one.negated === other.negated && one.p !== other.p) return one.event;
	return null;
}

/** All findings that are the same observation as this one, itself included, directly or through others. */
export function sameObservation(
	file: Investigation,
	findingId: string,
	sameAs = file.findings[findingId]?.sameAs ?? null
): string[] {
	const pairs = Object.entries(file.findings).map(
		([id, { sameAs: other }]) => [id, id === findingId ? sameAs : other] as const
	);
	if (!file.findings[findingId]) pairs.push([findingId, sameAs]);
	const group = new Set([findingId]);
	for (let grown = true; grown;) {
		grown = false;
		for (const [a, b] of pairs)
			if (b !== null && group.has(a) !== group.has(b)) {
				group.add(a).add(b);
				grown = true;
			}
	}
	return [...group];
}

const setState = operation({
	name: 'finding.setState',
	label: 'Said whether a sign is there',
	args: v.object({ finding: id, state: finding.entries.state }),
	apply: (file: Investigation, args) => {
		const before = file.findings[args.finding];
		return before
			? settled(file, args.finding, { ...looked(before), state: args.state })
			: refused(FINDING_GONE);
	}
});

/** Looked at again: what corrected evidence once said is of no more account. */
function looked({ said: _, ...record }: Finding): Finding {
	return record;
}

const stillSo = operation({
	name: 'finding.stillSo',
	label: 'Looked at a sign again after a correction',
	args: v.object({ finding: id }),
	apply: (file: Investigation, args) => {
		const before = file.findings[args.finding];
		if (!before) return refused(FINDING_GONE);
		return before.said
			? settled(file, args.finding, looked(before))
			: refused('Nothing that this sign rests on was corrected.');
	}
});

/** [W4] A finding that a disposition cites stays until it is no longer cited. */
const removeFinding = operation({
	name: 'finding.remove',
	label: 'Removed a finding',
	args: v.object({ id }),
	apply: (file: Investigation, args) => {
		if (!file.findings[args.id]) return refused(FINDING_GONE);
		const citing = Object.values(file.events).find((e) => e.disposition.cites.includes(args.id));
		if (citing)
			return refused(`What was decided on "${citing.title}" cites it. Take it off there first.`, 'cites');
		const freed = Object.entries(file.findings)
			.filter(([, other]) => other.sameAs === args.id)
			.map(([other, record]) => put(file, 'findings', other, { ...record, sameAs: null }));
		return done([...freed, removal(file, 'findings', args.id)]);
	}
});

/** [W5] A link set again is replaced; there is never a second one from the same event. */
const setLink = operation({
	name: 'link.set',
	label: 'Linked a finding to an event',
	args: v.object({ finding: id, ...link.entries }),
	apply: (file: Investigation, { finding: findingId, ...given }) => {
		const before = file.findings[findingId];
		if (!before) return refused(FINDING_GONE);
		if (isLocked(file, before)) return refused(LOCKED, 'p');
		const same = (other: Finding['links'][number]) =>
			other.event === given.event && other.negated === given.negated;
		const links = before.links.some(same)
			? before.links.map((other) => (same(other) ? given : other))
			: [...before.links, given];
		return settled(file, findingId, { ...before, links });
	}
});

const removeLink = operation({
	name: 'link.remove',
	label: 'Took a link off a finding',
	args: v.object({ finding: id, event: id, negated: v.boolean() }),
	apply: (file: Investigation, args) => {
		const before = file.findings[args.finding];
		if (!before) return refused(FINDING_GONE);
		if (isLocked(file, before)) return refused(LOCKED);
		const links = before.links.filter(
			(other) => other.event !== args.event || other.negated !== args.negated
		);
		return links.length === before.links.length
			? refused('This link is no longer there.')
			: done([put(file, 'findings', args.finding, { ...before, links })]);
	}
});

const originUse = (file: Investigation, originId: string) => {
	const user = Object.values(file.findings).find((f) => f.origin === originId);
	return user ? `F${user.number} ("${user.statement}") still rests on it.` : null;
};

export const weighingOps = [
	weigh,
	acceptWeights,
	addFinding,
	changeFinding,
	setState,
	stillSo,
	removeFinding,
	setLink,
	removeLink,
	...recordOperations('origins', 'origin', 'a person, sensor or photo that findings rest on', originUse)
];

/** A finding as the form begins it. */
export const blankFinding = (): v.InferOutput<typeof said> => ({
	statement: '',
	state: 'notExamined',
	baseRate: 0.02,
	links: [],
	residualLink: null,
	origin: null,
	sameAs: null,
	evidence: [],
	costMinutes: null,
	destructive: false,
	note: ''
});
