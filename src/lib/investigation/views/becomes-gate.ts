import { typedProbability } from '$lib/quantity/percent';
import type { TreeEvent } from '../schema/anomaly';
import { DISPOSITION_WORDS } from './disposition';

/** What an event that has nothing beneath it loses when it gets a gate; '' where that is nothing. */
export function endsWithGate({ title, kind, weight, gate, disposition }: TreeEvent): string {
	if (gate || (kind !== 'basic' && kind !== 'undeveloped')) return '';
	const lost = [
		...(weight === null ? [] : [`its starting weight of ${typedProbability(weight)}`]),
		...(disposition.state === 'open' ? [] : [`that it is ${DISPOSITION_WORDS[disposition.state]}`])
	];
	return lost.length === 0
		? ''
		: `“${title}” then follows from what stands beneath it: ${lost.join(' and ')} ${lost.length > 1 ? 'count' : 'counts'} no longer.`;
}
