import { requireFinite, requireNotNegative, requirePositive } from './checks';

/**
 * Steady chamber pressure once a hole takes part of the gas, Pa: p (At/(At + Cd Ah))^(1/(1-n)), from the balance of gas
 * made (law of Vieille and Saint-Robert, exponent n) and gas that leaves through two choked openings.
 * @param throatM2  throat area
 * @param flowM2    area of the hole times its discharge coefficient
 * @throws RangeError for an exponent of 1 or more: there is no steady pressure
 */
export function pressureWithHolePa(
	pressurePa: number,
	throatM2: number,
	flowM2: number,
	exponent: number
): number {
	requirePositive({ pressurePa, throatM2 });
	requireNotNegative({ flowM2 });
	if (!(exponent < 1))
		throw new RangeError('with a pressure exponent of 1 or more there is no steady pressure');
	return pressurePa * (throatM2 / (throatM2 + flowM2)) ** (1 / (1 - exponent));
}

/** A finned vehicle that climbs under constant thrust, its speed rising evenly from rest to that at burnout. */
export interface Climb {
	massKg: number;
	/** About an axis across the vehicle, through its centre of gravity. */
	pitchInertiaKgM2: number;
	/** Cross-section to which the slope of the normal-force coefficient refers. */
	areaM2: number;
	/** Slope of the normal-force coefficient, 1/rad. */
	forceSlope: number;
	/** Centre of pressure behind the centre of gravity. */
	marginM: number;
	/** Of the pitch oscillation, 1 is critical. */
	dampingRatio: number;
	rollRateRadS: number;
	thrustN: number;
	burnTimeS: number;
	burnoutSpeedMS: number;
	densityKgM3: number;
}

export interface SideForce {
	forceN: number;
	/** Where it acts, behind the centre of gravity; negative is ahead of it. */
	behindM: number;
}

function requireClimb(c: Climb): void {
	requirePositive({
		mass: c.massKg,
		inertia: c.pitchInertiaKgM2,
		area: c.areaM2,
		forceSlope: c.forceSlope,
		margin: c.marginM,
		burnTime: c.burnTimeS,
		burnoutSpeed: c.burnoutSpeedMS,
		density: c.densityKgM3
	});
	requireNotNegative({ damping: c.dampingRatio, thrust: c.thrustN });
	requireFinite({ rollRate: c.rollRateRadS });
}

/** Slope of the normal force, N/rad, and rate of the pitch oscillation, rad/s, at a speed. */
function stiffness(c: Climb, speedMS: number) {
	const normal = 0.5 * c.densityKgM3 * speedMS * speedMS * c.areaM2 * c.forceSlope;
	return { normal, rate: Math.sqrt((normal * c.marginM) / c.pitchInertiaKgM2) };
}

/** Time of one pitch oscillation at a speed, s. */
export const pitchPeriodS = (c: Climb, speedMS: number) => (2 * Math.PI) / stiffness(c, speedMS).rate;

/**
 * Angle of attack that a side force holds, rad, once the swing has died out: the force times its arm over the restoring
 * moment; with roll, the amplitude of the forced swing, F x / |K - I p² + i p D|. Small angles, flight path straight.
 */
export function trimAngleRad(c: Climb, { forceN, behindM }: SideForce, speedMS: number): number {
	requireClimb(c);
	const { rate } = stiffness(c, speedMS);
	const p = c.rollRateRadS;
	const real = rate * rate - p * p;
	const imaginary = 2 * c.dampingRatio * rate * p;
	return Math.abs((forceN * behindM) / c.pitchInertiaKgM2) / Math.hypot(real, imaginary);
}

/** What a side force has done by burnout; the first number of a pair is along its first direction, the second across. */
export interface Turned {
	/** Angle of the path from its first direction, rad. */
	turn: [number, number];
	/** Distance from where the path would have gone, m. */
	drift: [number, number];
	/** Greatest angle of attack, or with roll no less than it, rad. */
	attack: number;
}

