import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
	pitchPeriodS,
	pressureWithHolePa,
	trimAngleRad,
	turnUntilBurnout,
	type Climb
} from '$lib/physics/breach';
import { massFlowKgS } from '$lib/physics/gas-flow';
import { integrate } from '$lib/physics/ode';

const climb: Climb = {
	massKg: 6,
	pitchInertiaKgM2: 1.5,
	areaM2: 0.00785,
	forceSlope: 12,
	marginM: 0.2,
	dampingRatio: 0.08,
	rollRateRadS: 0,
	thrustN: 900,
	burnTimeS: 2.5,
	burnoutSpeedMS: 300,
	densityKgM3: 1.15
};
const side = { forceN: 20, behindM: 0.6 };

/**
 * The plane motion without small angles, in the coordinates of the ground: thrust along the axis, normal force across it
 * at the centre of pressure, drag that keeps the speed to its law.
 */
function onTheGround(c: Climb, { forceN, behindM }: typeof side, from: number) {
	const a = c.burnoutSpeedMS / c.burnTimeS;
	const end = integrate({
		y0: [0, 0, 0, 0],
		t0: from,
		tEnd: c.burnTimeS,
		relTol: 1e-10,
		absTol: 1e-11,
		// Attitude, its rate, path angle from the vertical, sideways distance.
		derivative(t, y, dy) {
			const [theta = 0, rate = 0, gamma = 0] = y;
			const v = a * t;
			const alpha = theta - gamma;
			const normal = 0.5 * c.densityKgM3 * v * v * c.areaM2 * c.forceSlope * Math.sin(alpha);
			const k = 0.5 * c.densityKgM3 * v * v * c.areaM2 * c.forceSlope * c.marginM;
			dy[0] = rate;
			dy[1] =
				(-forceN * behindM -
					normal * c.marginM -
					2 * c.dampingRatio * Math.sqrt(k * c.pitchInertiaKgM2) * rate) /
				c.pitchInertiaKgM2;
			const across =
				(forceN + normal) * Math.cos(alpha) +
				c.thrustN * Math.sin(alpha) +
				c.massKg * 9.80665 * Math.sin(gamma);
			dy[2] = across / (c.massKg * v);
			dy[3] = v * Math.sin(gamma);
		}
	});
	return { turn: end.y[2]!, drift: end.y[3]! };
}

describe('path after a side force, against the equations of motion on the ground', () => {
	it.each([0.3, 0.8, 1.5, 2.2, 2.45])('set in at %f s', (from) => {
		const small = { ...side, forceN: 2 };
		const exact = onTheGround(climb, small, from);
		const { turn, drift } = turnUntilBurnout(climb, small, from);
		expect(Math.abs(turn[0] / exact.turn - 1)).toBeLessThan(5e-3);
		expect(Math.abs(drift[0] - exact.drift)).toBeLessThan(5e-3 * Math.abs(exact.drift) + 1e-5);
		expect(turn[1]).toBe(0);
	});
	it.each([3, 12, 40])('and rolling at %f rad/s, against the adaptive integrator', (rollRateRadS) => {
		const c = { ...climb, rollRateRadS };
		const from = 0.6;
		const end = integrate({
			y0: [0, 0, 0, 0, 0, 0],
			t0: from,
			tEnd: c.burnTimeS,
			relTol: 1e-10,
			absTol: 1e-12,
			// Attitude, its rate and path, each along and across.
			derivative(t, y, dy) {
				const v = (c.burnoutSpeedMS / c.burnTimeS) * t;
				const normal = 0.5 * c.densityKgM3 * v * v * c.areaM2 * c.forceSlope;
				const swing = Math.sqrt((normal * c.marginM) / c.pitchInertiaKgM2);
				for (const axis of [0, 1]) {
					const angle = rollRateRadS * (t - from) - (axis * Math.PI) / 2;
					const force = side.forceN * Math.cos(angle);
					const alpha = y[axis]! - y[4 + axis]!;
					dy[axis] = y[2 + axis]!;
					dy[2 + axis] =
						(-force * side.behindM) / c.pitchInertiaKgM2 -
						swing ** 2 * alpha -
						2 * c.dampingRatio * swing * y[2 + axis]!;
					dy[4 + axis] =
						(force + (normal + c.thrustN) * alpha) / (c.massKg * v) + (9.80665 / v) * y[4 + axis]!;
				}
			}
		}).y;
		const { turn } = turnUntilBurnout(c, side, from);
		const size = Math.hypot(end[4]!, end[5]!);
		expect(Math.abs(turn[0] - end[4]!)).toBeLessThan(2e-3 * size);
		expect(Math.abs(turn[1] - end[5]!)).toBeLessThan(2e-3 * size);
	});
	it('a hole behind the centre of gravity bends the path to its own side once the nose has swung; at first it pushes away', () => {
		expect(turnUntilBurnout(climb, side, 1).turn[0]).toBeLessThan(0);
		expect(turnUntilBurnout(climb, side, 2.49).turn[0]).toBeGreaterThan(0);
		expect(turnUntilBurnout(climb, { ...side, behindM: -0.6 }, 1).turn[0]).toBeGreaterThan(0);
	});
	it('is in proportion to the force, and roll averages it out', () => {
		const [one, two] = [10, 20].map((forceN) => turnUntilBurnout(climb, { ...side, forceN }, 0.8).turn[0]);
		expect(two! / one!).toBeCloseTo(2, 9);
		const turned = (rollRateRadS: number) =>
			Math.hypot(...turnUntilBurnout({ ...climb, rollRateRadS }, side, 0.8).turn);
		expect(turned(40)).toBeLessThan(0.15 * turned(0));
		expect(turned(6)).toBeCloseTo(turned(-6), 12);
	});
});

