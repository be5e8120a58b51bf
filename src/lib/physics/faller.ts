import type { Air } from './air';
import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireBallistic } from './fall';
import { HIGHEST_START_M, makeFallLayers } from './fall-layers';

/**
 * Falls by the hundred thousand: the same equations as `fall`, landing within half a metre of it.
 *
 * The start is integrated with the Dormand-Prince 5(4) pair until the piece nearly falls at its terminal speed. From
 * there each layer of air has a closed form: time dz/s with the local terminal speed, its lag behind the growing
 * density to first order, and the horizontal speed relative to the air relaxing with the time constant vt²/(g s). The
 * path below each layer is computed once for a piece and its wind, and shared by all heights it is dropped from
 * (`docs/methods/fall-with-drag.md`).
 */
export interface Faller {
	/**
	 * Takes a piece and the wind at the faller's heights, m/s; both arrays are copied. To know the greatest height of
	 * the drops, their rise included, saves the work above it.
	 */
	load(ballisticKgM2: number, eastMS: ArrayLike<number>, northMS: ArrayLike<number>, highestM?: number): void;
	/** Drops the loaded piece; the answer stands in `landed` until the next drop. */
	drop(eastM: number, northM: number, upM: number, vEastMS: number, vNorthMS: number, vUpMS: number): void;
	/** East, north, up (m), time (s), velocity east, north, up (m/s) at the end of the drop. */
	readonly landed: Float64Array;
}

/** Where the closed form takes over: how far the squares of the speeds may be from terminal, as a share of it. */
const NEAR_DOWN = 0.05;
const NEAR_ACROSS = 0.02;
/** Error allowed in one step of the start. */
const STEP_ERROR_M_S = 0.003;
/** Longest step of the start, in units of vt/g. */
const LONGEST_STEP = 0.7;

// Dormand and Prince's coefficients: fifth and sixth stage, fifth-order sum, difference to the fourth-order one.
const C1 = 19372 / 6561;
const C2 = -25360 / 2187;
const C3 = 64448 / 6561;
const C4 = -212 / 729;
const D1 = 9017 / 3168;
const D2 = -355 / 33;
const D3 = 46732 / 5247;
const D4 = 49 / 176;
const D5 = -5103 / 18656;
const B1 = 35 / 384;
const B3 = 500 / 1113;
const B4 = 125 / 192;
const B5 = -2187 / 6784;
const B6 = 11 / 84;
const R1 = 71 / 57600;
const R3 = -71 / 16695;
const R4 = 71 / 1920;
const R5 = -17253 / 339200;
const R6 = 22 / 525;
const R7 = -1 / 40;

/** Share of a step at which a height that goes from z0 > 0 to z1 <= 0 with slopes d0, d1 a step (a cubic) is 0. */
function crossingShare(z0: number, d0: number, z1: number, d1: number): number {
	let low = 0;
	let high = 1;
	for (let i = 0; i < 30; i++) {
		const x = (low + high) / 2;
		const y = 1 - x;
		const value = y * y * ((1 + 2 * x) * z0 + x * d0) + x * x * ((1 + 2 * y) * z1 - y * d1);
		if (value > 0) low = x;
		else high = x;
	}
	return high;
}

/**
 * @param heightsM heights above the pad at which winds will be given, ascending
 * @param endM     where the drop ends: the ground, or the height at which the next parachute opens
 */
