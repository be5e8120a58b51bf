import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAir } from '$lib/physics/air';
import { makeClimber, type AscentInput } from '$lib/physics/ascent';
import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import { makeDragCurve } from '$lib/physics/drag-curve';
import { interpolate } from '$lib/physics/interpolate';
import { Burn, makeThrust, thrustOfTotals } from '$lib/physics/motor-thrust';
import { integrate } from '$lib/physics/ode';
import { makeWind } from '$lib/physics/wind';

const air = makeAir({ siteElevationM: 300, surfaceTemperatureK: 295 });
const climb = makeClimber(air);
const curve = makeDragCurve([0, 0.6, 0.9, 1.05, 1.3, 2], [0.5, 0.48, 0.6, 0.75, 0.7, 0.5]);
const thrust = makeThrust([0.05, 0.4, 1.5, 2.2, 2.5], [900, 1100, 1000, 500, 0]);
const rocket: AscentInput = {
	thrust,
	dryMassKg: 6,
	propellantKg: 1.1,
	drag: curve,
	areaM2: 0.0079,
	rod: { lengthM: 2, tiltRad: 0, towardRad: 0 }
};
const wind = makeWind([
	{ heightM: 0, fromDeg: 250, speedMS: 3 },
	{ heightM: 800, fromDeg: 290, speedMS: 9 }
]);

/** The same flight by the adaptive method, straight from the equation of motion. */
function adaptive(input: AscentInput) {
	const { dryMassKg, propellantKg, areaM2, rod, wind: w } = input;
	const { tiltRad = 0, towardRad = 0, lengthM = 0 } = rod ?? {};
	const { timeS, forceN, impulseNS, totalImpulseNS } = input.thrust;
	const axis = [
		Math.sin(tiltRad) * Math.sin(towardRad),
		Math.sin(tiltRad) * Math.cos(towardRad),
		Math.cos(tiltRad)
	] as const;
	let y = new Float64Array(6);
	let t = 0;
	let onRod = true;
	const stops = [...timeS.slice(1), 300];
	for (const stop of stops)
		while (t < stop) {
			const end = integrate({
				y0: y,
				t0: t,
				tEnd: stop,
				relTol: 1e-10,
				absTol: 1e-9,
				maxStep: 0.02,
				derivative(time, s, ds) {
					// Within one stretch of the curve, so that both are smooth.
					const i = Math.max(
						0,
						timeS.findLastIndex((corner) => corner <= (t + stop) / 2)
					);
					const f = t >= timeS.at(-1)! ? 0 : interpolate(timeS, forceN, time);
					const delivered =
						t >= timeS.at(-1)! ? totalImpulseNS : impulseNS[i]! + ((time - timeS[i]!) * (forceN[i]! + f)) / 2;
					const m = dryMassKg + propellantKg * (1 - delivered / totalImpulseNS);
					const z = s[2]!;
					const u = onRod
						? [s[3]!, s[4]!, s[5]!]
						: [s[3]! - (w?.eastMS(z) ?? 0), s[4]! - (w?.northMS(z) ?? 0), s[5]!];
					const speed = Math.hypot(...u);
					const cd = interpolate(curve.mach, curve.cd, speed / air.soundSpeedMS(z));
					const drag = (air.densityKgM3(z) / 2) * cd * areaM2 * speed;
					const along = f / m - G * axis[2] - (drag * speed) / m;
					for (let j = 0; j < 3; j++) {
						ds[j] = s[3 + j]!;
						ds[3 + j] = onRod
							? Math.max(0, along) * axis[j]!
							: ((speed > 1e-9 ? f / speed : 0) - drag) * (u[j]! / m) - (j === 2 ? G : 0);
					}
				},
				events: onRod
					? [(_, s) => lengthM - Math.hypot(s[0]!, s[1]!, s[2]!)]
					: [(_, s) => (s[2]! > 1 ? s[5]! : 1)]
			});
			y = Float64Array.from(end.y);
			t = end.t;
			if (end.event < 0) continue;
			if (!onRod) return { t, up: y[2]!, east: y[0]!, north: y[1]!, vEast: y[3]! };
			onRod = false;
		}
	throw new Error('no apogee');
}

