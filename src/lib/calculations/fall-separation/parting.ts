import type { FallStart } from '$lib/physics/fall';
import { quantile } from '$lib/probability/distributions';
import type { Random } from '$lib/probability/generator';
import { formatSi } from '$lib/quantity/format';
import type { Observation } from '../calculation';
import { dropper, type Landing } from '../dropping';
import { horizontal, windAlong } from '../through-wind';
import type { Inputs } from './inputs';

export const metres = (m: number) => formatSi(m, 'length', { unit: 'm', figures: 3 });

export const ballisticOf = (p: Inputs['pieces'][number]) =>
	p.ballisticCoefficient ?? (p.mass ?? NaN) / (p.dragArea ?? NaN);

/** Unit vector of a random direction in space. */
function direction(random: Random): [number, number, number] {
	const up = 2 * random() - 1;
	const turn = 2 * Math.PI * random();
	const flat = Math.sqrt(1 - up * up);
	return [flat * Math.sin(turn), flat * Math.cos(turn), up];
}

/**
 * One sample's parting, its chances drawn once and the same at whatever height: the landings of all pieces, for each
 * of the heights.
 */
export function partAt(x: Inputs, heights: readonly number[], random: Random, precise: boolean): Landing[][] {
	const drop = dropper(x, precise);
	const scatter = () => x.driftScatter * quantile({ kind: 'normal', mean: 0, sd: 1 }, random());
	const drift = x.groundSpeed === undefined ? [scatter(), scatter()] : undefined;
	const [east, north] = drift ?? horizontal(x.groundSpeed!, x.heading, random, precise);
	const wind = drift && windAlong(x);
	const pieces = x.pieces.map((piece, i) => {
		const [de, dn, du] = i === 0 || precise ? [0, 0, 0] : direction(random);
		const starts = heights.map((height): FallStart => {
			const [windEast, windNorth] = wind?.(height) ?? [0, 0];
			return {
				eastM: 0,
				northM: 0,
				upM: height,
				vEastMS: windEast + east! + x.partingSpeed * de,
				vNorthMS: windNorth + north! + x.partingSpeed * dn,
				vUpMS: x.climbRate + x.partingSpeed * du
			};
		});
		return drop(ballisticOf(piece), starts);
	});
	return heights.map((_, k) => pieces.map((landings) => landings[k]!));
}

/** Offsets [east, north] of the observed pieces from the first, for each of the heights. */
export function offsets(
	x: Inputs,
	heights: readonly number[],
	observations: readonly Observation[],
	random: Random
): [number, number][][] {
	return partAt(x, heights, random, false).map(([first, ...others]) =>
		observations.map(({ member = 1 }): [number, number] => {
			const piece = others[member - 1]!;
			return [piece.east - first!.east, piece.north - first!.north];
		})
	);
}
