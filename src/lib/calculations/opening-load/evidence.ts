import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import { formatSi } from '$lib/quantity/format';
import type { Random } from '$lib/probability/generator';
import type { Evidence, QuantityField } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import type { Inputs } from './inputs';
import { loadsOf, peakLoad } from './opening';

const at = (id: string, label: string): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	dimension: 'speed',
	unit: 'm/s',
	required: true,
	range: { above: 0, max: 340 }
});
const speed = (v = 0) => formatSi(v, 'speed', { unit: 'm/s', figures: 3 });
const felt = (x: Inputs, v: number, random: Random) => peakLoad(x, loadsOf(x, v), random()) / x.mass;

export const evidence: Evidence<Inputs> = {
	trials: 'openings',
	observed: [
		{
			kind: 'quantity',
			id: 'peak',
			label: 'Peak acceleration recorded as it opened',
			dimension: 'acceleration',
			unit: 'g',
			range: { above: 0, max: 1e5 },
			spread: {
				text: '15 %',
				origin: 'a slow or filtered sensor misses part of a peak; common practice, no source'
			},
			help: 'As an accelerometer shows it, on the part that hangs from the canopy.'
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
	],
	observations(values, _x, sd) {
		const peak = values['peak'] as number | undefined;
		if (peak === undefined) return [];
		if (sd('peak') <= 0) return 'no peak is known exactly: give its uncertainty, such as 12 ± 2 g';
		return [
			{
				kind: 'scalar',
				label: 'the peak',
				dimension: 'acceleration',
				unit: 'g',
				observed: peak,
				sd: sd('peak'),
				...(values['saturated'] === 'yes' ? { beyond: 'above' } : {})
			}
		];
	},
	scenarios: [
		{
			id: 'as-given',
			label: 'Opened at the speed as given',
			help: 'The speed of the inputs, with its uncertainty.',
			inputs: [],
			predict: (x, _p, _o, random) => [felt(x, x.speed, random)]
		},
		{
			id: 'other-speed',
			label: 'Opened at another speed',
			help: 'Early, late or bare: between two speeds through the air.',
			inputs: [at('from', 'Least speed'), at('to', 'Greatest speed')],
			distribution: 'Every speed between the two is equally probable.',
			describe: ({ from, to }) => `Opened at ${speed(from)} to ${speed(to)}`,
			check: ({ from = 0, to = 0 }) =>
				to > from ? undefined : 'the least speed must be less than the greatest',
			predict: (x, { from = 0, to = 0 }, _o, random) => [felt(x, from + (to - from) * random(), random)]
		},
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Any peak from 1 to 200 g, equally probable by ratio.',
			inputs: [],
			distribution: 'Any peak from 1 to 200 g is equally probable by ratio.',
			predict: (_x, _p, _o, random) => [G * 200 ** random()]
		}
	],
	defaultScenarios: () => [{ id: 'as-given' }, { id: NONE_OF_THESE }]
};
