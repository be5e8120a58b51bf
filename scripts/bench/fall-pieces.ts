import { u } from './inputs';

/** The pieces and winds of the workload `fall`: random, and the same in every language. */
export const FALL_HEIGHTS_M = [0, 200, 500, 800, 1200, 1600, 2000, 2500, 3000, 3600, 4300, 5200];
const SPEED_M_S = [3, 4.5, 6, 7, 8, 9, 10, 11.5, 13, 14.5, 16, 18];
const TOWARD = [30, 35, 40, 48, 55, 60, 64, 70, 74, 78, 80, 82].map((deg) => (deg * Math.PI) / 180);
const BASE_X = Float64Array.from(SPEED_M_S, (speed, k) => speed * Math.cos(TOWARD[k]!));
const BASE_Y = Float64Array.from(SPEED_M_S, (speed, k) => speed * Math.sin(TOWARD[k]!));
const SIGMA = Float64Array.from(SPEED_M_S, (speed) => 0.5 + 0.15 * speed);

/** Writes wind i by height: the base wind plus scatter in each part, a normal pair at each height. */
export function windOf(i: number, x: Float64Array, y: Float64Array): void {
	for (let k = 0; k < SIGMA.length; k++) {
		const spread = SIGMA[k]! * Math.sqrt(-2 * Math.log(u(10 + k, i)));
		const turn = 2 * Math.PI * u(30 + k, i);
		x[k] = BASE_X[k]! + spread * Math.cos(turn);
		y[k] = BASE_Y[k]! + spread * Math.sin(turn);
	}
}

export function pieceOf(i: number) {
	const speed = 60 * u(3, i);
	const angle = 2 * Math.PI * u(4, i);
	return {
		ballisticKgM2: Math.exp(Math.log(3) + u(1, i) * Math.log(50)),
		upM: 500 + 4500 * u(2, i),
		vEastMS: speed * Math.cos(angle),
		vNorthMS: speed * Math.sin(angle),
		vUpMS: -40 + 60 * u(5, i)
	};
}
