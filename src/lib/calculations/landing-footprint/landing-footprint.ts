import { formatSi } from '$lib/quantity/format';
import {
	defineCalculation,
	type Addition,
	type AdditionContext,
	type Evidence,
	type FigureContext,
	type Observation,
	type QuantityField
} from '../calculation';
import type { Figure } from '../figure';
import { NONE_OF_THESE, spreadsOf } from '../likelihood';
import { windLimits } from '../through-wind';
import { INPUTS, OBSERVED, type Inputs } from './inputs';
import { inRegion, regionsOf, type Region } from './regions';
import { DESCENTS, descend, type Descent } from './scenarios';

const possible = (x: Inputs) => DESCENTS.filter((d) => d.missing(x) === undefined);

/** Puts where and when into the order of the observations. */
const inOrder = (observations: readonly Observation[], place: [number, number], time: number) =>
	observations.map((o) => (o.kind === 'scalar' ? time : place));

const REACH: QuantityField = {
	kind: 'quantity',
	id: 'reach',
	label: 'How far it could have got',
	dimension: 'length',
	unit: 'm',
	range: { above: 0, max: 200_000 }
};

const evidence: Evidence<Inputs> = {
	observed: OBSERVED,
	trials: 'descents',
	observations(values, _, sd) {
		const { east, north, descentTime } = values as Record<string, number | undefined>;
		if ((east === undefined) !== (north === undefined))
			return 'east and north of the pad belong together; one is missing';
		const out: Observation[] = [];
		if (east !== undefined && north !== undefined)
			out.push({ kind: 'offset', label: 'it', east, north, eastSd: sd('east'), northSd: sd('north') });
		if (descentTime !== undefined)
			out.push({
				kind: 'scalar',
				label: 'the descent',
				dimension: 'time',
				unit: 's',
				observed: descentTime,
				sd: sd('descentTime')
			});
		const exact = out.some((o) => Math.min(...spreadsOf(o)) <= 0);
		return exact
			? 'nothing is known exactly: give each observed value its uncertainty, such as 95 ± 2 s'
			: out;
	},
	scenarios: [
		...DESCENTS.map((d) => ({
			id: d.id,
			label: d.label,
			help: d.help,
			inputs: [],
			check(_: unknown, x: Inputs) {
				const missing = d.missing(x);
				return missing === undefined ? undefined : `“${d.label}” needs “${missing}”`;
			},
			predict(x: Inputs, _: unknown, observations: readonly Observation[], random: () => number) {
				const { east, north, time } = descend(x, d, random, false);
				return inOrder(observations, [east, north], time);
			}
		})),
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Anything else: any distance from the pad up to the reach and any time up to a drift of twice the slowest descent.',
			inputs: [REACH],
			distribution:
				'Any distance from the pad up to the reach (by default twice the apogee height) is equally probable, in any direction; any descent time up to apogee height at 2 m/s.',
			predict(x, { reach = 2 * x.apogeeHeight }, observations, random) {
				const [r, turn, t] = [reach * random(), 2 * Math.PI * random(), random()];
				return inOrder(observations, [r * Math.sin(turn), r * Math.cos(turn)], (t * x.apogeeHeight) / 2);
			}
		}
	],
	defaultScenarios: (x) => [...possible(x).map((d) => ({ id: d.id })), { id: NONE_OF_THESE }]
};

/** What the plan view draws for one descent scenario: rings in metres east and north of the pad. */
export interface Footprint {
	id: string;
	label: string;
	/** Median landing place. */
	east: number;
	north: number;
	regions: Region[];
}

/** Regions of 50, 90 and 99 % for every scenario that the inputs allow. */
function* footprints({
	nominal,
	samples,
	observations,
	random
}: AdditionContext<Inputs>): Generator<void, Addition> {
	const series: Footprint[] = [];
	const statements: string[] = [];
	const place = observations.find((o) => o.kind === 'offset');
	for (const descent of possible(nominal)) {
		const draws = random(`footprint ${descent.id}`);
		// A picture needs no more than this.
		const drawn = samples.slice(0, 2000);
		const east = new Float64Array(drawn.length);
		const north = new Float64Array(drawn.length);
		for (const [i, x] of drawn.entries()) {
			({ east: east[i], north: north[i] } = descend(x, descent, draws, false));
			if (i % 100 === 99) yield;
		}
		const regions = regionsOf(east, north);
		const middle = (v: Float64Array) => v.slice().sort()[v.length >> 1]!;
		series.push({ id: descent.id, label: descent.label, east: middle(east), north: middle(north), regions });
		if (place) statements.push(within(descent, regions, place));
	}
	return { series, statements };
}

