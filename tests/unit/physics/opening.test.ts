import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { integrate } from '$lib/physics/ode';
import { openingPeak, pflanz, snatch, type Opening } from '$lib/physics/opening';

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const opening = fc.record({
	massKg: between(0.5, 30),
	dragAreaM2: between(0.05, 10),
	densityKgM3: between(0.4, 1.3),
	speedMS: between(8, 120),
	downRad: between(0, Math.PI / 2),
	fillTimeS: between(0.05, 2),
	growth: between(0.5, 3)
});

/** The same motion by the adaptive integrator, the peak found among its steps. */
function byOde(o: Opening): number {
	let peak = 0;
	const drag = (t: number) => (o.densityKgM3 * o.dragAreaM2 * (t / o.fillTimeS) ** o.growth) / 2;
	integrate({
		y0: [o.speedMS * Math.cos(o.downRad), o.speedMS * Math.sin(o.downRad)],
		tEnd: o.fillTimeS,
		relTol: 1e-9,
		absTol: 1e-9,
		maxStep: o.fillTimeS / 1000,
		derivative: (t, y, dy) => {
			const s = (drag(t) / o.massKg) * Math.hypot(y[0]!, y[1]!);
			dy[0] = -s * y[0]!;
			dy[1] = 9.80665 - s * y[1]!;
		},
		onStep: (t, y) => (peak = Math.max(peak, drag(t) * (y[0]! ** 2 + y[1]! ** 2)))
	});
	return peak;
}

describe('peak while a canopy fills', () => {
	it('agrees with the adaptive integrator to 0.1 %', () => {
		fc.assert(
			fc.property(opening, (o) => {
				expect(Math.abs(openingPeak(o).forceN / byOde(o) - 1)).toBeLessThan(1e-3);
			}),
			{ numRuns: 60 }
		);
	});
	it('is at least that without gravity where it falls, and never more than without slowing down but for gravity', () => {
		fc.assert(
			fc.property(opening, (o) => {
				const q = { ...o, downRad: Math.PI / 2 };
				const infinite = (o.densityKgM3 * o.dragAreaM2 * o.speedMS ** 2) / 2;
				const a = (2 * o.massKg) / (o.dragAreaM2 * o.densityKgM3 * o.speedMS * o.fillTimeS);
				const { forceN } = openingPeak(q);
				expect(forceN).toBeGreaterThan(0.999 * infinite * pflanz(a, o.growth).reduction);
				expect(forceN).toBeLessThan(infinite * (1 + (9.80665 * o.fillTimeS) / o.speedMS) ** 2);
			}),
			{ numRuns: 100 }
		);
	});
	it('stays stable where a large canopy fills slowly', () => {
		const slow = {
			massKg: 1,
			dragAreaM2: 40,
			densityKgM3: 1.2,
			speedMS: 3,
			downRad: Math.PI / 2,
			fillTimeS: 60,
			growth: 2
		};
		expect(Math.abs(openingPeak(slow).forceN / byOde(slow) - 1)).toBeLessThan(1e-3);
	});
});

describe('closed form', () => {
	it('rises with A to 1, and agrees with direct maximisation over time', () => {
		fc.assert(
			fc.property(between(0.005, 200), between(0.5, 3), (a, j) => {
				// v/v1 = 1/(1 + t^(j+1)/(A (j+1))), force = t^j (v/v1)², t in filling times.
				let best = 0;
				for (let i = 1; i <= 20_000; i++) {
					const t = i / 20_000;
					best = Math.max(best, t ** j / (1 + t ** (j + 1) / (a * (j + 1))) ** 2);
				}
				const { reduction } = pflanz(a, j);
				expect(Math.abs(reduction / best - 1)).toBeLessThan(2e-4);
				expect(pflanz(1.1 * a, j).reduction).toBeGreaterThan(reduction);
				expect(reduction).toBeLessThan(1);
			}),
			{ numRuns: 40 }
		);
	});
});

describe('snatch', () => {
	it('conserves energy: the line holds at its peak what the difference of speeds carried', () => {
		fc.assert(
			fc.property(between(0.1, 50), between(0.1, 50), between(0.1, 60), between(500, 1e6), (a, b, v, k) => {
				const s = snatch({ massAKg: a, massBKg: b, speedMS: v, stiffnessNM: k });
				expect((s.forceN * s.stretchM) / 2 / ((s.reducedMassKg * v * v) / 2)).toBeCloseTo(1, 9);
				expect(snatch({ massAKg: b, massBKg: a, speedMS: v, stiffnessNM: k })).toEqual(s);
			})
		);
	});
	it('refuses a mass or stiffness that is not positive', () => {
		expect(() => snatch({ massAKg: 0, massBKg: 1, speedMS: 1, stiffnessNM: 1 })).toThrow(RangeError);
		expect(() => pflanz(0, 2)).toThrow(RangeError);
	});
});
