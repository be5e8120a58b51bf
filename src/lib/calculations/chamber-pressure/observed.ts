import { HABIT, type Field } from '../calculation';

export const OBSERVED = [
	{
		kind: 'quantity',
		id: 'peak',
		label: 'Greatest pressure recorded, absolute',
		dimension: 'pressure',
		unit: 'MPa',
		range: { above: 0, max: 1e9 },
		spread: { text: '3 %', origin: `pressure sensor; ${HABIT}` },
		help: 'A gauge reads 0.1 MPa less.'
	},
	{
		kind: 'choice',
		id: 'peakIs',
		label: 'That pressure is',
		options: [
			{ id: 'reached', label: 'what it was' },
			{ id: 'at least', label: 'the least: the sensor was at its limit, or the case opened' }
		],
		default: { text: 'reached', origin: 'a reading' }
	},
	{
		kind: 'quantity',
		id: 'burnTime',
		label: 'Burn time, above a tenth of the greatest pressure or thrust',
		dimension: 'time',
		unit: 's',
		range: { above: 0, max: 600 },
		spread: { text: '0.1 s', origin: `video frames and choice of the end; ${HABIT}` }
	},
	{
		kind: 'quantity',
		id: 'throatAfter',
		label: 'Throat diameter measured afterwards',
		dimension: 'length',
		unit: 'mm',
		range: { above: 0, max: 2 },
		spread: { text: '0.1 mm', origin: `caliper in a cleaned, uneven throat; ${HABIT}` }
	}
] as const satisfies readonly Field[];
