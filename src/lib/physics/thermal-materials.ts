import type { ThermalMaterial } from './thermal-table';

const celsius = (t: number) => t + 273.15;

/** Carbon steel, J/(kg·K), EN 1993-1-2:2005, 3.4.1.2 (quoted in a public code); constant outside 20 to 1200 °C. */
export function steelHeat(temperatureK: number): number {
	const t = Math.min(1200, Math.max(20, temperatureK - 273.15));
	if (t <= 600) return 425 + 0.773 * t - 1.69e-3 * t * t + 2.22e-6 * t ** 3;
	if (t <= 735) return 666 + 13_002 / (738 - t);
	if (t <= 900) return 545 + 17_820 / (t - 731);
	return 650;
}

/** Carbon steel, W/(m·K), EN 1993-1-2:2005, 3.4.1.3 (quoted in a public code). */
export function steelConductivity(temperatureK: number): number {
	const t = Math.max(20, temperatureK - 273.15);
	return t < 800 ? 54 - 0.0333 * t : 27.3;
}

/** Graphite, J/(kg·K): Butland and Maddison, Journal of Nuclear Materials 49 (1973/74) 45 (from memory); from 250 K. */
export function graphiteHeat(temperatureK: number): number {
	const t = Math.min(3000, Math.max(250, temperatureK));
	const calories =
		0.54212 - 2.42667e-6 * t - 90.2725 / t - 43_449.3 / t ** 2 + 1.59309e7 / t ** 3 - 1.43688e9 / t ** 4;
	return 4184 * calories;
}

export const STEEL: ThermalMaterial = {
	densityKgM3: 7850,
	conductivity: steelConductivity,
	heat: steelHeat,
	// Solidus of 1018 (ASM Handbook, from memory); 247 to 272 kJ/kg stand in textbooks.
	meltK: celsius(1480),
	latentJKg: 260e3
};
/** 6061-T6, typical values as two public data sheets give them; latent heat of pure aluminium (from memory). */
export const ALUMINIUM_6061: ThermalMaterial = {
	densityKgM3: 2700,
	conductivity: () => 167,
	heat: () => 896,
	meltK: celsius(582),
	latentJKg: 397e3
};
/**
 * Fine-grain graphite: middle of the ranges of nozzle materials, 105 W/(m·K) at 20 °C and 37 at 2000 K; between and beyond
 * them 1/k grows evenly, as where lattice waves carry the heat (from memory). It sublimes and burns, it does not melt.
 */
export const GRAPHITE: ThermalMaterial = {
	densityKgM3: 1780,
	conductivity: (t) => 1 / (1 / 105 + ((1 / 37 - 1 / 105) * (Math.max(293, t) - 293)) / (2000 - 293)),
	heat: graphiteHeat
};
/** Paper or linen phenolic laminate: middle of the ranges of NEMA grades XX, CE and LE (from memory). It chars. */
export const PHENOLIC: ThermalMaterial = {
	densityKgM3: 1350,
	conductivity: () => 0.28,
	heat: () => 1450
};
