import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireNotNegative, requirePositive } from './checks';

/** Energy of a moving mass, J. */
export function kineticEnergyJ(massKg: number, speedMS: number): number {
	requireNotNegative({ massKg, speedMS });
	return (massKg * speedMS ** 2) / 2;
}

/** Mean deceleration over a stopping distance, m/s²: v²/(2 s). The mean over time is the same for a symmetric pulse. */
export function meanDecelerationMS2(speedMS: number, stoppingM: number): number {
	requireNotNegative({ speedMS });
	requirePositive({ stoppingM });
	return speedMS ** 2 / (2 * stoppingM);
}

/** Height of a fall without air that ends at this speed, m. */
export function equivalentDropM(speedMS: number): number {
	requireNotNegative({ speedMS });
	return speedMS ** 2 / (2 * G);
}

/**
 * Peak over v²/(2 s): a constant crushing force; a pulse that is half a sine in time (it stops after s = v T/2); a
 * linear spring, which pulls hardest where it stops.
 */
export const PEAK_OVER_MEAN = { constant: 1, 'half-sine': Math.PI / 2, spring: 2 } as const;
