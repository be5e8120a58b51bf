import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import { terminalSpeedMS } from '$lib/physics/descent';
import { ballisticParameter, fillingTimeS, openingPeak, pflanz } from '$lib/physics/opening';
import { airOf } from '../through-wind';
import type { Inputs } from './inputs';

export interface Loads {
	dragArea: number;
	fillTime: number;
	steadySpeed: number;
	/** Steady drag at the speed of line stretch, nothing slowing down: times Cx. */
	infiniteMass: number;
	/** Pflanz, times Cx; gravity left out. */
	closedForm: number;
	/** Peak while it fills, with gravity and without over-inflation. */
	filling: number;
	/** When that peak comes, as a share of the filling time. */
	peakAt: number;
}

/** The loads of one opening, at its own speed or at another one. */
export function loadsOf(x: Inputs, speed = x.speed): Loads {
	const density = airOf(x).densityKgM3(x.height);
	const dragArea = (x.dragCoefficient * Math.PI * x.diameter ** 2) / 4;
	const fillTime =
		x.fillingTime === undefined ? fillingTimeS(x.fill, x.diameter, speed) : (x.fillingTime * x.speed) / speed;
	const opening = {
		massKg: x.mass,
		dragAreaM2: dragArea,
		densityKgM3: density,
		speedMS: speed,
		fillTimeS: fillTime
	};
	const infiniteMass = (x.overshoot * dragArea * density * speed ** 2) / 2;
	const { forceN, peakAt } = openingPeak({ ...opening, downRad: x.dive, growth: x.growth });
	return {
		dragArea,
		fillTime,
		steadySpeed: terminalSpeedMS(x.mass / dragArea, density),
		infiniteMass,
		closedForm: infiniteMass * pflanz(ballisticParameter(opening), x.growth).reduction,
		filling: forceN,
		peakAt
	};
}

/**
 * The greatest load: over-inflation raises it by Cx where the peak comes when the canopy is full, and by an unknown
 * part of that (`share`, 0 to 1) where it comes before. In the end it carries the weight at least.
 */
export function peakLoad(x: Inputs, { filling, peakAt }: Loads, share: number): number {
	const part = peakAt < 1 ? share : 1;
	return Math.max(filling * (1 + part * (x.overshoot - 1)), x.mass * G);
}
