import type { Air } from './air';
import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireBallistic } from './fall';
import { finishFall, HIGHEST_START_M, loadLayers, makeFallLayers, type FallLayers } from './fall-layers';

/**
 * Falls by the hundred thousand: the same equations as `fall`, landing within half a metre of it.
 *
 * The start is integrated by Dormand and Prince's fifth-order formula, in steps of half the time in which the piece
 * forgets its speed, until it falls near its terminal speed. From there each layer of air has a closed form: time dz/s
 * with the local terminal speed, its lag behind the growing density to first order, and the horizontal speed relative
 * to the air relaxing with the time constant vt²/(g s). What is left of the start then is a series. The path below
 * each layer is computed once for a piece and its wind, and shared by all heights it is dropped from
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
const NEAR_DOWN = 0.6;
const NEAR_ACROSS = 0.2;
/** From here up, heavier pieces, which forget their start over a longer way, are followed further and more closely. */
const EASY_KG_M2 = 40;
/** And where the wind bends more often than every so many times vt²/g, to this share of it. */
const OFTEN = 2;
const NEARER = 0.05;
/** Step of the start, in units of the time in which it forgets its speed: vt²/g over its speed, or over vt. */
const STEP = 0.5;
/** How far past a bend of the wind its old slope may still be used, in units of vt²/g, or of 500 m. */
const PAST_BEND = 0.01;

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
	const { landed } = layers;
	const winds = heightsM.length;
	const start = { halfPerB: NaN, nearDown: NaN, nearAcross: NaN, step: NaN, node: 0 };
	return {
		landed,
		load(ballisticKgM2, eastMS, northMS, highestM = Infinity) {
			requireBallistic(ballisticKgM2);
			if (eastMS.length !== winds || northMS.length !== winds)
				throw new RangeError(`eastMS and northMS must hold ${winds} winds, one for each height`);
			const easy = EASY_KG_M2 / ballisticKgM2;
			start.halfPerB = 1 / (2 * ballisticKgM2);
			start.nearDown = Math.min(0.75, NEAR_DOWN * easy);
			start.nearAcross = Math.min(0.4, NEAR_ACROSS * easy * easy);
			start.step = STEP * Math.min(1, Math.sqrt(easy));
			loadLayers(layers, 2 * ballisticKgM2 * G, eastMS, northMS, highestM);
		},
		drop(e, n, z, ve, vn, vu) {
			if (!(z <= HIGHEST_START_M)) throw new RangeError(`upM must be at most ${HIGHEST_START_M}, got ${z}`);
			// Through the array and short: a long function would have each number put into an object for it.
			landed[0] = e;
			landed[1] = n;
			landed[2] = z;
			landed[3] = 0;
			landed[4] = ve;
			landed[5] = vn;
			landed[6] = vu;
			if (followStart(start, layers)) finishFall(layers);
		}
	};
}

/** The start of the loaded piece's drops: 1/(2B), how near to terminal speed will do, step. */
interface Start {
	halfPerB: number;
	nearDown: number;
	nearAcross: number;
	step: number;
	/** Wind node under the last height asked for: heights change little from drop to drop. */
	node: number;
}

