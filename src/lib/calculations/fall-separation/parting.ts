import { quantile } from '$lib/probability/distributions';
import type { Random } from '$lib/probability/generator';
import { formatSi } from '$lib/quantity/format';
import type { Observation } from '../calculation';
import { dropper, horizontal, windAt } from '../through-wind';
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

/** Landings of all pieces that part at this height, with this sample's speeds. */
export function partAt(x: Inputs, height: number, random: Random, precise: boolean) {
	const drop = dropper(x, precise);
	const scatter = () => x.driftScatter * quantile({ kind: 'normal', mean: 0, sd: 1 }, random());
	let [vEastMS, vNorthMS] = windAt(x, height);
	if (x.groundSpeed === undefined) {
		vEastMS += scatter();
		vNorthMS += scatter();
	} else [vEastMS, vNorthMS] = horizontal(x.groundSpeed, x.heading, random, precise);
	return x.pieces.map((piece, i) => {
		const [de, dn, du] = i === 0 || precise ? [0, 0, 0] : direction(random);
		return drop(ballisticOf(piece), {
			eastM: 0,
			northM: 0,
			upM: height,
			vEastMS: vEastMS + x.partingSpeed * de,
			vNorthMS: vNorthMS + x.partingSpeed * dn,
			vUpMS: x.climbRate + x.partingSpeed * du
		});
	});
}

/** Offsets [east, north] of the observed pieces from the first. */
export function offsets(
	x: Inputs,
	height: number,
	observations: readonly Observation[],
	random: Random
): [number, number][] {
	const [first, ...others] = partAt(x, height, random, false);
	return observations.map(({ member = 1 }) => {
		const piece = others[member - 1]!;
		return [piece.east - first!.east, piece.north - first!.north];
	});
}
