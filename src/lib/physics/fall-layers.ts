import type { Air } from './air';
import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireFinite, requireRange } from './checks';
import { CROSSED, crossSlab, GAUSS, SLAB } from './fall-slab';

/** Thickest layer that two Gauss points integrate well, m. */
const THICKEST_M = 700;
/** Starting heights above this are refused: the density table ends there. */
export const HIGHEST_START_M = 39_000;

/** The part of a fall near terminal speed, in closed form layer by layer; `makeFaller` says how. */
export type FallLayers = ReturnType<typeof makeFallLayers>;

/**
 * What `finishFall` works with: a plain record, since this is read in every drop, and what functions share in a closure
 * is read several times slower.
 */
export function makeFallLayers(air: Air, heightsM: ArrayLike<number>, endM: number) {
	requireFinite({ endM });
	if (heightsM.length === 0) throw new RangeError('heightsM must hold at least one height');
	const { densityKgM3: rho, fromM: rhoFrom, stepM } = air.densityTable();
	const table: Table = { rho, rhoFrom, rhoPerM: 1 / stepM };
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

	// Layers of the closed form: no wind node inside one, none thicker than two Gauss points bear.
	const edges = [endM];
	for (const h of [...height.subarray(1, nodes - 1), HIGHEST_START_M + 1_000]) {
		const from = edges[edges.length - 1]!;
		if (h <= from) continue;
		const parts = Math.ceil((h - from) / THICKEST_M);
		for (let i = 1; i <= parts; i++) edges.push(from + ((h - from) * i) / parts);
	}
	const layers = edges.length - 1;
	const under = Int32Array.from(edges, (h) => {
		let i = 0;
		while (i < nodes - 2 && height[i + 1]! <= h) i++;
		return i;
	});
	const each = (of: (z0: number, z1: number, i: number) => number) =>
		Float64Array.from({ length: layers }, (_, k) => of(edges[k]!, edges[k + 1]!, under[k]!));
	/** -d ln ρ/dz over 2 g: times vt², the first-order lag of the fall behind the growing density. */
	const lagScale = (z: number) => Math.log(density(table, z - 25) / density(table, z + 25)) / (100 * G);
	const leftBelow = new Float64Array(layers + 1);
	leftBelow[0] = 1;

	return {
		rho,
		rhoFrom,
		rhoPerM: table.rhoPerM,
		endM,
		// Wind nodes: winds there, and their slopes to the next.
		height,
		perM,
		windE: new Float64Array(nodes),
		windN: new Float64Array(nodes),
		slopeE: new Float64Array(nodes - 1),
		slopeN: new Float64Array(nodes - 1),
		// Edges of layers, and the wind node under each; from `upper` up lie above the highest wind, where nothing slips.
		edge: Float64Array.from(edges),
		under,
		upper: under.findIndex((i) => i >= nodes - 2),
		// Per layer: shares of the way to the next wind node at foot and top; density and lag at two Gauss points.
		foot: each((z0, _, i) => (z0 - height[i]!) * perM[i]!),
		top: each((_, z1, i) => (z1 - height[i]!) * perM[i]!),
		rho1: each((z0, z1) => density(table, z0 + (z1 - z0) * GAUSS)),
		rho2: each((z0, z1) => density(table, z1 - (z1 - z0) * GAUSS)),
		lag1: each((z0, z1) => lagScale(z0 + (z1 - z0) * GAUSS)),
		lag2: each((z0, z1) => lagScale(z1 - (z1 - z0) * GAUSS)),

		// The steady fall from far above, for the loaded piece. At edges: displacement and time from there to the end,
		// slip (speed relative to the air), share of a slip there that is left at the end. In layers: the slip tended to,
		// and the exponent by which a difference from it at the top fades to the foot. Velocity at the end.
		eastBelow: new Float64Array(layers + 1),
		northBelow: new Float64Array(layers + 1),
		timeBelow: new Float64Array(layers + 1),
		leftBelow,
		slipE: new Float64Array(layers + 1),
		slipN: new Float64Array(layers + 1),
		tendE: new Float64Array(layers),
		tendN: new Float64Array(layers),
		fades: new Float64Array(layers),
		endE: NaN,
		endN: NaN,
		endUp: NaN,
		twoBG: NaN, // vt² ρ
		known: 0, // edges whose way down is known
		expected: 0, // edges that the drops are expected to need
		below: 0, // layer of the last finish: heights change little from drop to drop
		slab: new Float64Array(SLAB),
		crossed: new Float64Array(CROSSED),
		/** East, north, up, time, velocity east, north, up. */
		landed: new Float64Array(7)
	};
}

