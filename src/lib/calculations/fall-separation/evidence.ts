import { quantile } from '$lib/probability/distributions';
import type { Evidence, QuantityField } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { airOf, uniformInTime } from '../through-wind';
import { OBSERVED, type Inputs } from './inputs';
import { observationsOf } from './observed';
import { metres, offsets } from './parting';

const lengthInput = (id: string, label: string): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	dimension: 'length',
	unit: 'm',
	range: { min: 0, max: 30_000 }
});

export const evidence: Evidence<Inputs> = {
	observed: OBSERVED,
	observations: observationsOf,
	trials: 'falls',
	scenarios: [
		{
			id: 'parted-in-the-air',
			label: 'Parted in the air',
			help: 'They came apart on the way down, between two heights above the pad.',
			inputs: [lengthInput('from', 'Lowest height'), lengthInput('to', 'Greatest height')],
			distribution: 'Every moment of a steady descent between the two heights is equally probable.',
			describe: ({ from = 0, to }) =>
				`Parted in the air${to === undefined ? (from > 0 ? ` above ${metres(from)}` : '') : from > 0 ? ` between ${metres(from)} and ${metres(to)}` : ` below ${metres(to)}`}`,
			check({ from = 0, to }, x) {
				const high = to ?? x.highestParting;
				if (high === undefined)
					return 'say up to which height they may have parted: "to", or the input highestParting';
				return high > from ? undefined : 'the lower height must be less than the greater one';
			},
			predict(x, { from = 0, to }, observations, random) {
				const height = uniformInTime(airOf(x), from, to ?? x.highestParting!)(random());
				return offsets(x, [height], observations, random)[0]!;
			}
		},
		{
			id: 'parted-one-by-one',
			label: 'Parted in the air, one by one',
			help: 'Each piece left the first one at a moment of its own.',
			inputs: [],
			distribution:
				'For each piece every moment of a steady descent from the greatest height to the ground is equally probable.',
			check: (_, x) =>
				x.highestParting === undefined
					? 'say up to which height they may have parted: the input highestParting'
					: undefined,
			predict(x, _, observations, random) {
				const height = uniformInTime(airOf(x), 0, x.highestParting!);
				const heights = observations.map(() => height(random()));
				const places = offsets(x, heights, observations, random);
				return observations.map((_o, k) => places[k]![k]!);
			}
		},
		{
			id: 'parted-at-impact',
			label: 'Parted at impact',
			help: 'They came down together and parted on the ground; the scatter of that is an input.',
			inputs: [],
			predict: (x, _, observations, random) =>
				observations.map(() => [
					quantile({ kind: 'normal', mean: 0, sd: x.impactScatter }, random()),
					quantile({ kind: 'normal', mean: 0, sd: x.impactScatter }, random())
				])
		},
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Anything else: any distance up to the reach is equally probable, in any direction.',
			inputs: [{ ...lengthInput('reach', 'How far it could have got'), range: { above: 0, max: 100_000 } }],
			distribution:
				'Any distance up to the reach (by default the greatest height, else 500 m) is equally probable, in any direction.',
			predict: (x, { reach = x.highestParting ?? 500 }, observations, random) =>
				observations.map(() => {
					const [r, turn] = [reach * random(), 2 * Math.PI * random()];
					return [r * Math.sin(turn), r * Math.cos(turn)];
				})
		}
	],
	defaultScenarios: (x) =>
		x.highestParting === undefined
			? [{ id: 'parted-at-impact' }, { id: NONE_OF_THESE }]
			: [{ id: 'parted-in-the-air' }, { id: 'parted-at-impact' }, { id: NONE_OF_THESE }]
};
