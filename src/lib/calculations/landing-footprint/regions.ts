import { contours } from 'd3-contour';
import { meanAndSd, sampleQuantiles } from '$lib/probability/summary';

/** Closed rings [east, north] in metres that hold this share of the landings; holes are further rings. */
export interface Region {
	level: number;
	rings: [number, number][][];
}

const CELLS = 72;

/**
 * Smallest regions that hold given shares of the points: a smooth density on a grid, cut at the height that the share
 * of the points lies above (highest-density regions, Hyndman 1996). Points in local metres east and north.
 */
export function regionsOf(
	east: ArrayLike<number>,
	north: ArrayLike<number>,
	levels: readonly number[] = [0.5, 0.9, 0.99]
): Region[] {
	const n = east.length;
	const band = bandwidth(east, north);
	const [e0, e1] = reach(east, 4 * band[0]);
	const [n0, n1] = reach(north, 4 * band[1]);
	const [we, wn] = [(e1 - e0) / CELLS, (n1 - n0) / CELLS];
	const density = new Float64Array(CELLS * CELLS);
	const cells = Array.from({ length: n }, (_, i) => {
		const col = Math.floor((east[i]! - e0) / we);
		const row = Math.floor((north[i]! - n0) / wn);
		return col >= 0 && col < CELLS && row >= 0 && row < CELLS ? row * CELLS + col : -1;
	});
	for (const cell of cells) if (cell >= 0) density[cell]! += 1 / n;
	blur(density, band[0] / we, 1, CELLS);
	blur(density, band[1] / wn, CELLS, 1);
	// The density that this share of the points themselves lies above.
	const atPoints = cells.map((cell) => (cell < 0 ? 0 : density[cell]!));
	const thresholds = sampleQuantiles(
		atPoints,
		levels.map((level) => 1 - level)
	);
	return levels.map((level, i) => {
		const shape = contours().size([CELLS, CELLS]).thresholds([thresholds[i]!])(Array.from(density))[0];
		const rings = (shape?.coordinates ?? []).flatMap((polygon) =>
			polygon.map((ring) =>
				ring.map(([col = 0, row = 0]): [number, number] => [e0 + col * we, n0 + row * wn])
			)
		);
		return { level, rings };
	});
}

/** Silverman's rule per axis, on the narrower of spread and inter-quartile range; a little wider for the thin outer region. */
function bandwidth(east: ArrayLike<number>, north: ArrayLike<number>): [number, number] {
	const one = (x: ArrayLike<number>) => {
		const [q1 = 0, q3 = 0] = sampleQuantiles(x, [0.25, 0.75]);
		const width = Math.min(meanAndSd(x).sd, (q3 - q1) / 1.349 || Infinity);
		return Math.max(1, 1.2 * width * x.length ** (-1 / 6));
	};
	return [one(east), one(north)];
}

function reach(x: ArrayLike<number>, margin: number): [number, number] {
	const [low = 0, high = 0] = sampleQuantiles(x, [0.001, 0.999]);
	return [low - margin, high + margin];
}

/** Gaussian blur along one axis; `step` is the distance between neighbours, `line` between lines. */
function blur(values: Float64Array, sigma: number, step: number, line: number): void {
	const half = Math.ceil(3 * sigma);
	const kernel = Float64Array.from({ length: 2 * half + 1 }, (_, i) =>
		Math.exp(-(((i - half) / sigma) ** 2) / 2)
	);
	const total = kernel.reduce((a, b) => a + b, 0);
	const source = values.slice();
	for (let l = 0; l < CELLS; l++)
		for (let i = 0; i < CELLS; i++) {
			let sum = 0;
			for (let k = Math.max(-half, -i); k <= Math.min(half, CELLS - 1 - i); k++)
				sum += kernel[k + half]! * source[l * line + (i + k) * step]!;
			values[l * line + i * step] = sum / total;
		}
}

/** Whether a point lies within a region (even-odd rule). */
export function inRegion({ rings }: Region, east: number, north: number): boolean {
	let inside = false;
	for (const ring of rings)
		for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
			const [xi, yi] = ring[i]!;
			const [xj, yj] = ring[j]!;
			if (yi > north !== yj > north && east < xi + ((xj - xi) * (north - yi)) / (yj - yi)) inside = !inside;
		}
	return inside;
}
