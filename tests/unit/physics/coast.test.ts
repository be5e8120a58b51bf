import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAir } from '$lib/physics/air';
import { coastFor, coastToApogee } from '$lib/physics/coast';
import { speedAfterTimeMS, terminalSpeedMS } from '$lib/physics/descent';
import { fall } from '$lib/physics/fall';
import { makeWind } from '$lib/physics/wind';

const air = makeAir({ siteElevationM: 200 });
const even = { ...air, densityKgM3: () => 1.1 };
const top = { upM: 1500, vUpMS: 0, vSideMS: 12 };

describe('coast', () => {
	it('falls from apogee as the closed form for one density says', () => {
		const { vUpMS } = coastFor(80, even, { ...top, vSideMS: 0 }, 7);
		expect(-vUpMS).toBeCloseTo(speedAfterTimeMS(terminalSpeedMS(80, 1.1), 7), 3);
	});
	it('back and forth in time comes home, and to the top by itself', () => {
		fc.assert(
			fc.property(
				fc.double({ min: 0.1, max: 6, noNaN: true }),
				fc.double({ min: 0, max: 60, noNaN: true }),
				(time, vSideMS) => {
					const before = coastFor(600, air, { ...top, vSideMS }, -time);
					const again = coastFor(600, air, before, time);
					expect(Math.abs(again.upM - top.upM)).toBeLessThan(1e-2);
					expect(Math.abs(again.vUpMS)).toBeLessThan(1e-2);
					expect(Math.abs(again.vSideMS - vSideMS)).toBeLessThan(1e-2);
					expect(Math.abs(coastToApogee(600, air, before).timeS - time)).toBeLessThan(1e-3);
				}
			),
			{ numRuns: 50 }
		);
	});
	it('early is faster than late by the same time; without drag they are alike', () => {
		const speed = (b: number, t: number) => {
			const s = coastFor(b, air, top, t);
			return Math.hypot(s.vUpMS, s.vSideMS);
		};
		expect(speed(100, -5)).toBeGreaterThan(speed(100, 5) + 3);
		expect(speed(1e12, -5)).toBeCloseTo(speed(1e12, 5), 5);
	});
	it('agrees with the fall to the ground', () => {
		const start = { eastM: 0, northM: 0, upM: 1500, vEastMS: 12, vNorthMS: 0, vUpMS: 0 };
		const end = fall({ ballistic: 80, start, air, wind: makeWind([]) });
		const s = coastFor(80, air, top, end.timeS - 1e-6);
		expect(s.upM).toBeCloseTo(0, 2);
		expect(Math.hypot(s.vUpMS, s.vSideMS)).toBeCloseTo(end.impactSpeedMS, 3);
	});
	it('refuses what cannot have been, in words', () => {
		expect(() => coastFor(80, air, top, 100)).toThrow(/hits the ground 4\d\.\d s after/);
		expect(() => coastFor(3000, air, top, -60)).toThrow(/on the pad .* before/);
		expect(() => coastFor(5, air, top, -12)).toThrow(/faster than 1500 m\/s|on the pad/);
		expect(() => coastFor(0, air, top, 1)).toThrow(/a ballistic coefficient of 0 kg/);
		expect(() => coastToApogee(50, air, { ...top, vUpMS: -3 })).toThrow(/vUpMS/);
	});
});
