import type { Random } from '$lib/probability/generator';
import { formatSi } from '$lib/quantity/format';
import type { Evidence, Observation, QuantityField } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import type { Inputs } from './inputs';
import { jointUnder, partingOf, pinsOf, riseOf } from './joint';

/** What each observation is about, by its member. */
const PARTED = 0;
const PINS = 1;
const GROUND = 2;

const seen = (id: string, label: string, yes: string, no: string) =>
	({
		kind: 'choice',
		id,
		label,
		options: [
			{ id: 'not-said', label: 'Not seen' },
			{ id: 'parted', label: yes },
			{ id: 'held', label: no }
		],
		default: { text: 'not-said', origin: 'nothing is taken as seen' }
	}) as const;

const share = (id: string, label: string, max: number): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	dimension: 'ratio',
	unit: '1',
	range: { above: 0, max }
});

/** What of each observation is to be expected when the flight's charge made this pressure and the joint held so much. */
function predicted(
	x: Inputs,
	rise: number,
	observations: readonly Observation[],
	random: Random,
	stronger = 1
) {
	const joint =
		stronger === 1 ? x : { ...x, friction: x.friction * stronger, pinShear: (x.pinShear ?? 0) * stronger };
	const flight = jointUnder(joint, rise, random);
	return observations.map((o) => {
		if (o.kind !== 'outcome') return partingOf(joint, rise, flight)?.apart ?? 0;
		if (o.member === GROUND) return onGround(x, o, random);
		if (o.member === PINS) return flight.sheared === o.happened ? 1 : 0;
		return flight.parted === (o.happened === 1) ? 1 : 0;
	});
}

/** On the ground no air is shut in, and the air outside is the ground's. */
function onGround(x: Inputs, { happened }: { happened?: number }, random: Random) {
	const ground = { ...x, height: 0 };
	return jointUnder(ground, riseOf(ground), random).parted === (happened === 1) ? 1 : 0;
}

const outcome = (label: string, among: number, member: number, happened: number): Observation => ({
	kind: 'outcome',
	label,
	among,
	member,
	happened
});

const percent = (s: number) => formatSi(s, 'ratio', { unit: '%', figures: 2 });

