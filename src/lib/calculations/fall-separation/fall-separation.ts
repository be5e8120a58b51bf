import { defineCalculation } from '../calculation';
import { rateOfBallistic, windAlong, windLimits } from '../through-wind';
import { evidence } from './evidence';
import { figure, releaseHeights } from './inference';
import { INPUTS, type Inputs } from './inputs';
import { nameOf } from './observed';
import { ballisticOf, metres, partAt } from './parting';
import { steadySeparation } from './steady';

/** An apogee is seldom known better than this; common practice, no source. */
const HEIGHTS_AGREE = 1.1;

function limits(x: Inputs, handDistance?: number, computed?: number): string[] {
	const from = Math.max(x.releaseHeight ?? 0, x.highestParting ?? 0);
	const out = windLimits(x, from);
	const coefficients = x.pieces.map(ballisticOf);
	const first = coefficients[0]!;
	for (let i = 1; i < coefficients.length; i++)
		if (Math.abs(coefficients[i]! / first - 1) < 0.25)
			out.push(
				`${nameOf(x, i)} and ${nameOf(x, 0)} fall almost alike: their distance says little about the height.`
			);
	out.push(
		'Each piece keeps one ballistic coefficient all the way. A tube falls 3.5 times as fast end-on as broadside: where it is not known how a piece fell, its range must hold both.'
	);
	if (coefficients.some((b) => b < 2))
		out.push(
			'A piece this light falls like a canopy: it may slide or be dragged by the wind after landing, which is not included.'
		);
	if (x.groundSpeed === undefined)
		out.push(
			'The speed at parting is not known; pieces that left with different velocities, or while still flying fast, land elsewhere.'
		);
	if (
		handDistance !== undefined &&
		computed !== undefined &&
		Math.abs(handDistance - computed) > 0.2 * Math.max(computed, 5)
	)
		out.push(
			`The hand rule w·h·(1/v1 − 1/v2) would give ${metres(handDistance)} instead of ${metres(computed)}: it takes steady speeds from the first moment (a fall from rest needs (v/g)·ln 2 more time), one wind and sea-level air, and drops the speed at parting.`
		);
	return out;
}

export const fallSeparation = defineCalculation({
	id: 'fall-separation',
	title: 'Fall separation',
	question: 'Did these pieces part in the air, at which height, or only when they hit the ground?',
	version: 3,
	inputs: INPUTS,
	outputs: [
		{ id: 'distance', label: 'Distance from the first piece', dimension: 'length', unit: 'm', main: true },
		{ id: 'east', label: 'East of the first piece', dimension: 'length', unit: 'm' },
		{ id: 'north', label: 'North of the first piece', dimension: 'length', unit: 'm' },
		{ id: 'fallTime', label: 'Time of fall', dimension: 'time', unit: 's' },
		{ id: 'impactSpeed', label: 'Speed at impact', dimension: 'speed', unit: 'm/s' },
		{ id: 'handRule', label: 'Distance by the hand rule, for comparison', dimension: 'length', unit: 'm' },
		{
			id: 'inferredHeight',
			label: 'Height at which they parted, if in the air',
			dimension: 'length',
			unit: 'm',
			main: true
		},
		{
			id: 'ownHeight',
			label: 'Height at which it left the first piece, by its own place',
			dimension: 'length',
			unit: 'm'
		},
		{
			id: 'inferred-groundSpeed',
			label: 'Horizontal speed at parting, by where they lay',
			dimension: 'speed',
			unit: 'm/s'
		},
		{
			id: 'inferred-climbRate',
			label: 'Vertical speed at parting, upward, by where they lay',
			dimension: 'speed',
			unit: 'm/s'
		}
	],
	sources: [
		{
			text: 'Quadratic drag on a point mass; checked against independent numerical integration',
			basis: 'hand-worked'
		},
		{ text: 'U.S. Standard Atmosphere 1976, as transcribed in the tests of CalebBell/fluids', basis: 'seen' },
		{
			text: '14 CFR 417.211 and 450.121: debris analyses account for wind, drag and initial-state uncertainty',
			basis: 'seen'
		},
		{ text: 'Scatter at impact, at parting and of drag', basis: 'common practice, no source' }
	],
	docs: 'methods/fall-separation.md',
	check(x) {
		const missing = x.pieces.findIndex((p) => !(ballisticOf(p) > 0));
		if (missing >= 0)
			return {
				path: `pieces.${missing + 1}.ballisticCoefficient`,
				message: `${nameOf(x, missing)}: give its ballistic coefficient, or its mass and drag area`
			};
		const double = x.pieces.findIndex(
			(p) => p.ballisticCoefficient !== undefined && p.dragArea !== undefined
		);
		if (double >= 0)
			return `${nameOf(x, double)}: give its ballistic coefficient, or its mass and drag area, not both`;
		const names = x.pieces.map((_, i) => nameOf(x, i).toLowerCase());
		const twice = names.findIndex((name, i) => names.indexOf(name) < i);
		if (twice >= 0) return `two pieces are called ${nameOf(x, twice)}; give each its own name`;
		if (x.releaseHeight === undefined && x.highestParting === undefined)
			return {
				path: 'highestParting',
				message: 'give the height at which they parted, or the greatest height at which they may have'
			};
		if (
			x.releaseHeight !== undefined &&
			x.highestParting !== undefined &&
			x.releaseHeight > HEIGHTS_AGREE * x.highestParting
		)
			return `they can’t have parted at ${metres(x.releaseHeight)} when the greatest height at which they may have is ${metres(x.highestParting)}; check both`;
		return undefined;
	},
	model(x, random, precise) {
		if (x.releaseHeight === undefined) return {};
		const [[first, ...others] = []] = partAt(x, [x.releaseHeight], random, precise);
		const each = (value: (i: number) => number) =>
			Object.fromEntries(others.map((_, i) => [nameOf(x, i + 1), value(i)]));
		const wind = Math.hypot(...windAlong(x)(x.releaseHeight / 2));
		const rate = (i: number) => rateOfBallistic(ballisticOf(x.pieces[i]!));
		const all = [first!, ...others];
		return {
			distance: each((i) => Math.hypot(others[i]!.east - first!.east, others[i]!.north - first!.north)),
			east: each((i) => others[i]!.east - first!.east),
			north: each((i) => others[i]!.north - first!.north),
			fallTime: Object.fromEntries(all.map((p, i) => [nameOf(x, i), p.time])),
			impactSpeed: Object.fromEntries(all.map((p, i) => [nameOf(x, i), p.speed])),
			handRule: each((i) => Math.abs(steadySeparation(wind, x.releaseHeight!, rate(i + 1), rate(0))))
		};
	},
	limits(x, nominal) {
		const one = (id: string) => (nominal[id] as Record<string, number> | undefined)?.[nameOf(x, 1)];
		return limits(x, one('handRule'), one('distance'));
	},
	evidence,
	addition: releaseHeights,
	figure
});
