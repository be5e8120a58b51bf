import { describe, expect, it } from 'vitest';
import { logLawSpeedMS, makeWind, powerLawSpeedMS, windFromDeg, windParts } from '$lib/physics/wind';

// wind-python/windpowerlib tests/test_wind_speed.py (seen).
describe('laws of the surface layer, 10 m to 100 m (published; seen)', () => {
	it.each([
		[5.0, 6.9474774],
		[6.5, 9.03172]
	])('power law, exponent 1/7, %f m/s', (speed, expected) =>
		expect(Math.abs(powerLawSpeedMS(speed, 10, 1 / 7, 100) / expected - 1)).toBeLessThan(1e-7)
	);
	it.each([
		[5.0, 7.92446596],
		[6.5, 10.30180575]
	])('power law, exponent 0.2, %f m/s', (speed, expected) =>
		expect(Math.abs(powerLawSpeedMS(speed, 10, 0.2, 100) / expected - 1)).toBeLessThan(1e-8)
	);
	it.each([
		[5.0, 7.74136523],
		[6.5, 10.0637748]
	])('log law, roughness 0.15 m, %f m/s', (speed, expected) =>
		expect(Math.abs(logLawSpeedMS(speed, 10, 0.15, 100) / expected - 1)).toBeLessThan(1e-7)
	);
	it('refuses obstacles of 20 m around a reference at 10 m', () => {
		expect(() => logLawSpeedMS(5, 10, 0.15, 100, 20)).toThrow(/referenceM/);
	});
	// Swiss wind-profile table page, roughness class 2 (seen).
	it.each([
		[20, 5.75],
		[50, 6.75],
		[100, 7.5],
		[150, 7.94]
	])('log law, roughness 0.1 m, 5 m/s at 10 m: at %i m', (height, expected) =>
		expect(Math.abs(logLawSpeedMS(5, 10, 0.1, height) - expected)).toBeLessThan(0.01)
	);
	// A tutorial page (seen).
	it('8 m/s at 10 m: 11.1 by the power law, 11.2 by the log law at 100 m', () => {
		expect(Math.abs(powerLawSpeedMS(8, 10, 0.143, 100) - 11.1)).toBeLessThan(0.05);
		expect(Math.abs(logLawSpeedMS(8, 10, 0.03, 100) - 11.2)).toBeLessThan(0.05);
	});
});

// Meteorological convention: u = -V sin(dir), v = -V cos(dir), dir where the wind comes from.
describe('direction (hand-worked)', () => {
	it.each([
		[0, 0, -1],
		[90, -1, 0],
		[180, 0, 1],
		[270, 1, 0],
		[45, -Math.SQRT1_2, -Math.SQRT1_2]
	])('from %i degrees', (from, east, north) => {
		const parts = windParts(from, 1);
		expect(parts.eastMS).toBeCloseTo(east, 12);
		expect(parts.northMS).toBeCloseTo(north, 12);
		expect(windFromDeg(parts.eastMS, parts.northMS)).toBeCloseTo(from, 12);
	});
	// Derived: halfway between equal winds from 350 and 10 lies north, at cos 10 of the speed, and not south.
	it('is not what is interpolated', () => {
		const wind = makeWind([
			{ heightM: 0, fromDeg: 350, speedMS: 10 },
			{ heightM: 100, fromDeg: 10, speedMS: 10 }
		]);
		expect(wind.fromDeg(50) % 360).toBeCloseTo(0, 9);
		expect(wind.speedMS(50)).toBeCloseTo(10 * Math.cos(Math.PI / 18), 12);
	});
});
