import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import type { Random } from '$lib/probability/generator';
import { formatSi } from '$lib/quantity/format';
import type { Evidence, Observation, QuantityField } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { peakFields, peakObservation } from '../peak-reading';
import type { Inputs } from './inputs';
import { bearsOf, pullOf, speedOf } from './line';

const at = (id: string, label: string): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	dimension: 'speed',
	unit: 'm/s',
	required: true,
	range: { above: 0, max: 300 }
});
const share = (id: string, label: string): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	dimension: 'ratio',
	unit: '1',
	range: { above: 0, max: 1 }
});
const speed = (v = 0) => formatSi(v, 'speed', { unit: 'm/s', figures: 3 });

/** What breaks limits what an end feels. */
function predicted(x: Inputs, v: number, observations: readonly Observation[], weaker = 1) {
	const { forceN } = pullOf(x, v);
	const bears = weaker * bearsOf(x);
	return observations.map((o) =>
		o.kind === 'outcome'
			? forceN > bears === (o.happened === 1)
				? 1
				: 0
			: Math.min(forceN, bears) / (o.member === 1 ? x.massB : x.massA)
	);
}

export const evidence: Evidence<Inputs> = {
	trials: 'such pulls',
	observed: [
		{
			kind: 'choice',
			id: 'line',
			label: 'The line or a link',
			options: [
				{ id: 'not-said', label: 'Not looked at' },
				{ id: 'broke', label: 'broke' },
				{ id: 'held', label: 'held' }
			],
			default: { text: 'not-said', origin: 'nothing is taken as seen' }
		},
		...peakFields('Peak acceleration recorded as it came taut', '20 %'),
		{
			kind: 'choice',
			id: 'end',
			label: 'The recorder was on',
			options: [
				{ id: 'one', label: 'the one end' },
				{ id: 'other', label: 'the other end' }
			],
			default: { text: 'one', origin: 'until the other is chosen' }
		}
	],
	observations(values, _x, sd) {
		const { line, end } = values as { line: string; end: string };
		const peak = peakObservation(values, sd, end === 'other' ? 1 : 0);
		if (line === 'not-said' || typeof peak === 'string') return peak;
		const broke = line === 'broke';
		const label = broke ? 'something would break' : 'all would hold';
		return [{ kind: 'outcome', label, among: 2, happened: broke ? 1 : 0 }, ...peak];
	},
	scenarios: [
		{
			id: 'as-given',
			label: 'Speed and line as given',
			help: 'With their uncertainty.',
			inputs: [],
			predict: (x, _p, observations) => predicted(x, speedOf(x), observations)
		},
		{
			id: 'other-speed',
			label: 'It came taut at another speed',
			help: 'A charge stronger than thought, or an early or late deployment: between two speeds.',
			inputs: [at('from', 'Least speed'), at('to', 'Greatest speed')],
			distribution: 'Every speed between the two is equally probable.',
			describe: ({ from, to }) => `It came taut at ${speed(from)} to ${speed(to)}`,
			check: ({ from = 0, to = 0 }) =>
				to > from ? undefined : 'the least speed must be less than the greatest',
			predict: (x, { from = 0, to = 0 }, observations, random) =>
				predicted(x, from + (to - from) * random(), observations)
		},
		{
			id: 'weaker',
			label: 'Line or link weaker than thought',
			help: 'Burnt, worn, cut or badly knotted: only a share of the strength was left.',
			inputs: [share('from', 'Least share'), share('to', 'Greatest share')],
			distribution: 'Every share between the two (0.05 to 0.7 unless given) is equally probable.',
			check: ({ from = 0.05, to = 0.7 }) =>
				to > from ? undefined : 'the least share must be less than the greatest',
			predict: (x, { from = 0.05, to = 0.7 }, observations, random) =>
				predicted(x, speedOf(x), observations, from + (to - from) * random())
		},
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Broken and held are equally probable; any peak from 1 to 500 g is, by ratio.',
			inputs: [],
			distribution: 'Broken and held are equally probable; any peak from 1 to 500 g is, by ratio.',
			predict: (_x, _p, observations, random: Random) =>
				observations.map((o) => (o.kind === 'outcome' ? 0.5 : G * 500 ** random()))
		}
	],
	defaultScenarios: () => [{ id: 'as-given' }, { id: 'weaker' }, { id: NONE_OF_THESE }]
};
