import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, refused } from '../outcome';
import { id } from '../schema/common';
import { setting } from '../schema/setting';
import { settingsOf, switchesOf } from '../views/settings';
import { operation } from './operation';
import { put, removal } from './records';

const GONE = 'This setting is no longer there; somebody removed it meanwhile.';

/** [T14] A setting is how the house events of a tree stand when it is kept; one name in a tree is one setting. */
const keep = operation({
	name: 'setting.keep',
	label: 'Kept how a tree is switched',
	args: v.object({ id: v.optional(id), ...v.pick(setting, ['anomaly', 'title']).entries }),
	apply: (file: Investigation, { id: given, anomaly, title }, { newId }) => {
		if (!file.anomalies[anomaly]) return refused('This anomaly is no longer there.', 'anomaly');
		const switches = switchesOf(file, anomaly);
		if (switches.length === 0)
			return refused('This tree has no house events. Add one for what a phase or configuration switches.');
		const named = settingsOf(file, anomaly).find(([, other]) => other.title === title);
		if (given && named && named[0] !== given)
			return refused(`Another setting is called “${title}” already.`, 'title');
		return done([put(file, 'settings', given ?? named?.[0] ?? newId(), { anomaly, title, switches })]);
	}
});

/** [T15] Choosing a setting switches all of its house events in one step; the others stay as they are. */
const choose = operation({
	name: 'setting.choose',
	label: 'Switched a tree to a setting',
	args: v.object({ id }),
	apply: (file: Investigation, args) => {
		const chosen = file.settings[args.id];
		if (!chosen) return refused(GONE);
		const changes = chosen.switches.flatMap(({ event, on }) => {
			const before = file.events[event];
			return before?.kind === 'house' && before.on !== on
				? [put(file, 'events', event, { ...before, on })]
				: [];
		});
		return done(changes);
	}
});

const remove = operation({
	name: 'setting.remove',
	label: 'Removed a setting of a tree',
	args: v.object({ id }),
	apply: (file: Investigation, args) =>
		file.settings[args.id] ? done([removal(file, 'settings', args.id)]) : refused(GONE)
});

export const settingOps = [keep, choose, remove];
