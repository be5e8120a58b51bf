import { requireNotNegative, requirePositive } from './checks';

/**
 * Heat from the gas of a rocket chamber or nozzle to its wall. SI, temperatures in K; in SI there is no g in Bartz's
 * formula. Sources: D. R. Bartz, Jet Propulsion 27 (1957) 49; Huzel and Huang, NASA SP-125, eqs. 4-10 to 4-16; both from
 * memory. Errors: RangeError.
 */

/** Estimate of the Prandtl number (-), 4k/(9k - 5). */
export const prandtlNumber = (k: number): number => (4 * k) / (9 * k - 5);

/** Estimate of the viscosity, Pa·s: 1.184e-7 √M T^0.6, molar mass M in g/mol. */
export function gasViscosityPaS(temperatureK: number, molarMassGMol: number): number {
	requirePositive({ temperatureK, molarMassGMol });
	return 1.184e-7 * Math.sqrt(molarMassGMol) * temperatureK ** 0.6;
}

export interface BartzGas {
	/** Stagnation temperature. */
	temperatureK: number;
	pressurePa: number;
	characteristicVelocityMS: number;
	heatJKgK: number;
	viscosityPaS: number;
	prandtl: number;
	k: number;
}
export interface BartzPlace {
	throatM: number;
	/** Radius of curvature of the throat's contour in a plane through the axis. */
	curvatureM: number;
	/** Area there over the throat's. */
	areaRatio: number;
	mach: number;
}

/** Heat-transfer coefficient with σ = 1, W/(m²·K). */
export function bartzCoefficient(gas: BartzGas, place: BartzPlace): number {
	const { throatM, curvatureM, areaRatio } = place;
	requirePositive({ throatM, curvatureM, areaRatio, pressure: gas.pressurePa, prandtl: gas.prandtl });
	return (
		(((0.026 / throatM ** 0.2) * (gas.viscosityPaS ** 0.2 * gas.heatJKgK) * (throatM / curvatureM) ** 0.1) /
			gas.prandtl ** 0.6 /
			areaRatio ** 0.9) *
		(gas.pressurePa / gas.characteristicVelocityMS) ** 0.8
	);
}

/** Bartz's correction σ (-) for the properties across the boundary layer, at the wall's own temperature. */
export function bartzSigma(wallOverGas: number, mach: number, k: number): number {
	requireNotNegative({ wallOverGas, mach });
	const rise = 1 + ((k - 1) / 2) * mach * mach;
	return 1 / ((0.5 * wallOverGas * rise + 0.5) ** 0.68 * rise ** 0.12);
}

/** Temperature that a wall without heat flow takes, K; recovery factor Pr^(1/3) turbulent, Pr^(1/2) laminar. */
export function recoveryTemperatureK(
	temperatureK: number,
	mach: number,
	k: number,
	recovery: number
): number {
	requirePositive({ temperatureK, recovery });
	const rise = ((k - 1) / 2) * mach * mach;
	return (temperatureK * (1 + recovery * rise)) / (1 + rise);
}

/** Reynolds number of the throat (-), 4 ṁ/(π D μ) with ṁ = p A/c*. */
export const throatReynolds = (gas: BartzGas, throatM: number): number =>
	(gas.pressurePa * throatM) / (gas.characteristicVelocityMS * gas.viscosityPaS);

/**
 * Steady recession of a melting, thick wall, m/s: q/(ρ (c (Tm - T0) + L)), an upper bound once melting has begun.
 * Source: Landau, Quarterly of Applied Mathematics 8 (1950) 81 (from memory).
 */
export function steadyRecessionMS(fluxWM2: number, densityKgM3: number, enthalpyToMeltJKg: number): number {
	requirePositive({ densityKgM3, enthalpyToMeltJKg });
	return Math.max(0, fluxWM2) / (densityKgM3 * enthalpyToMeltJKg);
}
