import type { Air } from './air';
import { CELLS_TO_M, makeAirCells } from './air-cells';
import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireFinite, requireNotNegative, requirePositive, requireRange } from './checks';
import type { DragCurve } from './drag-curve';
import { Burn, type BurnInput } from './motor-thrust';
import type { Wind } from './wind';

export interface AscentInput extends BurnInput {
	drag: DragCurve;
	/** Drag over the curve's; 1 by default. */
	dragFactor?: number;
	/** Area that the drag coefficient stands on, m². */
	areaM2: number;
	/** It is held in this direction over this length; upright and of no length by default. */
	rod?: { lengthM: number; tiltRad: number; towardRad: number };
	/** Still air by default. */
	wind?: Wind;
	/** From then on, s after ignition, the drag is so many times as great: something opened or came apart. */
	dragJump?: { timeS: number; factor: number };
	/** Steps so many times as short; 1 by default. */
	fineness?: number;
}

/** Metres east, north and up of the pad; velocity over the ground. */
export interface FlightState {
	timeS: number;
	eastM: number;
	northM: number;
	upM: number;
	vEastMS: number;
	vNorthMS: number;
	vUpMS: number;
}

/** Times are seconds after ignition, heights above the pad, speeds over the ground. */
export interface Flight {
	liftOffS: number;
	rodExitMS: number;
	burnout: FlightState;
	maxSpeedMS: number;
	/** Of the speed through the air. */
	maxMach: number;
	/** Felt on board: (thrust - drag)/mass, m/s². */
	maxAccelerationMS2: number;
	apogee: FlightState;
	/** Where it is at each time asked for; on the ground from when it is back there. */
	at: FlightState[];
}

/** Shortens a step until f, which changes at that rate, is 0 at its end (Newton). */
function settle(
	step: (t: number, h: number) => void,
	t: number,
	h: number,
	f: () => number,
	rate: () => number
): number {
	for (let i = 0; i < 8; i++) {
		const over = f() / rate();
		if (Math.abs(over) < 1e-9) break;
		h -= over;
		step(t, h);
	}
	return h;
}

/** Longest steps, s, and the longest as a share of the time in which drag would stop it. */
const STEP = { thrust: 0.5, coast: 1, drag: 0.25 };

/**
 * The ascent of a point mass under thrust, drag and constant gravity through the day's air:
 * m dv/dt = F - ½ρ Cd(Mach) A |u| u - m g with u = v - wind. F points along the rod while it is on it and along u
 * after (it flies into the wind of its own speed, at no angle). Held on the pad until thrust exceeds weight.
 * Runge-Kutta steps of fourth order, set on the corners of the thrust curve.
 * Source: standard mechanics; checked by closed forms and by independent adaptive integration.
 */
