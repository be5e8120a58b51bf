import { sampleWeights } from '$lib/probability/density';
import { effectiveSize, sampleQuantiles, weightedQuantiles } from '$lib/probability/summary';
import { formatSi, formatNumber } from '$lib/quantity/format';
import { fromSi } from '$lib/quantity/quantity';
import type { Addition, AdditionContext, FigureContext } from '../calculation';
import type { Figure } from '../figure';
import { emptyComponents } from '../likelihood';
import { secondsText, seenOf, type Seen } from './evidence';
import { hasPath, leakOf, pathAfter, type Leak } from './flight';
import type { Inputs } from './inputs';

/** What would be seen by the moment of opening: a band in SI. */
interface Series {
	time: number[];
	low: number[];
	median: number[];
	high: number[];
}

const percent = (share: number) => `${formatNumber(100 * share, 0)} %`;
const force = (n: number) => formatSi(n, 'force', { unit: 'N', figures: 2 });

/** Looked at where nothing was observed. */
const TURN: Seen = {
	kind: 'scalar',
	label: 'the turn by burnout',
	dimension: 'angle',
	unit: '°',
	observed: 0,
	sd: 1,
	side: 'not known'
};

/** Every sample with a moment of opening of its own, spread evenly over the burn: band, posterior and statements. */
export function* answer({
	nominal,
	samples,
	observations,
	random
}: AdditionContext<Inputs>): Generator<void, Addition> {
	const first = lost(leakOf(nominal));
	if (!hasPath(nominal)) return { statements: [first] };
	const watched = observations.length ? (observations as readonly Seen[]) : [TURN];
	const n = samples.length;
	const draws = random('moment of opening');
	const times = new Float64Array(n);
	const components = emptyComponents(watched, n);
	const values = new Float64Array(n);
	for (const [i, x] of samples.entries()) {
		// Evenly over the burn in a scattered order, so that neighbours in time do not share other inputs.
		times[i] = ((i * 0.6180339887498949 + draws() / n) % 1) * x.burnTime!;
		const seen = seenOf(x, pathAfter(x, leakOf(x), times[i]), watched, draws);
		components.forEach((c, k) => {
			if (c.kind === 'scalar') c.predicted[i] = seen[k]!;
		});
		values[i] = seen[0]!;
		if (i % 50 === 49) yield;
	}
	const series = bands(times, values, nominal.burnTime!);
	if (!observations.length) return { statements: [first], series };
	const weights = sampleWeights(components);
	const [low = 0, , high = 0] = weightedQuantiles(times, weights, [0.05, 0.5, 0.95]);
	const few = effectiveSize(weights) < 100;
	const tooFar = Math.max(...weights) < 0.1;
	return {
		statements: [
			`If a hole of this size opened in the burn, it did so between ${secondsText(low)} and ${secondsText(high)} after ignition${few ? ', roughly: few samples explain the path' : ' with 90 % probability'}. Before the path is looked at, every moment of the burn counts as equally probable.`,
			...excluded(watched[0]!, series),
			first
		],
		series,
		outputs: [{ id: 'opened', samples: times, weights }],
		warnings: tooFar
			? ['No moment of opening gives the path that was seen; the times above are only the least bad ones.']
			: few
				? ['Run more samples before using the moment of opening.']
				: []
	};
}

function lost({ forceN, pressureShare, thrustShare, handRuleN }: Leak): string {
	return `The jet pushes with ${force(forceN)}; the chamber keeps ${percent(pressureShare)} of its pressure and the nozzle ${percent(thrustShare)} of its thrust. Pressure times area, by hand and with the pressure before the hole, would say ${force(handRuleN)}.`;
}

/** Of the samples near each moment: 5 %, median and 95 %. */
function bands(times: Float64Array, values: Float64Array, burnTime: number): Series {
	const cells = Math.max(6, Math.min(30, Math.floor(times.length / 100)));
	const width = burnTime / cells;
	const out: Series = { time: [], low: [], median: [], high: [] };
	for (let cell = 0; cell < cells; cell++) {
		const centre = (cell + 0.5) * width;
		const near = values.filter((_, i) => Math.abs(times[i]! - centre) < width);
		if (near.length < 10) continue;
		const [low = 0, median = 0, high = 0] = sampleQuantiles(near, [0.05, 0.5, 0.95]);
		out.time.push(centre);
		out.low.push(low);
		out.median.push(median);
		out.high.push(high);
	}
	return out;
}

/** 'Had it opened before 1.1 s, the turn would have been 9° or more in 95 of 100 flights; 2° was seen.' */
function excluded({ label, observed, side, dimension, unit }: Seen, { time, low }: Series): string[] {
	if (side !== 'not known') return [];
	const show = (si: number) => formatSi(si, dimension, { unit, figures: 2 });
	let to = 0;
	while (to < time.length && low[to]! > observed) to++;
	return to === 0
		? []
		: [
				`Had it opened before ${secondsText(time[to - 1]!)}, ${label} would have been ${show(Math.min(...low.slice(0, to)))} or more in 95 of 100 flights; ${show(observed)} was seen.`
			];
}

export function figure({
	nominal: x,
	observations,
	series,
	outputs
}: FigureContext<Inputs>): Figure | undefined {
	const [o = TURN] = observations as readonly Seen[];
	if (!series) {
		const { low90 = 0, high90 = 0, nominal = 0 } = outputs['force'] ?? {};
		return {
			title: `The jet pushes with ${force(nominal)}`,
			x: { label: 'Side force', unit: 'N', min: 0 },
			y: { label: '', unit: '1' },
			layers: [
				{
					kind: 'rows',
					label: 'force',
					rows: [
						{ label: 'Jet through the hole', value: nominal, low: low90, high: high90 },
						{ label: 'Pressure × area, by hand', value: leakOf(x).handRuleN }
					]
				}
			]
		};
	}
	const { time, low, median, high } = series as Series;
	const show = (si: number) => fromSi(si, o.unit, o.dimension);
	const { low90, high90 } = outputs['opened'] ?? {};
	return {
		title:
			low90 === undefined || high90 === undefined
				? 'How far the path turns, by the moment at which the hole opens'
				: `If it opened in the burn, then between ${secondsText(low90)} and ${secondsText(high90)}`,
		x: { label: 'Moment of opening, after ignition', unit: 's', min: 0, max: x.burnTime! },
		y: {
			label: `${o.dimension === 'angle' ? 'Turn' : 'Drift'} by burnout${o.side === 'not known' ? '' : `, ${o.side === 'away' ? 'away from' : 'toward'} the hole`}`,
			unit: o.unit,
			...(o.side === 'not known' ? { min: 0 } : {})
		},
		layers: [
			{ kind: 'band', label: '90 of 100 flights', x: time, low: low.map(show), high: high.map(show) },
			{ kind: 'line', label: 'median', points: time.map((t, i) => [t, show(median[i]!)]) },
			...(observations.length
				? [
						{
							kind: 'rule' as const,
							axis: 'y' as const,
							label: 'seen',
							at: show(o.observed),
							halfWidth: 2 * show(o.sd)
						}
					]
				: [])
		]
	};
}
