import { describe, expect, it } from 'vitest';
import { makeAir } from '$lib/physics/air';
import {
	geometricHeightM,
	geopotentialHeightM,
	pressureAltitudeM,
	seaLevelPressurePa,
	sitePressurePa,
	soundSpeedMS,
	STANDARD_COLUMN,
	standardAtmosphere,
	thicknessM
} from '$lib/physics/atmosphere';

const off = (value: number, printed: number) => Math.abs(value / printed - 1);

// As transcribed in CalebBell/fluids tests/test_atmosphere.py (seen there; the report itself not).
describe('U.S. Standard Atmosphere 1976, table by geometric altitude (published; seen)', () => {
	it.each([
		[0, 288.15, 101325, 1.225, 340.29, 1.7894e-5],
		[2000, 275.15, 79501, 1.0066, 332.53, 1.726e-5],
		[4000, 262.17, 61660, 0.81935, 324.59, 1.6612e-5],
		[6000, 249.19, 47218, 0.66011, 316.45, 1.5949e-5],
		[8000, 236.22, 35652, 0.52579, 308.11, 1.5271e-5],
		[10000, 223.25, 26500, 0.41351, 299.53, 1.4577e-5],
		[16000, 216.65, 10353, 0.16647, 295.07, 1.4216e-5],
		[20000, 216.65, 5529.3, 0.08891, 295.07, 1.4216e-5],
		[24000, 220.56, 2971.7, 0.046938, 297.72, 1.443e-5],
		[28000, 224.53, 1616.2, 0.025076, 300.39, 1.4646e-5]
	])('at %i m', (z, temperature, pressure, density, sound, viscosity) => {
		const air = standardAtmosphere(z);
		expect(Math.abs(air.temperatureK - temperature)).toBeLessThan(0.005001); // half of the last printed figure
		expect(off(air.pressurePa, pressure)).toBeLessThan(5e-5);
		expect(off(air.densityKgM3, density)).toBeLessThan(5e-5);
		expect(off(air.soundSpeedMS, sound)).toBeLessThan(5e-5);
		expect(off(air.viscosityPaS, viscosity)).toBeLessThan(5e-5);
	});
	it('at 5000 m to seven figures (docstring of CalebBell/fluids, seen)', () => {
		const air = standardAtmosphere(5000);
		expect(off(air.temperatureK, 255.676)).toBeLessThan(2e-6);
		expect(off(air.pressurePa, 54048.286)).toBeLessThan(1e-6);
		expect(off(air.densityKgM3, 0.7364284)).toBeLessThan(1e-6);
		expect(off(air.soundSpeedMS, 320.5455)).toBeLessThan(1e-6);
		expect(off(air.viscosityPaS, 1.628248e-5)).toBeLessThan(1e-6);
	});
	it.each([
		[11_000, 22632.064],
		[20_000, 5474.8887],
		[32_000, 868.0187]
	])('base pressure at %i geopotential metres (CalebBell/fluids, seen)', (h, pressure) => {
		expect(off(STANDARD_COLUMN.pressurePa(h), pressure)).toBeLessThan(1e-7);
	});
});

// Further rows of the same table, from memory.
describe('U.S. Standard Atmosphere 1976, by geometric altitude (from memory)', () => {
	it.each([
		[-1000, 294.651, 113_930, 1.347, 344.11],
		[1000, 281.651, 89876, 1.1117, 336.43],
		[3000, 268.659, 70121, 0.90925, 328.58],
		[7000, 242.7, 41105, 0.59002, 312.31],
		[9000, 229.733, 30801, 0.46706, 303.85],
		[12000, 216.65, 19399, 0.31194, 295.07],
		[25000, 221.552, 2549.2, 0.040084, 298.39],
		[30000, 226.509, 1197.0, 0.01841, 301.71],
		[35000, 236.513, 574.59, 0.0084634, 308.3],
		[40000, 250.35, 287.14, 0.0039957, 317.19]
	])('at %i m', (z, temperature, pressure, density, sound) => {
		const air = standardAtmosphere(z);
		expect(Math.abs(air.temperatureK - temperature)).toBeLessThan(0.001);
		expect(off(air.pressurePa, pressure)).toBeLessThan(5e-5);
		expect(off(air.densityKgM3, density)).toBeLessThan(5e-5);
		expect(off(air.soundSpeedMS, sound)).toBeLessThan(5e-5);
	});
	// Pressure over that at sea level, as tables in feet of pressure altitude print it.
	it.each([
		[5000, 0.832],
		[10_000, 0.6877],
		[20_000, 0.4595],
		[30_000, 0.297],
		[40_000, 0.1851],
		[50_000, 0.1145]
	])('at %i ft the pressure is %f of that at sea level', (feet, ratio) =>
		expect(Math.abs(STANDARD_COLUMN.pressurePa(feet * 0.3048) / 101_325 - ratio)).toBeLessThan(6e-5)
	);
	// Heights of the levels of weather charts.
	it.each([
		[850, 4781],
		[700, 9882],
		[500, 18_289],
		[300, 30_065],
		[250, 33_999],
		[200, 38_662],
		[100, 53_083]
	])('%i hPa stands at %i ft', (hPa, feet) =>
		expect(Math.abs(pressureAltitudeM(hPa * 100) / 0.3048 - feet)).toBeLessThan(1)
	);
	it('sound: 1116.45 ft/s and 661.48 knots at sea level, 573.57 knots above 36 089 ft', () => {
		expect(soundSpeedMS(288.15) / 0.3048).toBeCloseTo(1116.45, 2);
		expect(Math.abs((soundSpeedMS(288.15) * 3600) / 1852 - 661.48)).toBeLessThan(0.01);
		expect(Math.abs((soundSpeedMS(216.65) * 3600) / 1852 - 573.57)).toBeLessThan(0.01);
	});
});

