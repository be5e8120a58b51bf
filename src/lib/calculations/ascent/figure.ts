import type { FlightState } from '$lib/physics/ascent';
import { sampleQuantiles } from '$lib/probability/summary';
import { formatSi } from '$lib/quantity/format';
import type { Addition, AdditionContext, FigureContext, Observation } from '../calculation';
import type { Figure, Layer } from '../figure';
import { attempt } from '../sampling';
import { flightOf, recorded } from './flight';
import type { Inputs } from './inputs';

/** 5 to 95 % of the samples, and what the inputs say as typed, by time after lift-off. */
interface Curve {
	low: number[];
	nominal: number[];
	high: number[];
}
interface Series {
	time: number[];
	height: Curve;
	speed: Curve;
}
const POINTS = 48;
/** A picture needs no more than these. */
const DRAWN = 150;

/** Height and upward speed at each time, of every sample drawn; and how far what was recorded falls short. */
export function* overTime({
	nominal,
	samples,
	observations
}: AdditionContext<Inputs>): Generator<void, Addition> {
	const own = flightOf(nominal);
	const until = 1.15 * (own.apogee.timeS - own.liftOffS);
	const time = Array.from({ length: POINTS + 1 }, (_, i) => (i / POINTS) * until);
	const statesOf = (x: Inputs, liftOffS: number) =>
		flightOf(
			x,
			{},
			time.map((t) => liftOffS + t)
		).at;
	const typed = statesOf(nominal, own.liftOffS);
	const drawn: FlightState[][] = [];
	for (const [i, x] of samples.slice(0, DRAWN).entries()) {
		// With other steps a flight at the limit of flying may fail.
		const states = attempt(() => statesOf(x, flightOf(x).liftOffS));
		if (states.ok) drawn.push(states.value);
		if (i % 50 === 49) yield;
	}
	const curveOf = (value: (s: FlightState) => number): Curve => {
		const bands = time.map((_, i) =>
			sampleQuantiles(
				drawn.map((states) => value(states[i]!)),
				[0.05, 0.95]
			)
		);
		return {
			low: bands.map(([low = 0]) => low),
			nominal: typed.map(value),
			high: bands.map(([, high = 0]) => high)
		};
	};
	const series: Series = { time, height: curveOf((s) => s.upM), speed: curveOf((s) => s.vUpMS) };
	const apogee = apogeeOf(observations);
	if (!apogee) return { series };
	const ordinary = new Float64Array(samples.length);
	for (const [i, x] of samples.entries()) {
		ordinary[i] = recorded(x, flightOf(x)).apogee;
		if (i % 100 === 99) yield;
	}
	return {
		series,
		statements: shortfall(nominal, flightOf(nominal, { fineness: 8 }).apogee.upM, apogee.observed, ordinary)
	};
}

const apogeeOf = (observations: readonly Observation[]) =>
	observations.find((o) => o.kind === 'scalar' && o.dimension === 'length') as
		Extract<Observation, { kind: 'scalar' }> | undefined;

const metres = (m: number) => formatSi(m, 'length', { unit: 'm', figures: 3 });

/** 'It fell 21 % short of the computed apogee; 1 of 100 flights with nothing wrong falls as short: it needs a cause.' */
function shortfall(x: Inputs, computed: number, observed: number, ordinary: Float64Array): string[] {
	const below = ordinary.reduce((n, h) => n + (h <= observed ? 1 : 0), 0) / ordinary.length;
	const against = (expected: number, words: string) => {
		const share = 1 - observed / expected;
		return `${metres(observed)} is ${Math.abs(Math.round(100 * share))} % ${share < 0 ? 'above' : 'below'} ${words} of ${metres(expected)}`;
	};
	const trials = below < 0.005 ? 'Fewer than 1 of 100' : `${Math.round(100 * below)} of 100`;
	const verdict =
		below < 0.02
			? 'This shortfall needs a cause.'
			: below < 0.1
				? 'This shortfall is rare; look for a cause, and do not count on finding one.'
				: below > 0.98
					? 'It went higher than these inputs allow: they are wrong, or the reading is.'
					: 'This is ordinary; by itself it needs no cause.';
	const from = x.simulatedApogee;
	return [
		`${against(computed, 'the computed apogee')}${from === undefined ? '' : `, and ${against(from, 'the one expected before the flight')}`}; ordinarily a flight falls ${Math.round(100 * (1 - x.ordinaryShare))} % short (as typed or assumed).`,
		`${trials} flights with nothing wrong would reach no more than ${metres(observed)}. ${verdict}`
	];
}

export function figure({ observations, outputs, series }: FigureContext<Inputs>): Figure {
	const { time, height, speed } = series as Series;
	const apogee = apogeeOf(observations);
	const layers = ({ low, high, nominal }: Curve): Layer[] => [
		{ kind: 'band', label: '90 of 100 flights', x: time, low, high },
		{ kind: 'line', label: 'as typed', points: time.map((t, i) => [t, nominal[i]!]) }
	];
	const top = metres(outputs['apogee']!.nominal!);
	const ordinary = outputs['ordinaryApogee']!;
	const x = { label: 'Time after lift-off', unit: 's', min: 0, max: time.at(-1)! };
	return {
		title: apogee
			? `It should have reached ${top}, an ordinary flight ${metres(ordinary.low90)} to ${metres(ordinary.high90)}; ${metres(apogee.observed)} was recorded`
			: `It reaches ${top}, an ordinary flight ${metres(ordinary.low90)} to ${metres(ordinary.high90)}`,
		x,
		y: { label: 'Height above the pad', unit: 'm', min: 0 },
		layers: [
			...layers(height),
			...(apogee
				? [
						{
							kind: 'rule' as const,
							axis: 'y' as const,
							label: 'recorded apogee',
							at: apogee.observed,
							halfWidth: 2 * apogee.sd
						}
					]
				: [])
		],
		below: {
			title: 'Upward speed by time',
			x,
			y: { label: 'Upward speed', unit: 'm/s' },
			layers: layers(speed)
		}
	};
}