describe('the trim angle', () => {
	/** Pitch alone at a steady speed, by the adaptive integrator; path held straight. */
	const swing = (c: Climb, speed: number, time: number) => {
		const k = 0.5 * c.densityKgM3 * speed ** 2 * c.areaM2 * c.forceSlope * c.marginM;
		const d = 2 * c.dampingRatio * Math.sqrt(k * c.pitchInertiaKgM2);
		return integrate({
			y0: [0, 0, 0, 0],
			tEnd: time,
			relTol: 1e-9,
			absTol: 1e-12,
			derivative(t, y, dy) {
				for (const axis of [0, 1]) {
					const push =
						side.forceN * side.behindM * (axis ? Math.sin(c.rollRateRadS * t) : Math.cos(c.rollRateRadS * t));
					dy[axis] = y[2 + axis]!;
					dy[2 + axis] = (push - k * y[axis]! - d * y[2 + axis]!) / c.pitchInertiaKgM2;
				}
			}
		}).y;
	};
	it.each([0, 4, 10, 25])('is where the swing settles, at a roll of %f rad/s', (rollRateRadS) => {
		const c = { ...climb, rollRateRadS };
		const y = swing(c, 150, 60 * pitchPeriodS(c, 150));
		expect(Math.hypot(y[0]!, y[1]!) / trimAngleRad(c, side, 150)).toBeCloseTo(1, 5);
	});
	it('is small for a stable finned vehicle, and falls with the square of the speed', () => {
		expect(trimAngleRad(climb, side, 100) / trimAngleRad(climb, side, 200)).toBeCloseTo(4, 9);
		expect((trimAngleRad(climb, side, 200) * 180) / Math.PI).toBeLessThan(3);
	});
});

describe('chamber pressure with a hole', () => {
	it('balances the gas made with what both openings let out', () => {
		fc.assert(
			fc.property(
				fc.double({ min: 2e6, max: 1e7, noNaN: true }),
				fc.double({ min: 0.05, max: 1, noNaN: true }),
				fc.double({ min: -0.3, max: 0.8, noNaN: true }),
				(pressure0Pa, share, n) => {
					const [throat, cStar, k] = [2e-4, 900, 1.14];
					const p = pressureWithHolePa(pressure0Pa, throat, share * throat, n);
					const out = (areaM2: number, pressure: number) =>
						massFlowKgS({
							k,
							pressure0Pa: pressure,
							backPressurePa: 0,
							areaM2,
							characteristicVelocityMS: cStar
						}).massFlowKgS;
					const made = out(throat, pressure0Pa) * (p / pressure0Pa) ** n;
					expect((out(throat, p) + out(share * throat, p)) / made).toBeCloseTo(1, 9);
				}
			)
		);
	});
	it('as a throat that much larger (hand-worked, 4.1.3): 10 % more at n 0.5 leaves 0.8264', () => {
		expect(pressureWithHolePa(1, 1, 0.1, 0.5)).toBeCloseTo(0.8264, 4);
		expect(pressureWithHolePa(1, 1, 0.1, 0.319)).toBeCloseTo(0.8694, 4);
		expect(pressureWithHolePa(1, 1, 0, 0.5)).toBe(1);
	});
});

it.each<[() => unknown, RegExp]>([
	[() => pressureWithHolePa(1e6, 1, 0.1, 1), /exponent of 1 or more/],
	[() => pressureWithHolePa(1e6, 0, 0.1, 0.3), /throatM2/],
	[() => turnUntilBurnout(climb, side, 0), /fromS/],
	[() => turnUntilBurnout(climb, side, 3), /before burnout/],
	[() => trimAngleRad({ ...climb, marginM: 0 }, side, 100), /margin/]
])('refuses what is impossible: %#', (run, message) => expect(run).toThrow(message));
