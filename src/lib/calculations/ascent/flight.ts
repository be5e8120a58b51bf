import type { Air } from '$lib/physics/air';
import { makeClimber, type AscentInput, type Flight } from '$lib/physics/ascent';
import { makeDragCurve } from '$lib/physics/drag-curve';
import { makeThrust, thrustOfTotals, type Thrust, type ThrustShape } from '$lib/physics/motor-thrust';
import { makeWindFromParts } from '$lib/physics/wind';
import { airOf, windOf } from '../through-wind';
import type { Inputs } from './inputs';

/** Samples that share an air share what was computed of it. */
const climbers = new WeakMap<Air, ReturnType<typeof makeClimber>>();
function climberOf(air: Air) {
	const climber = climbers.get(air) ?? makeClimber(air);
	climbers.set(air, climber);
	return climber;
}

export function thrustOf(x: Inputs): Thrust {
	if (x.motorAs === 'totals')
		return thrustOfTotals(x.thrustShape as ThrustShape, x.totalImpulse!, x.burnTime!);
	return makeThrust(
		x.thrust.map((p) => p.time),
		x.thrust.map((p) => p.force)
	);
}

const dragOf = ({ dragTable, dragCoefficient }: Inputs) =>
	dragTable.length > 0
		? makeDragCurve(
				dragTable.map((p) => p.mach),
				dragTable.map((p) => p.coefficient)
			)
		: makeDragCurve([0], [dragCoefficient]);

/** What a scenario changes of the flight. */
export type Change = Pick<AscentInput, 'thrustLostS' | 'dragJump' | 'fineness'> & {
	impulse?: number;
	drag?: number;
	lean?: { tiltRad: number; towardRad: number };
};

/**
 * The flight of this sample.
 * @param timesS  after ignition, rising, at which its state is asked for
 * @throws {RangeError} in words that can be shown
 */
export function flightOf(x: Inputs, change: Change = {}, timesS: readonly number[] = []): Flight {
	const { impulse = 1, drag = 1, lean, ...others } = change;
	const calm = x.wind.every((w) => w.speed === 0);
	const { heights, east, north } = windOf(x);
	return climberOf(airOf(x))(
		{
			thrust: thrustOf(x),
			impulseFactor: x.impulseFactor * impulse,
			timeFactor: x.timeFactor,
			dryMassKg: x.liftoffMass - x.propellantMass,
			propellantKg: x.propellantMass,
			drag: dragOf(x),
			dragFactor: x.dragFactor * drag,
			areaM2: (Math.PI * x.diameter ** 2) / 4,
			rod: { lengthM: x.rodLength, tiltRad: x.rodAngle, towardRad: x.rodToward, ...lean },
			...(calm ? {} : { wind: makeWindFromParts(heights, east, north) }),
			...others
		},
		timesS
	);
}

/** What an ordinary flight of these inputs would record; heights and times fall short as `ordinaryShare` says. */
export function recorded(x: Inputs, flight: Flight) {
	return {
		apogee: flight.apogee.upM * x.ordinaryShare,
		// A height goes as the square of a time.
		timeToApogee: (flight.apogee.timeS - flight.liftOffS) * Math.sqrt(x.ordinaryShare),
		maxSpeed: flight.maxSpeedMS
	};
}
export type Recorded = ReturnType<typeof recorded>;
