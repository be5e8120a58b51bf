import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, refused } from '../outcome';
import { id, ids, probability, text } from '../schema/common';
import { truth, TRUTH_SOURCES } from '../schema/truth';
import { cited, shows } from '../views/citations';
import { listed } from '../views/leading';
import { isUnweighed, numbersNow, weighedNow } from '../views/scored';
import { isBranch } from '../views/tree';
import { operation } from './operation';
import { put } from './records';

const ELSEWHERE = 'One of these is no branch of this tree any more. Load the page again.';

/** [A4] First impressions in numbers are sealed before anything is weighed: each given once, by name and time. */
const seal = operation({
	name: 'impression.seal',
	label: 'Sealed a first impression in numbers',
	args: v.object({
		anomaly: id,
		of: v.pipe(
			v.array(
				v.object({
					event: id,
					p: v.pipe(probability, v.nonNullable(v.number('Give a probability, such as 30 %.')))
				})
			),
			v.minLength(1, 'Give at least one cause a number.')
		)
	}),
	apply: (file: Investigation, { anomaly, of }, { who, now }) => {
		if (!file.anomalies[anomaly]) return refused('This anomaly is no longer there.');
		if (!isUnweighed(file, anomaly))
			return refused('Evidence is weighed here already: what you would write now is no first impression.');
		for (const { event } of of) {
			const branch = file.events[event];
			if (branch?.anomaly !== anomaly || !isBranch(branch)) return refused(ELSEWHERE, 'of');
			if (branch.impression)
				return refused(`The first impression of “${branch.title}” is sealed already.`, 'of');
		}
		return done(
			of.map(({ event, p }) =>
				put(file, 'events', event, { ...file.events[event]!, impression: { p, by: who.trim(), at: now } })
			)
		);
	}
});

/** [Q1] What was true is said of a concluded anomaly; [Q2] with how it is known, and on what. */
const state = operation({
	name: 'truth.state',
	label: 'Said what turned out to be true',
	args: v.object({
		anomaly: id,
		of: v.pipe(
			v.array(v.object({ event: id, is: truth.entries.is })),
			v.minLength(1, 'Say of at least one branch how it came out.')
		),
		how: v.picklist(TRUTH_SOURCES, 'Say how it is known.'),
		cites: v.optional(ids, () => []),
		note: v.optional(text, '')
	}),
	apply: (file: Investigation, { anomaly, of, ...rest }, { who, now }) => {
		const conclusion = file.conclusions[anomaly];
		if (!conclusion || conclusion.state === 'open')
			return refused('Conclude this anomaly first: what turned out is held against what was concluded.');
		if (rest.cites.some((one) => !cited(file, one)))
			return refused('Something cited is no longer there. Choose again.', 'cites');
		if (of.some(({ is }) => is !== 'neverKnown') && rest.cites.length === 0)
			return refused(
				'Cite the test, the strip-down or the repeat that shows it. That it seems so is not known.',
				'cites'
			);
		if (rest.cites.length > 0 && !rest.cites.some((one) => shows(file, one)))
			return refused(
				'Nothing cited shows it yet: a test counts once its result is in, a sign once it was looked at.',
				'cites'
			);
		const weighed = new Set(conclusion.weighed ?? weighedNow(file, anomaly));
		if (rest.cites.length > 0 && rest.cites.every((one) => weighed.has(one) || !shows(file, one)))
			return refused(
				`${listed(rest.cites.map((one) => cited(file, one)!.label))} ${rest.cites.length === 1 ? 'was' : 'were'} weighed for this conclusion, so it can’t also show whether the numbers were good. Cite what came to light since.`,
				'cites'
			);
		if (rest.cites.length === 0 && rest.note === '')
			return refused('Say why it will never be known.', 'note');
		const changes = [];
		for (const { event, is } of of) {
			const branch = file.events[event];
			if (branch?.anomaly !== anomaly || !isBranch(branch)) return refused(ELSEWHERE, 'of');
			changes.push(
				put(file, 'events', event, { ...branch, truth: { is, ...rest, by: who.trim(), at: now } })
			);
		}
		/* [Q3] The numbers that are scored stand still from here on, also for conclusions of before they were kept. */
		if (!conclusion.numbers)
			changes.push(
				put(file, 'conclusions', anomaly, { ...conclusion, numbers: numbersNow(file, anomaly, {}) })
			);
		return done(changes);
	}
});

const takeBack = operation({
	name: 'truth.takeBack',
	label: 'Took back what turned out to be true',
	args: v.object({ event: id }),
	apply: (file: Investigation, { event: eventId }) => {
		const event = file.events[eventId];
		if (!event?.truth) return refused('Nothing is said of this branch.');
		const { truth: _, ...before } = event;
		return done([put(file, 'events', eventId, before)]);
	}
});

export const truthOps = [seal, state, takeBack];
