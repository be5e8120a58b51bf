import {
	pressureWithHolePa,
	turnUntilBurnout,
	type Climb,
	type SideForce,
	type Turned
} from '$lib/physics/breach';
import {
	areaRatio,
	criticalPressureRatio,
	jetForceN,
	machFromPressureRatio,
	SEPARATES,
	thrustCoefficient
} from '$lib/physics/gas-flow';
import type { Inputs } from './inputs';

export interface Leak {
	pressurePa: number;
	/** Pressure and thrust left, as shares of those without the hole. */
	pressureShare: number;
	thrustShare: number;
	/** With the hole the gas leaves the nozzle's wall before its exit. */
	separated: boolean;
	forceN: number;
	/** Pressure times area of the hole, as the hand rule has it, on the pressure without the hole. */
	handRuleN: number;
}

const leaks = new WeakMap<Inputs, Leak>();

/**
 * Kept for each set of inputs, since scenarios share them.
 * @throws {RangeError} where the chamber no longer holds a choked throat
 */
export function leakOf(x: Inputs): Leak {
	const known = leaks.get(x) ?? leak(x);
	leaks.set(x, known);
	return known;
}

function leak(x: Inputs): Leak {
	const hole = x.told === 'other' ? x.holeArea! : (Math.PI / 4) * x.hole! ** 2;
	const throat = (Math.PI / 4) * x.throat ** 2;
	const pressurePa = pressureWithHolePa(x.pressure, throat, x.discharge * hole, x.exponent);
	if (!(criticalPressureRatio(x.heatRatio) * pressurePa > x.outside))
		throw new RangeError(
			'with a hole this large the chamber holds no pressure: the motor all but goes out, and no steady force follows'
		);
	const pressureShare = pressurePa / x.pressure;
	const [whole, left] = [x.pressure, pressurePa].map((p) => nozzle(x, p)) as [Nozzle, Nozzle];
	return {
		pressurePa,
		pressureShare,
		thrustShare: (pressureShare * left.coefficient) / whole.coefficient,
		separated: left.separated,
		forceN: jetForceN({
			k: x.heatRatio,
			pressure0Pa: pressurePa,
			backPressurePa: x.outside,
			areaM2: hole,
			discharge: x.discharge
		}),
		handRuleN: x.pressure * hole
	};
}

type Nozzle = ReturnType<typeof nozzle>;

/** Thrust coefficient at a chamber pressure, 1 where the expansion is not known; the nozzle ends where the gas leaves its wall. */
function nozzle({ expansion, heatRatio: k, outside: backPressurePa }: Inputs, pressure0Pa: number) {
	if (expansion === undefined) return { coefficient: 1, separated: false };
	const flow = { k, pressure0Pa, backPressurePa };
	const full = thrustCoefficient({ ...flow, areaRatio: expansion });
	if (!full.separated) return full;
	const mach = machFromPressureRatio((SEPARATES * backPressurePa) / pressure0Pa, k);
	return { ...thrustCoefficient({ ...flow, areaRatio: areaRatio(mach, k) }), separated: true };
}

/** Whether the vehicle is told well enough to compute its path. */
export const hasPath = (x: Inputs) => x.scope === 'path';

/** The climb with what thrust is left, and the force of the jet, where there is a path. */
export function climbOf(x: Inputs, leak: Leak): { climb: Climb; side: SideForce } {
	return {
		climb: {
			massKg: x.mass!,
			pitchInertiaKgM2: x.inertia!,
			areaM2: (Math.PI / 4) * x.diameter! ** 2,
			forceSlope: x.forceSlope!,
			marginM: x.margin!,
			dampingRatio: x.damping!,
			rollRateRadS: x.rollRate!,
			thrustN: x.thrust! * leak.thrustShare,
			burnTimeS: x.burnTime!,
			burnoutSpeedMS: x.burnoutSpeed!,
			densityKgM3: x.airDensity!
		},
		side: { forceN: leak.forceN, behindM: x.behind! }
	};
}

/** When the rail lets go, s after ignition. */
export const railEnd = (x: Inputs) =>
	(x.burnTime! * Math.min(x.railSpeed!, x.burnoutSpeed!)) / x.burnoutSpeed!;

/** Turn and drift by burnout if it opened then; on the rail it cannot turn, after burnout nothing blows. */
export function pathAfter(x: Inputs, leak: Leak, openedS: number): Turned {
	if (openedS >= x.burnTime!) return { turn: [0, 0], drift: [0, 0], attack: 0 };
	const { climb, side } = climbOf(x, leak);
	return turnUntilBurnout(climb, side, Math.max(openedS, railEnd(x)));
}
