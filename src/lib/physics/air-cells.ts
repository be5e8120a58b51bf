import type { Air } from './air';

/** Height above the pad to which the cells reach, m. */
export const CELLS_TO_M = 40_000;
const CELL_M = 50;
const FOOT_M = -500;

/**
 * Half the density, kg/m³, and the inverse of the speed of sound, s/m, at equal steps of height above the pad, filled as
 * high as they are asked for. `cellOf` gives the place of a height among them, to interpolate between its whole part
 * and the next; linear interpolation is good to 1e-5.
 */
export function makeAirCells(air: Air) {
	const cells = (CELLS_TO_M - FOOT_M) / CELL_M;
	const halfDensity = new Float64Array(cells + 1);
	const slowness = new Float64Array(cells + 1);
	const fill = (from: number) => {
		for (let i = from; i <= from + 1; i++) {
			halfDensity[i] = air.densityKgM3(FOOT_M + i * CELL_M) / 2;
			slowness[i] = 1 / air.soundSpeedMS(FOOT_M + i * CELL_M);
		}
	};
	const cellOf = (heightM: number) => {
		const at = Math.min(Math.max((heightM - FOOT_M) / CELL_M, 0), cells - 1e-9);
		const i = at | 0;
		if (slowness[i] === 0 || slowness[i + 1] === 0) fill(i);
		return at;
	};
	return { halfDensity, slowness, cellOf };
}