export const evidence: Evidence<Inputs> = {
	trials: 'firings',
	observed: [
		seen('flight', 'In flight the joint', 'parted', 'did not part'),
		{
			kind: 'quantity',
			id: 'sheared',
			label: 'Pins found sheared or torn out',
			dimension: 'ratio',
			unit: '1',
			range: { min: 0, max: 24 },
			help: 'Of the number of pins above.'
		},
		seen('ground', 'In a ground test with the same charge the joint', 'parted', 'did not part'),
		{
			kind: 'quantity',
			id: 'speed',
			label: 'Speed at which the sections were seen to part',
			dimension: 'speed',
			unit: 'm/s',
			range: { above: 0, max: 200 },
			spread: { text: '25 %', origin: 'from video; common practice, no source' }
		}
	],
	observations(values, x, sd) {
		const out: Observation[] = [];
		const { flight, sheared, ground, speed } = values as {
			flight: string;
			sheared?: number;
			ground: string;
			speed?: number;
		};
		const pins = pinsOf(x);
		if (sheared !== undefined) {
			if (!Number.isInteger(sheared) || sheared > pins)
				return `pins found sheared must be a whole number up to the ${pins} that there were`;
			if (pins === 0) return 'without pins none can be found sheared: leave it blank';
			if (flight === 'parted' && sheared < pins)
				return 'if the joint parted, every pin sheared or tore out; count those too, or say that it did not part';
			if (flight === 'held' && sheared === pins && x.stroke === undefined)
				return 'with every pin gone the joint was free: say that it parted, leave that blank, or give the masses and the engaged length, over which it may have stopped';
			out.push(outcome(`${sheared} of ${pins} pins would shear`, pins + 1, PINS, sheared));
		}
		// With a pin left the joint held; with none left it can still stop inside, where its length is known.
		const open = sheared === undefined || (sheared === pins && x.stroke !== undefined);
		if (open && (flight === 'parted' || flight === 'held'))
			out.push(
				outcome(
					flight === 'parted' ? 'the joint would part' : 'the joint would not part',
					2,
					PARTED,
					flight === 'parted' ? 1 : 0
				)
			);
		if (ground === 'parted' || ground === 'held')
			out.push(
				outcome(
					`on the ground it would ${ground === 'parted' ? 'part' : 'not part'}`,
					2,
					GROUND,
					ground === 'parted' ? 1 : 0
				)
			);
		if (speed !== undefined) {
			if (x.massA === undefined || x.massB === undefined || x.stroke === undefined)
				return 'to compare a speed, give both masses and the engaged length of the joint';
			if (sd('speed') <= 0) return 'no speed is known exactly: give its uncertainty, such as 8 ± 2 m/s';
			out.push({
				kind: 'scalar',
				label: 'the speed',
				dimension: 'speed',
				unit: 'm/s',
				observed: speed,
				sd: sd('speed')
			});
		}
		return out;
	},
	scenarios: [
		{
			id: 'as-built',
			label: 'Charge and joint as built',
			help: 'The whole charge burned in the closed bay.',
			inputs: [],
			predict: (x, _, observations, random) => predicted(x, riseOf(x), observations, random)
		},
		{
			id: 'weak',
			label: 'Burned in part, or leaked',
			help: 'Loose or cold powder, thin air, an open vent or joint: only a share of the pressure came about.',
			inputs: [share('from', 'Least share', 1), share('to', 'Greatest share', 1)],
			distribution: 'Every share between the two (0.05 to 0.6 unless given) is equally probable.',
			describe: ({ from = 0.05, to = 0.6 }) =>
				`Burned in part, or leaked: ${percent(from)} to ${percent(to)} of it`,
			check: ({ from = 0.05, to = 0.6 }) =>
				to > from ? undefined : 'the least share must be less than the greatest',
			predict: (x, { from = 0.05, to = 0.6 }, observations, random) =>
				predicted(x, riseOf(x, from + (to - from) * random()), observations, random)
		},
		{
			id: 'strong-joint',
			label: 'The joint held more than it should',
			help: 'Swollen coupler, cocked sections, cold dry pins, more or other pins than thought.',
			inputs: [share('from', 'Least factor', 20), share('to', 'Greatest factor', 20)],
			distribution:
				'Every factor on pins and friction between the two (1.3 to 4 unless given) is equally probable.',
			check: ({ from = 1.3, to = 4 }) =>
				to > from ? undefined : 'the least factor must be less than the greatest',
			predict: (x, { from = 1.3, to = 4 }, observations, random) =>
				predicted(x, riseOf(x), observations, random, from + (to - from) * random())
		},
		{
			id: 'not-fired',
			label: 'The charge did not fire',
			help: 'No pressure but that of air shut in.',
			inputs: [],
			predict: (x, _, observations, random) => predicted(x, riseOf(x, 0), observations, random)
		},
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Every outcome in flight is as probable as every other; any speed from 0.5 to 50 m/s, equally probable by ratio.',
			inputs: [],
			distribution:
				'Every outcome in flight is equally probable; any speed from 0.5 to 50 m/s is, by ratio. The ground test goes as built.',
			predict: (x, _, observations, random) =>
				observations.map((o) =>
					o.kind !== 'outcome'
						? 0.5 * 100 ** random()
						: o.member === GROUND
							? onGround(x, o, random)
							: 1 / o.among
				)
		}
	],
	defaultScenarios: () => [
		{ id: 'as-built' },
		{ id: 'weak' },
		{ id: 'strong-joint' },
		{ id: 'not-fired' },
		{ id: NONE_OF_THESE }
	]
};
