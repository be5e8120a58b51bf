import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import { formatSi } from '$lib/quantity/format';
import type { Random } from '$lib/probability/generator';
import type { Evidence, QuantityField } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { peakFields, peakObservation } from '../peak-reading';
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
	observed: peakFields(
		'Peak acceleration recorded as it opened',
		'15 %',
		'As an accelerometer shows it, on the part that hangs from the canopy.'
	),
	observations: (values, _x, sd) => peakObservation(values, sd),
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
