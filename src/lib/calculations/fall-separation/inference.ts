import { sampleWeights, type Component } from '$lib/probability/density';
import { effectiveSize, sampleQuantiles, weightedQuantiles } from '$lib/probability/summary';
import type { Addition, AdditionContext, FigureContext, Observation } from '../calculation';
import type { Figure } from '../figure';
import { emptyComponents, spreadsOf } from '../likelihood';
import { airOf, rateOfBallistic, uniformInTime, windAt } from '../through-wind';
import type { Inputs } from './inputs';
import { nameOf } from './observed';
import { ballisticOf, metres, offsets } from './parting';
import { steadyHeightUncertainty, steadyReleaseHeight } from './steady';

interface Series {
	label: string;
	height: number[];
	low: number[];
	median: number[];
	high: number[];
}

/** Every sample with a release height of its own, spread evenly over the prior: band, posterior and statements. */
export function* releaseHeights({
	nominal,
	samples,
	observations,
	random
}: AdditionContext<Inputs>): Generator<void, Addition> {
	const { highestParting } = nominal;
	if (highestParting === undefined)
		return observations.length
			? {
					warnings: [
						'Without a greatest height at which they may have parted, no release height is inferred.'
					]
				}
			: {};
	const watched: readonly Observation[] = observations.length
		? observations
		: [{ kind: 'distance', label: nameOf(nominal, 1), observed: 0, sd: 1, member: 1 }];
	const n = samples.length;
	const draws = random('release height');
	const heights = new Float64Array(n);
	const components = emptyComponents(watched, n);
	const distances = new Float64Array(n);
	for (const [i, x] of samples.entries()) {
		// Evenly spread over the prior in a scattered order, so that neighbours in height do not share other inputs.
		const p = (((i * 0.6180339887498949) % 1) + draws() / n) % 1;
		heights[i] = uniformInTime(airOf(x), 0, x.highestParting!)(p);
		const places = offsets(x, heights[i], watched, draws);
		fill(components, i, places);
		distances[i] = Math.hypot(...places[0]!);
		if (i % 100 === 99) yield;
	}
	const series = bands(watched[0]!.label, heights, distances, highestParting);
	const prior =
		'Before the places of the pieces are looked at, every moment of a steady descent from the greatest height to the ground counts as equally probable.';
	if (!observations.length) return { series, statements: [] };

	const weights = sampleWeights(components);
	const best = weights.reduce((a, b) => Math.max(a, b), 0);
	const size = effectiveSize(weights);
	const warnings: string[] = [];
	if (best < 0.1)
		warnings.push(
			`No height up to ${metres(highestParting)} puts the pieces where they lay; the release height below is only the least bad one.`
		);
	const few = size < 100;
	if (few) warnings.push('Run more samples before using the release height.');
	const [low = 0, , high = 0] = weightedQuantiles(heights, weights, [0.05, 0.5, 0.95]);
	const statements = [
		few
			? `Only about ${Math.round(size)} of ${n} samples explain the places; from these, if they parted in the air, they did so roughly between ${metres(low)} and ${metres(high)}. ${prior}`
			: `If they parted in the air, they did so between ${metres(low)} and ${metres(high)} with 90 % probability. ${prior}`,
		...exclusion(observations[0]!, series),
		...handRule(nominal, observations[0]!)
	];
	return { outputs: [{ id: 'inferredHeight', samples: heights, weights }], series, statements, warnings };
}

function fill(components: readonly Component[], i: number, places: readonly [number, number][]): void {
	components.forEach((c, k) => {
		const [east, north] = places[k]!;
		if (c.kind === 'offset') [c.predictedEast[i], c.predictedNorth[i]] = [east, north];
		else c.predicted[i] = Math.hypot(east, north);
	});
}

