import type { Investigation } from '../case';
import { listed } from './leading';
import { eventsOf, isBranch, weightOf } from './tree';

/** What 0 or 100 % does that no other number would; '' of any other. */
export function certainNumber(kind: 'weight' | 'baseRate' | 'link' | 'shared', p: number | null): string {
	return p === 0 || p === 1 ? CERTAIN[kind][p] : '';
}

const CERTAIN = {
	weight: {
		0: '0 % is impossible: no evidence can ever move this. Give it a small number, such as 1 in 1000, unless you would believe it against any evidence.',
		1: '100 % is certain: no evidence can ever move this. Give it something below, such as 99.9 %, unless you would believe it against any evidence.'
	},
	baseRate: {
		0: '0 % is never: once the sign is there, one of the linked causes is certain. Write 1 in 1000 unless you would believe that against any evidence.',
		1: '100 % is always: the sign tells nothing.'
	},
	link: {
		0: '0 % leaves only the base rate: as if it were not linked.',
		1: '100 % is without exception: once the sign is missing, this is ruled out whatever else is found. Write 99 % unless you would believe that against any evidence.'
	},
	shared: {
		0: '0 % shares nothing: each fails only by itself.',
		1: '100 % makes them one part: none ever fails alone.'
	}
};

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
