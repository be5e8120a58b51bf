import { requireFinite, requireNotNegative, requirePositive } from './checks';

/**
 * What a mass of black powder is worth in a closed bay: pressure rise times volume per mass, J/kg. Three values, as
 * the truth lies between the first and the last and depends on heat loss, leaks and burning time.
 */
export const POWDER_J_PER_KG = {
	/** 12.10 mol of permanent gas per kg at 300 K. Source: measured gas volume, Davis, p. 43 (seen). */
	cold: 12.1 * 8.314463 * 300,
	/** R 266 lbf·in/(lbm·°R) and T 3307 °R of the trade; the solids are already in that R (hobby page, seen). */
	trade: ((266 * 4.4482216 * 0.0254) / (0.45359237 / 1.8)) * (3307 / 1.8),
	/** The same gas at 2700 K, no heat lost: a bound (derived). */
	adiabatic: 12.1 * 8.314463 * 2700
} as const;

/** Pressure rise in a closed volume, Pa: an ideal gas, m R T/V. */
export function chargePressurePa(massKg: number, volumeM3: number, worthJKg: number): number {
	requireNotNegative({ massKg });
	requirePositive({ volumeM3, worthJKg });
	return (massKg * worthJKg) / volumeM3;
}

/**
 * Energy that drives two sections apart over the engaged length, J: an adiabatic expansion from the absolute pressure,
 * less what pushes the air away, friction and pins. A bound: gas leaves as soon as the joint opens.
 * Negative where it stalls before the joint is out.
 */
export function separationEnergyJ(q: {
	absolutePa: number;
	ambientPa: number;
	volumeM3: number;
	areaM2: number;
	strokeM: number;
	/** Ratio of specific heats. */
	gamma: number;
	frictionN: number;
	pinEnergyJ: number;
}): number {
	const { absolutePa, ambientPa, volumeM3, areaM2, strokeM, gamma, frictionN, pinEnergyJ } = q;
	requirePositive({ absolutePa, ambientPa, volumeM3, areaM2, strokeM });
	requireNotNegative({ frictionN, pinEnergyJ });
	requireFinite({ gamma });
	if (!(gamma > 1)) throw new RangeError(`gamma must be above 1, got ${gamma}`);
	const more = areaM2 * strokeM;
	// 1 - (V1/V2)^(γ-1), written so that a short stroke keeps its digits.
	const share = -Math.expm1(-(gamma - 1) * Math.log1p(more / volumeM3));
	const gas = ((absolutePa * volumeM3) / (gamma - 1)) * share;
	return gas - ambientPa * more - frictionN * strokeM - pinEnergyJ;
}

/** Speeds of two free masses that share an energy, m/s: apart, and of each. */
export function partingSpeedsMS(
	energyJ: number,
	massAKg: number,
	massBKg: number
): { apart: number; a: number; b: number } {
	requireNotNegative({ energyJ });
	requirePositive({ massAKg, massBKg });
	const both = massAKg + massBKg;
	const apart = Math.sqrt((2 * energyJ * both) / (massAKg * massBKg));
	return { apart, a: (apart * massBKg) / both, b: (apart * massAKg) / both };
}

/**
 * How many of a joint's pins a force shears: all that are left share it evenly, the weakest goes first (a bundle).
 * @param strengthsN  of each pin, in any order; not kept
 */
export function pinsSheared(forceN: number, strengthsN: Float64Array): number {
	const n = strengthsN.length;
	const sorted = strengthsN.sort();
	let gone = 0;
	while (gone < n && forceN > (n - gone) * sorted[gone]!) gone++;
	return gone;
}
