import { describe, expect, it } from 'vitest';
import {
	chargePressurePa,
	partingSpeedsMS,
	pinsSheared,
	POWDER_J_PER_KG,
	separationEnergyJ
} from '$lib/physics/charge';

const off = (value: number, expected: number) => Math.abs(value / expected - 1);
const PSI = 6894.757;
const IN = 0.0254;
const GRAM = 1e-3;

describe('pressure in a closed bay', () => {
	it('the trade rule 0.006 g per D² L (in) is worth 15 psi (published: a hobby page on charges); exactly 0.006080', () => {
		const volume = (Math.PI / 4) * IN ** 3;
		expect(off(chargePressurePa(0.00608 * GRAM, volume, POWDER_J_PER_KG.trade) / PSI, 15)).toBeLessThan(
			0.002
		);
		expect(off(chargePressurePa(0.006 * GRAM, volume, POWDER_J_PER_KG.trade) / PSI, 15)).toBeLessThan(0.015);
	});
	it('and by force, 0.00052 g per lbf and inch: one pound (published: the same page)', () => {
		// Any bore: the force on it is the pressure times its area.
		const area = (Math.PI / 4) * (4 * IN) ** 2;
		const force = chargePressurePa(0.000516 * GRAM, area * IN, POWDER_J_PER_KG.trade) * area;
		expect(off(force / 4.44822, 1)).toBeLessThan(0.01);
		expect(off(force / 4.44822, 0.000516 / 0.00052)).toBeLessThan(0.01);
	});
	it('1.557 g in 4 × 16 in: 15 psi (hand-worked)', () => {
		const volume = (Math.PI / 4) * (4 * IN) ** 2 * 16 * IN;
		expect(off(volume, 3.295e-3)).toBeLessThan(1e-3);
		// With 453.59 g to the pound, where the row takes 454.
		expect(
			off((chargePressurePa(1.557 * GRAM, volume, POWDER_J_PER_KG.trade) / PSI) * (453.59237 / 454), 15)
		).toBeLessThan(1e-3);
	});
	it('R is 119.26 J/(kg K), T 1837.2 K, so 219.1 kJ/kg (published constants, converted)', () => {
		expect(off(POWDER_J_PER_KG.trade, 219.1e3)).toBeLessThan(5e-4);
		expect(off(POWDER_J_PER_KG.trade / 1837.2, 119.26)).toBeLessThan(5e-4);
	});
	it('271.3 cm³ of gas at 0 °C per gram: 12.10 mol/kg, 100.6 J/(kg K) (published: Davis, p. 43)', () => {
		const moles = (101_325 * 271.3e-6) / (8.314463 * 273.15) / GRAM;
		expect(off(moles, 12.1)).toBeLessThan(0.005);
		expect(off(POWDER_J_PER_KG.cold / 300, 100.6)).toBeLessThan(0.005);
		// Of the printed composition: 35.4 g/mol, so 0.429 of the mass is gas and the rest solid.
		const percent = { CO2: 49.29, CO: 12.47, N2: 32.91, H2S: 2.65, CH4: 0.43, H2: 2.19 };
		const molar = { CO2: 44.01, CO: 28.01, N2: 28.014, H2S: 34.08, CH4: 16.04, H2: 2.016 };
		const gas = (Object.keys(percent) as (keyof typeof percent)[]).reduce(
			(sum, k) => sum + (percent[k] * molar[k]) / 99.94,
			0
		);
		expect(off(gas, 35.4)).toBeLessThan(0.005);
		expect(off((moles * gas) / 1000, 0.429)).toBeLessThan(0.005);
	});
	it('1 g in 1 litre: 30.2, 219, 272 kPa cold, by the trade, adiabatic (hand-worked)', () => {
		for (const [worth, kpa] of [
			[POWDER_J_PER_KG.cold, 30.2],
			[POWDER_J_PER_KG.trade, 219],
			[POWDER_J_PER_KG.adiabatic, 272]
		] as const)
			expect(off(chargePressurePa(GRAM, 1e-3, worth) / 1000, kpa)).toBeLessThan(0.01);
	});
	it('the trade constant stands for 69.7 g/mol: the solids are already in it (hand-worked)', () => {
		expect(off((8314.463 * 1837.2) / POWDER_J_PER_KG.trade, 69.7)).toBeLessThan(1e-3);
	});
});

describe('force (hand-worked)', () => {
	it('the same pressure is four times the force on twice the bore', () => {
		const volume = (d: number) => (Math.PI / 4) * d * d * 0.3;
		const force = (d: number) =>
			(chargePressurePa(0.001 * (d / 0.1) ** 2, volume(d), 219e3) * Math.PI * d * d) / 4;
		expect(force(0.2) / force(0.1)).toBeCloseTo(4, 9);
	});
	it('a bundle of equal pins gives way at their sum, of unequal ones before', () => {
		const equal = () => Float64Array.of(50, 50, 50);
		expect([149, 151].map((f) => pinsSheared(f, equal()))).toEqual([0, 3]);
		const odd = () => Float64Array.of(70, 40, 60);
		// The weakest at 3 × 40 = 120; the other two then bear 2 × 60 = 120.
		expect([119, 121].map((f) => pinsSheared(f, odd()))).toEqual([0, 3]);
		const strong = () => Float64Array.of(100, 20, 100);
		expect([59, 61, 201].map((f) => pinsSheared(f, strong()))).toEqual([0, 1, 3]);
	});
});

describe('separation speed by energy (hand-worked)', () => {
	const q = {
		absolutePa: 101_325 + 103_421,
		ambientPa: 101_325,
		volumeM3: (Math.PI / 4) * 0.01 * 0.3,
		areaM2: (Math.PI / 4) * 0.01,
		strokeM: 0.1,
		gamma: 1.2,
		frictionN: 0,
		pinEnergyJ: 0
	};
	it('bore 100, free 300, stroke 100 mm, 15 psi, masses 2 and 4 kg: 55.29 J, 9.107 m/s; 6.07 and 3.04', () => {
		const energy = separationEnergyJ(q);
		expect(off(energy, 55.29)).toBeLessThan(1e-3);
		const speeds = partingSpeedsMS(energy, 2, 4);
		expect(off(speeds.apart, 9.107)).toBeLessThan(1e-3);
		expect(off(speeds.a, 6.07)).toBeLessThan(1e-3);
		// Printed to three figures.
		expect(Math.abs(speeds.b - 3.04)).toBeLessThan(0.005);
	});
	it('constant pressure is its upper bound: 81.2 J, 11.04 m/s', () => {
		const energy = 103_421 * q.areaM2 * q.strokeM;
		expect(off(energy, 81.2)).toBeLessThan(1e-3);
		expect(off(partingSpeedsMS(energy, 2, 4).apart, 11.04)).toBeLessThan(1e-3);
		expect(separationEnergyJ(q)).toBeLessThan(energy);
	});
});
