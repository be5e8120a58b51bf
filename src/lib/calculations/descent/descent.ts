import { ballisticFromSpeedKgM2, terminalSpeedMS } from '$lib/physics/descent';
import { formatSi } from '$lib/quantity/format';
import { defineCalculation, type Evidence, type QuantityField } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { airOf } from '../through-wind';
import { INPUTS, type Inputs } from './inputs';

/** Drag area as built, or undefined where neither it nor a canopy is given. */
const builtArea = (x: Inputs) =>
	x.dragArea ??
	(x.canopyDiameter === undefined ? undefined : (x.dragCoefficient * Math.PI * x.canopyDiameter ** 2) / 4);

/** Rate over the ground at a height, m/s: terminal speed less what the air rises. */
const rateAt = (x: Inputs, area: number, height: number) =>
	terminalSpeedMS(x.mass / area, airOf(x).densityKgM3(height)) - x.verticalAir;

/** Steady descent from a height to the pad, s; a canopy that the air holds up never lands. */
function timeFrom(x: Inputs, area: number, height: number): number {
	const steps = 40;
	let time = 0;
	for (let i = 0; i < steps; i++) {
		const rate = rateAt(x, area, ((i + 0.5) / steps) * height);
		if (!(rate > 0.05)) throw new RangeError('the air rises as fast as the canopy sinks');
		time += height / steps / rate;
	}
	return time;
}

const recordedRate = (x: Inputs) =>
	x.recordedRate ??
	(x.heightLost === undefined || x.timeTaken === undefined ? undefined : x.heightLost / x.timeTaken);

/** The drag area with which it falls that fast through the air, m². */
function impliedArea(x: Inputs, rate: number): number {
	const speed = rate + x.verticalAir;
	if (!(speed > 0.05)) throw new RangeError('the air alone would account for that descent rate');
	return x.mass / ballisticFromSpeedKgM2(speed, airOf(x).densityKgM3(x.rateHeight));
}

const share = (id: string, label: string): QuantityField => ({
	kind: 'quantity',
	id,
	label,
	dimension: 'ratio',
	unit: '1',
	range: { above: 0, max: 1 }
});

const evidence: Evidence<Inputs> = {
	trials: 'descents',
	observed: [
		{
			kind: 'quantity',
			id: 'rate',
			label: 'Descent rate recorded or seen',
			dimension: 'speed',
			unit: 'm/s',
			range: { above: 0, max: 400 },
			spread: { text: '0.5 m/s', origin: 'common practice, no source' }
		}
	],
	observations(values, x, sd) {
		const rate = values['rate'] as number | undefined;
		if (rate === undefined) return [];
		if (builtArea(x) === undefined)
			return 'to compare a rate, give the drag area as built or the canopy’s diameter';
		if (sd('rate') <= 0) return 'no rate is known exactly: give its uncertainty, such as 7 ± 0.5 m/s';
		return [
			{ kind: 'scalar', label: 'the rate', dimension: 'speed', unit: 'm/s', observed: rate, sd: sd('rate') }
		];
	},
	scenarios: [
		{
			id: 'fully-open',
			label: 'Fully open',
			help: 'The whole drag area as built.',
			inputs: [],
			predict: (x) => [rateAt(x, builtArea(x)!, x.rateHeight)]
		},
		{
			id: 'partly-open',
			label: 'Partly open',
			help: 'Only a share of the drag area.',
			inputs: [share('from', 'Least share'), share('to', 'Greatest share')],
			distribution: 'Every share between the two (0.1 to 0.8 unless given) is equally probable.',
			check: ({ from = 0.1, to = 0.8 }) =>
				to > from ? undefined : 'the least share must be less than the greatest',
			predict: (x, { from = 0.1, to = 0.8 }, _, random) => [
				rateAt(x, (from + (to - from) * random()) * builtArea(x)!, x.rateHeight)
			]
		},
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Any rate from 1 to 100 m/s, equally probable by ratio.',
			inputs: [],
			distribution: 'Any rate from 1 to 100 m/s is equally probable by ratio.',
			predict: (_x, _p, _o, random) => [100 ** random()]
		}
	],
	defaultScenarios: () => [{ id: 'fully-open' }, { id: 'partly-open' }, { id: NONE_OF_THESE }]
};

export const descent = defineCalculation({
	id: 'descent',
	title: 'Descent rate and time',
	question:
		'How fast and how long under this canopy; and what canopy does the descent that was recorded imply: open, half open, not at all?',
	version: 2,
	inputs: INPUTS,
	outputs: [
		{ id: 'rate', label: 'Descent rate at the pad', dimension: 'speed', unit: 'm/s', main: true },
		{ id: 'time', label: 'Time from that height', dimension: 'time', unit: 's' },
		{ id: 'energy', label: 'Energy at landing, wind aside', dimension: 'energy', unit: 'J' },
		{
			id: 'impliedArea',
			label: 'Drag area that the recorded descent implies',
			dimension: 'area',
			unit: 'm²',
			main: true
		},
		{ id: 'openShare', label: 'Share of the drag area as built', dimension: 'ratio', unit: '1', main: true }
	],
	sources: [
		{ text: 'NASA Glenn, "Terminal Velocity": V = √(2W/(Cd ρ A))', basis: 'seen' },
		{
			text: 'Knacke, Parachute Recovery Systems Design Manual, NWC TP 6575, table 5-1',
			basis: 'from memory'
		},
		{ text: 'U.S. Standard Atmosphere 1976, as transcribed in the tests of CalebBell/fluids', basis: 'seen' }
	],
	docs: 'methods/descent.md',
	check(x) {
		if (x.dragArea !== undefined && x.canopyDiameter !== undefined)
			return 'give the drag area or the canopy’s diameter, not both';
		if ((x.heightLost === undefined) !== (x.timeTaken === undefined))
			return 'a height lost needs the time it took, and the other way round';
		if (x.recordedRate !== undefined && x.heightLost !== undefined)
			return 'give the recorded rate, or a height lost and its time, not both';
		if (builtArea(x) === undefined && recordedRate(x) === undefined)
			return 'give the drag area or diameter of the canopy, or the descent that was recorded';
		return undefined;
	},
	model(x) {
		const area = builtArea(x);
		const recorded = recordedRate(x);
		const rate = area === undefined ? undefined : rateAt(x, area, 0);
		if (rate !== undefined && !(rate > 0.05))
			throw new RangeError('the air rises as fast as the canopy sinks');
		const implied = recorded === undefined ? undefined : impliedArea(x, recorded);
		return {
			rate,
			time: area === undefined || x.fromHeight === undefined ? undefined : timeFrom(x, area, x.fromHeight),
			energy: rate === undefined ? undefined : (x.mass * rate * rate) / 2,
			impliedArea: implied,
			openShare: implied === undefined || area === undefined ? undefined : implied / area
		};
	},
	limits(x) {
		const out: string[] = [];
		const rate = recordedRate(x) ?? rateAt(x, builtArea(x)!, 0);
		if (rate < 10)
			out.push(
				`Air that rises or sinks at 1 m/s moves the drag area that ${formatSi(rate, 'speed', { unit: 'm/s', figures: 2 })} implies by ${Math.round(100 * ((rate / (rate + 1)) ** 2 - 1))} to +${Math.round(100 * ((rate / Math.max(rate - 1, 0.5)) ** 2 - 1))} %.`
			);
		out.push(
			'The rate is the steady one: a canopy that glides, swings, spins or is still filling does not follow it.'
		);
		return out;
	},
	evidence
});