/** Densities at equal steps of height. */
interface Table {
	rho: Float64Array;
	rhoFrom: number;
	rhoPerM: number;
}

function density({ rho, rhoFrom, rhoPerM }: Table, z: number): number {
	const last = rho.length - 2;
	const x = (z - rhoFrom) * rhoPerM;
	const i = x < 0 ? 0 : x > last ? last : x | 0;
	const low = rho[i]!;
	return low + (rho[i + 1]! - low) * (x - i);
}

/** Takes a piece, 2 B g, and the winds for drops from at most this height. */
export function loadLayers(
	l: FallLayers,
	twoBG: number,
	eastMS: ArrayLike<number>,
	northMS: ArrayLike<number>,
	highestM: number
) {
	const { windE, windN, slopeE, slopeN, perM, edge, upper } = l;
	l.twoBG = twoBG;
	const most = windE.length - 1;
	for (let i = 1; i < most; i++) {
		windE[i] = eastMS[i - 1]!;
		windN[i] = northMS[i - 1]!;
	}
	windE[0] = windE[1]!;
	windN[0] = windN[1]!;
	windE[most] = windE[most - 1]!;
	windN[most] = windN[most - 1]!;
	for (let i = 0; i < most; i++) {
		slopeE[i] = (windE[i + 1]! - windE[i]!) * perM[i]!;
		slopeN[i] = (windN[i + 1]! - windN[i]!) * perM[i]!;
	}
	l.known = 0;
	// One layer more, where the slip comes from.
	let expected = 1;
	while (expected < upper && edge[expected - 1]! < highestM) expected++;
	l.expected = expected;
}

