import { interpolate } from '$lib/physics/interpolate';
import { sampleQuantiles } from '$lib/probability/summary';
import { formatSi } from '$lib/quantity/format';
import type { FigureContext } from '../calculation';
import type { Figure, Layer } from '../figure';
import { heatWall, meltsAtK, softAtK } from './heat-wall';
import type { Inputs } from './inputs';
import { celsius, millimetres } from './limits';
import { recessionUnknown } from './needed';

export interface Trace {
	time: number[];
	hot: number[];
	back: number[];
	/** Wall left, mm. */
	left: number[];
}

/** Both faces in °C, and the wall left, over the time since ignition of the last firing that the wall came to. */
export function trace(x: Inputs): Trace {
	let last = 0;
	const t: Trace = { time: [], hot: [], back: [], left: [] };
	heatWall(x, {}, (time, s, firing) => {
		if (firing !== last) {
			last = firing;
			for (const values of Object.values(t) as number[][]) values.length = 0;
		}
		t.time.push(time);
		t.hot.push(s.hotK - 273.15);
		t.back.push(s.backK - 273.15);
		t.left.push(1000 * s.leftM);
	});
	return t;
}

export interface Series {
	nominal: Trace;
	/** Outside, 5 to 95 % of the samples, °C. */
	time: number[];
	low: number[];
	high: number[];
	/** Burning time of the last firing at which it is through. */
	through?: number;
}

/** In which firing a burning time falls. */
export const firingOf = (x: Inputs, burningS: number): number =>
	Math.max(1, Math.ceil(burningS / x.burnTime));

/** The band of the outside over the part of the time in which something happens. */
export function seriesOf(x: Inputs, nominal: Trace, traces: readonly Trace[], throughS: number): Series {
	const hottest = nominal.time[nominal.back.indexOf(Math.max(...nominal.back))]!;
	const end = Math.min(nominal.time.at(-1)!, Math.max(2.5 * x.burnTime, 1.3 * hottest));
	const time = Array.from({ length: 81 }, (_, i) => (i / 80) * end);
	const bands = time.map((t) =>
		sampleQuantiles(
			traces.map((s) => interpolate(s.time, s.back, t)),
			[0.05, 0.95]
		)
	);
	const shown = nominal.time.filter((t) => t <= end).length;
	return {
		nominal: {
			time: nominal.time.slice(0, shown),
			hot: nominal.hot.slice(0, shown),
			back: nominal.back.slice(0, shown),
			left: nominal.left.slice(0, shown)
		},
		time,
		low: bands.map(([low = 0]) => low),
		high: bands.map(([, high = 0]) => high),
		...(Number.isFinite(throughS) ? { through: throughS - (firingOf(x, throughS) - 1) * x.burnTime } : {})
	};
}

export function figure({ nominal: x, outputs, series, observations }: FigureContext<Inputs>): Figure {
	const s = series as Series;
	const soft = softAtK(x);
	const melts = meltsAtK(x.layers[0]!);
	const layers: Layer[] = [
		{ kind: 'band', label: 'outside, 90 of 100 firings', x: s.time, low: s.low, high: s.high },
		{ kind: 'line', label: 'hot face', points: s.nominal.time.map((t, i) => [t, s.nominal.hot[i]!]) },
		{
			kind: 'line',
			label: 'outside',
			dashed: true,
			points: s.nominal.time.map((t, i) => [t, s.nominal.back[i]!])
		}
	];
	const rule = (axis: 'x' | 'y', label: string, at: number, halfWidth?: number) =>
		layers.push({ kind: 'rule', axis, label, at, ...(halfWidth === undefined ? {} : { halfWidth }) });
	if (melts < Infinity) rule('y', 'hot face melts', melts - 273.15);
	if (soft !== undefined) rule('y', 'load layer soft', soft - 273.15);
	if (s.through === undefined) rule('x', 'burn ends', x.burnTime);
	else rule('x', 'through', s.through);
	for (const o of observations)
		if (o.kind === 'scalar' && o.dimension === 'temperature')
			rule('y', 'seen outside', o.observed - 273.15, 2 * o.sd);
	const value = (id: string) => outputs[id]!.nominal!;
	const lost = value('lost');
	const time = { label: 'Time from the last ignition', unit: 's', min: 0, max: s.time.at(-1)! };
	const seen = observations.find((o) => o.kind === 'scalar' && o.dimension === 'length');
	return {
		title:
			s.through !== undefined
				? `The wall is through after ${formatSi(s.through, 'time', { unit: 's', figures: 2 })} of the last burn`
				: `${lost > 1e-6 ? `${millimetres(lost)} of the wall is lost` : x.layers.some(recessionUnknown) ? 'Recession left out' : 'Nothing melts'}; the outside reaches ${celsius(value('backPeak'))}`,
		x: time,
		y: { label: 'Temperature', unit: '°C' },
		layers,
		...(lost > 1e-6
			? {
					below: {
						title: 'Wall left by time',
						x: time,
						y: { label: 'Wall left', unit: 'mm', min: 0 },
						layers: [
							{
								kind: 'line' as const,
								label: 'as typed',
								points: s.nominal.time.map((t, i): [number, number] => [t, s.nominal.left[i]!])
							},
							...(seen?.kind === 'scalar'
								? [
										{
											kind: 'rule' as const,
											axis: 'y' as const,
											label: 'measured',
											at: 1000 * seen.observed,
											halfWidth: 2000 * seen.sd
										}
									]
								: [])
						]
					}
				}
			: {})
	};
}
