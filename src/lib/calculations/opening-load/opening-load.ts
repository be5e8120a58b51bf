import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import { formatSi } from '$lib/quantity/format';
import { defineCalculation, type FigureContext } from '../calculation';
import type { Figure, Point } from '../figure';
import { evidence } from './evidence';
import { INPUTS, type Inputs } from './inputs';
import { figuresOf, told } from '../told';
import { loadsOf, peakLoad } from './opening';

const newtons = (n: number) => formatSi(n, 'force', { unit: 'N', figures: 3 });
const speed = (v: number) => formatSi(v, 'speed', { unit: 'm/s', figures: 3 });

/** Share of the load with gravity that the closed form without it must reach to be called safe. */
const GRAVITY_MATTERS_LITTLE = 0.95;

function figure({ nominal: x, outputs }: FigureContext<Inputs>): Figure {
	const top = 1.6 * Math.max(x.speed, loadsOf(x).steadySpeed);
	const speeds = Array.from({ length: 33 }, (_, i) => ((i + 2) / 34) * top);
	const at = speeds.map((v) => loadsOf(x, v));
	const load = outputs['load']!;
	const within = load.nominal! * 4;
	const infinite = speeds.map((v, i): Point => [v, at[i]!.infiniteMass]).filter(([, n]) => n <= within);
	return {
		title: `Opening at ${speed(x.speed)} it pulls with about ${told(load)}, ${figuresOf(load).range}${
			x.strength === undefined
				? ''
				: x.strength < load.low90
					? ': more than the weakest link bears'
					: x.strength < load.high90
						? ': about what the weakest link bears'
						: ': less than the weakest link bears'
		}`,
		x: { label: 'Speed when the lines came taut', unit: 'm/s', min: 0 },
		y: { label: 'Greatest load', unit: 'N', min: 0 },
		layers: [
			{
				kind: 'band',
				label: 'finite mass, no to full over-inflation',
				x: speeds,
				low: at.map((o) => peakLoad(x, o, 0)),
				high: at.map((o) => peakLoad(x, o, 1))
			},
			{ kind: 'line', label: 'Cx alone, as for infinite mass', points: infinite, dashed: true },
			{ kind: 'point', label: 'this opening', x: x.speed, y: load.nominal! },
			...(x.strength === undefined
				? []
				: [{ kind: 'rule' as const, axis: 'y' as const, label: 'weakest link', at: x.strength }])
		]
	};
}

function limits(x: Inputs): string[] {
	const o = loadsOf(x);
	const out: string[] = [];
	const excess = o.infiniteMass / peakLoad(x, o, 0.5);
	if (excess > 1.3)
		out.push(
			`Cx alone, as for infinite mass, would say ${newtons(o.infiniteMass)}, ${excess.toFixed(1)} times as much: it holds for drogues and heavy loads only, as does every "shock factor" of 1.5 to 2 times the drag.`
		);
	const ungravity = o.closedForm / x.overshoot;
	if (ungravity < 0.85 * o.filling)
		out.push(
			`The closed form leaves out gravity: before over-inflation it would give ${newtons(ungravity)} instead of ${newtons(o.filling)}, ${Math.round(100 * (1 - ungravity / o.filling))} % low. The load that falls on while the canopy fills pulls harder.`
		);
	if (o.peakAt < 1)
		out.push(
			`The peak comes at ${Math.round(100 * o.peakAt)} % of the filling time, before the canopy can over-inflate: how much of Cx applies is not known. Each sample takes a share of it, evenly: none gives ${newtons(peakLoad(x, o, 0))}, all of it ${newtons(peakLoad(x, o, 1))}. ${
				o.closedForm >= GRAVITY_MATTERS_LITTLE * peakLoad(x, o, 1) && o.closedForm > peakLoad(x, o, 0.5)
					? `The closed form takes all of it: its ${newtons(o.closedForm)} is on the safe side.`
					: `The closed form, ${newtons(o.closedForm)}, takes all of it but leaves out gravity; the result counts gravity and half of it. The closed form is no bound here.`
			}`
		);
	if (x.speed < o.steadySpeed)
		out.push(
			`It comes in slower than the ${speed(o.steadySpeed)} at which it sinks under the open canopy: there is no opening shock to speak of, the load ${
				peakLoad(x, o, 0.5) > 1.1 * x.mass * G
					? `comes from what it falls meanwhile, and ends as the weight of`
					: 'grows to the weight of'
			} ${newtons(x.mass * G)}.`
		);
	if (x.fillingTime === undefined)
		out.push(
			'The filling time is a guess: filling distances scatter by 30 % and more with the cloth, the packing and how it comes out. A filling time seen on video is worth more.'
		);
	if (x.dragCoefficient > 1.2)
		out.push(
			`A drag coefficient of ${Number(x.dragCoefficient.toPrecision(3))} is one on the open mouth or the projected area; on the nominal area it is 0.3 to 0.95. Mixed up, the drag is about 2.2 times wrong.`
		);
	if (x.speed > 200)
		out.push(
			'Above about 200 m/s the air is compressed, which is not counted; canopies and their data end there.'
		);
	out.push(
		'No formula covers line dump, tangles, melted or burnt cloth, a spill hole, a slider or reefing; the steady drag coefficient already includes gliding and swinging.',
		'The snatch of the lines as they come taut is another load, and may be the greater: see the tether load.'
	);
	return out;
}

export const openingLoad = defineCalculation({
	id: 'opening-load',
	title: 'Opening load of a parachute',
	question:
		'How hard did the canopy pull when it opened at this speed, and was that more than the weakest link bears?',
	version: 2,
	inputs: INPUTS,
	outputs: [
		{ id: 'load', label: 'Greatest load while it opens', dimension: 'force', unit: 'N', main: true },
		{ id: 'acceleration', label: 'Acceleration that its load feels', dimension: 'acceleration', unit: 'g' },
		{ id: 'closedForm', label: 'Finite mass by the closed form, Cx X1', dimension: 'force', unit: 'N' },
		{ id: 'infiniteMass', label: 'Infinite mass, Cx alone', dimension: 'force', unit: 'N' },
		{ id: 'fillingTime', label: 'Filling time', dimension: 'time', unit: 's' },
		{ id: 'steadySpeed', label: 'Steady descent under it', dimension: 'speed', unit: 'm/s' },
		{
			id: 'overStrength',
			label: 'Load over the strength of the weakest link',
			dimension: 'ratio',
			unit: '1',
			main: true
		}
	],
	sources: [
		{ text: 'Knacke, Parachute Recovery Systems Design Manual, NWC TP 6575, ch. 5', basis: 'from memory' },
		{
			text: 'Pflanz’s finite-mass opening: closed form, derived and checked numerically',
			basis: 'hand-worked'
		},
		{ text: 'Ewing, Bixby & Knacke, AFFDL-TR-78-151', basis: 'from memory' },
		{ text: 'U.S. Standard Atmosphere 1976, as transcribed in the tests of CalebBell/fluids', basis: 'seen' }
	],
	docs: 'methods/opening-load.md',
	model(x, random) {
		const o = loadsOf(x);
		const load = peakLoad(x, o, random());
		return {
			load,
			acceleration: load / x.mass,
			closedForm: o.closedForm,
			infiniteMass: o.infiniteMass,
			fillingTime: o.fillTime,
			steadySpeed: o.steadySpeed,
			overStrength: x.strength === undefined ? undefined : load / x.strength
		};
	},
	limits,
	evidence,
	figure
});
