import { HABIT, type Field, type ValuesOf } from '../calculation';
import { AIR } from '../through-wind';

const [ELEVATION, TEMPERATURE, PRESSURE, TEMPERATURES] = AIR;

export const INPUTS = [
	{
		kind: 'choice',
		id: 'readAs',
		label: 'The recorder tells',
		options: [
			{ id: 'height', label: 'a height above the pad' },
			{ id: 'pressure', label: 'pressures' }
		],
		default: { text: 'height', origin: 'what most recorders show' }
	},
	{
		kind: 'quantity',
		id: 'indicatedHeight',
		label: 'Height that it shows, zero on the pad',
		dimension: 'length',
		unit: 'm',
		range: { min: -500, max: 35_000 },
		when: { choice: 'readAs', is: ['height'] },
		help: 'Reckoned with the standard air, as recorders do that were not told the temperature.'
	},
	{
		kind: 'quantity',
		id: 'pressureAloft',
		label: 'Pressure that it recorded aloft',
		dimension: 'pressure',
		unit: 'hPa',
		range: { min: 500, max: 110_000 },
		when: { choice: 'readAs', is: ['pressure'] }
	},
	{
		...PRESSURE,
		help: 'At the site, not reduced to sea level; of the same recorder where it tells pressures. Blank: the standard atmosphere.'
	},
	{ ...TEMPERATURE, spread: { text: '2 K', origin: `in the shade, of that hour; ${HABIT}` } },
	{
		kind: 'quantity',
		id: 'dayWarmer',
		label: 'Air at the pad warmer than standard, its temperature being unknown',
		dimension: 'temperature difference',
		unit: 'K',
		default: { text: '0 ± 10 K', origin: `a day of which nothing is known; ${HABIT}` },
		range: { min: -60, max: 60 },
		when: { choice: 'siteTemperature', is: [''] }
	},
	ELEVATION,
	TEMPERATURES,
	{
		kind: 'quantity',
		id: 'aloftError',
		label: 'Air aloft warmer than the temperature at the pad tells',
		dimension: 'temperature difference',
		unit: 'K',
		default: { text: '0 ± 3 K', origin: `slope of a day that is not standard; ${HABIT}` },
		range: { min: -40, max: 40 },
		help: 'A frosty or a hot ground is not the air above it.'
	},
	{
		kind: 'quantity',
		id: 'portError',
		label: 'Pressure at the port over that of the still air',
		dimension: 'pressure',
		unit: 'hPa',
		default: { text: '0 ± 0.3 hPa', origin: `sensor and vented bay in quiet flight; ${HABIT}` },
		range: { min: -20_000, max: 20_000 }
	},
	{
		kind: 'quantity',
		id: 'portLag',
		label: 'Time by which the bay follows the air outside',
		dimension: 'time',
		unit: 's',
		default: { text: '0 s', origin: 'ports of the usual size' },
		range: { min: 0, max: 60 }
	},
	{
		kind: 'quantity',
		id: 'climbRate',
		label: 'Climb rate at that moment',
		dimension: 'speed',
		unit: 'm/s',
		default: { text: '0 m/s', origin: 'at apogee' },
		range: { min: -700, max: 1500 },
		help: 'Negative on the way down.'
	},
	{
		kind: 'choice',
		id: 'moment',
		label: 'At that moment',
		options: [
			{ id: 'quiet', label: 'it flew quietly' },
			{ id: 'fast', label: 'it flew near or above the speed of sound' },
			{ id: 'charge', label: 'a charge was firing or had just fired' }
		],
		default: { text: 'quiet', origin: 'apogee, before any charge' }
	},
	{
		kind: 'quantity',
		id: 'trueHeight',
		label: 'The height as known otherwise, above the pad',
		dimension: 'length',
		unit: 'm',
		range: { min: 0, max: 35_000 },
		spread: { text: '10 m', origin: `satellite fix, vertical; ${HABIT}` },
		help: 'As from a satellite fix or from tracking: for what the recorder would have shown there.'
	}
] as const satisfies readonly Field[];
export type Inputs = ValuesOf<typeof INPUTS>;

export const OBSERVED = [
	{
		kind: 'quantity',
		id: 'reading',
		label: 'Height that the recorder showed there',
		dimension: 'length',
		unit: 'm',
		range: { min: -500, max: 60_000 },
		spread: { text: '3 m', origin: `steps and noise of the record; ${HABIT}` },
		help: 'At the same moment as the height known otherwise; zero on the pad.'
	}
] as const satisfies readonly Field[];
