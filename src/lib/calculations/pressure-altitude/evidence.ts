import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import type { Evidence, ScenarioKind } from '../calculation';
import { bound, rises } from '../bounds';
import { NONE_OF_THESE } from '../likelihood';
import { OBSERVED, type Inputs } from './inputs';
import { airAloft, shownAt } from './reading';

const scenarios: readonly ScenarioKind<Inputs>[] = [
	{
		id: 'standard-air',
		label: 'Sound, with the standard air in it',
		help: 'The recorder was right but for the day’s temperature, which it was not told.',
		inputs: [],
		predict: (x, _, observations) => observations.map(() => shownAt(x, airAloft(x), x.trueHeight!))
	},
	{
		id: 'told-the-temperature',
		label: 'Sound, and told the temperature',
		help: 'The recorder or whoever read it put it right for the day’s temperature already.',
		inputs: [],
		predict: (x, _, observations) => observations.map(() => x.trueHeight!)
	},
	{
		id: 'port-lag',
		label: 'The bay lagged behind',
		help: 'Ports too small or shut: the greatest height shown is too low by g τ²/2 with a lag of τ.',
		inputs: [
			bound('from', 'Least lag', 'time', 's', { above: 0, max: 60 }),
			bound('to', 'Greatest lag', 'time', 's', { above: 0, max: 60 })
		],
		distribution: 'Every lag between the two (1 to 6 s unless given) is equally probable by ratio.',
		check: rises(1, 6),
		predict(x, { from = 1, to = 6 }, observations, random) {
			const lag = from * (to / from) ** random();
			const top = Math.max(0, x.trueHeight! - (G * lag * lag) / 2);
			return observations.map(() => shownAt(x, airAloft(x), top));
		}
	},
	{
		id: 'port-pressure',
		label: 'Pressure at the port was not that of the air',
		help: 'A charge, a leak, wind over the ports or a bay that does not vent: too low or too high.',
		inputs: [
			bound('from', 'Least error', 'pressure', 'hPa', { above: 0, max: 50_000 }),
			bound('to', 'Greatest error', 'pressure', 'hPa', { above: 0, max: 50_000 })
		],
		distribution:
			'Every error between the two (2 to 50 hPa unless given) is equally probable by ratio, too low or too high.',
		check: rises(200, 5000),
		predict(x, { from = 200, to = 5000 }, observations, random) {
			const air = airAloft(x);
			const size = from * (to / from) ** random();
			// A pressure below nothing is none.
			const error = random() < 0.5 ? size : -Math.min(size, 0.9 * air.pressurePa(x.trueHeight!));
			return observations.map(() => shownAt(x, air, x.trueHeight!, error));
		}
	},
	{
		id: NONE_OF_THESE,
		label: 'None of these',
		help: 'Any height shown up to twice the one known otherwise (at least 500 m).',
		inputs: [],
		distribution:
			'Every height shown up to twice the one known otherwise (at least 500 m) is equally probable.',
		predict: (x, _, observations, random) =>
			observations.map(() => Math.max(500, 2 * x.trueHeight!) * random())
	}
];

export const evidence: Evidence<Inputs> = {
	trials: 'readings',
	observed: OBSERVED,
	observations(values, x, sd) {
		const observed = values['reading'] as number | undefined;
		if (observed === undefined) return [];
		if (x.trueHeight === undefined)
			return 'to weigh a reading, give the height as known otherwise: a satellite fix, a tracked angle, a length of line';
		if (!(sd('reading') > 0)) return 'no reading is exact: give its uncertainty, such as 912 ± 3 m';
		return [
			{
				kind: 'scalar',
				label: 'the height shown',
				dimension: 'length',
				unit: 'm',
				observed,
				sd: sd('reading')
			}
		];
	},
	scenarios,
	defaultScenarios: () => scenarios.map(({ id }) => ({ id }))
};
