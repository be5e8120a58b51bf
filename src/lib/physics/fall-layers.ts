import type { Air, DensityTable } from './air';
import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireFinite, requireRange } from './checks';
import { CROSSED, crossSlab, GAUSS, SLAB } from './fall-slab';

/** Thickest layer that two Gauss points integrate well, m. */
const THICKEST_M = 700;
/** Starting heights above this are refused: the density table ends there. */
export const HIGHEST_START_M = 39_000;

/** The part of a fall near terminal speed, in closed form layer by layer; `makeFaller` says how. */
export interface FallLayers {
	readonly densityTable: DensityTable;
	/** Wind nodes, one far below and one far above those given; winds there, and their slopes to the next. */
	readonly height: Float64Array;
	readonly windE: Float64Array;
	readonly windN: Float64Array;
	readonly slopeE: Float64Array;
	readonly slopeN: Float64Array;
	/** Takes a piece, 2 B g, and the winds for drops from at most this height. */
	load(twoBG: number, eastMS: ArrayLike<number>, northMS: ArrayLike<number>, highestM: number): void;
	/** From the nearly steady state in `landed` to the end, in place. */
	finish(): void;
	/** East, north, up, time, velocity east, north, up. */
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
	const slopeE = new Float64Array(nodes - 1);
	const slopeN = new Float64Array(nodes - 1);

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
	// exponent by which a difference from it at the top fades to the foot.
	const [eastBelow, northBelow, timeBelow, slipE, slipN, leftBelow] = Array.from(
		{ length: 6 },
		() => new Float64Array(layers + 1)
	) as [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
	const [tendE, tendN, fades] = Array.from({ length: 3 }, () => new Float64Array(layers)) as [
		Float64Array,
		Float64Array,
		Float64Array
	];
	leftBelow[0] = 1;
	let known = 0; // edges whose way down is known
	let expected = 0; // edges that the drops are expected to need
	let twoBG = 0; // vt² ρ
	const landed = new Float64Array(7);
	const slab = new Float64Array(SLAB);
	const crossed = new Float64Array(CROSSED);

	function crossLayer(k: number) {
		const i = under[k]!;
		const f0 = (edge[k]! - height[i]!) * perM[i]!;
		const f1 = (edge[k + 1]! - height[i]!) * perM[i]!;
		const de = windE[i + 1]! - windE[i]!;
		const dn = windN[i + 1]! - windN[i]!;
		const thick = edge[k + 1]! - edge[k]!;
		slab[0] = thick;
		slab[1] = gauss.rho1[k]!;
		slab[2] = gauss.rho2[k]!;
		slab[3] = gauss.lag1[k]!;
		slab[4] = gauss.lag2[k]!;
		slab[5] = windE[i]! + de * f0;
		slab[6] = windN[i]! + dn * f0;
		slab[7] = windE[i]! + de * f1;
		slab[8] = windN[i]! + dn * f1;
		slab[9] = slipE[k + 1]!;
		slab[10] = slipN[k + 1]!;
		slab[11] = twoBG;
		crossSlab(slab, crossed);
		slipE[k] = crossed[3]!;
		slipN[k] = crossed[4]!;
		tendE[k] = crossed[6]!;
		tendN[k] = crossed[7]!;
		fades[k] = crossed[8]!;
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

	let below = 0; // layer of the last finish: heights change little from drop to drop
	function finish() {
		const z = landed[2]!;
		const vu = landed[6]!;
		let k = below < layers ? below : layers - 1;
		while (edge[k]! >= z) k--;
		while (edge[k + 1]! < z) k++;
		below = k;
		if (k >= known) know(k + 1 < expected ? expected : Math.max(upper, k + 1));
		const i = under[k]!;
		const e1 = windE[i]! + slopeE[i]! * (z - height[i]!);
		const n1 = windN[i]! + slopeN[i]! * (z - height[i]!);
		const thick = z - edge[k]!;
		const e0 = e1 - slopeE[i]! * thick;
		const n0 = n1 - slopeN[i]! * thick;
		const easing = Math.exp((thick / (edge[k + 1]! - edge[k]!) - 1) * fades[k]!);
		const steadyE = tendE[k]! + (slipE[k + 1]! - tendE[k]!) * easing;
		const steadyN = tendN[k]! + (slipN[k + 1]! - tendN[k]!) * easing;
		slab[0] = thick;
		slab[1] = density(edge[k]! + thick * GAUSS);
		slab[2] = density(z - thick * GAUSS);
		slab[3] = gauss.lag1[k]!;
		slab[4] = gauss.lag2[k]!;
		slab[5] = e0;
		slab[6] = n0;
		slab[7] = e1;
		slab[8] = n1;
		slab[9] = steadyE;
		slab[10] = steadyN;
		slab[11] = twoBG;
		crossSlab(slab, crossed);

		// What is left of the start, as series in x, q and p (the methods page says how they come about): x of the square
		// of the vertical speed dies away as exp(-2y) with the way down y in units of vt²/g, c of the horizontal one as
		// exp(-y); q and p are c's square and its product with the slip. Nothing left adds nothing.
		const w = twoBG / density(z);
		const lag = w * gauss.lag2[k]!;
		const s2 = w * (1 + lag * (1 + 2 * lag));
		const s = Math.sqrt(s2);
		const length = w / G;
		const left = crossed[5]!;
		// Slip towards which the wind's slope tends, and how the steady fall differs from it.
		const thin = height[i + 1]! - height[i]! < length;
		const slE = thin ? e1 - windBelow(windE, z, length, i) : slopeE[i]! * length;
		const slN = thin ? n1 - windBelow(windN, z, length, i) : slopeN[i]! * length;
		const offE = steadyE - slE;
		const offN = steadyN - slN;
		const cE = landed[4]! - e1 - steadyE;
		const cN = landed[5]! - n1 - steadyN;
		// Where the wind's slope next changes, and by how much the slip tended to does.
		const bends = !thin && i > 0 && edge[k]! === height[i]!;
		const bendE = bends ? (windE[i]! - windBelow(windE, height[i]!, length, i) - slE) * left : 0;
		const bendN = bends ? (windN[i]! - windBelow(windN, height[i]!, length, i) - slN) * left : 0;
		const x = (vu * vu) / s2 - 1;
		const q = (cE * (cE + 2 * offE) + cN * (cN + 2 * offN)) / s2;
		const p = (cE * slE + cN * slN) / s2;
		const later =
			-Math.log(0.5 - (0.5 * vu) / s) +
			q * (1 / 8 - q * (9 / 256) + x * (-3 / 64 + (5 / 192) * x + (11 / 288) * q)) +
			p * (1 / 2 - x / 8 - (7 / 32) * q) +
			(cE * bendE + cN * bendN) / (4 * s2);
		const reach =
			1 -
			x * (1 / 6 + (2 / 9) * lag - x * (3 / 40 - x * (5 / 112 - x * (35 / 1152)))) -
			q * (1 / 9 - x * (13 / 150 - (409 / 5880) * x) - q * (49 / 1500)) -
			p * (1 / 3 - (13 / 60) * x - (649 / 3600) * q);
		const sloped =
			x * (1 / 8 - (3 / 128) * x + (65 / 384) * q) - q * (3 / 8 - (1043 / 9216) * q) - (7 / 4) * p;
		const bent = left * (x / 24 - (5 / 36) * q);
		const tau = (s / G) * (1 - lag / 2);
		const reachTime = (w / (s * G)) * (1 - lag * (1 - 6 * lag)) * (1 - left * leftBelow[k]!);
		landed[0]! +=
			crossed[0]! +
			eastBelow[k]! +
			tau * (later * (e1 + slE) + slE * sloped + bendE * bent) +
			reachTime * (cE * reach + offE * (reach - 1));
		landed[1]! +=
			crossed[1]! +
			northBelow[k]! +
			tau * (later * (n1 + slN) + slN * sloped + bendN * bent) +
			reachTime * (cN * reach + offN * (reach - 1));
		landed[2] = endM;
		landed[3]! += crossed[2]! + timeBelow[k]! + tau * later;
		landed[4] = endWind(windE) + slipE[0]! + cE * left * leftBelow[k]!;
		landed[5] = endWind(windN) + slipN[0]! + cN * left * leftBelow[k]!;
		const wEnd = twoBG / density(endM);
		landed[6] = -Math.sqrt(wEnd * (1 + wEnd * gauss.lag1[0]!));
	}
	/** The wind this far below a height z over node i. */
	function windBelow(wind: Float64Array, z: number, down: number, i: number) {
		const at = z - down;
		while (at < height[i]!) i--;
		return wind[i]! + (wind[i + 1]! - wind[i]!) * (at - height[i]!) * perM[i]!;
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
		for (let i = 0; i < nodes - 1; i++) {
			slopeE[i] = (windE[i + 1]! - windE[i]!) * perM[i]!;
			slopeN[i] = (windN[i + 1]! - windN[i]!) * perM[i]!;
		}
		known = 0;
		// One layer more, where the slip comes from.
		expected = 1;
		while (expected < upper && edge[expected - 1]! < highestM) expected++;
	}

	return { densityTable: table, height, windE, windN, slopeE, slopeN, load, finish, landed };
}
