import { sampleQuantiles } from '$lib/probability/summary';
import { formatSi } from '$lib/quantity/format';
import {
	defineCalculation,
	type Addition,
	type AdditionContext,
	type FigureContext,
	type ModelOutput
} from '../calculation';
import type { Figure } from '../figure';
import { attempt } from '../sampling';
import { airOf } from '../through-wind';
import { deployed } from './coasting';
import { evidence } from './evidence';
import { INPUTS, type Inputs } from './inputs';

/** Speed by time from apogee, s and m/s: as typed, and 5 to 95 % of the samples. */
interface Series {
	time: number[];
	low: number[];
	nominal: number[];
	high: number[];
}
/** A picture needs no more than these. */
const DRAWN = 100;
const POINTS = 32;

const seconds = (s: number) => formatSi(Math.abs(s), 'time', { unit: 's', figures: 2 });
const moment = (offset: number) =>
	offset === 0 ? 'at apogee' : `${seconds(offset)} ${offset < 0 ? 'before' : 'after'} apogee`;

function* byOffset({ nominal, samples }: AdditionContext<Inputs>): Generator<void, Addition> {
	const reach = Math.max(6, 1.3 * Math.abs(nominal.offset));
	const series: Series = { time: [], low: [], nominal: [], high: [] };
	const drawn = samples.slice(0, DRAWN);
	for (let i = 0; i <= POINTS; i++) {
		const t = reach * ((2 * i) / POINTS - 1);
		// Where a moment lies before the flight or after the landing there is nothing to draw.
		const own = attempt(() => deployed(nominal, t).speed);
		const speeds = drawn
			.map((x) => attempt(() => deployed(x, t).speed))
			.flatMap((r) => (r.ok ? [r.value] : []));
		yield;
		if (!own.ok || speeds.length < 0.9 * drawn.length) continue;
		const [low = 0, high = 0] = sampleQuantiles(speeds, [0.05, 0.95]);
		series.time.push(t);
		series.low.push(low);
		series.nominal.push(own.value);
		series.high.push(high);
	}
	const statements: string[] = [];
	const here = deployed(nominal, nominal.offset);
	const second = attempt(() => deployed(nominal, 1));
	if (second.ok && Math.abs(nominal.offset) > 1)
		statements.push(
			`The dynamic pressure ${moment(nominal.offset)} is ${formatSi(here.pressure / second.value.pressure, 'ratio', { unit: '1', figures: 2 })} times that of a deployment one second late; opening and snatch loads grow with it.`
		);
	return { series, statements };
}

function figure({ nominal, observations, outputs, series }: FigureContext<Inputs>): Figure {
	const { time, low, high, nominal: own } = series as Series;
	const seen = observations.find((o) => o.kind === 'scalar' && o.dimension === 'speed');
	const { nominal: speed = 0, low90, high90 } = outputs['speed']!;
	const show = (v: number) => formatSi(v, 'speed', { unit: 'm/s', figures: 2 });
	return {
		title: `A deployment ${moment(nominal.offset)} is at ${show(speed)} (${show(low90)} to ${show(high90)})`,
		x: { label: 'Deployment after apogee', unit: 's' },
		y: { label: 'Speed through the air', unit: 'm/s', min: 0 },
		layers: [
			{ kind: 'band', label: '90 of 100 deployments', x: time, low, high },
			{ kind: 'line', label: 'as typed', points: time.map((t, i) => [t, own[i]!]) },
			{ kind: 'rule', axis: 'x', label: 'deployment', at: nominal.offset },
			...(seen?.kind === 'scalar'
				? [
						{
							kind: 'rule' as const,
							axis: 'y' as const,
							label: 'recorded',
							at: seen.observed,
							halfWidth: 2 * seen.sd
						}
					]
				: [])
		]
	};
}

function limits(x: Inputs, nominal: ModelOutput): string[] {
	const out: string[] = [];
	const speed = nominal['speed'] as number;
	if (x.offset > 0)
		out.push(
			'After apogee it is taken to fall nose first with the drag of the ascent: one that tumbles or has come apart is slower.'
		);
	if (x.sidewaysAs === 'speed')
		out.push(
			'The sideways speed is that through the air; a speed over the ground holds the wind too, which moves the vehicle and its canopy alike.'
		);
	else
		out.push(
			`The coast is taken from burnout at 15 % of the apogee height; its top need not be the apogee that was typed.`
		);
	if (x.sidewaysAs === 'angle' && speed > x.burnoutSpeed!)
		out.push(
			'That long before apogee it would be faster than at burnout: the motor was still burning, and this speed means nothing.'
		);
	const mach = speed / airOf(x).soundSpeedMS(x.apogeeHeight - (nominal['heightLost'] as number));
	if (mach > 0.8)
		out.push(`Mach ${mach.toFixed(2)}: from about Mach 0.8 on the drag coefficient is not one number.`);
	return out;
}

export const deploymentSpeed = defineCalculation({
	id: 'deployment-speed',
	title: 'Speed at an early or late deployment',
	question:
		'How fast was it when it deployed too early or too late, and what dynamic pressure met the parachute?',
	version: 1,
	inputs: INPUTS,
	outputs: [
		{
			id: 'speed',
			label: 'Speed through the air at deployment',
			dimension: 'speed',
			unit: 'm/s',
			main: true
		},
		{ id: 'pressure', label: 'Dynamic pressure then', dimension: 'pressure', unit: 'Pa', main: true },
		{ id: 'upward', label: 'Upward part of the speed', dimension: 'speed', unit: 'm/s' },
		{ id: 'sideways', label: 'Sideways part of the speed', dimension: 'speed', unit: 'm/s' },
		{ id: 'heightLost', label: 'Height below apogee', dimension: 'length', unit: 'm' },
		{ id: 'height', label: 'Height above the pad', dimension: 'length', unit: 'm' }
	],
	sources: [
		{
			text: 'Quadratic drag on a point mass, forward and back in time; checked against closed forms',
			basis: 'hand-worked'
		},
		{ text: 'U.S. Standard Atmosphere 1976, as transcribed in the tests of CalebBell/fluids', basis: 'seen' },
		{ text: 'Sideways speeds and spreads', basis: 'common practice, no source' }
	],
	docs: 'methods/deployment-speed.md',
	cautions: [
		'A charge that fired late, or not, may still fire: nobody in line with it, power off or disarmed by a competent person first; the range’s safety code and the range officer prevail.'
	],
	check(x) {
		if (x.sidewaysAs === 'angle' && (x.burnoutSpeed === undefined || x.burnoutAngle === undefined))
			return 'give speed and angle at burnout, or the sideways speed itself';
		return undefined;
	},
	model(x) {
		const d = deployed(x, x.offset);
		return {
			speed: d.speed,
			pressure: d.pressure,
			upward: d.vUpMS,
			sideways: d.vSideMS,
			heightLost: d.heightLost,
			height: d.upM
		};
	},
	limits,
	evidence,
	addition: byOffset,
	figure
});
