import type { Air } from './air';
import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireFinite, requireRange } from './checks';
import { LEAST_BALLISTIC_KG_M2 } from './fall';

/**
 * Falls by the hundred thousand: the same equations as `fall`, landing within half a metre of it.
 *
 * The start is integrated with the Dormand-Prince 5(4) pair until the piece nearly falls at its terminal speed. From
 * there each layer of air has a closed form: time dz/s with the local terminal speed, its lag behind the growing
 * density to first order, and the horizontal speed relative to the air relaxing with the time constant s/g. As that is
 * linear in the relative speed, the path below each layer is computed once for a piece and its wind, and shared by all
 * heights it is dropped from.
 */
export interface Faller {
	/**
	 * Takes a piece and the wind at the faller's heights, m/s; both arrays are copied. To know the greatest height of
	 * the drops saves the work above it.
	 */
	load(ballisticKgM2: number, eastMS: ArrayLike<number>, northMS: ArrayLike<number>, highestM?: number): void;
	/** Drops the loaded piece; the answer stands in `landed` until the next drop. */
	drop(eastM: number, northM: number, upM: number, vEastMS: number, vNorthMS: number, vUpMS: number): void;
	/** East, north, up (m), time (s), velocity east, north, up (m/s) at the end of the drop. */
	readonly landed: Float64Array;
}

/** Thickest layer that two Gauss points integrate well, m. */
const THICKEST_M = 700;
/** Starting heights above this are refused: the density table ends there. */
const HIGHEST_START_M = 39_000;
/** Where the closed form takes over: how far the squares of the speeds may be from terminal, as a share of it. */
const NEAR_DOWN = 0.05;
const NEAR_ACROSS = 0.02;
/** Error allowed in one step of the start. */
const STEP_ERROR_M_S = 0.003;
/** Longest step of the start, in units of vt/g. */
const LONGEST_STEP = 0.7;
const GAUSS = 0.5 - Math.sqrt(3) / 6;

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

