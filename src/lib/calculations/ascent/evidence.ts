import { formatSi } from '$lib/quantity/format';
import type { Random } from '$lib/probability/generator';
import type { Evidence, Observation, ScenarioKind } from '../calculation';
import { bound, rises } from '../bounds';
import { NONE_OF_THESE } from '../likelihood';
import { flightOf, recorded, thrustOf, type Change, type Recorded } from './flight';
import { OBSERVED, type Inputs } from './inputs';

const WHAT = {
	apogee: { label: 'the apogee', dimension: 'length', unit: 'm' },
	timeToApogee: { label: 'the time to apogee', dimension: 'time', unit: 's' },
	maxSpeed: { label: 'the greatest speed', dimension: 'speed', unit: 'm/s' }
} as const;

const inOrder = (observations: readonly Observation[], r: Recorded) =>
	observations.map((o) =>
		o.kind !== 'scalar'
			? NaN
			: o.dimension === 'length'
				? r.apogee
				: o.dimension === 'time'
					? r.timeToApogee
					: r.maxSpeed
	);

/** What would be recorded; a vehicle that no longer lifts off, or not for long, records next to nothing. */
function fly(x: Inputs, change: Change, observations: readonly Observation[]): number[] {
	try {
		return inOrder(observations, recorded(x, flightOf(x, change)));
	} catch (error) {
		if (error instanceof RangeError)
			return inOrder(observations, { apogee: 0, timeToApogee: 0, maxSpeed: 0 });
		throw error;
	}
}

interface Range {
	from?: number | undefined;
	to?: number | undefined;
}
const show = (si: number, dimension: 'angle' | 'time') => formatSi(si, dimension, { figures: 3 });
const percent = (share: number) => `${Math.round(100 * share)} %`;

const between = ({ from, to }: Range, low: number, high: number, random: Random) => {
	const [a, b] = [from ?? low, to ?? high];
	return a + (b - a) * random();
};

