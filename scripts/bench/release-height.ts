import { makeAir } from '$lib/physics/air';
import { makeFaller } from '$lib/physics/faller';
import { FALL_HEIGHTS_M, windOf } from './fall-pieces';
import { n } from './inputs';
import type { Workload } from './workload';

const HEIGHTS = Array.from({ length: 200 }, (_, k) => 500 + (4500 * k) / 199);
const SAMPLES = 5000;

/** Two pieces found 650 m apart: from which height? Each sample falls from all heights, the way below worked out once. */
function releaseHeight() {
	const faller = makeFaller(makeAir({ siteElevationM: 0 }), FALL_HEIGHTS_M);
	const x = new Float64Array(FALL_HEIGHTS_M.length);
	const y = new Float64Array(FALL_HEIGHTS_M.length);
	const first = new Float64Array(2 * HEIGHTS.length);
	const likelihood = new Float64Array(HEIGHTS.length);
	const highest = HEIGHTS.at(-1)!;
	for (let j = 0; j < SAMPLES; j++) {
		windOf(j, x, y);
		const speed = 20 + 5 * n(52, j);
		const angle = 0.5 + 0.3 * n(53, j);
		const [east, north, up] = [speed * Math.cos(angle), speed * Math.sin(angle), -5 + 5 * n(54, j)];
		const top = highest + (up > 0 ? up ** 2 / 19.6 : 0);
		faller.load(40 * Math.exp(0.15 * n(50, j)), x, y, top);
		for (let k = 0; k < HEIGHTS.length; k++) {
			faller.drop(0, 0, HEIGHTS[k]!, east, north, up);
			first[2 * k] = faller.landed[0]!;
			first[2 * k + 1] = faller.landed[1]!;
		}
		faller.load(8 * Math.exp(0.2 * n(51, j)), x, y, top);
		for (let k = 0; k < HEIGHTS.length; k++) {
			faller.drop(0, 0, HEIGHTS[k]!, east, north, up);
			const de = faller.landed[0]! - first[2 * k]!;
			const dn = faller.landed[1]! - first[2 * k + 1]!;
			likelihood[k]! += Math.exp(-(((Math.sqrt(de * de + dn * dn) - 650) / 15) ** 2) / 2);
		}
	}
	const total = likelihood.reduce((sum, l) => sum + l, 0);
	const mean = likelihood.reduce((sum, l, k) => sum + l * HEIGHTS[k]!, 0) / total;
	const variance = likelihood.reduce((sum, l, k) => sum + l * (HEIGHTS[k]! - mean) ** 2, 0) / total;
	return { posteriorMeanM: mean, posteriorSdM: Math.sqrt(variance) };
}

export default [{ name: 'release-height', size: SAMPLES, run: releaseHeight }] satisfies Workload[];
