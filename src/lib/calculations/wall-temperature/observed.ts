import { HABIT, type Field } from '../calculation';

export const OBSERVED = [
	{
		kind: 'quantity',
		id: 'left',
		label: 'Thinnest wall left, all layers together',
		dimension: 'length',
		unit: 'mm',
		range: { min: 0, max: 1 },
		spread: { text: '0.1 mm', origin: `caliper on an uneven face; ${HABIT}` }
	},
	{
		kind: 'choice',
		id: 'hole',
		label: 'Burnt through',
		options: [
			{ id: 'not said', label: 'not said' },
			{ id: 'yes', label: 'yes' },
			{ id: 'no', label: 'no' }
		],
		default: { text: 'not said', origin: 'nothing observed' }
	},
	{
		kind: 'quantity',
		id: 'holeTime',
		label: 'Time of the hole, from ignition of the last firing',
		dimension: 'time',
		unit: 's',
		range: { min: 0, max: 600 },
		spread: { text: '0.2 s', origin: `video; ${HABIT}` },
		help: 'When the path or sound changed, or flame was seen at the side.'
	},
	{
		kind: 'quantity',
		id: 'outside',
		label: 'Highest temperature of the outside',
		dimension: 'temperature',
		unit: '°C',
		range: { min: 250, max: 2000 },
		spread: { text: '20 K', origin: `temper colour, paint or tape; ${HABIT}` },
		help: 'Temper colours of carbon steel, common practice: straw about 220 °C, purple 280 °C, blue 300 °C, grey 350 °C and more.'
	},
	{
		kind: 'choice',
		id: 'outsideIs',
		label: 'That temperature is',
		options: [
			{ id: 'reached', label: 'about what it was' },
			{ id: 'at least', label: 'the least: the paint turned' },
			{ id: 'at most', label: 'the most: the paint did not turn' }
		],
		default: { text: 'reached', origin: 'a reading' }
	}
] as const satisfies readonly Field[];
