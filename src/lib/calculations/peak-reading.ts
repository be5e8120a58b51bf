import type { LeafField, Observation } from './calculation';

/** What a recorder showed at its peak, and whether its scale ended there: asked by each calculation of a shock. */
export const peakFields = (label: string, missed: string, help?: string): LeafField[] => [
	{
		kind: 'quantity',
		id: 'peak',
		label,
		dimension: 'acceleration',
		unit: 'g',
		range: { above: 0, max: 1e6 },
		spread: {
			text: missed,
			origin: 'a slow or filtered sensor misses part of a peak; common practice, no source'
		},
		...(help === undefined ? {} : { help })
	},
	{
		kind: 'choice',
		id: 'saturated',
		label: 'The reading stood at the end of its scale',
		options: [
			{ id: 'no', label: 'No, it is the peak' },
			{ id: 'yes', label: 'Yes: the peak was at least that' }
		],
		default: { text: 'no', origin: 'taken as the peak' }
	}
];

/** The reading as an observation, none if there is none, or why it can't be one. */
export function peakObservation(
	values: Record<string, unknown>,
	sd: (path: string) => number,
	member = 0
): Observation[] | string {
	const peak = values['peak'] as number | undefined;
	if (peak === undefined) return [];
	if (sd('peak') <= 0) return 'no peak is known exactly: give its uncertainty, such as 30 ± 6 g';
	return [
		{
			kind: 'scalar',
			label: 'the peak',
			dimension: 'acceleration',
			unit: 'g',
			observed: peak,
			sd: sd('peak'),
			member,
			...(values['saturated'] === 'yes' ? { beyond: 'above' } : {})
		}
	];
}
