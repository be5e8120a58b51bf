import type { Investigation } from '../case';
import { listed } from './leading';
import { eventsOf, isBranch, weightOf } from './tree';

/**
 * Starting weights of 0 and 1 under an anomaly, in a sentence; '' where there is none. No evidence moves them, so
 * they are the first suspects where the evidence contradicts the tree.
 */
export function certainSentence(file: Investigation, anomaly: string): string {
	const sure = eventsOf(file, anomaly).flatMap(([, event]) => {
		const weight = weightOf(event);
		return isBranch(event) && (weight === 0 || weight === 1) ? [`“${event.title}” (${100 * weight} %)`] : [];
	});
	return sure.length === 0
		? ''
		: `No evidence can ever move a starting weight of 0 or 100 %, and such ${sure.length === 1 ? 'is that' : 'are those'} of ${listed(sure)}.`;
}