export function makeClimber(air: Air): (input: AscentInput, timesS?: readonly number[]) => Flight {
	const { halfDensity, slowness, cellOf } = makeAirCells(air);
	const machOf = (z: number, speed: number) => {
		const at = cellOf(z);
		const i = at | 0;
		return speed * (slowness[i]! + (at - i) * (slowness[i + 1]! - slowness[i]!));
	};

	// Kept from run to run, since making them costs as much as some steps.
	const states = [new Float64Array(6), new Float64Array(6)] as const;
	const k = [0, 1, 2, 3].map(() => new Float64Array(6));
	const trial = new Float64Array(6);
	/** Drag over the square of the speed as last computed: near the end of the last step. */
	const latest = new Float64Array(1);
	/** Acceleration at both ends of the step: along the path, and felt on board. */
	const ends = new Float64Array(4);

	/**
	 * @param timesS  rising times after ignition at which its state is asked for; after apogee it falls on with the same drag
	 * @throws {RangeError} where it never lifts off, comes to a stop under thrust, or leaves the air that is known
	 */
	return function climb(input, timesS = []) {
		const { drag, wind, dragJump, fineness = 1, dragFactor = 1 } = input;
		const { lengthM = 0, tiltRad = 0, towardRad = 0 } = input.rod ?? {};
		requirePositive({ fineness });
		requireNotNegative({ areaM2: input.areaM2, dragFactor, lengthM });
		requireRange({ tiltRad }, 0, 1.2);
		requireFinite({ towardRad });
		const burn = new Burn(input);
		const { now } = burn;
		const { mach, cd, slope } = drag;
		const last = mach.length - 1;
		let area = input.areaM2 * dragFactor;
		let jumpS = dragJump?.timeS ?? Infinity;
		let bin = 0;
		/** Drag over the square of the speed, N s²/m². */
		const dragAt = (z: number, speed: number) => {
			const at = cellOf(z);
			const i = at | 0;
			const m = speed * (slowness[i]! + (at - i) * (slowness[i + 1]! - slowness[i]!));
			while (bin > 0 && m < mach[bin]!) bin--;
			while (bin < last && m >= mach[bin + 1]!) bin++;
			// Before the first point and after the last one the slope is not followed.
			const beyond = bin === last ? 0 : Math.max(0, m - mach[bin]!);
			const c = cd[bin]! + beyond * slope[bin]!;
			latest[0] = (halfDensity[i]! + (at - i) * (halfDensity[i + 1]! - halfDensity[i]!)) * c * area;
			return latest[0];
		};

		// Along a line (the rod, or straight up): s and v in y[0] and y[1]. In space: east, north, up and velocity.
		const [sinT, cosT] = [Math.sin(tiltRad), Math.cos(tiltRad)];
		const straight = tiltRad === 0 && wind === undefined;
		let line = true;
		let [y, next] = states;
		y.fill(0);

		/** Felt along the line. */
		const pull = (s: number, v: number) =>
			(now[0]! - dragAt(s * cosT, Math.abs(v)) * v * Math.abs(v)) / now[1]!;
		const stepLine = (t: number, h: number) => {
			const [s, v] = [y[0]!, y[1]!];
			const g = G * cosT;
			burn.at(t);
			const a1 = pull(s, v) - g;
			burn.at(t + h / 2);
			const v2 = v + (h / 2) * a1;
			const a2 = pull(s + (h / 2) * v, v2) - g;
			const v3 = v + (h / 2) * a2;
			const a3 = pull(s + (h / 2) * v2, v3) - g;
			burn.at(t + h);
			const v4 = v + h * a3;
			const a4 = pull(s + h * v3, v4) - g;
			next[0] = s + (h / 6) * (v + 2 * (v2 + v3) + v4);
			next[1] = v + (h / 6) * (a1 + 2 * (a2 + a3) + a4);
			ends[0] = a1;
			ends[1] = a4;
			ends[2] = a1 + g;
			ends[3] = a4 + g;
		};

		const rates = (x: Float64Array, d: Float64Array) => {
			const z = x[2]!;
			const [ue, un, uu] = [x[3]! - (wind?.eastMS(z) ?? 0), x[4]! - (wind?.northMS(z) ?? 0), x[5]!];
			const u = Math.sqrt(ue * ue + un * un + uu * uu);
			// Thrust and drag act along u; where there is no u, straight up.
			const f = u > 1e-6 ? (now[0]! / u - dragAt(z, u) * u) / now[1]! : 0;
			d[0] = x[3]!;
			d[1] = x[4]!;
			d[2] = x[5]!;
			d[3] = f * ue;
			d[4] = f * un;
			d[5] = (u > 1e-6 ? f * uu : now[0]! / now[1]!) - G;
		};
		const stepSpace = (t: number, h: number) => {
			const go = (i: number, share: number) => {
				for (let j = 0; j < 6; j++) trial[j] = y[j]! + share * h * k[i]![j]!;
				rates(trial, k[i + 1]!);
			};
			burn.at(t);
			rates(y, k[0]!);
			burn.at(t + h / 2);
			go(0, 0.5);
			go(1, 0.5);
			burn.at(t + h);
			go(2, 1);
			for (let j = 0; j < 6; j++)
				next[j] = y[j]! + (h / 6) * (k[0]![j]! + 2 * (k[1]![j]! + k[2]![j]!) + k[3]![j]!);
			for (const [end, d, x] of [
				[0, k[0]!, y],
				[1, k[3]!, next]
			] as const) {
				const v = Math.hypot(x[3]!, x[4]!, x[5]!);
				ends[end] = (d[3]! * x[3]! + d[4]! * x[4]! + d[5]! * x[5]!) / (v || 1);
				ends[2 + end] = Math.hypot(d[3]!, d[4]!, d[5]! + G);
			}
		};

		const height = (x: Float64Array) => (line ? x[0]! * cosT : x[2]!);
		const rising = (x: Float64Array) => (line ? x[1]! * cosT : x[5]!);
		const speedOf = (x: Float64Array) => (line ? Math.abs(x[1]!) : Math.hypot(x[3]!, x[4]!, x[5]!));
		const airspeed = (x: Float64Array) =>
			wind && !line ? Math.hypot(x[3]! - wind.eastMS(x[2]!), x[4]! - wind.northMS(x[2]!), x[5]!) : speedOf(x);
		/** Along the rod, as places and velocities in space. */
		const inSpace = (x: Float64Array) => {
			const [e, n] = [sinT * Math.sin(towardRad), sinT * Math.cos(towardRad)];
			return line
				? Float64Array.of(...[e, n, cosT].map((c) => c * x[0]!), ...[e, n, cosT].map((c) => c * x[1]!))
				: x;
		};
		const stateOf = (t: number, x: Float64Array): FlightState => {
			const [eastM = 0, northM = 0, upM = 0, vEastMS = 0, vNorthMS = 0, vUpMS = 0] = inSpace(x);
			return { timeS: t, eastM, northM, upM, vEastMS, vNorthMS, vUpMS };
		};

		const pastRod = () => next[0]! - lengthM;
		const alongRod = () => next[1]!;
		const climbRate = () => rising(next);
		const climbSlope = () => (line ? ends[1]! * cosT : k[3]![5]!);
		const heightLeft = () => height(next);

		const liftOffS = burn.liftOffS(G * cosT);
		if (liftOffS === undefined)
			throw new RangeError('the thrust never exceeds the weight; check thrust, masses and their units');
		if (!straight && lengthM === 0)
			throw new RangeError('where wind blows or the rod leans, the rod needs a length that guides it');
		let t = liftOffS;
		let onRod = lengthM > 0;
		let [rodExitMS, maxSpeedMS, maxMach, maxAccelerationMS2] = [0, 0, 0, 0];
		let burnout: FlightState | undefined;
		let apogee: FlightState | undefined;
		const at: FlightState[] = [];
		const passed = (time: number) => at.length < timesS.length && timesS[at.length]! <= time;
		while (passed(t)) at.push(stateOf(timesS[at.length]!, y));
		burn.at(t);
		dragAt(0, 0);
		const jump = () => {
			area *= dragJump!.factor;
			latest[0]! *= dragJump!.factor;
			jumpS = Infinity;
		};
		if (jumpS <= t) jump();
		while (!apogee || at.length < timesS.length) {
			const speed = speedOf(y);
			const burning = burn.next < Infinity;
			const stop = Math.min(burn.next, jumpS, timesS[at.length] ?? Infinity);
			const brake = (2 * latest[0]! * speed) / now[1]!;
			let h = Math.min(burning ? STEP.thrust : STEP.coast, STEP.drag / brake) / fineness;
			const steps = stop < Infinity ? Math.max(1, Math.ceil((stop - t) / h - 1e-6)) : Infinity;
			if (stop < Infinity) h = (stop - t) / steps;
			const step = line ? stepLine : stepSpace;
			if (!(t + h > t)) throw new RangeError(`the ascent cannot go on ${t} s after ignition`);
			step(t, h);
			let reached = steps === 1;
			const leaves = onRod && next[0]! >= lengthM;
			const tops = !apogee && rising(next) <= 0;
			const lands = apogee !== undefined && height(next) <= 0;
			if (leaves) h = settle(step, t, h, pastRod, alongRod);
			else if (tops) h = settle(step, t, h, climbRate, climbSlope);
			else if (lands) h = settle(step, t, h, heightLeft, climbRate);
			if (leaves || tops || lands) reached = false;

			// Between its ends the speed peaks where the acceleration, taken as linear, changes its sign.
			const [a0, a1] = [ends[0]!, ends[1]!];
			const peak = a0 > 0 && a1 < 0 ? (a0 * a0 * h) / (2 * (a0 - a1)) : 0;
			maxSpeedMS = Math.max(maxSpeedMS, speed + peak, speedOf(next));
			maxMach = Math.max(maxMach, machOf(height(next), Math.max(airspeed(y) + peak, airspeed(next))));
			maxAccelerationMS2 = Math.max(maxAccelerationMS2, ends[2]!, ends[3]!);

			t = reached ? stop : t + h;
			[y, next] = [next, y];
			if (height(y) > CELLS_TO_M && area > 0)
				throw new RangeError('it would climb above 40 km, beyond the air that is known');
			if (leaves) {
				onRod = false;
				rodExitMS = y[1]!;
				if (!straight) {
					y.set(inSpace(y));
					line = false;
				}
			}
			if (tops) {
				if (burning)
					throw new RangeError(
						'it would come to a stop while the motor still burns; check thrust and masses'
					);
				apogee = stateOf(t, y);
			}
			if (lands) while (at.length < timesS.length) at.push(stateOf(t, y));
			if (!reached) continue;
			while (passed(t)) at.push(stateOf(t, y));
			if (stop === jumpS) jump();
			if (stop === burn.next) {
				burn.pass();
				if (burn.next === Infinity) burnout = stateOf(t, y);
			}
		}
		return {
			liftOffS,
			rodExitMS,
			burnout: burnout ?? apogee,
			maxSpeedMS,
			maxMach,
			maxAccelerationMS2,
			apogee,
			at
		};
	};
}
