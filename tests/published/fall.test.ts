import { describe, expect, it } from 'vitest';
import { makeAir, type Air } from '$lib/physics/air';
import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import {
	distanceAfterTimeM,
	speedAfterDistanceMS,
	speedAfterTimeMS,
	steadyDescentTimeS,
	terminalSpeedMS,
	timeForDistanceS
} from '$lib/physics/descent';
import { fall, type FallStart } from '$lib/physics/fall';
import { makeWind } from '$lib/physics/wind';

const off = (value: number, printed: number) => Math.abs(value / printed - 1);
const standard = makeAir({ siteElevationM: 0 });
/** Air of our own density by height; the fall asks for nothing else. */
const airOf = (densityKgM3: (h: number) => number): Air => ({ ...standard, densityKgM3 });
const flat = airOf(() => 1.225);
const exponential = airOf((h) => 1.225 * Math.exp(-h / 8500));
const still = makeWind([]);
const ballisticFor = (terminalMS: number) => (1.225 * terminalMS ** 2) / (2 * G);
const at = (upM: number, velocity: Partial<FallStart> = {}): FallStart => ({
	eastM: 0,
	northM: 0,
	upM,
	vEastMS: 0,
	vNorthMS: 0,
	vUpMS: 0,
	...velocity
});

// Standard mechanics; numbers checked by independent integration of the equation of motion.
describe('constant density, from rest: closed form and integration (hand-worked)', () => {
	it.each([
		[20, 100, 6.4098, 19.9256],
		[50, 300, 9.4084, 47.565],
		[50, 1000, 23.5336, 49.9902],
		[8, 600, 75.5655, 8.0]
	])('terminal %i m/s from %i m', (terminal, height, time, speed) => {
		expect(off(timeForDistanceS(terminal, height), time)).toBeLessThan(1e-5);
		expect(off(speedAfterDistanceMS(terminal, height), speed)).toBeLessThan(1e-5);
		const end = fall({ ballistic: ballisticFor(terminal), start: at(height), air: flat, wind: still });
		expect(off(end.timeS, timeForDistanceS(terminal, height))).toBeLessThan(1e-7);
		expect(off(end.impactSpeedMS, speedAfterDistanceMS(terminal, height))).toBeLessThan(1e-7);
	});
	it('terminal 50 m/s after 5 s', () => {
		expect(off(distanceAfterTimeM(50, 5), 106.8496)).toBeLessThan(1e-6);
		expect(off(speedAfterTimeMS(50, 5), 37.6677)).toBeLessThan(1e-5);
	});
	it('does not overflow in a long slow fall: 5000 m at 8 m/s', () => {
		expect(off(timeForDistanceS(8, 5000), 625.565)).toBeLessThan(1e-5);
		expect(distanceAfterTimeM(8, 1e5)).toBeCloseTo(8e5 - (64 / G) * Math.LN2, 6);
	});
});

// Checked by independent integration, and but for the first row by the closed form with the exponential integral.
describe('exponential atmosphere, 1.225 kg/m³ and 8500 m, released at rest (hand-worked)', () => {
	it.each([
		[5, 3000, 8.9473, 8.9495, 308.044, 307.378],
		[20, 3000, 17.8946, 17.9119, 155.022, 153.689],
		[100, 3000, 40.0136, 40.209, 71.718, 68.732],
		[20, 10000, 17.8946, 17.9119, 424.009, 422.462],
		[100, 10000, 40.0136, 40.209, 192.391, 188.931]
	])('%i kg/m² from %i m', (b, height, terminal, impact, time, steady) => {
		const end = fall({ ballistic: b, start: at(height), air: exponential, wind: still });
		expect(off(terminalSpeedMS(b, 1.225), terminal)).toBeLessThan(1e-5);
		expect(off(end.impactSpeedMS, impact)).toBeLessThan(1e-5);
		expect(off(end.timeS, time)).toBeLessThan(1e-5);
		expect(off(steadyDescentTimeS(exponential, b, height), steady)).toBeLessThan(1e-5);
	});
});

// Derived; checked by independent integration in two dimensions.
describe('drag couples the horizontal to the fall, terminal 30 m/s, from 1000 m (hand-worked)', () => {
	it('thrown at 50 m/s in still air', () => {
		const end = fall({
			ballistic: ballisticFor(30),
			start: at(1000, { vEastMS: 50 }),
			air: flat,
			wind: still
		});
		expect(off(end.timeS, 36.0112)).toBeLessThan(1e-5);
		expect(off(end.eastM, 145.299)).toBeLessThan(1e-5);
		expect(off(end.impactSpeedMS, 30.0)).toBeLessThan(1e-5);
	});
	it('released at rest in 5 m/s of wind', () => {
		const wind = makeWind([{ heightM: 0, fromDeg: 180, speedMS: 5 }]);
		const end = fall({ ballistic: ballisticFor(30), start: at(1000), air: flat, wind });
		expect(off(end.timeS, 35.4782)).toBeLessThan(1e-5);
		expect(off(end.northM, 154.044)).toBeLessThan(1e-5);
		expect(off(end.impactSpeedMS, 30.414)).toBeLessThan(2e-5);
	});
	it('and without drag is a parabola', () => {
		const end = fall({ ballistic: 1e12, start: at(1000, { vNorthMS: 50 }), air: flat, wind: still });
		expect(off(end.timeS, 14.2809)).toBeLessThan(1e-5);
		expect(off(end.northM, 714.04)).toBeLessThan(1e-5);
	});
});

describe('two pieces in wind (hand-worked)', () => {
	// Derived: dx = w h (1/v1 - 1/v2) for pieces already steady, w 6 m/s, h 600 m, v 8 and 25 m/s.
	it('part by 306 m', () => {
		const wind = makeWind([{ heightM: 0, fromDeg: 270, speedMS: 6 }]);
		const east = (v: number) =>
			fall({ ballistic: ballisticFor(v), start: at(600, { vEastMS: 6, vUpMS: -v }), air: flat, wind }).eastM;
		expect(off(east(8) - east(25), 306)).toBeLessThan(1e-6);
	});
	// Derived: descent in the exponential atmosphere above, at a sea-level speed of 8 m/s.
	it.each([
		[600, 73.69],
		[3000, 343.78]
	])('a descent from %i m at 8 m/s (sea level) takes %f s, as the air thickens', (height, time) => {
		expect(Math.abs(steadyDescentTimeS(exponential, ballisticFor(8), height) - time)).toBeLessThan(0.01);
	});
});
