import { requireFinite } from './checks';
import { interpolate } from './interpolate';

/** Strength at temperature over that at 20 °C (-), by temperature in °C. */
interface Reduction {
	celsius: readonly number[];
	proof: readonly number[];
	ultimate: readonly number[];
}

/**
 * EN 1993-1-2:2005, table 3.1 (quoted in a public code that transcribes it). `proof` is the proportional limit k_p; a
 * pressure case is not judged on `ultimate`'s k_y, the stress at 2 % strain. Below 20 °C constant; nothing above 1200 °C.
 */
const STEEL: Reduction = {
	celsius: [20, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1200],
	proof: [1, 1, 0.807, 0.613, 0.42, 0.36, 0.18, 0.075, 0.05, 0.0375, 0.025, 0.0125, 0],
	ultimate: [1, 1, 1, 1, 1, 0.78, 0.47, 0.23, 0.11, 0.06, 0.04, 0.02, 0]
};
/**
 * 6061-T6 after half an hour at temperature, MIL-HDBK-5J figure 3.6.2.2.1 (from memory, read to ±0.05, not verified); the
 * end after the Aluminum Association's table for 10 000 h (from memory). For both strengths.
 */
const ALUMINIUM_PROOF = [1, 0.95, 0.9, 0.77, 0.5, 0.2, 0.07, 0];
const ALUMINIUM: Reduction = {
	celsius: [20, 100, 150, 205, 260, 315, 371, 582],
	proof: ALUMINIUM_PROOF,
	ultimate: ALUMINIUM_PROOF
};
const TABLES = { steel: STEEL, aluminium: ALUMINIUM };
export type HotMetal = keyof typeof TABLES;

/** Share of the strength at 20 °C that is left at a temperature (-). */
export function strengthLeft(metal: HotMetal, temperatureK: number): { proof: number; ultimate: number } {
	requireFinite({ temperatureK });
	const { celsius, proof, ultimate } = TABLES[metal];
	const t = temperatureK - 273.15;
	return { proof: interpolate(celsius, proof, t), ultimate: interpolate(celsius, ultimate, t) };
}
