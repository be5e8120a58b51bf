import { requireNotNegative, requirePositive } from './checks';

/**
 * Tube under internal pressure, closed at its ends. Sources: Lamé's equations (Timoshenko, "Strength of Materials", part 2;
 * Roark, table 13.5; both from memory). SI. Errors: RangeError.
 */
export interface Tube {
	innerRadiusM: number;
	outerRadiusM: number;
}

function requireTube({ innerRadiusM, outerRadiusM }: Tube): void {
	requirePositive({ innerRadiusM, outerRadiusM });
	if (!(outerRadiusM > innerRadiusM)) throw new RangeError('the outer radius must exceed the inner radius');
}

/** Thin-wall hoop stress p r/t, Pa: with the inner radius 5 % low at t/ri = 0.1, with the mean radius 0.2 %. */
export function thinHoopStressPa(pressurePa: number, radiusM: number, wallM: number): number {
	requireNotNegative({ pressurePa });
	requirePositive({ radiusM, wallM });
	return (pressurePa * radiusM) / wallM;
}

/** Lamé: hoop stress at the bore and outside, axial stress, radial stress at the bore, Pa. */
export function thickWallStressesPa(tube: Tube, pressurePa: number) {
	requireTube(tube);
	requireNotNegative({ pressurePa });
	const [ri2, ro2] = [tube.innerRadiusM ** 2, tube.outerRadiusM ** 2];
	const axial = (pressurePa * ri2) / (ro2 - ri2);
	return { hoopBore: (axial * (ro2 + ri2)) / ri2, hoopOuter: 2 * axial, axial, radialBore: -pressurePa };
}

/** Pressure at which the bore's hoop stress reaches the proof strength, Pa; the stress is raised by a factor. */
export function yieldPressurePa(tube: Tube, proofPa: number, concentration = 1): number {
	requirePositive({ proofPa, concentration });
	return proofPa / (concentration * thickWallStressesPa(tube, 1).hoopBore);
}

/**
 * Pressure at which the whole wall carries its ultimate strength in hoop, Pa: σ ln(ro/ri), fully plastic after Tresca; for
 * thin walls σ t over the mean radius. A plain, ductile tube.
 */
export function burstPressurePa(tube: Tube, ultimatePa: number): number {
	requireTube(tube);
	requirePositive({ ultimatePa });
	return ultimatePa * Math.log(tube.outerRadiusM / tube.innerRadiusM);
}
