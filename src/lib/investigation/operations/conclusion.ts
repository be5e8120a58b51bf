import { percent } from '$lib/quantity/percent';
import * as v from 'valibot';
import type { Change, Investigation } from '../case';
import { done, type Outcome, type Problem, refused } from '../outcome';
import {
	CAUSE_TYPES,
	conclusion,
	disposition,
	DISPOSITIONS,
	observation,
	type TreeEvent
} from '../schema/anomaly';
import { id, ids, line, text } from '../schema/common';
import { cited, shows } from '../views/citations';
import { conclusionLacks, needsCitation, standsInTheWay } from '../views/closure';
import { branchesOf, numbersNow, weighedNow, outcomes } from '../views/scored';
import { DISPOSITION_WORDS, isAgainstWeight } from '../views/disposition';
import { listed } from '../views/leading';
import { speaksAgainst, speaksFor } from '../views/speaks-for';
import { operation } from './operation';
import { nextNumber, put, recordOperations } from './records';
import { GONE, openDisposition } from './tree-parts';

const decided = v.object({
	event: id,
	state: v.picklist(DISPOSITIONS),
	reason: v.optional(text, ''),
	cites: v.optional(ids, () => []),
	/** [D2] Why that was decided against what the evidence gives it. */
	despite: v.optional(text, ''),
	/** Probability given everything, as the person saw it when deciding. */
	weightThen: v.optional(disposition.entries.weightThen.wrapped, null)
});
type Decided = v.InferOutput<typeof decided>;

const setDisposition = operation({
	name: 'disposition.set',
	label: 'Decided a branch',
	args: decided,
	apply: (file: Investigation, args, { who, now }) => {
		const event = file.events[args.event];
		if (!event) return refused(GONE);
		if (args.state === 'open')
			return done([put(file, 'events', args.event, { ...event, disposition: openDisposition() })]);
		const problems = dispositionFaults(file, event, args);
		if (problems.length > 0) return { ok: false, problems };
		const { event: eventId, ...said } = args;
		return done([
			put(file, 'events', eventId, { ...event, disposition: { ...said, by: who, at: now, reviewedBy: '' } })
		]);
	}
});

/** [D6] Decided together: one reason and one basis, which must do for each; what takes a word of its own is decided by itself. */
const setTogether = operation({
	name: 'disposition.setTogether',
	label: 'Decided several branches',
	args: v.object({
		branches: v.pipe(
			v.array(v.pick(decided, ['event', 'weightThen'])),
			v.minLength(1, 'Choose the branches that this decides.')
		),
		...v.pick(decided, ['state', 'reason', 'cites']).entries
	}),
	apply: (file: Investigation, { branches, ...said }, { who, now }) => {
		if (said.state === 'open') return refused('Choose what was decided.', 'state');
		if (said.state === 'established')
			return refused('What is established is decided by itself, on what speaks for it.', 'state');
		const problems: Problem[] = [];
		const byThemselves: string[] = [];
		const changes: Change[] = [];
		for (const { event: eventId, weightThen } of branches) {
			const event = file.events[eventId];
			if (!event) return refused(GONE, 'branches');
			const { event: _, ...disposition } = { ...said, event: eventId, weightThen, despite: '' };
			const faults = dispositionFaults(file, event, { ...disposition, event: eventId });
			if (faults.some(({ field }) => field === 'despite' || field === 'state'))
				byThemselves.push(event.title);
			problems.push(...faults.filter(({ field }) => field === 'reason' || field === 'cites'));
			if (needsCitation(event, said.state) && said.cites.length === 0)
				problems.push({ field: 'cites', message: 'Cite what decides them.' });
			changes.push(
				put(file, 'events', eventId, {
					...event,
					disposition: { ...disposition, by: who, at: now, reviewedBy: '' }
				})
			);
		}
		if (byThemselves.length > 0)
			problems.push({
				field: 'branches',
				message: `${listed(byThemselves.map((title) => `“${title}”`))} ${byThemselves.length === 1 ? 'takes a word of its own: decide it by itself.' : 'take a word of their own: decide each by itself.'}`
			});
		return problems.length > 0 ? { ok: false, problems } : done(changes);
	}
});

/** [D5] A second look is another person's; deciding anew asks for a new one. */
const review = operation({
	name: 'disposition.review',
	label: 'Noted who looked at a decision',
	args: v.object({ event: id, reviewedBy: line }),
	apply: (file: Investigation, { event: eventId, reviewedBy }) => {
		const event = file.events[eventId];
		if (!event) return refused(GONE);
		const { disposition } = event;
		if (disposition.state === 'open') return refused('Nothing is decided here yet.', 'reviewedBy');
		if (reviewedBy !== '' && reviewedBy.toLowerCase() === disposition.by.trim().toLowerCase())
			return refused(`${disposition.by} decided it. A second look is taken by somebody else.`, 'reviewedBy');
		return done([put(file, 'events', eventId, { ...event, disposition: { ...disposition, reviewedBy } })]);
	}
});

