import { requirePositive, requireRange } from './checks';

/** A round plate with a load at its middle; m, Pa. */
export interface RoundPlate {
	radiusM: number;
	thicknessM: number;
	/** Radius of what presses on it. */
	loadRadiusM: number;
	poisson: number;
}

/** One number for each ideal edge; a real edge lies between them. */
export interface Edges {
	simplySupported: number;
	clamped: number;
}

/**
 * Radius over which a small load acts in a plate, m: under half a thickness it spreads.
 * Source: Roark, table 11.2, ro' = √(1.6 ro² + t²) - 0.675 t (from memory).
 */
export function equivalentLoadRadiusM(loadRadiusM: number, thicknessM: number): number {
	requirePositive({ loadRadiusM, thicknessM });
	return loadRadiusM < 0.5 * thicknessM
		? Math.sqrt(1.6 * loadRadiusM ** 2 + thicknessM ** 2) - 0.675 * thicknessM
		: loadRadiusM;
}

/** Greatest bending moment per length and per newton of load, N·m/m/N: at the middle, or at a clamped rim. */
function unitMoments({ radiusM, thicknessM, loadRadiusM, poisson }: RoundPlate): Edges {
	requirePositive({ radiusM });
	requireRange({ poisson }, 0, 0.5);
	const ro = equivalentLoadRadiusM(loadRadiusM, thicknessM);
	if (!(ro < radiusM)) throw new RangeError('what presses on the plate must be smaller than the plate');
	const middle = (1 + poisson) * Math.log(radiusM / ro);
	return { simplySupported: (middle + 1) / (4 * Math.PI), clamped: Math.max(middle, 1) / (4 * Math.PI) };
}

/**
 * Load at which the plate's surface reaches a bending strength, N.
 * Source: Roark, table 11.2, cases 16 and 17, σ = 6 M/t² (from memory; forms seen on a public worksheet).
 * @throws {RangeError} where the load is as wide as the plate
 */
export function plateStrengthN(plate: RoundPlate, bendingStrengthPa: number): Edges {
	requirePositive({ bendingStrengthPa });
	const moment = (bendingStrengthPa * plate.thicknessM ** 2) / 6;
	const unit = unitMoments(plate);
	return { simplySupported: moment / unit.simplySupported, clamped: moment / unit.clamped };
}

/**
 * Sag at the middle by linear theory, m; it holds to about half a thickness.
 * Source: Roark, table 11.2, cases 16 and 17 (from memory): W a²(3+ν)/(16 π D(1+ν)), and W a²/(16 π D).
 */
export function plateDeflectionM(plate: RoundPlate, loadN: number, modulusPa: number): Edges {
	requirePositive({ modulusPa, radiusM: plate.radiusM, thicknessM: plate.thicknessM });
	const { poisson, radiusM, thicknessM } = plate;
	const stiffness = (modulusPa * thicknessM ** 3) / (12 * (1 - poisson ** 2));
	const clamped = (loadN * radiusM ** 2) / (16 * Math.PI * stiffness);
	return { simplySupported: (clamped * (3 + poisson)) / (1 + poisson), clamped };
}

/** Load that punches a washer through a sheet, N: τ π Dw t. */
export function punchThroughN(washerM: number, thicknessM: number, shearStrengthPa: number): number {
	requirePositive({ washerM, thicknessM, shearStrengthPa });
	return shearStrengthPa * Math.PI * washerM * thicknessM;
}

/** Load that crushes a sheet under a washer, N: strength times the ring's area. */
export function bearingN(washerM: number, holeM: number, bearingStrengthPa: number): number {
	requirePositive({ washerM, holeM, bearingStrengthPa });
	if (!(holeM < washerM)) throw new RangeError('the hole must be smaller than the washer');
	return (bearingStrengthPa * Math.PI * (washerM ** 2 - holeM ** 2)) / 4;
}

/**
 * Margin of safety: strength/(FS FF load) - 1; 0 is just enough.
 * Source: NASA-STD-5001B (from memory); a public page of definitions (seen).
 */
export function marginOfSafety(strengthN: number, loadN: number, factor: number, fitting = 1): number {
	requirePositive({ loadN, factor, fitting });
	return strengthN / (factor * fitting * loadN) - 1;
}