/** Follows the state in `landed` until it is nearly steady or, which gives false, at the end. */
function followStart(start: Start, layers: FallLayers): boolean {
	const { landed, height, windE, windN, slopeE, slopeN, rho, rhoFrom, rhoPerM, endM } = layers;
	const { halfPerB, nearDown, nearAcross, step } = start;
	const rhoLast = rho.length - 2;
	let e = landed[0]!;
	let n = landed[1]!;
	let z = landed[2]!;
	let ve = landed[4]!;
	let vn = landed[5]!;
	let vu = landed[6]!;
	let t = 0;
	let i = start.node;
	let last = false;
	let steady = false;
	let h = 0;
	while (z > endM || vu > 0) {
		// Wind and density along the step are straight lines from z: no step passes a bend of the wind by much.
		const cell = (z - rhoFrom) * rhoPerM;
		const c = cell < 0 ? 0 : cell > rhoLast ? rhoLast : cell | 0;
		const thicker = (rho[c + 1]! - rho[c]!) * halfPerB;
		const k0 = rho[c]! * halfPerB + thicker * (cell - c);
		const k1 = thicker * rhoPerM;
		const length = 1 / k0; // vt²/g
		const slack = length > 500 ? 500 * PAST_BEND : length * PAST_BEND;
		const ahead = vu < 0 ? z - slack : z + slack;
		while (ahead < height[i]!) i--;
		while (ahead > height[i + 1]!) i++;
		const gE = slopeE[i]!;
		const gN = slopeN[i]!;
		const wE = windE[i]! + gE * (z - height[i]!);
		const wN = windN[i]! + gN * (z - height[i]!);
		const u1e = ve - wE;
		const u1n = vn - wN;
		const across = u1e * u1e + u1n * u1n;
		const vt2 = G * length;
		if (vu < 0 && across < nearAcross * vt2) {
			const near = height[i + 1]! - height[i]! < OFTEN * length ? NEARER * vt2 : vt2;
			const down = vu * vu - vt2;
			if (
				across < nearAcross * near &&
				down < nearDown * near &&
				down > -nearDown * near &&
				z - endM > 3 * length
			) {
				steady = true;
				break;
			}
		}
		const speed = Math.sqrt(across + vu * vu);
		const drag1 = k0 * speed;
		const a1e = -drag1 * u1e;
		const a1n = -drag1 * u1n;
		const a1u = -G - drag1 * vu;
		const vt = Math.sqrt(vt2);
		if (!last) {
			h = (step * length) / (speed > vt ? 1.25 * speed - 0.25 * vt : vt);
			// To the bend of the wind, if the step would go well beyond it.
			const to = h * (vu + 0.5 * h * a1u);
			const gap = to < 0 ? height[i]! - z : height[i + 1]! - z;
			if (to < 0 ? gap < 0 && to < gap - 2 * slack : gap > 0 && to > gap + 2 * slack) {
				const root = Math.sqrt(vu * vu + 2 * a1u * gap);
				h = (2 * gap) / (vu + (to < 0 ? -root : root));
			}
		}
		// One step of Dormand and Prince's fifth order; heights follow from the velocities of the stages.
		const h21 = 0.2 * h;
		const v2u = vu + h21 * a1u;
		const d2 = h21 * vu;
		const u2e = u1e + h21 * a1e - gE * d2;
		const u2n = u1n + h21 * a1n - gN * d2;
		const drag2 = (k0 + k1 * d2) * Math.sqrt(u2e * u2e + u2n * u2n + v2u * v2u);
		const a2e = -drag2 * u2e;
		const a2n = -drag2 * u2n;
		const a2u = -G - drag2 * v2u;
		const h31 = (3 / 40) * h;
		const h32 = (9 / 40) * h;
		const d3 = h31 * vu + h32 * v2u;
		const v3u = vu + h31 * a1u + h32 * a2u;
		const u3e = u1e + h31 * a1e + h32 * a2e - gE * d3;
		const u3n = u1n + h31 * a1n + h32 * a2n - gN * d3;
		const drag3 = (k0 + k1 * d3) * Math.sqrt(u3e * u3e + u3n * u3n + v3u * v3u);
		const a3e = -drag3 * u3e;
		const a3n = -drag3 * u3n;
		const a3u = -G - drag3 * v3u;
		const h41 = (44 / 45) * h;
		const h42 = (-56 / 15) * h;
		const h43 = (32 / 9) * h;
		const d4 = h41 * vu + h42 * v2u + h43 * v3u;
		const v4u = vu + h41 * a1u + h42 * a2u + h43 * a3u;
		const u4e = u1e + h41 * a1e + h42 * a2e + h43 * a3e - gE * d4;
		const u4n = u1n + h41 * a1n + h42 * a2n + h43 * a3n - gN * d4;
		const drag4 = (k0 + k1 * d4) * Math.sqrt(u4e * u4e + u4n * u4n + v4u * v4u);
		const a4e = -drag4 * u4e;
		const a4n = -drag4 * u4n;
		const a4u = -G - drag4 * v4u;
		const h51 = (19372 / 6561) * h;
		const h52 = (-25360 / 2187) * h;
		const h53 = (64448 / 6561) * h;
		const h54 = (-212 / 729) * h;
		const d5 = h51 * vu + h52 * v2u + h53 * v3u + h54 * v4u;
		const v5u = vu + h51 * a1u + h52 * a2u + h53 * a3u + h54 * a4u;
		const u5e = u1e + h51 * a1e + h52 * a2e + h53 * a3e + h54 * a4e - gE * d5;
		const u5n = u1n + h51 * a1n + h52 * a2n + h53 * a3n + h54 * a4n - gN * d5;
		const drag5 = (k0 + k1 * d5) * Math.sqrt(u5e * u5e + u5n * u5n + v5u * v5u);
		const a5e = -drag5 * u5e;
		const a5n = -drag5 * u5n;
		const a5u = -G - drag5 * v5u;
		const h61 = (9017 / 3168) * h;
		const h62 = (-355 / 33) * h;
		const h63 = (46732 / 5247) * h;
		const h64 = (49 / 176) * h;
		const h65 = (-5103 / 18656) * h;
		const d6 = h61 * vu + h62 * v2u + h63 * v3u + h64 * v4u + h65 * v5u;
		const v6u = vu + h61 * a1u + h62 * a2u + h63 * a3u + h64 * a4u + h65 * a5u;
		const u6e = u1e + h61 * a1e + h62 * a2e + h63 * a3e + h64 * a4e + h65 * a5e - gE * d6;
		const u6n = u1n + h61 * a1n + h62 * a2n + h63 * a3n + h64 * a4n + h65 * a5n - gN * d6;
		const drag6 = (k0 + k1 * d6) * Math.sqrt(u6e * u6e + u6n * u6n + v6u * v6u);
		const a6e = -drag6 * u6e;
		const a6n = -drag6 * u6n;
		const a6u = -G - drag6 * v6u;
		const b1 = (35 / 384) * h;
		const b3 = (500 / 1113) * h;
		const b4 = (125 / 192) * h;
		const b5 = (-2187 / 6784) * h;
		const b6 = (11 / 84) * h;
		const d7 = b1 * vu + b3 * v3u + b4 * v4u + b5 * v5u + b6 * v6u;
		const v7u = vu + b1 * a1u + b3 * a3u + b4 * a4u + b5 * a5u + b6 * a6u;
		const gainE = b1 * a1e + b3 * a3e + b4 * a4e + b5 * a5e + b6 * a6e;
		const gainN = b1 * a1n + b3 * a3n + b4 * a4n + b5 * a5n + b6 * a6n;
		if (!last && z + d7 <= endM && v7u <= 0) {
			h *= crossingShare(z - endM, h * vu, z + d7 - endM, h * v7u);
			last = true;
			continue;
		}
		const sunk = b3 * d3 + b4 * d4 + b5 * d5 + b6 * d6;
		e += h * wE + gE * sunk + b1 * u1e + b3 * u3e + b4 * u4e + b5 * u5e + b6 * u6e;
		n += h * wN + gN * sunk + b1 * u1n + b3 * u3n + b4 * u4n + b5 * u5n + b6 * u6n;
		z += d7;
		t += h;
		ve += gainE;
		vn += gainN;
		vu = v7u;
		if (last) break;
	}
	start.node = i;
	// The last step ends millimetres off.
	const rest = last && vu < 0 ? (endM - z) / vu : 0;
	landed[0] = e + rest * ve;
	landed[1] = n + rest * vn;
	landed[2] = last ? endM : z;
	landed[3] = t + rest;
	landed[4] = ve;
	landed[5] = vn;
	landed[6] = vu;
	return steady;
}
