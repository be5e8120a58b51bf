import { sampleWeights, type Component } from '$lib/probability/density';
import { effectiveSize, sampleQuantiles, weightedQuantiles } from '$lib/probability/summary';
import type { Addition, AdditionContext, FigureContext, Observation } from '../calculation';
import type { Figure } from '../figure';
import { emptyComponents, spreadsOf } from '../likelihood';
import { rateOfBallistic, windAlong } from '../through-wind';
import { Gathered, sqrtDensity } from './heights';
import type { Inputs } from './inputs';
import { nameOf } from './observed';
import { Order } from './order';
import { ballisticOf, metres, offsets } from './parting';
import { steadyHeightUncertainty, steadyReleaseHeight } from './steady';

interface Series {
	label: string;
	height: number[];
	low: number[];
	median: number[];
	high: number[];
}

/** Heights at which every sample parts, closer together near the ground, where a metre of height tells most. */
const STEPS = 40;
/**
 * Every sample parts at heights all the way up, its other chances the same at each, so that whichever height explains
 * the places is seen by all samples: band, posterior and statements.
 */
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
	const draws = random('release height');
	const greatestOfAll = samples.reduce((most, x) => Math.max(most, x.highestParting!), 0);
	const density = sqrtDensity(nominal, greatestOfAll);
	const distances = Array.from({ length: STEPS }, () => new Float64Array(samples.length));
	const gathered = new Gathered(greatestOfAll);
	const order = watched.length > 1 ? new Order(watched, greatestOfAll) : undefined;
	for (const [i, x] of samples.entries()) {
		const greatest = x.highestParting!;
		const shift = draws();
		const heights = Array.from({ length: STEPS }, (_, k) => greatest * ((k + shift) / STEPS) ** 2);
		const places = offsets(x, heights, watched, draws);
		const components = emptyComponents(watched, STEPS);
		for (const [k, at] of places.entries()) {
			fill(components, k, at);
			// Taken to the middle of its step, so that samples may be compared.
			distances[k]![i] = (Math.hypot(...at[0]!) * ((k + 0.5) / STEPS) ** 2 * highestParting) / heights[k]!;
		}
		const each = components.map((c) => sampleWeights([c]));
		// Every moment of a steady descent counts alike: the density of heights goes as √ρ.
		const prior = heights.map(
			(h, k) => (density.at(h) * 2 * greatest * (k + shift)) / (STEPS ** 2 * density.below(greatest))
		);
		const likely = prior.map((_, k) => each.reduce((product, weights) => product * weights[k]!, 1));
		gathered.add(
			heights,
			likely.map((l, k) => l * prior[k]!),
			Math.max(...likely)
		);
		order?.add(
			heights,
			each.map((weights) => weights.map((w, k) => w * prior[k]!)),
			prior
		);
		if (i % 100 === 99) yield;
	}
	const series = bands(watched[0]!.label, highestParting, distances);
	const prior =
		'Before the places of the pieces are looked at, every moment of a steady descent from the greatest height to the ground counts as equally probable.';
	if (!observations.length) return { series, statements: [] };

	const warnings: string[] = [];
	const fits = gathered.best >= 0.1;
	const size = effectiveSize(gathered.ofSamples);
	const few = size < 100;
	if (few) warnings.push('Run more samples before using the release height.');
	const [low = 0, , high = 0] = weightedQuantiles(gathered.heights, gathered.weights, [0.05, 0.5, 0.95]);
	const statements = [
		...(fits
			? []
			: [
					`No height up to ${metres(highestParting)} puts the pieces where they lay: look at their places, the wind and the pieces again before any release height is used.`
				]),
		few
			? `Only about ${Math.round(size)} of ${samples.length} samples explain the places; from these, if they parted in the air, they did so roughly between ${metres(low)} and ${metres(high)}. ${prior}`
			: fits
				? `If they parted in the air, they did so between ${metres(low)} and ${metres(high)} with 90 % probability. ${prior}`
				: `The least bad heights lie between ${metres(low)} and ${metres(high)}. ${prior}`,
		...(order?.statements() ?? []),
		...exclusion(observations[0]!, series),
		...handRule(nominal, observations[0]!)
	];
	if (order)
		warnings.push(
			'For the order in which they parted each piece is compared with the first as if it alone had left it: that the body fell a little differently before the others were gone is left out.'
		);
	const outputs = [
		{ id: 'inferredHeight', samples: gathered.heights, weights: gathered.weights },
		...(order?.outputs() ?? []),
		...speeds(samples, gathered.ofSamples)
	];
	return { outputs, series, statements, warnings };
}

/** The speeds at parting that the places speak for, where they were left open. */
function speeds(samples: readonly Inputs[], weights: readonly number[]) {
	return (['groundSpeed', 'climbRate'] as const).flatMap((id) => {
		const values = samples.map((x) => x[id]);
		const open = values[0] !== undefined && values.some((value) => value !== values[0]);
		if (!open) return [];
		const asked = { samples: Float64Array.from(values as number[]), weights: Float64Array.from(weights) };
		return [{ id: `inferred-${id}`, ...asked }];
	});
}

function fill(components: readonly Component[], i: number, places: readonly [number, number][]): void {
	components.forEach((c, k) => {
		const [east, north] = places[k]!;
		if (c.kind === 'offset') [c.predictedEast[i], c.predictedNorth[i]] = [east, north];
		else c.predicted[i] = Math.hypot(east, north);
	});
}

/** Distance by height: 5 %, median and 95 % of the samples at each step. */
function bands(label: string, highest: number, distances: readonly Float64Array[]): Series {
	const out: Series = { label, height: [0], low: [0], median: [0], high: [0] };
	// In the lowest step the shift within it is as large as the height itself.
	for (const [k, step] of distances.entries()) {
		if (k === 0) continue;
		const [low = 0, median = 0, high = 0] = sampleQuantiles(step, [0.05, 0.5, 0.95]);
		out.height.push(highest * ((k + 0.5) / STEPS) ** 2);
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
	const wind = Math.hypot(...windAlong(x)(10));
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
