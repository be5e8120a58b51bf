import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import type { Random } from '$lib/probability/generator';
import { formatSi } from '$lib/quantity/format';
import type { Evidence, Observation, QuantityField, ScenarioKind } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { peakFields, peakObservation } from '../peak-reading';
import type { Inputs } from './inputs';
import { peakOf, wayOf } from './stop';

/** Which observation is which, by its member. */
const PEAK = 0;

function predicted(x: Inputs, down: number, observations: readonly Observation[], random: Random) {
	return observations.map((o) =>
		o.member === PEAK ? peakOf(x, down, random())! : (x.mass * down ** 2) / (2 * x.resistance!)
	);
}

const under = (
	id: string,
	label: string,
	help: string,
	rate: (x: Inputs) => number | undefined,
	missing: string
): ScenarioKind<Inputs> => ({
	id,
	label,
	help,
	inputs: [],
	check: (_, x) => (rate(x) === undefined ? missing : undefined),
	predict: (x, _p, observations, random) => predicted(x, rate(x)!, observations, random)
});

const at = (id: string, label: string): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	dimension: 'speed',
	unit: 'm/s',
	required: true,
	range: { above: 0, max: 1000 }
});
const speed = (v = 0) => formatSi(v, 'speed', { unit: 'm/s', figures: 3 });

export const evidence: Evidence<Inputs> = {
	trials: 'impacts',
	observed: [
		...peakFields('Peak deceleration recorded at the impact', '25 %'),
		{
			kind: 'quantity',
			id: 'depth',
			label: 'Depth of crush found, ground included',
			dimension: 'length',
			unit: 'mm',
			range: { above: 0, max: 20 },
			spread: { text: '15 %', origin: 'common practice, no source' },
			help: 'It needs the mean force that crushes it, above.'
		}
	],
	observations(values, x, sd) {
		const depth = values['depth'] as number | undefined;
		if (values['peak'] !== undefined && wayOf(x) === undefined)
			return 'to compare a recorded peak, give the crush or the depth in the ground over which it stopped';
		const peak = peakObservation(values, sd, PEAK);
		if (depth === undefined || typeof peak === 'string') return peak;
		if (x.resistance === undefined)
			return 'to compare a depth of crush, give the mean force that crushes it, from an equal part';
		if (sd('depth') <= 0) return 'no depth is known exactly: give its uncertainty, such as 30 ± 5 mm';
		return [
			...peak,
			{
				kind: 'scalar',
				label: 'the crush',
				dimension: 'length',
				unit: 'mm',
				observed: depth,
				sd: sd('depth'),
				member: PEAK + 1
			}
		];
	},
	scenarios: [
		under(
			'under-main',
			'Under the main',
			'At the descent rate under the main.',
			(x) => x.mainRate,
			'give the descent rate under the main, or leave this scenario out'
		),
		under(
			'under-drogue',
			'Under the drogue alone',
			'At the descent rate under the drogue.',
			(x) => x.drogueRate,
			'give the descent rate under the drogue, or leave this scenario out'
		),
		under(
			'ballistic',
			'Nothing opened',
			'At the speed of a fall without any canopy.',
			(x) => x.ballisticSpeed,
			'give the speed at impact if nothing opened, or leave this scenario out'
		),
		{
			id: 'between',
			label: 'At another speed',
			help: 'Tangled, tumbling, half open: between two speeds downward.',
			inputs: [at('from', 'Least speed'), at('to', 'Greatest speed')],
			distribution: 'Every speed between the two is equally probable.',
			describe: ({ from, to }) => `At ${speed(from)} to ${speed(to)}`,
			check: ({ from = 0, to = 0 }) =>
				to > from ? undefined : 'the least speed must be less than the greatest',
			predict: (x, { from = 0, to = 0 }, observations, random) =>
				predicted(x, from + (to - from) * random(), observations, random)
		},
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Any peak from 1 to 5000 g and any crush from 0.1 mm to 2 m, equally probable by ratio.',
			inputs: [],
			distribution:
				'Any peak from 1 to 5000 g and any crush from 0.1 mm to 2 m is equally probable by ratio.',
			predict: (_x, _p, observations, random) =>
				observations.map((o) => (o.member === PEAK ? G * 5000 ** random() : 1e-4 * 20_000 ** random()))
		}
	],
	defaultScenarios: (x) => [
		...(x.mainRate === undefined ? [] : [{ id: 'under-main' }]),
		...(x.drogueRate === undefined ? [] : [{ id: 'under-drogue' }]),
		...(x.ballisticSpeed === undefined ? [] : [{ id: 'ballistic' }]),
		...(x.mainRate === undefined && x.drogueRate === undefined && x.ballisticSpeed === undefined
			? [{ id: 'between', from: '3 m/s', to: '100 m/s' }]
			: []),
		{ id: NONE_OF_THESE }
	]
};