describe('the climb against independent adaptive integration', () => {
	it.each<[string, Partial<AscentInput>]>([
		['straight up', {}],
		['leaning', { rod: { lengthM: 2, tiltRad: 0.15, towardRad: 1 } }],
		['through wind', { wind }],
		['leaning, through wind', { wind, rod: { lengthM: 3, tiltRad: 0.1, towardRad: 4 } }]
	])('%s', (_, change) => {
		const exact = adaptive({ ...rocket, ...change });
		for (const [fineness, share] of [
			[1, 1e-3],
			[16, 2e-5]
		] as const) {
			const { apogee } = climb({ ...rocket, ...change, fineness });
			expect(Math.abs(apogee.upM / exact.up - 1)).toBeLessThan(share);
			expect(Math.abs(apogee.timeS / exact.t - 1)).toBeLessThan(share);
			expect(Math.abs(apogee.eastM - exact.east)).toBeLessThan(share * exact.up);
			expect(Math.abs(apogee.northM - exact.north)).toBeLessThan(share * exact.up);
			expect(Math.abs(apogee.vEastMS - exact.vEast)).toBeLessThan(300 * share);
		}
	});
});

describe('the climb', () => {
	it('is the same in space as along a line where nothing turns it', () => {
		const line = climb(rocket, [40]);
		const space = climb({ ...rocket, wind: makeWind([]) }, [40]);
		for (const key of ['upM', 'timeS', 'vUpMS'] as const) {
			expect(space.apogee[key]).toBeCloseTo(line.apogee[key], 8);
			expect(space.at[0]![key]).toBeCloseTo(line.at[0]![key], 8);
		}
		expect(space.maxSpeedMS).toBeCloseTo(line.maxSpeedMS, 9);
		expect(space.maxMach).toBeCloseTo(line.maxMach, 9);
		expect(space.maxAccelerationMS2).toBeCloseTo(line.maxAccelerationMS2, 9);
	});
	it('gives the state at any time: before lift-off, on the way up, at apogee, on the way down, on the ground', () => {
		const { apogee } = climb(rocket);
		const stateAt = (t: number) => climb(rocket, [t]).at[0]!;
		expect(stateAt(0)).toMatchObject({ upM: 0, vUpMS: 0 });
		const before = stateAt(apogee.timeS - 1);
		const after = stateAt(apogee.timeS + 1);
		expect(before.vUpMS).toBeCloseTo(G, 1);
		expect(after.vUpMS).toBeCloseTo(-G, 1);
		expect(stateAt(apogee.timeS).vUpMS).toBeCloseTo(0, 3);
		const ground = stateAt(500);
		expect(ground.upM).toBeCloseTo(0, 6);
		expect(ground.vUpMS).toBeLessThan(-100);
		expect(ground.timeS).toBeLessThan(100);
	});
	it('gives many states in one go as each by itself', () => {
		const times = [0, 0.1, 2.5, 2.5, 9, 30, 400, 500];
		const all = climb({ ...rocket, fineness: 8 }, times).at;
		expect(all.map((s) => s.timeS).slice(0, 6)).toEqual(times.slice(0, 6));
		for (const [i, t] of times.entries())
			expect(Math.abs(all[i]!.upM - climb({ ...rocket, fineness: 8 }, [t]).at[0]!.upM)).toBeLessThan(0.05);
	});
	it('rises with impulse, falls with drag, mass and tilt', () => {
		fc.assert(
			fc.property(fc.double({ min: 1.02, max: 1.4, noNaN: true }), (f) => {
				const h = (change: Partial<AscentInput>) => climb({ ...rocket, ...change }).apogee.upM;
				const plain = h({});
				expect(h({ impulseFactor: f })).toBeGreaterThan(plain);
				expect(h({ dragFactor: f })).toBeLessThan(plain);
				expect(h({ dryMassKg: 6 * f })).toBeLessThan(plain);
				expect(h({ rod: { lengthM: 2, tiltRad: f - 1, towardRad: 0 } })).toBeLessThan(plain);
				expect(h({ thrustLostS: 2 / f })).toBeLessThan(plain);
				expect(h({ dragJump: { timeS: 3, factor: f } })).toBeLessThan(plain);
			}),
			{ numRuns: 40 }
		);
	});
	it('keeps energy where there is no drag', () => {
		fc.assert(
			fc.property(
				fc.double({ min: 0, max: 0.5, noNaN: true }),
				fc.double({ min: 0, max: 30, noNaN: true }),
				(tiltRad, t) => {
					const input = { ...rocket, areaM2: 0, rod: { lengthM: 2, tiltRad, towardRad: 2 } };
					const { burnout } = climb(input);
					const end = climb(input, [burnout.timeS + t]).at[0]!;
					const energy = (s: typeof end) => G * s.upM + (s.vEastMS ** 2 + s.vNorthMS ** 2 + s.vUpMS ** 2) / 2;
					expect(Math.abs(energy(end) / energy(burnout) - 1)).toBeLessThan(1e-9);
				}
			),
			{ numRuns: 40 }
		);
	});
	it('turns as a whole with the direction of the rod and of the wind', () => {
		const turned = (by: number) =>
			climb({
				...rocket,
				rod: { lengthM: 2, tiltRad: 0.1, towardRad: 0.4 + by },
				wind: makeWind([{ heightM: 0, fromDeg: 200 + (by * 180) / Math.PI, speedMS: 6 }])
			}).apogee;
		const [a, b] = [turned(0), turned(1.1)];
		expect(b.upM).toBeCloseTo(a.upM, 6);
		expect(Math.hypot(b.eastM, b.northM)).toBeCloseTo(Math.hypot(a.eastM, a.northM), 6);
	});
	it('flies into the wind: the place of apogee is upwind where the motor has burnt out fast', () => {
		const { apogee } = climb({ ...rocket, wind: makeWind([{ heightM: 0, fromDeg: 270, speedMS: 6 }]) });
		expect(apogee.eastM).toBeLessThan(-20);
	});
	it('keeps what propellant is left aboard when the thrust is lost', () => {
		const lost = climb({ ...rocket, thrustLostS: 1, areaM2: 0 });
		const burn = new Burn({ ...rocket, thrustLostS: 1 });
		while (burn.next < Infinity) burn.pass();
		burn.at(5);
		expect(burn.now[0]).toBe(0);
		expect(burn.now[1]).toBeGreaterThan(6.5);
		expect(lost.burnout.timeS).toBe(1);
		expect(lost.apogee.upM).toBeLessThan(0.3 * climb({ ...rocket, areaM2: 0 }).apogee.upM);
	});
	it.each<[string, Partial<AscentInput>, RegExp]>([
		['too heavy', { dryMassKg: 300 }, /never exceeds the weight/],
		['no guide in wind', { wind, rod: { lengthM: 0, tiltRad: 0, towardRad: 0 } }, /needs a length/],
		['no mass', { dryMassKg: 0 }, /dryMassKg must be positive/],
		['leaning by 80°', { rod: { lengthM: 1, tiltRad: 1.4, towardRad: 0 } }, /tiltRad must lie between/],
		['beyond the air', { impulseFactor: 40 }, /above 40 km/]
	])('refuses %s', (_, change, message) => {
		expect(() => climb({ ...rocket, ...change })).toThrow(message);
	});
	it('refuses a motor too weak to carry it through its burn', () => {
		const weak = makeThrust([0, 0.1, 0.2, 30], [90, 90, 20, 20]);
		expect(() => climb({ ...rocket, thrust: weak })).toThrow(/while the motor still burns/);
	});
});