/** Distance by height: 5 %, median and 95 % of the samples around each of some equal steps of height. */
function bands(label: string, heights: Float64Array, distances: Float64Array, highest: number): Series {
	const cells = Math.max(8, Math.min(40, Math.floor(heights.length / 100)));
	const width = highest / cells;
	const out: Series = { label, height: [0], low: [0], median: [0], high: [0] };
	for (let cell = 0; cell < cells; cell++) {
		// Each step looks a step to either side too, relative to the height, so that few samples make a smooth band.
		const centre = (cell + 0.5) * width;
		const inside = distances
			.map((d, i) => (Math.abs(heights[i]! - centre) < 1.5 * width ? (d * centre) / heights[i]! : NaN))
			.filter(Number.isFinite);
		if (inside.length < 10) continue;
		const [low = 0, median = 0, high = 0] = sampleQuantiles(inside, [0.05, 0.5, 0.95]);
		out.height.push(centre);
		out.low.push(low);
		out.median.push(median);
		out.high.push(high);
	}
	return out;
}

function measuredDistance(o: Observation): number {
	if (o.kind === 'outcome') throw new Error('a place is no outcome');
	return o.kind === 'offset' ? Math.hypot(o.east, o.north) : o.observed;
}

/** 'Had it left above 240 m, it would lie 9.0 m away or more in 95 of 100 falls; 2.1 m was measured.' */
function exclusion(o: Observation, { height, low }: Series): string[] {
	const observed = measuredDistance(o);
	// The lowest height from which on the fifth percentile stays beyond what was measured.
	let from = height.length;
	while (from > 1 && low[from - 1]! > observed) from--;
	if (from >= height.length) return [];
	const least = Math.min(...low.slice(from));
	return [
		`Had ${o.label} parted above ${metres(height[from]!)}, it would lie ${metres(least)} away or more in 95 of 100 falls; ${metres(observed)} was measured.`
	];
}

/** What the hand rule would have said, so that nobody wonders why it differs. */
function handRule(x: Inputs, o: Observation): string[] {
	const [v1, v2] = [
		rateOfBallistic(ballisticOf(x.pieces[o.member ?? 1]!)),
		rateOfBallistic(ballisticOf(x.pieces[0]!))
	];
	const wind = Math.hypot(...windAt(x, 10));
	if (wind < 0.5 || Math.abs(v1 / v2 - 1) < 0.05) return [];
	const separation = measuredDistance(o) * Math.sign(1 / v1 - 1 / v2);
	const height = steadyReleaseHeight(separation, wind, v1, v2);
	const { total } = steadyHeightUncertainty({
		height,
		wind,
		v1,
		v2,
		uSeparation: Math.max(...spreadsOf(o)),
		uWind: 0.2 * wind,
		uV1: 0.1 * v1,
		uV2: 0.1 * v2
	});
	return [
		`The hand rule (steady speeds from the first moment, the wind at 10 m all the way up) would say ${metres(height)} ± ${metres(total)}; it leaves out the wind aloft, the start of the fall and the speed at parting.`
	];
}

export function figure({ observations, series }: FigureContext<Inputs>): Figure | undefined {
	if (!series) return undefined;
	const s = series as Series;
	const [o] = observations;
	return {
		title: o
			? `How far ${s.label} would lie for each height, and how far it lay`
			: `How far ${s.label} would lie for each height at which it parted`,
		x: { label: 'Height at which they parted', unit: 'm', min: 0 },
		y: { label: `Distance of ${s.label} from the first piece`, unit: 'm', min: 0 },
		layers: [
			{ kind: 'band', label: '90 of 100 falls', x: s.height, low: s.low, high: s.high },
			{ kind: 'line', label: 'median', points: s.height.map((h, i) => [h, s.median[i]!]) },
			...(o
				? [
						{
							kind: 'rule' as const,
							axis: 'y' as const,
							label: 'measured',
							at: measuredDistance(o),
							halfWidth: 2 * Math.max(...spreadsOf(o))
						}
					]
				: [])
		]
	};
}
