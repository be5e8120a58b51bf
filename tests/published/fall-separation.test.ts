import { describe, expect, it } from 'vitest';
import {
	steadyHeightUncertainty,
	steadyReleaseHeight,
	steadySeparation
} from '$lib/calculations/fall-separation/steady';
import { landingFootprint } from '$lib/calculations/landing-footprint/landing-footprint';
import { runCalculation } from '$lib/calculations/run';
import { ballisticOfRate } from '$lib/calculations/through-wind';
import type { Air } from '$lib/physics/air';
import { steadyDescentTimeS } from '$lib/physics/descent';
import { powerLawSpeedMS } from '$lib/physics/wind';
import { bisect } from '$lib/probability/special';

/** Hand-worked: closed forms and independent numerical integration; no publication gives such an example. */
describe('two pieces in wind, the hand rule (hand-worked)', () => {
	it('6 m/s, 600 m, 8 and 25 m/s: 306.00 m, and back 600.0 m', () => {
		expect(steadySeparation(6, 600, 8, 25)).toBeCloseTo(306, 9);
		expect(steadyReleaseHeight(306, 6, 8, 25)).toBeCloseTo(600, 9);
	});
	/** Mean of the power law from 10 m to the ground below a height, by the midpoint rule. */
	const meanWind = (height: number) => {
		const n = 20000;
		let sum = 0;
		for (let i = 0; i < n; i++) sum += powerLawSpeedMS(6, 10, 1 / 7, ((i + 0.5) / n) * height);
		return sum / n;
	};
	it('the same 6 m/s at 10 m with a 1/7 power law: 480.56 m', () => {
		expect(Math.abs(steadySeparation(meanWind(600), 600, 8, 25) / 480.56 - 1)).toBeLessThan(1e-4);
	});
	it('so 306 m came from 404.2 m, where one constant wind says 600 m', () => {
		const height = bisect((h) => steadySeparation(meanWind(h), h, 8, 25), 306, 10, 2000);
		expect(Math.abs(height - 404.2)).toBeLessThan(0.1);
	});
	it('uncertainty of the height 221 m: place 19.6, wind 200, speeds 88.2 and 28.2', () => {
		const u = steadyHeightUncertainty({
			height: 600,
			wind: 6,
			v1: 8,
			v2: 25,
			uSeparation: 10,
			uWind: 2,
			uV1: 0.8,
			uV2: 2.5
		});
		expect(Math.abs(u.total - 221)).toBeLessThan(1);
		expect(u.separation).toBeCloseTo(19.6, 1);
		expect(u.wind).toBeCloseTo(200, 9);
		expect(u.v1).toBeCloseTo(88.2, 1);
		expect(u.v2).toBeCloseTo(28.2, 1);
	});
	it('equal pieces give no height but an error', () => {
		expect(() => steadyReleaseHeight(10, 6, 8, 8)).toThrow(RangeError);
	});
});

describe('density-weighted fall time (hand-worked): 8 m/s at sea level, density falling as exp(-z/8500 m)', () => {
	it.each([
		[600, 73.69],
		[3000, 343.78]
	])('from %i m in %f s, not in height over speed', (height, expected) => {
		const air = { densityKgM3: (z: number) => 1.225 * Math.exp(-z / 8500) } as Air;
		expect(Math.abs(steadyDescentTimeS(air, ballisticOfRate(8), height) - expected)).toBeLessThan(0.01);
	});
});

describe('coupled drag through a whole calculation (hand-worked by numerical integration)', () => {
	it('thrown at 50 m/s from 1000 m, 30 m/s terminal: about 145.3 m, never the 277.7 m of the uncoupled formula', () => {
		const result = runCalculation(landingFootprint, {
			samples: 50,
			inputs: {
				apogeeHeight: '1000 ± 0 m',
				apogeeEast: '0 ± 0 m',
				bareRate: '30 ± 0 m/s',
				groundSpeed: '50 m/s',
				heading: '90 deg',
				wind: [{ height: '0 m', speed: '0 m/s', from: '0 deg' }]
			}
		});
		if (!result.ok) throw new Error(result.error.message);
		const { outputs } = result.value;
		// The row holds the density of the ground; in the standard air, up to 9 % thinner, it drifts up to 9 % farther.
		expect(outputs['east of No parachute']!.nominal).toBeGreaterThan(145.3);
		expect(outputs['east of No parachute']!.nominal).toBeLessThan(1.1 * 145.3);
		expect(outputs['descentTime of No parachute']!.nominal).toBeGreaterThan(0.95 * 36.0112);
		expect(outputs['descentTime of No parachute']!.nominal).toBeLessThan(36.0112);
	});
});
