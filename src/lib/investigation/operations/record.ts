import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, refused } from '../outcome';
import { id } from '../schema/common';
import { hazard } from '../schema/record';
import { operation } from './operation';
import { put, recordOperations, singletonOperation } from './records';

/** [R1] Nothing is called safe without a name and a time: the next person will believe it. */
const saveHazard = operation({
	name: 'hazard.save',
	label: 'Recorded how a hazard stands',
	args: v.object({ id: v.optional(id), record: hazard }),
	apply: (file: Investigation, { id: given, record }, { newId }) => {
		if (record.state === 'safe' && record.by === '') return refused('Say who made it safe.', 'by');
		if (record.state === 'safe' && record.at === '') return refused('Say when it was made safe.', 'at');
		if (record.evidence && file.evidence[record.evidence]?.kind !== 'piece')
			return refused('Choose the found piece that it sits in.', 'evidence');
		if (given && !file.hazards[given])
			return refused('This is no longer there; somebody removed it meanwhile.');
		return done([put(file, 'hazards', given ?? newId(), record)]);
	}
});

function partUse(file: Investigation, partId: string): string | null {
	const item = Object.values(file.evidence).find((e) => e.parts.includes(partId));
	return item ? `E${item.number} (${item.title}) names this part. Take it off there first.` : null;
}

function clockUse(file: Investigation, clockId: string): string | null {
	const entry = Object.values(file.timeline).find((t) => t.at.kind === 'clock' && t.at.clock === clockId);
	if (entry) return `The timeline still reads this clock: "${entry.what}".`;
	const item = Object.values(file.evidence).find((e) => e.at?.kind === 'clock' && e.at.clock === clockId);
	return item ? `E${item.number} was timed by this clock.` : null;
}

export const recordOps = [
	singletonOperation('about', 'about.save', 'Changed what this investigation is about'),
	singletonOperation('site', 'site.save', 'Changed the site'),
	singletonOperation('weather', 'weather.save', 'Changed the weather'),
	saveHazard,
	...recordOperations('hazards', 'hazard', 'a hazard').filter((op) => op.name === 'hazard.remove'),
	...recordOperations('expected', 'expected', 'an expected value'),
	...recordOperations('parts', 'part', 'a part', partUse),
	...recordOperations('clocks', 'clock', 'a clock', clockUse),
	...recordOperations('timeline', 'timeline', 'a moment on the timeline')
];
