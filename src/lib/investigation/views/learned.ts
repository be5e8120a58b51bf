import type { Investigation } from '../case';
import type { Conclusion } from '../schema/anomaly';
import type { ChangeState } from '../schema/change';

/** What an investigation came to, in few words: for lists over all of them. */
export interface Learned {
	concluded: { id: string; number: number; state: Exclude<Conclusion['state'], 'open'>; statement: string }[];
	/** True: no anomaly is left open. */
	whole: boolean;
	changed: { id: string; number: number; state: ChangeState; title: string }[];
}

/** A list holds a few kilobytes of each investigation. */
const MOST = 6;
const LONGEST = 240;
const short = (text: string) => (text.length > LONGEST ? `${text.slice(0, LONGEST - 1).trimEnd()}…` : text);

/** What was concluded of each anomaly, and the changes that were not rejected. */
export function learned({
	anomalies,
	conclusions,
	changes
}: Pick<Investigation, 'anomalies' | 'conclusions' | 'changes'>): Learned {
	const stated = Object.entries(anomalies).sort(([, a], [, b]) => a.number - b.number);
	const concluded = stated.flatMap(([id, { number }]) => {
		const { state = 'open', statement = '' } = conclusions[id] ?? {};
		return state === 'open' ? [] : [{ id, number, state, statement: short(statement) }];
	});
	return {
		concluded: concluded.slice(0, MOST),
		whole: concluded.length > 0 && concluded.length === stated.length,
		changed: Object.entries(changes)
			.filter(([, { state }]) => state !== 'rejected')
			.sort(([, a], [, b]) => a.number - b.number)
			.slice(0, MOST)
			.map(([id, { number, state, title }]) => ({ id, number, state, title: short(title) }))
	};
}

/** The room at which an investigation opens from a list: what is concluded is opened to be read. */
export const opensAt = (of: Learned | undefined): string =>
	of?.whole ? `anomalies/${of.concluded[0]!.id}/conclusion` : 'record';
