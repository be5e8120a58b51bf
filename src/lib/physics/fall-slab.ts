import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';

/** Place of the first of two Gauss points from the foot, as a share of the thickness; the other lies as far from the top. */
export const GAUSS = 0.5 - Math.sqrt(3) / 6;

/** Numbers that `crossSlab` takes and gives. They pass in arrays, since a call would put each into an object. */
export const SLAB = 12;
export const CROSSED = 9;

/**
 * A steady fall through a slab of air in which the wind has one slope, in closed form; `makeFaller` says how. SI.
 * @param slab     thickness; densities, then lags (-d ln ρ/dz over 2 g), at the lower and the upper Gauss point; wind
 *                 east and north at the foot, then at the top; slip (speed relative to the air) at the top; 2 B g
 * @param crossed  east, north and time from top to foot; slip at the foot; share that is left there of a difference
 *                 from the slip tended to; that slip; the exponent of the share
 */
export function crossSlab(slab: Float64Array, crossed: Float64Array): void {
	const thick = slab[0]!;
	const e0 = slab[5]!;
	const n0 = slab[6]!;
	const e1 = slab[7]!;
	const n1 = slab[8]!;
	const w1 = slab[11]! / slab[1]!;
	const w2 = slab[11]! / slab[2]!;
	const x1 = w1 * slab[3]!;
	const x2 = w2 * slab[4]!;
	const s1 = Math.sqrt(w1 * (1 + x1 * (1 + 2 * x1)));
	const s2 = Math.sqrt(w2 * (1 + x2 * (1 + 2 * x2)));
	const t1 = (0.5 * thick) / s1;
	const t2 = (0.5 * thick) / s2;
	const time = t1 + t2;
	const tau = (0.5 / G) * (w1 / s1 + w2 / s2);
	const toE = ((e1 - e0) * tau) / time;
	const toN = ((n1 - n0) * tau) / time;
	const offE = slab[9]! - toE;
	const offN = slab[10]! - toN;
	const fade = time / tau;
	const left = Math.exp(-fade);
	const eased = tau * (1 - left);
	// The drag of the sideways slip slows the fall, and shortens the slip, by the mean of slip²/4s².
	const slower =
		1 +
		(toE * toE +
			toN * toN +
			((2 * (toE * offE + toN * offN) + 0.5 * (offE * offE + offN * offN) * (1 + left)) * eased) / time) /
			(4 * s1 * s2);
	const lowE = e0 + (e1 - e0) * GAUSS;
	const lowN = n0 + (n1 - n0) * GAUSS;
	crossed[0] = slower * (t1 * lowE + t2 * (e0 + e1 - lowE)) + (toE * time + offE * eased) / slower;
	crossed[1] = slower * (t1 * lowN + t2 * (n0 + n1 - lowN)) + (toN * time + offN * eased) / slower;
	crossed[2] = slower * time;
	crossed[3] = toE + offE * left;
	crossed[4] = toN + offN * left;
	crossed[5] = left;
	crossed[6] = toE;
	crossed[7] = toN;
	crossed[8] = fade;
}
