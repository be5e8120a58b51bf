import { delayFromDistanceS, distanceFromDelayM, soundSlownessSM } from '$lib/physics/sound-travel';
import { quantile } from '$lib/probability/distributions';
import type { Random } from '$lib/probability/generator';
import { sampleQuantiles } from '$lib/probability/summary';
import { formatSi } from '$lib/quantity/format';
import {
	defineCalculation,
	type Addition,
	type AdditionContext,
	type Evidence,
	type FigureContext,
	type ModelOutput,
	type ScenarioKind
} from '../calculation';
import type { Figure } from '../figure';
import { NONE_OF_THESE } from '../likelihood';
import { airOf } from '../through-wind';
import { INPUTS, OBSERVED, type Inputs } from './inputs';

const slowness = (x: Inputs, height: number) => soundSlownessSM(airOf(x), 0, height, x.windAlong);

/** By how much the time told is longer than the sound took. Each of two events lies anywhere within its picture. */
function timingError(x: Inputs, random: Random): number {
	if (x.timedBy === 'hand') return x.reactionError! - x.seenLate;
	return x.syncError! - x.seenLate + (random() - random()) / x.frameRate!;
}

type Spot = { height: number; along: number };
interface Place {
	id: string;
	label: string;
	help: string;
	/** Height above the listener and distance along the ground, or the input that is missing. */
	where(x: Inputs): Spot | string;
}
/** A spot above one that is so far along the ground, or which of the two inputs is missing. */
const spot = (
	height: number | undefined,
	along: number | undefined,
	heightInput: string,
	alongInput = 'padDistance'
): Spot | string =>
	height === undefined ? heightInput : along === undefined ? alongInput : { height, along };

const PLACES: readonly Place[] = [
	{
		id: 'on-the-pad',
		label: 'On the pad',
		help: 'It happened at or near the pad.',
		where: (x) => spot(0, x.padDistance, '')
	},
	{
		id: 'at-deployment-height',
		label: 'At the planned deployment',
		help: 'Above the pad, at the height of the planned deployment.',
		where: (x) => spot(x.deploymentHeight, x.padDistance, 'deploymentHeight')
	},
	{
		id: 'at-apogee',
		label: 'At apogee',
		help: 'Above the pad, at the height of apogee.',
		where: (x) => spot(x.apogeeHeight, x.padDistance, 'apogeeHeight')
	},
	{
		id: 'at-impact',
		label: 'At impact',
		help: 'Where it hit the ground.',
		where: (x) => spot(0, x.impactDistance, '', 'impactDistance')
	}
];

/** How long the sound takes from each place that is given, s. */
const expectedDelays = (x: Inputs): Record<string, number> =>
	Object.fromEntries(
		PLACES.flatMap((place) => {
			const at = place.where(x);
			if (typeof at === 'string') return [];
			return [[place.label, delayFromDistanceS(Math.hypot(at.height, at.along), slowness(x, at.height))]];
		})
	);

/** Scatter of the event about the spot above the pad, along the line of sight: this share of its height. */
const DRIFT = 0.1;

function predicted(x: Inputs, { height, along }: Spot, random: Random): number {
	const off = quantile({ kind: 'normal', mean: 0, sd: DRIFT * height + 1e-6 }, random());
	const slant = Math.hypot(height, along + off);
	return delayFromDistanceS(slant, slowness(x, height)) + timingError(x, random);
}

const labelOf = (input: string) => INPUTS.find(({ id }) => id === input)!.label;

const scenarios: readonly ScenarioKind<Inputs>[] = [
	...PLACES.map((place): ScenarioKind<Inputs> => ({
		id: place.id,
		label: place.label,
		help: place.help,
		inputs: [],
		distribution: 'What is above the pad lies off it by a tenth of its height, one standard deviation.',
		check(_, x) {
			const where = place.where(x);
			return typeof where === 'string' ? `“${place.label}” needs “${labelOf(where)}”` : undefined;
		},
		predict: (x, _, observations, random) => {
			const where = place.where(x) as Spot;
			return observations.map(() => predicted(x, where, random));
		}
	})),
	{
		id: NONE_OF_THESE,
		label: 'None of these',
		help: 'Any delay from 0.1 to 30 s, equally probable by ratio.',
		inputs: [],
		distribution: 'Any delay from 0.1 to 30 s is equally probable by ratio.',
		predict: (_x, _p, observations, random) => observations.map(() => 0.1 * 300 ** random())
	}
];

const evidence: Evidence<Inputs> = {
	trials: 'such events',
	observed: OBSERVED,
	observations(values, _, sd) {
		const observed = values['delay'] as number | undefined;
		if (observed === undefined) return [];
		if (!(sd('delay') > 0)) return 'no delay is known exactly: give its uncertainty, such as 2.31 ± 0.03 s';
		return [{ kind: 'scalar', label: 'the delay', dimension: 'time', unit: 's', observed, sd: sd('delay') }];
	},
	scenarios,
	defaultScenarios: (x) => [
		...PLACES.filter((p) => typeof p.where(x) !== 'string').map(({ id }) => ({ id })),
		{ id: NONE_OF_THESE }
	]
};

const metres = (m: number) => formatSi(m, 'length', { unit: 'm', figures: 3 });