function dispositionFaults(file: Investigation, event: TreeEvent, args: Decided): Problem[] {
	const problems: Problem[] = [];
	const say = (field: string, message: string) => void problems.push({ field, message });
	const cites = args.cites.map((one) => cited(file, one));
	/* What is cited shows something only once a test has its result and a sign was looked at. */
	const kinds = new Set(cites.flatMap((one) => (one && shows(file, one.id) ? [one.kind] : [])));
	if (cites.includes(null)) say('cites', 'Something cited is no longer there. Choose again.');
	/* [D4] A disposition without a reason is a vote. */
	if (args.reason === '') say('reason', 'Say why.');
	/* [D1] Out takes evidence or a calculation; nothing is voted out. */
	if (args.state === 'ruledOutByEvidence' && !kinds.has('evidence') && !kinds.has('finding'))
		say(
			'cites',
			'Cite the evidence or finding that rules it out. Without one it is "unlikely" at most. A test counts once its result is in, a sign once it was looked at.'
		);
	if (args.state === 'ruledOutByCalculation' && !kinds.has('calculation'))
		say('cites', 'Cite the calculation that rules it out. Without one it is "unlikely" at most.');
	const out = args.state === 'ruledOutByEvidence' || args.state === 'ruledOutByCalculation';
	if (out && !problems.some(({ field }) => field === 'cites') && !speaksAgainst(file, args.event, args.cites))
		say(
			'cites',
			'Nothing cited speaks against it. Cite a sign that it would leave and that is absent, a sign that is there and that only other causes leave, evidence on which such a sign rests, or a calculation that something else fits better.'
		);
	if (out && event.residual)
		say('state', 'What nobody has thought of can’t be ruled out, since nobody knows what it is.');
	if (isAgainstWeight(args.state, args.weightThen) && args.despite === '')
		say(
			'despite',
			`The evidence gives it ${percent(args.weightThen)}. Say what the weighing does not know, if it is called ${DISPOSITION_WORDS[args.state]} all the same.`
		);
	if (args.state === 'established' && !speaksFor(file, args.event, args.cites))
		/* [D3] Elimination of the others proves nothing. */
		say(
			'cites',
			'Cite something that speaks for it: a sign that is there and linked to it, evidence on which such a sign rests, a calculation that it fits, or the result of a test. That the others are out does not establish it.'
		);
	if (args.state === 'established' && event.residual)
		say('state', 'Name the cause first: add it beside this branch.');
	return problems;
}

const setCauseType = operation({
	name: 'causeType.set',
	label: 'Said what kind of cause it is',
	args: v.object({ event: id, causeType: v.nullable(v.picklist(CAUSE_TYPES)) }),
	apply: (file: Investigation, { event: eventId, causeType }) => {
		const event = file.events[eventId];
		return event ? done([put(file, 'events', eventId, { ...event, causeType })]) : refused(GONE);
	}
});

/** As the page shows it: a rounding error beyond 0 and 1 is none. */
const given = v.nullable(
	v.pipe(
		v.number(),
		v.transform((p) => Math.min(1, Math.max(0, p)))
	)
);

const write = operation({
	name: 'conclusion.write',
	label: 'Wrote the conclusion',
	args: v.object({
		anomaly: id,
		record: v.omit(conclusion, ['by', 'at', 'numbers', 'weighed', 'stood']),
		/** What the page shows of each event, kept to be scored later. */
		weights: v.optional(v.record(id, v.object({ givenTop: given, givenAll: given })), () => ({}))
	}),
	apply: (
		file: Investigation,
		{ anomaly, record, weights },
		{ who, now }
	): Outcome<never[] | ReturnType<typeof put>[]> => {
		if (!file.anomalies[anomaly]) return refused('This anomaly is no longer there.');
		const lacks = conclusionLacks(file, anomaly, record);
		/* [S7] A draft may always be kept; an ending waits for what stands in its way. */
		if (record.state !== 'open') {
			const blocking = standsInTheWay(file, anomaly).filter(({ blocks }) => blocks);
			if (blocking.length > 0)
				lacks.push({
					field: 'state',
					message: `${blocking.length === 1 ? 'One thing stands' : `${blocking.length} things stand`} in the way. ${blocking[0]!.message} Keep it as open until then; what you wrote is kept with it.`
				});
		}
		if (lacks.length > 0) return { ok: false, problems: lacks };
		/* [Q3] The numbers of an ending are kept with it, and stand still once something of it is known to be true. */
		const before = file.conclusions[anomaly];
		const known = outcomes(file, anomaly).some(({ truth }) => truth !== null);
		const isKept = record.state === 'open' || known;
		const numbers = isKept ? before?.numbers : numbersNow(file, anomaly, weights);
		const weighed = isKept ? before?.weighed : weighedNow(file, anomaly);
		/* [S11] What an ending was drawn from, to be held against how it weighs later. */
		const stood = Object.fromEntries(
			branchesOf(file, anomaly).flatMap(([event]) => {
				const p = weights[event]?.givenAll ?? null;
				return p === null ? [] : [[event, p]];
			})
		);
		return done([
			put(file, 'conclusions', anomaly, {
				...record,
				by: who,
				at: now,
				...(numbers ? { numbers } : {}),
				...(weighed ? { weighed } : {}),
				...(record.state === 'open' || Object.keys(stood).length === 0 ? {} : { stood })
			})
		]);
	}
});

/** [O1] Real, but off the causal chain: kept with what shows it, under a number that the tool gives. */
const observe = operation({
	name: 'observation.save',
	label: 'Noted an observation',
	args: v.object({ id: v.optional(id), record: v.omit(observation, ['number']) }),
	apply: (file: Investigation, { id: given, record }, { newId }) => {
		if (record.evidence.some((item) => !file.evidence[item]))
			return refused('One of the evidence items chosen is no longer there. Choose again.', 'evidence');
		const number = (given && file.observations[given]?.number) || nextNumber(file.observations);
		return done([put(file, 'observations', given ?? newId(), { ...record, number })]);
	}
});

export const conclusionOps = [
	setDisposition,
	setTogether,
	review,
	setCauseType,
	write,
	observe,
	...recordOperations('observations', 'observation', 'an observation').filter(
		(op) => op.name === 'observation.remove'
	)
];