describe('thrust curves', () => {
	it('of totals have these totals, whatever their form', () => {
		for (const shape of ['even', 'falling', 'rising'] as const) {
			const made = thrustOfTotals(shape, 640, 1.7);
			expect(made.totalImpulseNS).toBeCloseTo(640, 9);
			expect(made.burnTimeS).toBe(1.7);
		}
	});
	it('start at nothing at ignition where the first point is later', () => {
		expect([...makeThrust([0.1, 1], [50, 0]).timeS]).toEqual([0, 0.1, 1]);
	});
	it.each<[number[], number[], RegExp]>([
		[[0], [5], /two points/],
		[[0, 1, 1], [5, 5, 0], /must rise/],
		[[0, 1], [5, -1], /not be negative/],
		[[0, 1], [0, 0], /totalImpulseNS must be positive/],
		[[-1, 1], [0, 5], /not before ignition/],
		[[0, NaN], [0, 5], /finite/]
	])('refuse %j, %j', (times, forces, message) => {
		expect(() => makeThrust(times, forces)).toThrow(message);
	});
	it.each<[number[], number[], RegExp]>([
		[[], [], /one at least/],
		[[0, 0], [1, 1], /must rise/],
		[[0], [0], /cd must be positive/],
		[[-1], [1], /mach must be zero or more/]
	])('and drag curves refuse %j, %j', (mach, cd, message) => {
		expect(() => makeDragCurve(mach, cd)).toThrow(message);
	});
});