function limits(x: Inputs, nominal: ModelOutput): string[] {
	const out: string[] = [];
	const perSecond = 1 / slowness(x, x.height);
	if (x.timedBy === 'hand')
		out.push(
			`Timed by hand, a reaction of 0.2 to 0.3 s is ${metres(0.2 * perSecond)} to ${metres(0.3 * perSecond)}.`
		);
	else
		out.push(
			`One picture of the video is ${metres(perSecond / x.frameRate!)}; sound and picture of a phone may be further apart than that, each recording anew.`
		);
	if (x.siteTemperature === undefined && x.airTemperatures.length === 0)
		out.push(
			'Without the day’s temperature the standard 15 °C at sea level is taken: 10 K more or less is 29 m in 5 s of delay.'
		);
	out.push(
		'An echo, a hill or wind that bends the sound away (no sound, or a later one) is not the straight path that is taken; nor is a source seen after it happened.'
	);
	if (x.delay !== undefined)
		out.push(
			`Five seconds to the mile would say ${metres((x.delay / 5) * 1609.344)} instead of ${metres(nominal['distance'] as number)}: 6 % short on a warm day, and it knows no temperature.`
		);
	return out;
}

/** Distance by delay, s and m: as typed, and 5 to 95 % of the samples. */
interface Series {
	delay: number[];
	low: number[];
	nominal: number[];
	high: number[];
}
const POINTS = 20;
const DRAWN = 300;

function* byDelay({
	nominal,
	samples,
	observations,
	random
}: AdditionContext<Inputs>): Generator<void, Addition> {
	const [o] = observations;
	const longest = Math.max(1, 1.5 * Math.max(nominal.delay ?? 0, o?.kind === 'scalar' ? o.observed : 0));
	const draws = random('figure');
	const drawn = samples
		.slice(0, DRAWN)
		.map((x) => ({ error: timingError(x, draws), s: slowness(x, x.height) }));
	yield;
	const series: Series = { delay: [], low: [], nominal: [], high: [] };
	const s = slowness(nominal, nominal.height);
	const error = timingError(nominal, () => 0.5);
	for (let i = 0; i <= POINTS; i++) {
		const delay = (i / POINTS) * longest;
		const of = (e: number, slow: number) => Math.max(0, distanceFromDelayM(delay - e, slow));
		const [low = 0, high = 0] = sampleQuantiles(
			drawn.map((d) => of(d.error, d.s)),
			[0.05, 0.95]
		);
		series.delay.push(delay);
		series.low.push(low);
		series.nominal.push(of(error, s));
		series.high.push(high);
	}
	return { series };
}

function figure({ nominal, observations, outputs, series }: FigureContext<Inputs>): Figure {
	const s = series as Series;
	const d = outputs['distance'];
	const [o] = observations;
	const at = nominal.delay ?? (o?.kind === 'scalar' ? o.observed : undefined);
	const places = PLACES.flatMap((p) => {
		const where = p.where(nominal);
		return typeof where === 'string'
			? []
			: [
					{
						kind: 'rule' as const,
						axis: 'y' as const,
						label: p.label.toLowerCase(),
						at: Math.hypot(where.height, where.along)
					}
				];
	});
	return {
		title: d
			? `It happened ${metres(d.nominal!)} away (${metres(d.low90)} to ${metres(d.high90)})`
			: 'How far away it happened, by the time between sight and sound',
		x: { label: 'Time from seeing to hearing', unit: 's', min: 0 },
		y: { label: 'Distance in a straight line', unit: 'm', min: 0 },
		layers: [
			{ kind: 'band', label: '90 of 100', x: s.delay, low: s.low, high: s.high },
			{ kind: 'line', label: 'as typed', points: s.delay.map((t, i) => [t, s.nominal[i]!]) },
			...places,
			...(at === undefined ? [] : [{ kind: 'rule' as const, axis: 'x' as const, label: 'delay', at }])
		]
	};
}

export const soundAndLight = defineCalculation({
	id: 'sound-and-light',
	title: 'Sound and light',
	question:
		'How far away did it happen, going by the time between seeing and hearing it, and where was that?',
	version: 1,
	inputs: INPUTS,
	outputs: [
		{ id: 'distance', label: 'Distance in a straight line', dimension: 'length', unit: 'm', main: true },
		{ id: 'along', label: 'Distance along the ground', dimension: 'length', unit: 'm', main: true },
		{ id: 'expected', label: 'Delay to expect from there', dimension: 'time', unit: 's', main: true },
		{ id: 'speed', label: 'Mean speed of the sound toward the listener', dimension: 'speed', unit: 'm/s' }
	],
	sources: [
		{ text: 'Speed of sound √(1.4 R T), U.S. Standard Atmosphere 1976', basis: 'seen' },
		{ text: 'ISO 9613-1:1993: 343.2 m/s at 20 °C', basis: 'from memory' },
		{ text: 'Path through the temperatures, checked by independent integration', basis: 'hand-worked' },
		{ text: 'Reaction, pictures, sound against picture', basis: 'common practice, no source' }
	],
	docs: 'methods/sound-and-light.md',
	model(x, random) {
		const s = slowness(x, x.height);
		if (x.delay === undefined) {
			const expected = expectedDelays(x);
			if (Object.keys(expected).length === 0)
				throw new RangeError(
					'give the time from seeing it to hearing it, or where it may have happened: listener to the pad (with the height of deployment or apogee), or to where it hit the ground'
				);
			return { expected, speed: 1 / s };
		}
		const distance = distanceFromDelayM(x.delay - timingError(x, random), s);
		if (!(distance > 0)) throw new RangeError('the errors of timing are as long as the delay itself');
		if (distance < x.height)
			throw new RangeError(
				`so short a delay is ${metres(distance)}, less than the height; check the delay and the height`
			);
		return { distance, along: Math.sqrt(distance ** 2 - x.height ** 2), speed: 1 / s };
	},
	limits,
	evidence,
	addition: byDelay,
	figure
});
