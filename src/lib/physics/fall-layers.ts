import type { Air } from './air';
import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireFinite, requireRange } from './checks';

/** Thickest layer that two Gauss points integrate well, m. */
const THICKEST_M = 700;
/** Starting heights above this are refused: the density table ends there. */
export const HIGHEST_START_M = 39_000;
const GAUSS = 0.5 - Math.sqrt(3) / 6;

/** The part of a fall near terminal speed, in closed form layer by layer; `makeFaller` says how. */
export interface FallLayers {
	readonly density: (heightM: number) => number;
	/** Wind nodes, one far below and one far above those given; 1/distance to the next; winds there. */
	readonly height: Float64Array;
	readonly perM: Float64Array;
	readonly windE: Float64Array;
	readonly windN: Float64Array;
	/** Takes a piece, 2 B g, and the winds for drops from at most this height. */
	load(twoBG: number, eastMS: ArrayLike<number>, northMS: ArrayLike<number>, highestM: number): void;
	/** From a nearly steady state at height z, with slip ue, un relative to the air, to the end; writes `landed`. */
	finish(e: number, n: number, z: number, t: number, ue: number, un: number, vu: number): void;
	readonly landed: Float64Array;
}

export function makeFallLayers(air: Air, heightsM: ArrayLike<number>, endM: number): FallLayers {
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
	let twoBG = 0; // vt² ρ
	const landed = new Float64Array(7);
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

	function load(piece: number, eastMS: ArrayLike<number>, northMS: ArrayLike<number>, highestM: number) {
		twoBG = piece;
		for (let i = 0; i < nodes; i++) {
			const given = i === 0 ? 0 : i === nodes - 1 ? nodes - 3 : i - 1;
			windE[i] = eastMS[given]!;
			windN[i] = northMS[given]!;
		}
		known = 0;
		// One layer more, where the slip comes from.
		expected = 1;
		while (expected < upper && edge[expected - 1]! < highestM) expected++;
	}

	return { density, height, perM, windE, windN, load, finish, landed };
}