// Derived from the same equations and recomputed by independent programs.
describe('heights (hand-worked; the cold-day correction published, seen and from memory)', () => {
	it('geometric and geopotential', () => {
		expect(geopotentialHeightM(10_000)).toBeCloseTo(9984.3, 1);
		expect(Math.abs(geometricHeightM(11_000) - 11_019.07)).toBeLessThan(0.05);
		expect(Math.abs(geometricHeightM(32_000) - 32_161.9)).toBeLessThan(0.05);
	});
	it.each([
		[950, 540.3],
		[900, 988.5],
		[850, 1457.3],
		[700, 3012.2],
		[500, 5574.4],
		[300, 9164.0],
		[250, 10363.0],
		[200, 11784.1],
		[150, 13608.4],
		[100, 16179.7]
	])('pressure altitude of %i hPa', (hPa, metres) => {
		expect(Math.abs(pressureAltitudeM(hPa * 100) - metres)).toBeLessThan(0.1);
	});
	// A difference from standard that is the same at every pressure altitude: dH = dHp T/T_ISA.
	it.each([
		[-20, 929.8],
		[15, 1052.7],
		[30, 1105.3]
	])('a standard 1000 m on a day %i K from standard', (differenceK, metres) => {
		expect(Math.abs(thicknessM(1000, differenceK) - metres)).toBeLessThan(0.2);
		// The day's air holds the difference at every height instead; that is within 1 m of it here.
		const air = makeAir({ siteElevationM: 0, surfaceTemperatureK: 288.15 + differenceK });
		expect(Math.abs(air.trueHeightM(1000) - metres)).toBeLessThan(1);
		expect(air.indicatedHeightM(air.trueHeightM(1000))).toBeCloseTo(1000, 6);
	});
	// ICAO Doc 8168 as quoted in an aviation safety note (seen): at -40 degC 480 ft are added to 2000 ft; the formula gives
	// 476. At -20 and -30 degC and 1000 ft its table has 140 and 190 (from memory), the formula 139 and 186.
	it.each([
		[-40, 2000, 480, 10],
		[-20, 1000, 140, 5],
		[-30, 1000, 190, 5]
	])('cold-day correction at %i degC, %i ft: %i ft', (celsius, feet, correction, tolerance) => {
		const air = makeAir({
			siteElevationM: 0,
			surfaceTemperatureK: 273.15 + celsius,
			surfacePressurePa: 101_325
		});
		expect(Math.abs(air.indicatedHeightM(feet * 0.3048) / 0.3048 - feet - correction)).toBeLessThan(
			tolerance
		);
	});
});

// Derived: √(1.4 R T), recomputed by an independent program; ISO 9613-1 (from memory) has 343.2 m/s at 20 degC.
describe('speed of sound in dry air (hand-worked; ISO 9613-1 from memory)', () => {
	it.each([
		[-20, 318.958],
		[0, 331.318],
		[15, 340.294],
		[20, 343.234],
		[30, 349.039],
		[40, 354.749]
	])('at %i degC', (celsius, speed) =>
		expect(Math.abs(soundSpeedMS(273.15 + celsius) - speed)).toBeLessThan(0.001)
	);
	it.each([
		[-20, 318.927],
		[0, 331.286],
		[15, 340.261],
		[20, 343.2],
		[30, 349.005],
		[40, 354.714]
	])('within 0.02 %% of ISO 9613-1 at %i degC: %f m/s', (celsius, speed) =>
		expect(off(soundSpeedMS(273.15 + celsius), speed)).toBeLessThan(2e-4)
	);
});

describe('reduction to sea level (hand-worked)', () => {
	// Derived: by the standard, a sea-level pressure of 1013.25 hPa over a site at 1500 m is the standard's own there.
	it('is the standard atmosphere run downward', () => {
		expect(off(sitePressurePa(101_325, 1500), standardAtmosphere(1500).pressurePa)).toBeLessThan(1e-12);
		expect(seaLevelPressurePa(sitePressurePa(99_000, 1500), 1500)).toBeCloseTo(99_000, 6);
	});
});