export function makeFaller(air: Air, heightsM: ArrayLike<number>, endM = 0): Faller {
	const layers = makeFallLayers(air, heightsM, endM);
	const { density, height, perM, windE, windN, landed } = layers;
	const winds = heightsM.length;
	const acceleration = new Float64Array(3);
	let halfPerB = 0; // 1/(2B)
	let twoBG = 0; // vt² ρ

	let at = 0; // wind node under the last height asked for: heights change little from call to call
	function accelerate(z: number, ve: number, vn: number, vu: number) {
		let i = at;
		while (z < height[i]!) i--;
		while (z > height[i + 1]!) i++;
		at = i;
		const f = (z - height[i]!) * perM[i]!;
		const ue = ve - (windE[i]! + (windE[i + 1]! - windE[i]!) * f);
		const un = vn - (windN[i]! + (windN[i + 1]! - windN[i]!) * f);
		const drag = density(z) * halfPerB * Math.sqrt(ue * ue + un * un + vu * vu);
		acceleration[0] = -drag * ue;
		acceleration[1] = -drag * un;
		acceleration[2] = -G - drag * vu;
	}

	/** Step factor from the error: near enough its root of minus one fifth, without the price of a power. */
	const growth = (error: number) => 0.8 * Math.sqrt(Math.sqrt(1 / error));

	return {
		landed,
		load(ballisticKgM2, eastMS, northMS, highestM = Infinity) {
			requireBallistic(ballisticKgM2);
			if (eastMS.length !== winds || northMS.length !== winds)
				throw new RangeError(`eastMS and northMS must hold ${winds} winds, one for each height`);
			halfPerB = 1 / (2 * ballisticKgM2);
			twoBG = 2 * ballisticKgM2 * G;
			layers.load(twoBG, eastMS, northMS, highestM);
		},
		drop(e, n, z, ve, vn, vu) {
			if (!(z <= HIGHEST_START_M)) throw new RangeError(`upM must be at most ${HIGHEST_START_M}, got ${z}`);
			let t = 0;
			accelerate(z, ve, vn, vu);
			let a1e = acceleration[0]!;
			let a1n = acceleration[1]!;
			let a1u = acceleration[2]!;
			let last = false;
			let moved = true; // since the last look, which needs `at` to be the node under z
			// No step so long that it could pass a bend of the wind without noticing.
			const longest = (LONGEST_STEP * Math.sqrt(twoBG / density(z))) / G;
			let h = 0.4 * longest;
			while (z > endM || vu > 0) {
				if (vu < 0 && moved) {
					const vt2 = twoBG / density(z);
					const down = (vu * vu) / vt2 - 1;
					if (down < NEAR_DOWN && down > -NEAR_DOWN && (z - endM) * G > 3 * vt2) {
						const f = (z - height[at]!) * perM[at]!;
						const ue = ve - (windE[at]! + (windE[at + 1]! - windE[at]!) * f);
						const un = vn - (windN[at]! + (windN[at + 1]! - windN[at]!) * f);
						if (ue * ue + un * un < NEAR_ACROSS * vt2) return layers.finish(e, n, z, t, ue, un, vu);
					}
				}
				moved = false;
				// One step of Dormand and Prince's pair; positions follow from the velocities of the stages.
				const v2e = ve + (h / 5) * a1e;
				const v2n = vn + (h / 5) * a1n;
				const v2u = vu + (h / 5) * a1u;
				accelerate(z + (h / 5) * vu, v2e, v2n, v2u);
				const a2e = acceleration[0]!;
				const a2n = acceleration[1]!;
				const a2u = acceleration[2]!;
				const v3e = ve + h * ((3 / 40) * a1e + (9 / 40) * a2e);
				const v3n = vn + h * ((3 / 40) * a1n + (9 / 40) * a2n);
				const v3u = vu + h * ((3 / 40) * a1u + (9 / 40) * a2u);
				accelerate(z + h * ((3 / 40) * vu + (9 / 40) * v2u), v3e, v3n, v3u);
				const a3e = acceleration[0]!;
				const a3n = acceleration[1]!;
				const a3u = acceleration[2]!;
				const v4e = ve + h * ((44 / 45) * a1e - (56 / 15) * a2e + (32 / 9) * a3e);
				const v4n = vn + h * ((44 / 45) * a1n - (56 / 15) * a2n + (32 / 9) * a3n);
				const v4u = vu + h * ((44 / 45) * a1u - (56 / 15) * a2u + (32 / 9) * a3u);
				accelerate(z + h * ((44 / 45) * vu - (56 / 15) * v2u + (32 / 9) * v3u), v4e, v4n, v4u);
				const a4e = acceleration[0]!;
				const a4n = acceleration[1]!;
				const a4u = acceleration[2]!;
				const v5e = ve + h * (C1 * a1e + C2 * a2e + C3 * a3e + C4 * a4e);
				const v5n = vn + h * (C1 * a1n + C2 * a2n + C3 * a3n + C4 * a4n);
				const v5u = vu + h * (C1 * a1u + C2 * a2u + C3 * a3u + C4 * a4u);
				accelerate(z + h * (C1 * vu + C2 * v2u + C3 * v3u + C4 * v4u), v5e, v5n, v5u);
				const a5e = acceleration[0]!;
				const a5n = acceleration[1]!;
				const a5u = acceleration[2]!;
				const v6e = ve + h * (D1 * a1e + D2 * a2e + D3 * a3e + D4 * a4e + D5 * a5e);
				const v6n = vn + h * (D1 * a1n + D2 * a2n + D3 * a3n + D4 * a4n + D5 * a5n);
				const v6u = vu + h * (D1 * a1u + D2 * a2u + D3 * a3u + D4 * a4u + D5 * a5u);
				accelerate(z + h * (D1 * vu + D2 * v2u + D3 * v3u + D4 * v4u + D5 * v5u), v6e, v6n, v6u);
				const a6e = acceleration[0]!;
				const a6n = acceleration[1]!;
				const a6u = acceleration[2]!;
				const v7e = ve + h * (B1 * a1e + B3 * a3e + B4 * a4e + B5 * a5e + B6 * a6e);
				const v7n = vn + h * (B1 * a1n + B3 * a3n + B4 * a4n + B5 * a5n + B6 * a6n);
				const v7u = vu + h * (B1 * a1u + B3 * a3u + B4 * a4u + B5 * a5u + B6 * a6u);
				const z7 = z + h * (B1 * vu + B3 * v3u + B4 * v4u + B5 * v5u + B6 * v6u);
				accelerate(z7, v7e, v7n, v7u);
				const a7e = acceleration[0]!;
				const a7n = acceleration[1]!;
				const a7u = acceleration[2]!;
				const xe = R1 * a1e + R3 * a3e + R4 * a4e + R5 * a5e + R6 * a6e + R7 * a7e;
				const xn = R1 * a1n + R3 * a3n + R4 * a4n + R5 * a5n + R6 * a6n + R7 * a7n;
				const xu = R1 * a1u + R3 * a3u + R4 * a4u + R5 * a5u + R6 * a6u + R7 * a7u;
				const error = (h * Math.sqrt(xe * xe + xn * xn + xu * xu)) / STEP_ERROR_M_S;
				if (!last) {
					if (!(error <= 1)) {
						h *= error < 1e6 ? Math.max(0.2, growth(error)) : 0.2;
						continue;
					}
					if (z7 <= endM && v7u <= 0) {
						h *= crossingShare(z - endM, h * vu, z7 - endM, h * v7u);
						last = true;
						continue;
					}
				}
				e += h * (B1 * ve + B3 * v3e + B4 * v4e + B5 * v5e + B6 * v6e);
				n += h * (B1 * vn + B3 * v3n + B4 * v4n + B5 * v5n + B6 * v6n);
				z = z7;
				t += h;
				ve = v7e;
				vn = v7n;
				vu = v7u;
				a1e = a7e;
				a1n = a7n;
				a1u = a7u;
				if (last) break;
				moved = true;
				h = Math.min(longest, h * (error > 1e-4 ? growth(error) : 8));
			}
			// The last step ends millimetres off.
			const rest = last && vu < 0 ? (endM - z) / vu : 0;
			landed[0] = e + rest * ve;
			landed[1] = n + rest * vn;
			landed[2] = last ? endM : z;
			landed[3] = t + rest;
			landed[4] = ve;
			landed[5] = vn;
			landed[6] = vu;
		}
	};
}