function within({ label }: Descent, regions: readonly Region[], o: Observation & { kind: 'offset' }): string {
	const inner = regions.find((r) => inRegion(r, o.east, o.north));
	return inner
		? `${label}: it was found inside the region that holds ${Math.round(100 * inner.level)} of 100 such landings.`
		: `${label}: it was found outside the region that holds 99 of 100 such landings.`;
}

function figure({ observations, series }: FigureContext<Inputs>): Figure {
	const prints = series as Footprint[];
	const place = observations.find((o) => o.kind === 'offset');
	return {
		title: `Where each descent would ${place ? 'have put it, and where it was found' : 'put it'}: hatched 90 of 100, dashed 50, dotted 99`,
		x: { label: 'East of the pad', unit: 'm' },
		y: { label: 'North of the pad', unit: 'm' },
		equalScale: true,
		layers: [
			...prints.flatMap((f, i) =>
				f.regions.map(({ level, rings }) => ({
					kind: 'region' as const,
					label: `${f.label}, ${Math.round(100 * level)} %`,
					polygons: rings,
					hatch: i,
					...(level === 0.9
						? { strong: true }
						: { only: level < 0.9 ? ('dashed' as const) : ('dotted' as const) })
				}))
			),
			{ kind: 'point' as const, label: 'pad', x: 0, y: 0 },
			...(place
				? [
						{
							kind: 'point' as const,
							label: 'found',
							x: place.east,
							y: place.north,
							radius: 2.45 * Math.max(place.eastSd, place.northSd)
						}
					]
				: [])
		]
	};
}

export const landingFootprint = defineCalculation({
	id: 'landing-footprint',
	title: 'Landing footprint',
	question:
		'Where would each kind of descent have put it, how long would that take, and which one fits where and when it came down?',
	version: 3,
	inputs: INPUTS,
	outputs: [
		{ id: 'distance', label: 'Distance from the pad', dimension: 'length', unit: 'm', main: true },
		{ id: 'east', label: 'East of the pad', dimension: 'length', unit: 'm' },
		{ id: 'north', label: 'North of the pad', dimension: 'length', unit: 'm' },
		{ id: 'descentTime', label: 'Time from apogee to landing', dimension: 'time', unit: 's', main: true },
		{ id: 'impactSpeed', label: 'Speed at landing, wind included', dimension: 'speed', unit: 'm/s' }
	],
	sources: [
		{
			text: 'Quadratic drag on a point mass; checked against independent numerical integration',
			basis: 'hand-worked'
		},
		{ text: 'U.S. Standard Atmosphere 1976, as transcribed in the tests of CalebBell/fluids', basis: 'seen' },
		{ text: 'Hyndman, Computing and graphing highest density regions, 1996', basis: 'from memory' },
		{ text: 'Spreads of rates, apogee place and wind', basis: 'common practice, no source' }
	],
	docs: 'methods/landing-footprint.md',
	cautions: [
		'A footprint is no safety distance. Where people may stand is set by the range’s safety code, local law and the range officer.',
		'Approach what came down as if every charge and igniter in it were live, until a competent person has made it safe.'
	],
	check(x) {
		if (x.mainHeight !== undefined && x.mainHeight > x.apogeeHeight)
			return `the main opens at ${formatSi(x.mainHeight, 'length', { unit: 'm' })}, above the apogee; check both heights`;
		return possible(x).length
			? undefined
			: 'give at least one descent rate: under the drogue, under the main, or with no parachute';
	},
	model(x, random, precise) {
		const landings = possible(x).map((d) => [d.label, descend(x, d, random, precise)] as const);
		const each = (value: (l: (typeof landings)[number][1]) => number) =>
			Object.fromEntries(landings.map(([label, l]) => [label, value(l)]));
		return {
			distance: each((l) => Math.hypot(l.east, l.north)),
			east: each((l) => l.east),
			north: each((l) => l.north),
			descentTime: each((l) => l.time),
			impactSpeed: each((l) => l.speed)
		};
	},
	limits(x) {
		const out = windLimits(x, x.apogeeHeight);
		const left = DESCENTS.flatMap((d) => {
			const missing = d.missing(x);
			return missing === undefined ? [] : [`${d.label} (needs “${missing}”)`];
		});
		if (x.drogueRate !== undefined && x.mainRate !== undefined && x.drogueRate <= x.mainRate)
			out.push(
				'The descent rate under the drogue is no faster than under the main: the two look swapped. Check both.'
			);
		if (left.length) out.push(`Not computed: ${left.join(', ')}.`);
		if (x.mainRate !== undefined || x.drogueRate !== undefined)
			out.push(
				'Each parachute is taken to be fully open at once at its height; a canopy that glides, or is dragged after landing, comes down elsewhere.'
			);
		return out;
	},
	evidence,
	addition: footprints,
	figure
});