/** Slip comes from above: layers are crossed from the top down, as if the piece had come from there. */
function know(l: FallLayers, fromEdge: number) {
	const { eastBelow, northBelow, timeBelow, leftBelow, slipE, slipN, endM } = l;
	const { under, edge, foot, top, rho1, rho2, lag1, lag2, windE, windN, tendE, tendN, fades, slab, crossed } =
		l;
	slipE[fromEdge] = 0;
	slipN[fromEdge] = 0;
	slab[11] = l.twoBG;
	for (let k = fromEdge - 1; k >= 0; k--) {
		const i = under[k]!;
		const de = windE[i + 1]! - windE[i]!;
		const dn = windN[i + 1]! - windN[i]!;
		slab[0] = edge[k + 1]! - edge[k]!;
		slab[1] = rho1[k]!;
		slab[2] = rho2[k]!;
		slab[3] = lag1[k]!;
		slab[4] = lag2[k]!;
		slab[5] = windE[i]! + de * foot[k]!;
		slab[6] = windN[i]! + dn * foot[k]!;
		slab[7] = windE[i]! + de * top[k]!;
		slab[8] = windN[i]! + dn * top[k]!;
		slab[9] = slipE[k + 1]!;
		slab[10] = slipN[k + 1]!;
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
	for (let k = 0; k < fromEdge; k++) {
		eastBelow[k + 1]! += eastBelow[k]!;
		northBelow[k + 1]! += northBelow[k]!;
		timeBelow[k + 1]! += timeBelow[k]!;
		leftBelow[k + 1]! *= leftBelow[k]!;
	}
	l.known = fromEdge;
	const w = l.twoBG / density(l, endM);
	l.endE = windAt(l, windE, endM, under[0]!) + slipE[0]!;
	l.endN = windAt(l, windN, endM, under[0]!) + slipN[0]!;
	l.endUp = -Math.sqrt(w * (1 + w * lag1[0]!));
}

/** The wind at z, which is not above node i + 1. */
function windAt({ height, perM }: FallLayers, wind: Float64Array, z: number, i: number) {
	while (z < height[i]!) i--;
	return wind[i]! + (wind[i + 1]! - wind[i]!) * (z - height[i]!) * perM[i]!;
}

/** From the nearly steady state in `landed` to the end, in place. */
export function finishFall(l: FallLayers) {
	const { landed, height, windE, windN, slopeE, slopeN, edge, slab, crossed } = l;
	const z = landed[2]!;
	const vu = landed[6]!;
	let k = l.below;
	while (edge[k]! >= z) k--;
	while (edge[k + 1]! < z) k++;
	l.below = k;
	if (k >= l.known) know(l, k + 1 < l.expected ? l.expected : Math.max(l.upper, k + 1));
	const { tendE, tendN, slipE, slipN, lag2, leftBelow } = l;
	const i = l.under[k]!;
	const e1 = windE[i]! + slopeE[i]! * (z - height[i]!);
	const n1 = windN[i]! + slopeN[i]! * (z - height[i]!);
	const thick = z - edge[k]!;
	const easing = Math.exp((thick / (edge[k + 1]! - edge[k]!) - 1) * l.fades[k]!);
	const steadyE = tendE[k]! + (slipE[k + 1]! - tendE[k]!) * easing;
	const steadyN = tendN[k]! + (slipN[k + 1]! - tendN[k]!) * easing;
	slab[0] = thick;
	slab[1] = density(l, edge[k]! + thick * GAUSS);
	slab[2] = density(l, z - thick * GAUSS);
	slab[3] = l.lag1[k]!;
	slab[4] = lag2[k]!;
	slab[5] = e1 - slopeE[i]! * thick;
	slab[6] = n1 - slopeN[i]! * thick;
	slab[7] = e1;
	slab[8] = n1;
	slab[9] = steadyE;
	slab[10] = steadyN;
	slab[11] = l.twoBG;
	crossSlab(slab, crossed);

	// What is left of the start, as series in x, q and p (the methods page says how they come about): x of the square
	// of the vertical speed dies away as exp(-2y) with the way down y in units of vt²/g, c of the horizontal one as
	// exp(-y); q and p are c's square and its product with the slip. Nothing left adds nothing.
	const w = l.twoBG / density(l, z);
	const lag = w * lag2[k]!;
	const s2 = w * (1 + lag * (1 + 2 * lag));
	const s = Math.sqrt(s2);
	const length = w / G;
	const left = crossed[5]!;
	// Slip towards which the wind's slope tends, and how the steady fall differs from it.
	const thin = height[i + 1]! - height[i]! < length;
	const slE = thin ? e1 - windAt(l, windE, z - length, i) : slopeE[i]! * length;
	const slN = thin ? n1 - windAt(l, windN, z - length, i) : slopeN[i]! * length;
	const offE = steadyE - slE;
	const offN = steadyN - slN;
	const cE = landed[4]! - e1 - steadyE;
	const cN = landed[5]! - n1 - steadyN;
	// Where the wind's slope next changes, and by how much the slip tended to does.
	const bends = !thin && i > 0 && edge[k]! === height[i]!;
	const bendE = bends ? (windE[i]! - windAt(l, windE, height[i]! - length, i) - slE) * left : 0;
	const bendN = bends ? (windN[i]! - windAt(l, windN, height[i]! - length, i) - slN) * left : 0;
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
	const sloped = x * (1 / 8 - (3 / 128) * x + (65 / 384) * q) - q * (3 / 8 - (1043 / 9216) * q) - (7 / 4) * p;
	const bent = left * (x / 24 - (5 / 36) * q);
	const tau = (s / G) * (1 - lag / 2);
	const reachTime = (w / (s * G)) * (1 - lag * (1 - 6 * lag)) * (1 - left * leftBelow[k]!);
	landed[0]! +=
		crossed[0]! +
		l.eastBelow[k]! +
		tau * (later * (e1 + slE) + slE * sloped + bendE * bent) +
		reachTime * (cE * reach + offE * (reach - 1));
	landed[1]! +=
		crossed[1]! +
		l.northBelow[k]! +
		tau * (later * (n1 + slN) + slN * sloped + bendN * bent) +
		reachTime * (cN * reach + offN * (reach - 1));
	landed[2] = l.endM;
	landed[3]! += crossed[2]! + l.timeBelow[k]! + tau * later;
	landed[4] = l.endE + cE * left * leftBelow[k]!;
	landed[5] = l.endN + cN * left * leftBelow[k]!;
	landed[6] = l.endUp;
}
