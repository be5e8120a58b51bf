import { describe, expect, it } from 'vitest';
import { chamberPressure } from '$lib/calculations/chamber-pressure/chamber-pressure';
import { runCalculation } from '$lib/calculations/run';
import { grainAt, webM, type Grain } from '$lib/physics/grain';

const near = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value / expected - 1), `${value} for ${expected}`).toBeLessThan(tolerance);
const tube: Grain = {
	outerM: 0.05,
	coreM: 0.02,
	lengthM: 0.085,
	freeEnds: 2,
	outerBurns: false,
	slots: 0,
	slotWidthM: 0
};
const areas = (g: Grain, shares = [0, 0.25, 0.5, 0.75, 1 - 1e-9]) =>
	shares.map((share) => grainAt(g, share * webM(g)).burningM2);

describe('burning areas', () => {
	it('a core grain of length (3 D + d)/2, ends free, ends with the area that it began with (experimental rocketry pages, from memory)', () => {
		const [first, , middle, , last] = areas(tube) as [number, number, number, number, number];
		near(first, Math.PI * 0.02 * 0.085 + (Math.PI / 2) * (0.05 ** 2 - 0.02 ** 2), 1e-12);
		near(last, first, 1e-7);
		// Between them it rises and falls again by the same.
		expect(middle).toBeGreaterThan(1.05 * first);
		expect(middle).toBeLessThan(1.25 * first);
		near(areas(tube)[1]!, areas(tube)[3]!, 1e-7);
	});
	it('a rod that burns outside and a tube that burns inside together burn evenly; so does a tube on both faces (hand-worked)', () => {
		const both = areas({ ...tube, freeEnds: 0, outerBurns: true });
		for (const area of both) near(area, Math.PI * (0.05 + 0.02) * 0.085, 1e-9);
	});
	it('a solid grain burns from its end alone, evenly, for its length over the rate (hand-worked)', () => {
		const r = runCalculation(chamberPressure, {
			inputs: {
				// Kn is (50/5)² = 100: 1.4963 MPa and 9.39 mm/s.
				grains: [{ outer: '50 mm', core: '0 ± 0 mm', length: '100 ± 0 mm', ends: '1' }],
				density: '1800 ± 0 kg/m3',
				rate: '8.26 ± 0 mm/s',
				ratePressure: '1 MPa',
				exponent: '0.319 ± 0',
				characteristicVelocity: '885 m/s',
				efficiency: '1 ± 0',
				throat: '5 ± 0 mm',
				temperature: '0 ± 0 K'
			},
			samples: 50
		});
		if (!r.ok) throw new Error(r.error.message);
		const { outputs } = r.value;
		near(outputs['firstKn']!.nominal!, 100, 1e-9);
		near(outputs['greatestKn']!.nominal!, 100, 1e-9);
		for (const id of ['peak', 'mean']) near(outputs[id]!.nominal!, 1.4963e6, 1e-3);
		near(outputs['burnTime']!.nominal!, 100 / 9.39, 1e-3);
	});
});
