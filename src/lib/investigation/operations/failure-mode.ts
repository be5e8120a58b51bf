import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, refused } from '../outcome';
import { id } from '../schema/common';
import { failureMode } from '../schema/failure-mode';
import { operation } from './operation';
import { put, removal } from './records';

const GONE = 'This failure mode is no longer there; somebody removed it meanwhile.';

const list = operation({
	name: 'failureMode.list',
	label: 'Listed failure modes of a part',
	args: v.object({
		part: id,
		modes: v.pipe(
			v.array(failureMode.entries.mode),
			v.minLength(1, 'Say how the part can fail, one way in each line.'),
			v.maxLength(50, 'At most 50 at once.')
		)
	}),
	apply: (file: Investigation, { part, modes }, { newId }) => {
		if (!file.parts[part]) return refused('Choose a part of the parts list.', 'part');
		const there = new Set(
			Object.values(file.failureModes).flatMap((one) => (one.part === part ? [one.mode.toLowerCase()] : []))
		);
		const fresh = modes.filter((mode) => !there.has(mode.toLowerCase()) && there.add(mode.toLowerCase()));
		if (fresh.length === 0) return refused('These are listed for this part already.', 'modes');
		return done(
			fresh.map((mode) => put(file, 'failureModes', newId(), { part, mode, event: null, notApplicable: '' }))
		);
	}
});

/** [M1] A failure mode stands at an event that is there, or says why it has no place; one of the two. */
const place = operation({
	name: 'failureMode.place',
	label: 'Said where a failure mode stands',
	args: v.object({ id, ...v.pick(failureMode, ['event', 'notApplicable']).entries }),
	apply: (file: Investigation, { id: modeId, event, notApplicable }) => {
		const before = file.failureModes[modeId];
		if (!before) return refused(GONE);
		if (event !== null && !file.events[event])
			return refused('This event is no longer there. Choose another.', 'event');
		if (event !== null && notApplicable !== '')
			return refused('It stands in a tree or does not apply; not both.', 'notApplicable');
		return done([put(file, 'failureModes', modeId, { ...before, event, notApplicable })]);
	}
});

const remove = operation({
	name: 'failureMode.remove',
	label: 'Took a failure mode off the list',
	args: v.object({ id }),
	apply: (file: Investigation, { id: modeId }) =>
		file.failureModes[modeId] ? done([removal(file, 'failureModes', modeId)]) : refused(GONE)
});

export const failureModeOps = [list, place, remove];
