import { ballisticFromSpeedKgM2, terminalSpeedMS } from '$lib/physics/descent';
import { airOf } from '../through-wind';
import type { Inputs } from './inputs';

/** Drag area as built, or undefined where neither it nor a canopy is given. */
export const builtArea = (x: Inputs) =>
	x.dragArea ??
	(x.canopyDiameter === undefined ? undefined : (x.dragCoefficient * Math.PI * x.canopyDiameter ** 2) / 4);

/** Rate over the ground at a height, m/s: terminal speed less what the air rises. */
export const rateAt = (x: Inputs, area: number, height: number) =>
	terminalSpeedMS(x.mass / area, airOf(x).densityKgM3(height)) - x.verticalAir;

/** Slower than this nothing comes down, or falls through the air, as far as this calculation goes, m/s. */
const SLOWEST = 0.05;

/** Whether the air rises as fast as the canopy sinks. */
export const heldUp = (rate: number) => rate <= SLOWEST;

/** Steady descent from a height to the pad, s; in rising air that holds it up it is taken to sink at `SLOWEST`. */
export function timeFrom(x: Inputs, area: number, height: number): number {
	const steps = 40;
	let time = 0;
	for (let i = 0; i < steps; i++) {
		const rate = rateAt(x, area, ((i + 0.5) / steps) * height);
		time += height / steps / Math.max(rate, SLOWEST);
	}
	return time;
}

export const recordedRate = (x: Inputs) =>
	x.recordedRate ??
	(x.heightLost === undefined || x.timeTaken === undefined ? undefined : x.heightLost / x.timeTaken);

/** Speed through the air, m/s, of what comes down over the ground at a rate. */
export const inAir = (x: Inputs, rate: number) => rate + x.verticalAir;

/** Whether sinking air alone would bring it down as fast as recorded. */
export const airAlone = (x: Inputs, recorded: number) => heldUp(inAir(x, recorded));

/** The drag area with which it falls that fast through the air, m²; without bound, and so huge, where `airAlone`. */
export function impliedArea(x: Inputs, rate: number): number {
	const speed = Math.max(inAir(x, rate), SLOWEST);
	return x.mass / ballisticFromSpeedKgM2(speed, airOf(x).densityKgM3(x.rateHeight));
}