/** Share of a step at which a height that goes from z0 > 0 to z1 <= 0 with slopes d0, D1 a step (a cubic) is 0. */
function crossingShare(z0: number, d0: number, z1: number, D1: number): number {
	let low = 0;
	let high = 1;
	for (let i = 0; i < 30; i++) {
		const x = (low + high) / 2;
		const y = 1 - x;
		const value = y * y * ((1 + 2 * x) * z0 + x * d0) + x * x * ((1 + 2 * y) * z1 - y * D1);
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
	requireFinite({ endM });
	if (heightsM.length === 0) throw new RangeError('heightsM must hold at least one height');
	const table = air.densityTable();
	const rhoTable = table.densityKgM3;
	const rhoFrom = table.fromM;
	const rhoPerM = 1 / table.stepM;
	const rhoLast = rhoTable.length - 2;
	requireRange({ endM }, rhoFrom, 30_000);

	// Wind nodes, with one far below and one far above so that the outermost wind goes on.
	const nodes = heightsM.length + 2;
	const height = new Float64Array(nodes);
	for (let i = 1; i < nodes - 1; i++) {
		requireFinite({ heightM: heightsM[i - 1]! });
		height[i] = heightsM[i - 1]!;
		if (i > 1 && !(height[i]! > height[i - 1]!)) throw new RangeError('heightsM must ascend');
	}
	height[0] = height[1]! - 1e7;
	height[nodes - 1] = height[nodes - 2]! + 1e7;
	const perM = Float64Array.from({ length: nodes - 1 }, (_, i) => 1 / (height[i + 1]! - height[i]!));
	const windE = new Float64Array(nodes);
	const windN = new Float64Array(nodes);

	// Layers of the closed form: no wind node inside one, none thicker than two Gauss points bear.
	const edges = [endM];
	for (const h of [...height.subarray(1, nodes - 1), HIGHEST_START_M + 1_000]) {
		const from = edges[edges.length - 1]!;
		if (h <= from) continue;
		const parts = Math.ceil((h - from) / THICKEST_M);
		for (let i = 1; i <= parts; i++) edges.push(from + ((h - from) * i) / parts);
	}
	const edge = Float64Array.from(edges);
	const layers = edge.length - 1;
	/** Wind node under each edge. */
	const under = Int32Array.from(edge, (h) => {
		let i = 0;
		while (i < nodes - 2 && height[i + 1]! <= h) i++;
		return i;
	});
	/** Layers from here up lie above the highest wind, where nothing slips. */
	const upper = under.findIndex((i) => i >= nodes - 2);

	const density = (z: number) => {
		const x = (z - rhoFrom) * rhoPerM;
		const i = x < 0 ? 0 : x > rhoLast ? rhoLast : x | 0;
		const low = rhoTable[i]!;
		return low + (rhoTable[i + 1]! - low) * (x - i);
	};
	/** -d ln ρ/dz over 2 g: times vt², the first-order lag of the fall behind the growing density. */
	const lagScale = (z: number) => Math.log(density(z - 25) / density(z + 25)) / (100 * G);
	// Per layer: two Gauss points of density and lag.
	const gauss = {
		rho1: new Float64Array(layers),
		rho2: new Float64Array(layers),
		lag1: new Float64Array(layers),
		lag2: new Float64Array(layers)
	};
	for (let k = 0; k < layers; k++) {
		const z1 = edge[k]! + (edge[k + 1]! - edge[k]!) * GAUSS;
		const z2 = edge[k + 1]! - (edge[k + 1]! - edge[k]!) * GAUSS;
		gauss.rho1[k] = density(z1);
		gauss.rho2[k] = density(z2);
		gauss.lag1[k] = lagScale(z1);
		gauss.lag2[k] = lagScale(z2);
	}

	// The steady fall from far above, for the loaded piece. At edges: displacement and time from there to the end, slip
	// (speed relative to the air), share of a slip there that is left at the end. In layers: the slip tended to, and the
	// share left at the foot of a difference from it at the top.
	const [eastBelow, northBelow, timeBelow, slipE, slipN, leftBelow] = Array.from(
		{ length: 6 },
		() => new Float64Array(layers + 1)
	) as [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
	const [tendE, tendN, leftIn] = Array.from({ length: 3 }, () => new Float64Array(layers)) as [
		Float64Array,
		Float64Array,
		Float64Array
	];
	leftBelow[0] = 1;
	let known = 0; // edges whose way down is known
	let expected = 0; // edges that the drops are expected to need
	let halfPerB = 0; // 1/(2B)
	let twoBG = 0; // vt² ρ
	const landed = new Float64Array(7);
	const acceleration = new Float64Array(3);
	/** What `cross` found: east, north, time, slip east and north at the foot, share of slip left, slip tended to. */
	const crossed = new Float64Array(8);

	/** Falls through a slab, foot 0 to top 1, of these densities and lags, with this slip at its top. */
	function cross(
		thick: number,
		rho1: number,
		rho2: number,
		lag1: number,
		lag2: number,
		e0: number,
		n0: number,
		e1: number,
		n1: number,
		slipTopE: number,
		slipTopN: number
	) {
		const w1 = twoBG / rho1;
		const w2 = twoBG / rho2;
		const x1 = w1 * lag1;
		const x2 = w2 * lag2;
		const s1 = Math.sqrt(w1 * (1 + x1 * (1 + 2 * x1)));
		const s2 = Math.sqrt(w2 * (1 + x2 * (1 + 2 * x2)));
		const t1 = (0.5 * thick) / s1;
		const t2 = (0.5 * thick) / s2;
		const time = t1 + t2;
		const tau = (0.5 / G) * (w1 / s1 + w2 / s2);
		const toE = ((e1 - e0) * tau) / time;
		const toN = ((n1 - n0) * tau) / time;
		const offE = slipTopE - toE;
		const offN = slipTopN - toN;
		const left = Math.exp(-time / tau);
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
	}

	function crossLayer(k: number) {
		const i = under[k]!;
		const f0 = (edge[k]! - height[i]!) * perM[i]!;
		const f1 = (edge[k + 1]! - height[i]!) * perM[i]!;
		const de = windE[i + 1]! - windE[i]!;
		const dn = windN[i + 1]! - windN[i]!;
		const thick = edge[k + 1]! - edge[k]!;
		cross(
			thick,
			gauss.rho1[k]!,
			gauss.rho2[k]!,
			gauss.lag1[k]!,
			gauss.lag2[k]!,
			windE[i]! + de * f0,
			windN[i]! + dn * f0,
			windE[i]! + de * f1,
			windN[i]! + dn * f1,
			slipE[k + 1]!,
			slipN[k + 1]!
		);
		slipE[k] = crossed[3]!;
		slipN[k] = crossed[4]!;
		tendE[k] = crossed[6]!;
		tendN[k] = crossed[7]!;
		leftIn[k] = crossed[5]!;
		// Until summed, the cells of the upper edge hold what the layer alone adds.
		eastBelow[k + 1] = crossed[0]!;
		northBelow[k + 1] = crossed[1]!;
		timeBelow[k + 1] = crossed[2]!;
		leftBelow[k + 1] = crossed[5]!;
	}

	/** Slip comes from above: layers are crossed from the top down, as if the piece had come from there. */
	function know(fromEdge: number) {
		known = 0;
		slipE[fromEdge] = 0;
		slipN[fromEdge] = 0;
		for (let k = fromEdge - 1; k >= 0; k--) crossLayer(k);
		for (let k = 0; k < fromEdge; k++) {
			eastBelow[k + 1]! += eastBelow[k]!;
			northBelow[k + 1]! += northBelow[k]!;
			timeBelow[k + 1]! += timeBelow[k]!;
			leftBelow[k + 1]! *= leftBelow[k]!;
		}
		known = fromEdge;
	}

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

	/** From a nearly steady state at height z, with this slip, to the end in closed form. */
	function finish(e: number, n: number, z: number, t: number, ue: number, un: number, vu: number) {
		let k = 0;
		while (edge[k + 1]! < z) k++;
		if (k >= known) know(k + 1 < expected ? expected : Math.max(upper, k + 1));
		const i = under[k]!;
		const f0 = (edge[k]! - height[i]!) * perM[i]!;
		const f1 = (z - height[i]!) * perM[i]!;
		const de = windE[i + 1]! - windE[i]!;
		const dn = windN[i + 1]! - windN[i]!;
		const e1 = windE[i]! + de * f1;
		const n1 = windN[i]! + dn * f1;
		const thick = z - edge[k]!;
		const easing = leftIn[k]! ** ((edge[k + 1]! - z) / (edge[k + 1]! - edge[k]!));
		const steadyE = tendE[k]! + (slipE[k + 1]! - tendE[k]!) * easing;
		const steadyN = tendN[k]! + (slipN[k + 1]! - tendN[k]!) * easing;
		const rho1 = density(edge[k]! + thick * GAUSS);
		const rho2 = density(z - thick * GAUSS);
		cross(
			thick,
			rho1,
			rho2,
			gauss.lag1[k]!,
			gauss.lag2[k]!,
			windE[i]! + de * f0,
			windN[i]! + dn * f0,
			e1,
			n1,
			steadyE,
			steadyN
		);

		// What is left of the start dies away with the way down y, as exp(-2 g y/s²) in the square of the vertical and
		// exp(-g y/s²) in the horizontal speed: to first order its effect on the time, and of each on the other.
		const w = twoBG / density(z);
		const lag = w * gauss.lag2[k]!;
		const s2 = w * (1 + lag * (1 + 2 * lag));
		const s = Math.sqrt(s2);
		const extraE = ue - steadyE;
		const extraN = un - steadyN;
		const x = (vu * vu) / s2 - 1;
		const q = (extraE * extraE + extraN * extraN) / s2;
		const sooner = (s / (4 * G)) * (x - q / 2 - (3 / 8) * x * x);
		const left = crossed[5]! * leftBelow[k]!;
		const reach = (w / (s * G)) * (1 - lag) * (1 - left) * (1 - x / 6 - q / 9);
		landed[0] = e + crossed[0]! + eastBelow[k]! + extraE * reach - sooner * e1;
		landed[1] = n + crossed[1]! + northBelow[k]! + extraN * reach - sooner * n1;
		landed[2] = endM;
		landed[3] = t + crossed[2]! + timeBelow[k]! - sooner;
		landed[4] = endWind(windE) + slipE[0]! + extraE * left;
		landed[5] = endWind(windN) + slipN[0]! + extraN * left;
		const wEnd = twoBG / density(endM);
		landed[6] = -Math.sqrt(wEnd * (1 + wEnd * gauss.lag1[0]!));
	}
	const endWind = (wind: Float64Array) => {
		const i = under[0]!;
		return wind[i]! + (wind[i + 1]! - wind[i]!) * (endM - height[i]!) * perM[i]!;
	};

	/** Step factor from the error: near enough its root of minus one fifth, without the price of a power. */
	const growth = (error: number) => 0.8 * Math.sqrt(Math.sqrt(1 / error));

	return {
		landed,
		load(ballisticKgM2, eastMS, northMS, highestM = Infinity) {
			if (!(ballisticKgM2 >= LEAST_BALLISTIC_KG_M2 && ballisticKgM2 <= 1e15))
				throw new RangeError(`ballisticKgM2 must be at least ${LEAST_BALLISTIC_KG_M2}, got ${ballisticKgM2}`);
			if (eastMS.length !== nodes - 2 || northMS.length !== nodes - 2)
				throw new RangeError(`eastMS and northMS must hold ${nodes - 2} winds, one for each height`);
			for (let i = 1; i < nodes - 1; i++) {
				windE[i] = eastMS[i - 1]!;
				windN[i] = northMS[i - 1]!;
			}
			windE[0] = windE[1]!;
			windN[0] = windN[1]!;
			windE[nodes - 1] = windE[nodes - 2]!;
			windN[nodes - 1] = windN[nodes - 2]!;
			halfPerB = 1 / (2 * ballisticKgM2);
			twoBG = 2 * ballisticKgM2 * G;
			known = 0;
			// One layer more, where the slip comes from.
			expected = 1;
			while (expected < upper && edge[expected - 1]! < highestM) expected++;
		},
		drop(e, n, z, ve, vn, vu) {
			if (!(z <= HIGHEST_START_M)) throw new RangeError(`upM must be at most ${HIGHEST_START_M}, got ${z}`);
			let t = 0;
			accelerate(z, ve, vn, vu);
			let a1e = acceleration[0]!;
			let a1n = acceleration[1]!;
			let a1u = acceleration[2]!;
			let last = false;
			// No step so long that it could pass a bend of the wind without noticing.
			const longest = (LONGEST_STEP * Math.sqrt(twoBG / density(z))) / G;
			let h = 0.4 * longest;
			while (z > endM || vu > 0) {
				if (vu < 0) {
					const vt2 = twoBG / density(z);
					const down = (vu * vu) / vt2 - 1;
					if (down < NEAR_DOWN && down > -NEAR_DOWN && (z - endM) * G > 3 * vt2) {
						const f = (z - height[at]!) * perM[at]!;
						const ue = ve - (windE[at]! + (windE[at + 1]! - windE[at]!) * f);
						const un = vn - (windN[at]! + (windN[at + 1]! - windN[at]!) * f);
						if (ue * ue + un * un < NEAR_ACROSS * vt2) return finish(e, n, z, t, ue, un, vu);
					}
				}
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
