import { formatSi } from '$lib/quantity/format';
import type { Evidence, Observation, QuantityField, ScenarioKind } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { attempt } from '../sampling';
import { deployed } from './coasting';
import { OBSERVED, type Inputs } from './inputs';

const WHAT = {
	speed: { label: 'the speed', dimension: 'speed', unit: 'm/s' },
	heightLost: { label: 'the height below apogee', dimension: 'length', unit: 'm' }
} as const;

const inOrder = (observations: readonly Observation[], speed: number, heightLost: number) =>
	observations.map((o) => (o.kind === 'scalar' && o.dimension === 'speed' ? speed : heightLost));

/** A moment before the flight or after the landing finds it on the ground. */
function predicted(x: Inputs, offset: number, observations: readonly Observation[]) {
	const d = attempt(() => deployed(x, offset));
	return d.ok
		? inOrder(observations, d.value.speed, d.value.heightLost)
		: inOrder(observations, 0, x.apogeeHeight);
}

const time = (id: string, label: string): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	dimension: 'time',
	unit: 's',
	range: { min: 0, max: 600 }
});
const seconds = (s: number) => formatSi(s, 'time', { unit: 's', figures: 2 });

/** Deployed between two times, before apogee or after it. */
const between = (
	id: string,
	sign: 1 | -1,
	words: 'before' | 'after',
	[low, high]: [number, number]
): ScenarioKind<Inputs> => ({
	id,
	label: sign < 0 ? 'Early' : 'Late',
	help: `It opened ${words} apogee, between two times from it.`,
	inputs: [time('from', 'Least time from apogee'), time('to', 'Greatest time from apogee')],
	distribution: `Every moment from ${low} to ${high} s ${words} apogee (unless given) is equally probable.`,
	describe: ({ from = low, to = high }) =>
		`${sign < 0 ? 'Early' : 'Late'}, ${seconds(from)} to ${seconds(to)} ${words} apogee`,
	check: ({ from = low, to = high }) =>
		to > from ? undefined : 'the least time from apogee must be less than the greatest',
	predict: (x, { from = low, to = high }, observations, random) =>
		predicted(x, sign * (from + (to - from) * random()), observations)
});

const scenarios: readonly ScenarioKind<Inputs>[] = [
	{
		id: 'at-apogee',
		label: 'At apogee',
		help: 'Within a second of it, as a working recorder does.',
		inputs: [],
		distribution: 'Every moment within a second of apogee is equally probable.',
		predict: (x, _, observations, random) => predicted(x, 2 * random() - 1, observations)
	},
	between('early', -1, 'before', [1, 5]),
	between('late', 1, 'after', [1, 8]),
	{
		id: NONE_OF_THESE,
		label: 'None of these',
		help: 'Any speed from 1 to 300 m/s by ratio, and any height.',
		inputs: [],
		distribution:
			'Any speed from 1 to 300 m/s is equally probable by ratio, and any height from apogee to the pad.',
		predict: (x, _, observations, random) => inOrder(observations, 300 ** random(), x.apogeeHeight * random())
	}
];

export const evidence: Evidence<Inputs> = {
	trials: 'deployments',
	observed: OBSERVED,
	observations(values, _, sd) {
		const out: Observation[] = [];
		for (const [id, what] of Object.entries(WHAT)) {
			const observed = values[id] as number | undefined;
			if (observed === undefined) continue;
			if (!(sd(id) > 0))
				return `${what.label} is not known exactly: give its uncertainty, such as 62 ± 3 m/s`;
			out.push({ kind: 'scalar', ...what, observed, sd: sd(id) });
		}
		return out;
	},
	scenarios,
	defaultScenarios: () => scenarios.map(({ id }) => ({ id }))
};