const scenarios: readonly ScenarioKind<Inputs>[] = [
	{
		id: 'nothing-wrong',
		label: 'Nothing wrong',
		help: 'The flight as computed, with its ordinary shortfall.',
		inputs: [],
		predict: (x, _, observations) => fly(x, {}, observations)
	},
	{
		id: 'weak-motor',
		label: 'Weak motor',
		help: 'It delivered less impulse in the same time.',
		inputs: [
			bound('from', 'Least share of impulse missing', 'ratio', '1', { min: 0, max: 0.95 }),
			bound('to', 'Greatest share missing', 'ratio', '1', { above: 0, max: 0.95 })
		],
		distribution: 'Every loss between the two (10 to 50 % unless given) is equally probable.',
		describe: ({ from = 0.1, to = 0.5 }) => `Motor weaker by ${percent(from)} to ${percent(to)}`,
		check: rises(0.1, 0.5),
		predict: (x, p, observations, random) =>
			fly(x, { impulse: 1 - between(p, 0.1, 0.5, random) }, observations)
	},
	{
		id: 'lost-thrust',
		label: 'Thrust lost in the burn',
		help: 'The motor stopped pushing, as by a burst case or a lost nozzle, and the rest flew on.',
		inputs: [
			bound('from', 'Earliest, after ignition', 'time', 's', { min: 0, max: 200 }),
			bound('to', 'Latest', 'time', 's', { above: 0, max: 200 })
		],
		distribution:
			'Every moment between the two (the first and the last tenth of the burn left out unless given) is equally probable.',
		describe: ({ from, to }) =>
			from === undefined && to === undefined
				? 'Thrust lost in the burn'
				: `Thrust lost ${from === undefined ? '' : `from ${show(from, 'time')} `}${to === undefined ? 'on' : `to ${show(to, 'time')}`}`,
		check: ({ from, to }, x) => {
			const burn = thrustOf(x).burnTimeS;
			return rises(0.1 * burn, 0.9 * burn)({ from, to });
		},
		predict(x, p, observations, random) {
			const burn = thrustOf(x).burnTimeS;
			return fly(x, { thrustLostS: x.timeFactor * between(p, 0.1 * burn, 0.9 * burn, random) }, observations);
		}
	},
	{
		id: 'more-drag',
		label: 'More drag',
		help: 'Something stood in the wind all the way: a bent fin, a loose door, a lost cone.',
		inputs: [
			bound('from', 'Least drag over that as built', 'ratio', '1', { min: 1, max: 20 }),
			bound('to', 'Greatest', 'ratio', '1', { above: 1, max: 50 })
		],
		distribution: 'Every drag between the two (1.3 to 4 times unless given) is equally probable by ratio.',
		describe: ({ from = 1.3, to = 4 }) => `${from} to ${to} times the drag`,
		check: rises(1.3, 4),
		predict: (x, { from = 1.3, to = 4 }, observations, random) =>
			fly(x, { drag: from * (to / from) ** random() }, observations)
	},
	{
		id: 'off-upright',
		label: 'Flew off at an angle',
		help: 'It left in a direction that nobody meant, as after a tipped rail or a late turn into the wind.',
		inputs: [
			bound('from', 'Least angle from upright', 'angle', '°', { min: 0, max: 1.1 }),
			bound('to', 'Greatest angle', 'angle', '°', { above: 0, max: 1.2 })
		],
		distribution:
			'Every angle between the two (10° to 45° unless given) is equally probable, in any direction.',
		describe: ({ from = Math.PI / 18, to = Math.PI / 4 }) =>
			`Flew off at ${show(from, 'angle')} to ${show(to, 'angle')} from upright`,
		check: rises(Math.PI / 18, Math.PI / 4),
		predict: (x, p, observations, random) =>
			fly(
				x,
				{
					lean: {
						tiltRad: between(p, Math.PI / 18, Math.PI / 4, random),
						towardRad: 2 * Math.PI * random()
					}
				},
				observations
			)
	},
	{
		id: 'opened-on-the-way-up',
		label: 'Opened or came apart on the way up',
		help: 'From some moment on it had many times the drag, as when a parachute or a joint opens too soon.',
		inputs: [
			bound('from', 'Earliest, after ignition', 'time', 's', { min: 0, max: 1000 }),
			bound('to', 'Latest', 'time', 's', { above: 0, max: 1000 })
		],
		distribution:
			'Every moment between the two (ignition and apogee unless given) is equally probable, and every drag from 5 to 50 times as great by ratio.',
		check: ({ from = 0, to }) =>
			to === undefined || to > from ? undefined : 'the lower bound must be less than the upper one',
		predict(x, { from = 0, to }, observations, random) {
			const latest = to ?? flightOf(x).apogee.timeS;
			const timeS = from + Math.max(0, latest - from) * random();
			return fly(x, { dragJump: { timeS, factor: 5 * 10 ** random() } }, observations);
		}
	},
	{
		id: NONE_OF_THESE,
		label: 'None of these',
		help: 'Anything else: each value up to one and a half times the computed one.',
		inputs: [],
		distribution: 'Every value from 0 to one and a half times the computed one is equally probable.',
		predict(x, _, observations, random) {
			const most = recorded({ ...x, ordinaryShare: 1.5 }, flightOf(x));
			return inOrder(observations, {
				apogee: most.apogee * random(),
				timeToApogee: most.timeToApogee * random(),
				maxSpeed: 1.5 * most.maxSpeed * random()
			});
		}
	}
];

export const evidence: Evidence<Inputs> = {
	trials: 'flights',
	observed: OBSERVED,
	observations(values, _, sd) {
		const out: Observation[] = [];
		for (const [id, what] of Object.entries(WHAT)) {
			const observed = values[id] as number | undefined;
			if (observed === undefined) continue;
			if (!(sd(id) > 0))
				return `${what.label} is not known exactly: give its uncertainty, such as 812 ± 20 m`;
			out.push({ kind: 'scalar', ...what, observed, sd: sd(id) });
		}
		return out;
	},
	scenarios,
	defaultScenarios: () => scenarios.map(({ id }) => ({ id }))
};
