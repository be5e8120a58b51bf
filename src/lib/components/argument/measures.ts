import type { Importance } from '$lib/reasoning';
import { percent } from '$lib/quantity/percent';

/** One measure of importance, named as the literature does and labelled by the question that it answers. */
export interface Measure {
	key: 'fussellVeselyUnion' | 'fussellVeselyRare' | 'criticality' | 'birnbaum' | 'raw' | 'rrw';
	name: string;
	question: string;
	/** In figures; '–' where it can't be had. */
	says: (of: Importance) => string;
}

const share = (p: number | null) => percent(p === null ? null : Math.min(1, Math.max(0, p)));
const times = (factor: number) =>
	Number.isFinite(factor) ? `× ${factor < 10 ? factor.toFixed(2) : Number(factor.toPrecision(3))}` : '∞';

/** All by the tree and its starting weights alone; formulas in docs/methods/weighing.md. */
export const MEASURES: readonly Measure[] = [
	{
		key: 'fussellVeselyUnion',
		name: 'Fussell-Vesely',
		question: 'Where the top event happens, how often is a combination with it complete?',
		says: ({ fussellVeselyUnion }) => share(fussellVeselyUnion)
	},
	{
		key: 'fussellVeselyRare',
		name: 'Fussell-Vesely, rare-event form',
		question: 'What share have the combinations with it, each counted for itself?',
		says: ({ fussellVeselyRare }) => share(fussellVeselyRare)
	},
	{
		key: 'criticality',
		name: 'Criticality',
		question: 'Where the top event happens, how often did this tip it: without it, no top event?',
		says: ({ criticality }) => share(criticality)
	},
	{
		key: 'birnbaum',
		name: 'Birnbaum',
		question: 'By how much is the top event more probable with it than without it?',
		says: ({ birnbaum }) => (birnbaum < 0 ? `−${percent(-birnbaum)}` : percent(birnbaum))
	},
	{
		key: 'raw',
		name: 'Risk achievement worth',
		question: 'How many times as probable would the top event be if this were sure to happen?',
		says: ({ raw }) => times(raw)
	},
	{
		key: 'rrw',
		name: 'Risk reduction worth',
		question: 'How many times less probable would the top event be if this could not happen?',
		says: ({ rrw }) => times(rrw)
	}
];
