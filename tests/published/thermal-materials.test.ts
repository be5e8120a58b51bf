import { describe, expect, it } from 'vitest';
import { strengthLeft } from '$lib/physics/hot-strength';
import {
	ALUMINIUM_6061,
	GRAPHITE,
	graphiteHeat,
	PHENOLIC,
	STEEL,
	steelConductivity,
	steelHeat
} from '$lib/physics/thermal-materials';
import { thermalTable } from '$lib/physics/thermal-table';

const near = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value / expected - 1), `${value} for ${expected}`).toBeLessThan(tolerance);
const within = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value - expected), `${value} for ${expected}`).toBeLessThan(tolerance);
const between = (value: number, low: number, high: number) => {
	expect(value).toBeGreaterThanOrEqual(low);
	expect(value).toBeLessThanOrEqual(high);
};

describe('materials', () => {
	it.each([
		[20, 53.33, 439.8],
		[100, 50.67, 487.6],
		[200, 47.34, 529.8],
		[300, 44.01, 564.7],
		[400, 40.68, 605.9],
		[500, 37.35, 666.5],
		[600, 34.02, 760.2],
		[700, 30.69, 1008.2],
		[800, 27.3, 803.3],
		[900, 27.3, 650],
		[1000, 27.3, 650],
		[1100, 27.3, 650],
		[1200, 27.3, 650]
	])('steel at %d °C: k %d, c %d (EN 1993-1-2, quoted in a public code)', (t, k, c) => {
		near(steelConductivity(t + 273.15), k, 1e-3);
		near(steelHeat(t + 273.15), c, 1e-3);
	});
	it('steel (EN 1993-1-2, quoted in a public code): 5000 J/(kg·K) at 735 °C; mean from 20 to 1200 °C 700.9, in the solver’s table', () => {
		near(steelHeat(735 + 273.15), 5000, 1e-3);
		const { enthalpy } = thermalTable({ conductivity: () => 1, heat: steelHeat, densityKgM3: 1 });
		const at = (t: number) => {
			const x = (t + 273.15 - 150) / 5;
			const i = Math.floor(x);
			return enthalpy[i]! + (x - i) * (enthalpy[i + 1]! - enthalpy[i]!);
		};
		near((at(1200) - at(20)) / 1180, 700.9, 2e-3);
	});
	it.each([
		[300, 712.8],
		[500, 1217.6],
		[1000, 1759],
		[1500, 1939],
		[2000, 2022],
		[2500, 2067]
	])('graphite at %d K: %d J/(kg·K) (Butland and Maddison, from memory)', (t, c) => {
		near(graphiteHeat(t), c, 1e-3);
	});
	it('6061-T6: 167 W/(m·K), 896 J/(kg·K), 2700 kg/m³, solidus 582 °C (quoted on public data sheets)', () => {
		expect(ALUMINIUM_6061.conductivity(293)).toBe(167);
		expect(ALUMINIUM_6061.heat(293)).toBe(896);
		expect(ALUMINIUM_6061.densityKgM3).toBe(2700);
		within(ALUMINIUM_6061.meltK! - 273.15, 582, 1e-9);
	});
	it('graphite: 80 to 130 W/(m·K) at 20 °C, 30 to 45 at 2000 K, 1700 to 1850 kg/m³ (Sutton and Biblarz, from memory)', () => {
		between(GRAPHITE.conductivity(293.15), 80, 130);
		between(GRAPHITE.conductivity(2000), 30, 45);
		between(GRAPHITE.densityKgM3, 1700, 1850);
		expect(GRAPHITE.meltK).toBeUndefined();
	});
	it('phenolic laminate: 1300 to 1400 kg/m³, 0.2 to 0.35 W/(m·K), 1200 to 1700 J/(kg·K), no melting (NEMA LI-1, from memory)', () => {
		between(PHENOLIC.densityKgM3, 1300, 1400);
		between(PHENOLIC.conductivity(300), 0.2, 0.35);
		between(PHENOLIC.heat(300), 1200, 1700);
		expect(PHENOLIC.meltK).toBeUndefined();
	});
	it('melting: steel from 1480 °C, 247 to 272 kJ/kg; pure aluminium 397 kJ/kg (from memory)', () => {
		within(STEEL.meltK! - 273.15, 1480, 1e-9);
		between(STEEL.latentJKg!, 247e3, 272e3);
		expect(ALUMINIUM_6061.latentJKg).toBe(397e3);
	});
	it.each([
		[100, 0.95],
		[150, 0.91],
		[200, 0.79],
		[250, 0.55],
		[300, 0.31],
		[350, 0.1]
	])(
		'6061-T6 up to two hours at %d °C: %d of its proof strength (EN 1999-1-2, table 1a, from memory; ±0.05)',
		(t, share) => {
			within(strengthLeft('aluminium', t + 273.15).proof, share, 0.05);
		}
	);
});
