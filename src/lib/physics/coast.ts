import type { Air } from './air';
import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireFinite, requireRange } from './checks';
import { requireBallistic } from './fall';

/** Height above the pad, upward and sideways speed through the air. */
export interface CoastState {
	upM: number;
	vUpMS: number;
	vSideMS: number;
}

/** Beyond this no vehicle coasted; going back in time the speed would soon be infinite. */
const FASTEST_MS = 1500;
/** Longest step, s, and the longest as a share of the time in which drag would stop it. */
const STEP = { most: 0.5, drag: 0.1 };

/**
 * Steps of fourth order along the coast, forward or back, until `stop` says so or the time is up.
 * @returns the state and the time that it took
 */
function follow(
	ballisticKgM2: number,
	air: Air,
	{ upM, vUpMS, vSideMS }: CoastState,
	timeS: number,
	stop: (up: number, vUp: number, speed: number) => boolean
): CoastState & { timeS: number } {
	let [z, v, u, t] = [upM, vUpMS, vSideMS, 0];
	/** Drag over mass and speed, 1/s. */
	const brake = (h: number, a: number, b: number) =>
		(air.densityKgM3(h) * Math.sqrt(a * a + b * b)) / (2 * ballisticKgM2);
	for (;;) {
		const k1 = brake(z, v, u);
		const left = timeS - t;
		const most = Math.min(STEP.most, STEP.drag / k1);
		const steps = Math.max(1, Math.ceil(Math.abs(left) / most - 1e-6));
		const h = left / steps;
		const [v1, u1] = [-G - k1 * v, -k1 * u];
		const [va, ua] = [v + (h / 2) * v1, u + (h / 2) * u1];
		const k2 = brake(z + (h / 2) * v, va, ua);
		const [v2, u2] = [-G - k2 * va, -k2 * ua];
		const [vb, ub] = [v + (h / 2) * v2, u + (h / 2) * u2];
		const k3 = brake(z + (h / 2) * va, vb, ub);
		const [v3, u3] = [-G - k3 * vb, -k3 * ub];
		const [vc, uc] = [v + h * v3, u + h * u3];
		const k4 = brake(z + h * vb, vc, uc);
		z += (h / 6) * (v + 2 * (va + vb) + vc);
		v += (h / 6) * (v1 + 2 * (v2 + v3) - G - k4 * vc);
		u += (h / 6) * (u1 + 2 * (u2 + u3) - k4 * uc);
		t = steps === 1 ? timeS : t + h;
		if (steps === 1 || stop(z, v, Math.hypot(v, u))) return { upM: z, vUpMS: v, vSideMS: u, timeS: t };
	}
}

/**
 * A point mass with quadratic drag, so long after (or, with a negative time, before) a known state: the equation of
 * motion of `fall`, in the plane of the flight and in the moving air, taken forward or back.
 * @throws {RangeError} in words: before it left the pad, after it hit the ground, or faster than anything coasts
 */
export function coastFor(ballisticKgM2: number, air: Air, from: CoastState, timeS: number): CoastState {
	requireBallistic(ballisticKgM2);
	requireFinite({ ...from, timeS });
	if (timeS === 0) return { ...from };
	const end = follow(
		ballisticKgM2,
		air,
		from,
		timeS,
		(up, _, speed) => up < -GROUND_M || !(speed < FASTEST_MS)
	);
	const when = `${Math.abs(end.timeS).toFixed(1)} s`;
	if (!(Math.hypot(end.vUpMS, end.vSideMS) < FASTEST_MS))
		throw new RangeError(
			`${when} before it would have been faster than ${FASTEST_MS} m/s: its drag is too great`
		);
	if (end.upM < -GROUND_M)
		throw new RangeError(
			timeS < 0
				? `coasting back, it is on the pad ${when} before: that early it was not flying yet, or still under thrust`
				: `it hits the ground ${when} after`
		);
	const { upM, vUpMS, vSideMS } = end;
	return { upM, vUpMS, vSideMS };
}
/** So far under the pad it may come by rounding. */
const GROUND_M = 1e-3;

/** The state at the top of a coast upward. @throws {RangeError} where it does not rise at the start */
export function coastToApogee(
	ballisticKgM2: number,
	air: Air,
	from: CoastState
): CoastState & { timeS: number } {
	requireBallistic(ballisticKgM2);
	requireRange({ vUpMS: from.vUpMS }, 1e-6, FASTEST_MS);
	requireFinite({ ...from });
	const past = follow(ballisticKgM2, air, from, from.vUpMS / G + 1, (_, vUp) => vUp <= 0);
	// It falls from the top at nearly g: back to where it stood still, which two corrections reach to rounding.
	let timeS = past.timeS;
	let top = past;
	for (let i = 0; i < 4 && Math.abs(top.vUpMS) > 1e-9; i++) {
		timeS += top.vUpMS / G;
		top = follow(ballisticKgM2, air, from, timeS, () => false);
	}
	return top;
}
