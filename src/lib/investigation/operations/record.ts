import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, refused } from '../outcome';
import { id, LIMITS } from '../schema/common';
import { FIRST_STEPS, hazard, type Part, part, site } from '../schema/record';
import type { TimelineEntry } from '../schema/places-and-times';
import { operation } from './operation';
import { put, recordOperations, singletonOperation } from './records';

/** No clock anywhere is further ahead of UTC. */
const EARLIEST_CLOCK_MS = 14 * 3_600_000;

/** [R1] What was made safe was made so before now. */
const saveHazard = operation({
	name: 'hazard.save',
	label: 'Recorded how a hazard stands',
	args: v.object({ id: v.optional(id), record: hazard }),
	apply: (file: Investigation, { id: given, record }, { newId, now }) => {
		const at = Date.parse(record.at.length > 10 ? `${record.at}Z` : record.at);
		if (record.state === 'safe' && at - EARLIEST_CLOCK_MS > Date.parse(now))
			return refused(
				'By this machine’s clock that is still to come. Set the clock right, or say when it was made safe.',
				'at'
			);
		const piece = record.evidence && file.evidence[record.evidence];
		if (record.evidence && (!piece || piece.kind !== 'piece' || piece.withdrawn))
			return refused('Choose the found piece that it sits in.', 'evidence');
		if (given && !file.hazards[given])
			return refused('This is no longer there; somebody removed it meanwhile.');
		return done([put(file, 'hazards', given ?? newId(), record), ...(given ? [] : askAgain(file))]);
	}
});

/** Takes back what was said of the list: there was something that it lacked, so there may be more. */
function askAgain(file: Investigation) {
	const { allListed, ...about } = file.about['main']!;
	return allListed ? [put(file, 'about', 'main', about)] : [];
}

/** A short list may be safe and still lack the charge that goes off, so somebody says that it is whole. */
const sayAllListed = operation({
	name: 'hazard.allListed',
	label: 'Said whether all that can hurt is listed',
	args: v.object({ all: v.boolean() }),
	apply: (file: Investigation, { all }, { who: by, now: at }) => {
		if (!all) return done(askAgain(file));
		if (Object.keys(file.hazards).length === 0)
			return refused('List it first: a vehicle that flew has at least a motor and a cell.');
		return done([put(file, 'about', 'main', { ...file.about['main']!, allListed: { by, at } })]);
	}
});

/** What does not apply is set aside by somebody, so that the list of the first hour comes to an end. */
const setStepAside = operation({
	name: 'firstHour.setAside',
	label: 'Set a step of the first hour aside, or took it up again',
	args: v.object({ step: v.picklist(FIRST_STEPS), aside: v.boolean() }),
	apply: (file: Investigation, { step, aside }) => {
		const about = file.about['main']!;
		const others = (about.setAside ?? []).filter((other) => other !== step);
		return done([put(file, 'about', 'main', { ...about, setAside: aside ? [...others, step] : others })]);
	}
});

/** [R2] The pad is the origin of the plan, so it has a place of its own. */
const saveSite = operation({
	name: 'site.save',
	label: 'Changed the site',
	args: v.object({ record: site }),
	apply: (file: Investigation, { record }) =>
		record.pad?.kind === 'bearing'
			? refused('Give the pad its own position: everything else is measured from it.', 'pad')
			: done([put(file, 'site', 'main', record)])
});

/** [R3] What came back of a part agrees with the evidence: a found piece of it is not missing. */
const partOutcome = operation({
	name: 'part.outcome',
	label: 'Recorded what came back of a part',
	// Only what was said: the other answer may have changed since the page was drawn.
	args: v.object({
		id,
		outcome: v.exactOptional(part.entries.outcome),
		next: v.exactOptional(part.entries.next)
	}),
	apply: (file: Investigation, { id: partId, ...said }) => {
		const before = file.parts[partId];
		if (!before) return refused('This part is no longer in the list.');
		const after = { ...before, ...said };
		return partFault(file, partId, after) ?? done([put(file, 'parts', partId, after)]);
	}
});

function partFault(file: Investigation, partId: string, record: Part) {
	const piece = Object.values(file.evidence).find(
		(e) => e.kind === 'piece' && !e.withdrawn && e.parts.includes(partId)
	);
	if (record.outcome === 'missing' && piece)
		return refused(
			`E${piece.number} (${piece.title}) is a found piece of this part, so it is not missing. List the lost piece as a part of its own.`,
			'outcome'
		);
	// [R4] Only what came back can fly, be mended, tested, or kept.
	if (record.outcome === 'missing' && record.next !== null && record.next !== 'retire')
		return refused('It did not come back, so nothing can be done with it yet.', 'next');
	if (record.outcome === 'destroyed' && (record.next === 'flyAgain' || record.next === 'repair'))
		return refused('A destroyed part can’t fly again or be repaired.', 'next');
	return null;
}

const addParts = operation({
	name: 'part.addSeveral',
	label: 'Added parts',
	args: v.object({
		records: v.pipe(v.array(part), v.minLength(1, 'List at least one part.'), v.maxLength(LIMITS.list))
	}),
	apply: (file: Investigation, { records }, { newId }) =>
		done(records.map((record) => put(file, 'parts', newId(), record)))
});

function partUse(file: Investigation, partId: string): string | null {
	const item = Object.values(file.evidence).find((e) => e.parts.includes(partId));
	if (item) return `E${item.number} (${item.title}) names this part. Take it off there first.`;
	const mode = Object.values(file.failureModes).find((one) => one.part === partId);
	return mode ? `Its failure mode "${mode.mode}" is listed under Anomalies. Take that off first.` : null;
}

function clockUse(file: Investigation, clockId: string): string | null {
	const entry = Object.values(file.timeline).find((t) => t.at.kind === 'clock' && t.at.clock === clockId);
	if (entry) return `The timeline still reads this clock: "${entry.what}".`;
	const item = Object.values(file.evidence).find((e) => e.at?.kind === 'clock' && e.at.clock === clockId);
	return item ? `E${item.number} was timed by this clock.` : null;
}

function momentFault(file: Investigation, _id: string, entry: TimelineEntry) {
	if (entry.at.kind === 'clock' && !file.clocks[entry.at.clock])
		return refused('Choose the clock that this was read on.', 'at.clock');
	return entry.evidence.some((e) => file.evidence[e]?.withdrawn)
		? refused('An item named here is withdrawn.', 'evidence')
		: null;
}

export const recordOps = [
	singletonOperation('about', 'about.save', 'Changed what this investigation is about'),
	saveSite,
	singletonOperation('weather', 'weather.save', 'Changed the weather'),
	saveHazard,
	sayAllListed,
	setStepAside,
	...recordOperations('hazards', 'hazard', 'a hazard').filter((op) => op.name === 'hazard.remove'),
	...recordOperations('expected', 'expected', 'an expected value'),
	...recordOperations('parts', 'part', 'a part', partUse, partFault),
	partOutcome,
	addParts,
	...recordOperations('clocks', 'clock', 'a clock', clockUse),
	...recordOperations('timeline', 'timeline', 'a moment on the timeline', undefined, momentFault)
];