const STEP = 0.4; // of a radian of the fastest motion
const MOST_STEPS = 20_000;

/**
 * Path of a climbing vehicle from the moment at which a side force sets in until burnout: pitch with inertia, damping and
 * restoring moment; normal force, thrust and weight bend the path; roll turns the force with the vehicle. Linear in the
 * angles and without the gyroscopic moment of the roll. Fourth-order Runge-Kutta with steps of a share of the fastest
 * motion.
 * @throws RangeError where the time does not lie within the burn, above zero
 */
export function turnUntilBurnout(c: Climb, { forceN, behindM }: SideForce, fromS: number): Turned {
	requireClimb(c);
	requirePositive({ fromS });
	if (fromS > c.burnTimeS) throw new RangeError('the side force must set in before burnout');
	const { massKg: m, pitchInertiaKgM2: I, thrustN, marginM, dampingRatio, rollRateRadS: p } = c;
	const g = 9.80665;
	const acceleration = c.burnoutSpeedMS / c.burnTimeS;
	const slope = 0.5 * c.densityKgM3 * c.areaM2 * c.forceSlope;
	const moment = -forceN * behindM;
	// Of the moment against the swing, per speed: 2 ζ √(restoring moment × inertia) goes with the speed.
	const damping = 2 * dampingRatio * Math.sqrt(slope * marginM * I);
	const span = c.burnTimeS - fromS;
	const atEnd = stiffness(c, c.burnoutSpeedMS);
	const bending = (v: number) => (slope * v * v + thrustN + m * g) / (m * v);
	const fastest =
		Math.max(atEnd.rate, bending(acceleration * fromS), bending(c.burnoutSpeedMS)) + Math.abs(p);
	const steps = Math.min(MOST_STEPS, Math.max(8, Math.ceil((span * fastest) / STEP)));
	const h = span / steps;
	/** One axis by itself: the force along it goes as the cosine of the roll, less `phase`. */
	function along(phase: number) {
		// Attitude, its rate, path and drift; `d` holds what they grow by.
		let [y0, y1, y2, y3, greatest] = [0, 0, 0, 0, 0];
		const d = new Float64Array(4);
		const derive = (t: number, attitude: number, rate: number, path: number) => {
			const v = acceleration * t;
			const normal = slope * v * v;
			const restoring = normal * marginM;
			const push = p === 0 && phase === 0 ? 1 : Math.cos(p * (t - fromS) - phase);
			const alpha = attitude - path;
			d[0] = rate;
			d[1] = (moment * push - restoring * alpha - damping * v * rate) / I;
			d[2] = (forceN * push + (normal + thrustN) * alpha + m * g * path) / (m * v);
			d[3] = v * path;
		};
		for (let step = 0; step < steps; step++) {
			const t = fromS + step * h;
			derive(t, y0, y1, y2);
			let s0 = d[0]!;
			let s1 = d[1]!;
			let s2 = d[2]!;
			let s3 = d[3]!;
			for (let stage = 1; stage < 4; stage++) {
				const ahead = stage === 3 ? h : h / 2;
				derive(t + ahead, y0 + ahead * d[0]!, y1 + ahead * d[1]!, y2 + ahead * d[2]!);
				const weight = stage === 3 ? 1 : 2;
				s0 += weight * d[0]!;
				s1 += weight * d[1]!;
				s2 += weight * d[2]!;
				s3 += weight * d[3]!;
			}
			y0 += (h / 6) * s0;
			y1 += (h / 6) * s1;
			y2 += (h / 6) * s2;
			y3 += (h / 6) * s3;
			greatest = Math.max(greatest, Math.abs(y0 - y2));
		}
		return { turn: y2, drift: y3, greatest };
	}
	const one = along(0);
	const other = p === 0 ? { turn: 0, drift: 0, greatest: 0 } : along(Math.PI / 2);
	return {
		turn: [one.turn, other.turn],
		drift: [one.drift, other.drift],
		attack: Math.hypot(one.greatest, other.greatest)
	};
}
