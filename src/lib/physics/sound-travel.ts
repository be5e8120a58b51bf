import type { Air } from './air';
import { requireFinite, requirePositive } from './checks';

const LIGHT_MS = 299_792_458;

/**
 * Mean of 1/(c + w) along a straight path between two heights above the pad, s/m: what sound takes per metre through
 * the temperatures there, with a wind w along the path toward the listener.
 * @throws {RangeError} where the wind is as fast as the sound
 */
export function soundSlownessSM(air: Air, fromM: number, toM: number, windAlongMS = 0): number {
	requireFinite({ fromM, toM, windAlongMS });
	const panels = Math.max(1, Math.ceil(Math.abs(toM - fromM) / 500));
	let sum = 0;
	for (let i = 0; i < panels; i++)
		for (const x of [0.5 - Math.sqrt(3) / 6, 0.5 + Math.sqrt(3) / 6]) {
			const speed = air.soundSpeedMS(fromM + ((i + x) / panels) * (toM - fromM)) + windAlongMS;
			requirePositive({ soundSpeedOverGroundMS: speed });
			sum += 1 / speed;
		}
	return sum / (2 * panels);
}

/** Distance of what was seen and heard so far apart, m: delay / (1/c - 1/c_light). */
export function distanceFromDelayM(delayS: number, slownessSM: number): number {
	requirePositive({ slownessSM });
	return delayS / (slownessSM - 1 / LIGHT_MS);
}

/** The inverse: how long after its light the sound of an event arrives, s. */
export function delayFromDistanceS(distanceM: number, slownessSM: number): number {
	requirePositive({ slownessSM });
	return distanceM * (slownessSM - 1 / LIGHT_MS);
}
