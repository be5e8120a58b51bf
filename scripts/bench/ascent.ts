import { makeAir } from '$lib/physics/air';
import { makeClimber } from '$lib/physics/ascent';
import { makeDragCurve } from '$lib/physics/drag-curve';
import { makeThrust } from '$lib/physics/motor-thrust';
import { n } from './inputs';
import type { Workload } from './workload';

const THRUST = makeThrust(
	[0, 0.05, 0.1, 0.5, 1, 1.5, 2, 2.5, 2.8, 3, 3.2],
	[0, 1200, 1800, 1750, 1800, 1850, 1750, 1500, 1100, 400, 0]
);
const DRAG = makeDragCurve(
	[0, 0.5, 0.7, 0.8, 0.9, 1, 1.1, 1.2, 1.5, 2, 3],
	[0.5, 0.48, 0.49, 0.52, 0.6, 0.72, 0.75, 0.73, 0.65, 0.55, 0.45]
);

/** Upright ascents of one rocket, its impulse, drag, dry mass and burn time uncertain. */
function ascents(size: number): Workload {
	return {
		name: 'ascent',
		size,
		run() {
			const climb = makeClimber(makeAir({ siteElevationM: 0 }));
			let sum = 0;
			for (let i = 0; i < size; i++)
				sum += climb({
					thrust: THRUST,
					impulseFactor: 1 + 0.03 * n(300, i),
					dragFactor: 1 + 0.08 * n(301, i),
					dryMassKg: 6 * (1 + 0.02 * n(302, i)),
					timeFactor: 1 + 0.03 * n(303, i),
					propellantKg: 2.5,
					areaM2: 0.00785,
					drag: DRAG
				}).apogee.upM;
			return { meanApogeeM: sum / size };
		}
	};
}

export default [ascents(10_000)];
