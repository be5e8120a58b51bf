import { formatSi } from '$lib/quantity/format';
import { defineCalculation, type Evidence, type QuantityField } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { INPUTS, type Inputs } from './inputs';
import { figure, howOpen } from './open';
import { airAlone, builtArea, heldUp, impliedArea, inAir, rateAt, recordedRate, timeFrom } from './rates';

const HELD_UP = 'On average the air rises as fast as the canopy sinks: it would not come down.';

/** No canopy has a greater drag coefficient on the area of all its cloth (Knacke, NWC TP 6575, table 5-1, from memory). */
const MOST_ON_CLOTH = 1.2;

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
			label: 'Recorded descent rate, to weigh how far it was open',
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

/** What air that moves up or down by 1 m/s makes of the drag area that a rate implies, in a sentence. */
function airMoves(x: Inputs, rate: number): string {
	const own = inAir(x, rate);
	const change = (speed: number) => `${Math.round(100 * ((own / speed) ** 2 - 1))}`.replace('-', '−');
	const air =
		x.verticalAir === 0 ? 'Air that rises or sinks at 1 m/s' : 'Air that moves 1 m/s faster up or down';
	const implied = `the drag area that ${formatSi(rate, 'speed', { unit: 'm/s', figures: 2 })} implies`;
	return heldUp(own - 1)
		? `${air} decides here: rising, it makes ${implied} ${change(own + 1)} %; sinking, it alone brings anything down as fast, and the area has no upper bound.`
		: `${air} moves ${implied} by ${change(own + 1)} to +${change(own - 1)} %.`;
}

export const descent = defineCalculation({
	id: 'descent',
	title: 'Descent rate and time',
	question:
		'How fast and how long under this canopy; and what canopy does the descent that was recorded imply: open, half open, not at all?',
	version: 4,
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
		const recorded = recordedRate(x);
		if (recorded !== undefined && airAlone(x, recorded))
			return 'the sinking air alone would bring anything down as fast as that, so no drag area follows; check the vertical motion of the air (upward is positive) and the recorded rate';
		if (recorded === undefined && heldUp(rateAt(x, builtArea(x)!, 0)))
			return `${HELD_UP} Give it a smaller upward motion, or the descent that was recorded.`;
		return undefined;
	},
	model(x) {
		const area = builtArea(x);
		const recorded = recordedRate(x);
		const rate = area === undefined ? undefined : rateAt(x, area, 0);
		const implied = recorded === undefined ? undefined : impliedArea(x, recorded);
		return {
			rate,
			time: area === undefined || x.fromHeight === undefined ? undefined : timeFrom(x, area, x.fromHeight),
			energy: rate === undefined ? undefined : (x.mass * Math.max(rate, 0) ** 2) / 2,
			impliedArea: implied,
			openShare: implied === undefined || area === undefined ? undefined : implied / area
		};
	},
	limits(x, nominal) {
		const out: string[] = [];
		const rate = recordedRate(x) ?? rateAt(x, builtArea(x)!, 0);
		const built = nominal['rate'] as number | undefined;
		if (built !== undefined && heldUp(built))
			out.push(
				`${HELD_UP} Time and energy of landing mean nothing here; the drag area that was implied holds all the same.`
			);
		const open = nominal['openShare'] as number | undefined;
		if (open !== undefined && open > 1.5)
			out.push(
				`The recorded descent implies ${Number(open.toPrecision(2))} times the drag area as built, and no canopy opens farther than it was made. Check the rate, the mass and the canopy; or the air rose, or another thing came down.`
			);
		if (rate < 10) out.push(airMoves(x, rate));
		if (x.canopyDiameter !== undefined && x.dragCoefficient > MOST_ON_CLOTH)
			out.push(
				`A drag coefficient of ${Number(x.dragCoefficient.toPrecision(3))} is one on the open mouth or the projected area; on the nominal area it is 0.3 to 0.95. Mixed up, the drag is about 2.2 times wrong.`
			);
		out.push(
			'The rate is the steady one: a canopy that glides, swings, spins or is still filling does not follow it.'
		);
		return out;
	},
	evidence,
	addition: howOpen,
	figure
});
