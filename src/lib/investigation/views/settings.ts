import type { Investigation } from '../case';
import type { Setting } from '../schema/setting';
import { eventsOf } from './tree';

/** The settings of one tree in the order in which they were kept. */
export const settingsOf = (file: Investigation, anomaly: string): [string, Setting][] =>
	Object.entries(file.settings)
		.filter(([, setting]) => setting.anomaly === anomaly)
		.sort(([a], [b]) => (a < b ? -1 : 1));

/** How the house events of one tree are switched now. */
export const switchesOf = (file: Investigation, anomaly: string): Setting['switches'] =>
	eventsOf(file, anomaly)
		.filter(([, { kind }]) => kind === 'house')
		.map(([event, { on }]) => ({ event, on }));

/** The tree is switched as the setting says; what is no house event any more is not asked. */
export const holds = (file: Investigation, { switches }: Setting): boolean =>
	switches.every(({ event, on }) => file.events[event]?.kind !== 'house' || file.events[event].on === on);

/** The settings that hold now, by name. */
export const settingsThatHold = (file: Investigation, anomaly: string): string[] =>
	settingsOf(file, anomaly)
		.filter(([, setting]) => holds(file, setting))
		.map(([, { title }]) => title);
