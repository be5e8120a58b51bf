import type { Investigation } from '$lib/investigation/case';
import { DISPOSITION_WORDS } from '$lib/investigation/views/disposition';
import { eventsOf, inputsOf } from '$lib/investigation/views/tree';
import { treeNames } from '$lib/investigation/views/tree-file';
import { csv } from './csv';
import type { EventWeights } from './tree-drawing';
import * as words from './words';

const HEAD = [
	'id',
	'event',
	'kind',
	'gate',
	'k',
	'stands on',
	'starting weight',
	'basis',
	'prior',
	'givenTop',
	'givenAll',
	'disposition',
	'reason',
	'note'
];

/**
 * The events of a tree as a table, one row each in the order of the tree, under the ids of its other files.
 * @param weights  by event, as it is weighed now; {} leaves those columns empty
 */
export function treeCsv(
	file: Investigation,
	anomaly: string,
	weights: Readonly<Record<string, EventWeights>>
): string {
	const events = Object.fromEntries(eventsOf(file, anomaly));
	const names = treeNames(file, anomaly);
	const rows = [...names].map(([id, name]) => {
		const event = events[id]!;
		const { gate, kind, disposition, weight, weightBasis } = event;
		const { prior = null, givenTop = null, givenAll = null } = weights[id] ?? {};
		const house = kind === 'house';
		return [
			name,
			event.title,
			event.residual ? 'not thought of' : words.EVENT_KIND[kind],
			gate ? words.GATE[gate.type] : '',
			gate?.k ?? null,
			inputsOf(event)
				.map((input) => names.get(input) ?? '')
				.join(' '),
			house ? (event.on ? 'on' : 'off') : weight,
			house || weight === null ? '' : words.WEIGHT_BASIS[weightBasis],
			prior,
			givenTop,
			givenAll,
			DISPOSITION_WORDS[disposition.state],
			disposition.reason,
			event.note
		];
	});
	return csv([HEAD, ...rows]);
}
