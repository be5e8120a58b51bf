import type { Air } from './air';
import { STANDARD_GRAVITY_M_S2 } from './atmosphere';
import { requireFinite } from './checks';
import { integrate } from './ode';
import type { Wind } from './wind';

/** Where a piece starts: metres east, north and up of the pad, and its velocity over the ground, m/s. */
export interface FallStart {
	eastM: number;
	northM: number;
	upM: number;
	vEastMS: number;
	vNorthMS: number;
	vUpMS: number;
}

/** A stretch of the descent with one ballistic coefficient m/(Cd A), kg/m²; the last one has no end but the ground. */
export interface FallPhase {
	ballisticKgM2: number;
	/** The phase ends when the piece descends to this height above the pad (or at once where it already has). */
	untilHeightM?: number;
}

export interface FallInput {
	/** One number for a piece that falls as it is; a list for drogue, then main. */
	ballistic: number | readonly FallPhase[];
	start: FallStart;
	air: Air;
	wind: Wind;
	/** Height of the ground where it lands, above the pad; 0 by default. */
	groundM?: number;
	/** Relative error per step; 1e-8 by default, which lands within millimetres. */
	tolerance?: number;
	/** Called with the state at the start and after every step, for a drawing of the path. */
	onStep?: (timeS: number, state: FallStart) => void;
}

export interface FallEnd extends FallStart {
	timeS: number;
	/** Speed over the ground at landing, m/s. */
	impactSpeedMS: number;
}

const LONGEST_FALL_S = 200_000;
/** Lighter than any confetti; below it the equations grow too stiff for the method. */
const LEAST_BALLISTIC_KG_M2 = 0.02;

/** @throws {RangeError} in words that reach whoever typed a descent rate or a ballistic coefficient */
export function requireBallistic(ballisticKgM2: number): void {
	if (!(ballisticKgM2 >= LEAST_BALLISTIC_KG_M2 && ballisticKgM2 <= 1e15))
		throw new RangeError(
			`a ballistic coefficient of ${Number(ballisticKgM2.toPrecision(2))} kg/m² is not computed here: the least is ${LEAST_BALLISTIC_KG_M2} kg/m², which sinks at 0.6 m/s; give a faster rate or a narrower uncertainty`
		);
}

/** The phases in order, checked: positive coefficients, ends that do not rise, no end on the last. */
export function fallPhases(ballistic: number | readonly FallPhase[]): readonly FallPhase[] {
	const phases = typeof ballistic === 'number' ? [{ ballisticKgM2: ballistic }] : ballistic;
	if (phases.length === 0) throw new RangeError('ballistic must hold at least one phase');
	phases.forEach((phase, i) => {
		requireBallistic(phase.ballisticKgM2);
		if (i === phases.length - 1) {
			if (phase.untilHeightM !== undefined)
				throw new RangeError('the last phase lasts to the ground: no untilHeightM');
			return;
		}
		requireFinite({ untilHeightM: phase.untilHeightM ?? NaN });
		const earlier = phases[i - 1]?.untilHeightM ?? Infinity;
		if (phase.untilHeightM! > earlier)
			throw new RangeError('untilHeightM must not rise from one phase to the next');
	});
	return phases;
}

/**
 * The fall of one piece with quadratic drag through moving air to the ground: a point mass,
 * dv/dt = -g - ρ(z)/(2B) |v-w| (v-w), B = m/(Cd A) constant in each phase, flat Earth, g constant.
 * Integrated with the Dormand-Prince 5(4) pair; `makeFaller` does the same faster and less exactly.
 * @throws {RangeError} naming the argument that is out of range, or when the piece would fall for over two days
 */
export function fall(input: FallInput): FallEnd {
	const { start, air, wind, groundM = 0, tolerance = 1e-8, onStep } = input;
	requireFinite({ ...start, groundM });
	const phases = fallPhases(input.ballistic);
	if (start.upM < groundM)
		throw new RangeError(`start.upM must not be under the ground at ${groundM}, got ${start.upM}`);

	// Counted from the start in the plane, so that a shift of the whole shifts the landing and nothing else.
	let y = Float64Array.of(0, 0, start.upM, start.vEastMS, start.vNorthMS, start.vUpMS);
	const stateOf = (s: Float64Array): FallStart => ({
		eastM: start.eastM + s[0]!,
		northM: start.northM + s[1]!,
		upM: s[2]!,
		vEastMS: s[3]!,
		vNorthMS: s[4]!,
		vUpMS: s[5]!
	});
	let t = 0;
	for (const [i, { ballisticKgM2, untilHeightM }] of phases.entries()) {
		const endM = i === phases.length - 1 ? groundM : Math.max(groundM, untilHeightM!);
		// Positive while the piece is above the end or still rises.
		const remaining = (_: number, s: Float64Array) => Math.max(s[2]! - endM, s[5]!);
		if (remaining(t, y) <= 0) continue;
		const end = integrate({
			derivative(_, s, ds) {
				const z = s[2]!;
				const ue = s[3]! - wind.eastMS(z);
				const un = s[4]! - wind.northMS(z);
				const drag =
					(air.densityKgM3(z) * Math.sqrt(ue * ue + un * un + s[5]! * s[5]!)) / (2 * ballisticKgM2);
				ds[0] = s[3]!;
				ds[1] = s[4]!;
				ds[2] = s[5]!;
				ds[3] = -drag * ue;
				ds[4] = -drag * un;
				ds[5] = -STANDARD_GRAVITY_M_S2 - drag * s[5]!;
			},
			y0: y,
			t0: t,
			tEnd: t + LONGEST_FALL_S,
			relTol: tolerance,
			absTol: [1e3, 1e3, 1e3, 10, 10, 10].map((scale) => scale * tolerance),
			maxSteps: 3_000_000,
			events: [remaining],
			onStep: (time, s) => onStep?.(time, stateOf(s))
		});
		if (end.event < 0)
			throw new RangeError(
				`with a ballistic coefficient of ${Number(ballisticKgM2.toPrecision(2))} kg/m² it would fall for more than ${LONGEST_FALL_S} s; give a faster rate or a narrower uncertainty`
			);
		y = Float64Array.from(end.y);
		t = end.t;
	}
	return { ...stateOf(y), timeS: t, impactSpeedMS: Math.hypot(y[3]!, y[4]!, y[5]!) };
}
