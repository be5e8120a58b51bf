import { describe, expect, it } from 'vitest';
import { makeAir, type Air } from '$lib/physics/air';
import { STANDARD_GRAVITY_M_S2 as G } from '$lib/physics/atmosphere';
import { makeClimber, type AscentInput } from '$lib/physics/ascent';
import { coastFor, coastToApogee } from '$lib/physics/coast';
import { makeDragCurve } from '$lib/physics/drag-curve';
import { fall } from '$lib/physics/fall';
import { Burn, makeThrust } from '$lib/physics/motor-thrust';
import { makeWind } from '$lib/physics/wind';

const off = (value: number, printed: number) => Math.abs(value / printed - 1);
/** Air of one density at every height. */
const even: Air = { ...makeAir({ siteElevationM: 0 }), densityKgM3: () => 1.225 };
const climb = makeClimber(even);
const constant = (force: number, time: number) => makeThrust([0, time], [force, force]);

/** A start at this speed on the pad: a push so short that it adds no height, then a coast with this terminal speed. */
function coast(terminalMS: number, startMS: number) {
	const push = 1e-7;
	const thrust = constant((startMS + G * push) / push, push);
	const areaM2 = (2 * G) / (1.225 * terminalMS ** 2);
	return climb({
		thrust,
		dryMassKg: 1,
		propellantKg: 0,
		areaM2,
		drag: makeDragCurve([0], [1]),
		fineness: 20
	});
}

// Textbook closed forms h = vt²/(2g) ln(1+v0²/vt²), t = (vt/g) atan(v0/vt), worked by hand; checked by integration.
describe('coast straight up with quadratic drag (hand-worked)', () => {
	it.each([
		[50, 100, 205.146, 5.6449, 1e-5],
		[100, 300, 1173.992, 12.7367, 1e-5],
		[150, 100, 421.847, 8.9939, 1e-5],
		[1e5, 100, 509.858, 10.1972, 1e-6]
	])('terminal speed %f m/s, start at %f m/s: %f m in %f s', (terminal, start, height, time, tolerance) => {
		const { apogee } = coast(terminal, start);
		expect(off(apogee.upM, height)).toBeLessThan(tolerance + 0.0005 / height);
		expect(off(apogee.timeS, time)).toBeLessThan(tolerance + 0.00005 / time);
	});
	it.each([
		[50, 100, 205.146, 5.6449],
		[100, 300, 1173.992, 12.7367],
		[150, 100, 421.847, 8.9939]
	])('and back in time from apogee: %f, %f, %f m, %f s', (terminal, start, height, time) => {
		const ballistic = (1.225 * terminal ** 2) / (2 * G);
		const from = coastFor(ballistic, even, { upM: 2 * height, vUpMS: 0, vSideMS: 0 }, -time);
		expect(off(from.vUpMS, start)).toBeLessThan(3e-5);
		expect(off(2 * height - from.upM, height)).toBeLessThan(3e-5);
		const top = coastToApogee(ballistic, even, { upM: 0, vUpMS: start, vSideMS: 0 });
		expect(off(top.upM, height)).toBeLessThan(1e-5);
		expect(off(top.timeS, time)).toBeLessThan(1e-5);
	});
	it.each([
		[50, 100, 509.86, 10.197],
		[100, 300, 4588.7, 30.59]
	])('and without drag %f, %f: %f m in %f s, up to four times as high', (terminal, start, height, time) => {
		const vacuum = coast(1e7, start).apogee;
		expect(off(vacuum.upM, height)).toBeLessThan(1e-4);
		expect(off(vacuum.timeS, time)).toBeLessThan(1e-4);
		expect(vacuum.upM).toBeGreaterThan(2.4 * coast(terminal, start).apogee.upM);
	});
});

// Up, and back down through the same air: v0/√(1 + v0²/vt²) after (vt/g) arsinh(v0/vt) (standard mechanics).
describe('thrown straight up with quadratic drag, and back (hand-worked)', () => {
	it.each([
		[50, 100, 205.146, 44.7214, 7.3605],
		[80, 60, 145.6276, 48, 5.65451]
	])(
		'terminal %f, start %f m/s: %f m, back at %f m/s after %f s more',
		(terminal, start, height, speed, time) => {
			const ballistic = (1.225 * terminal ** 2) / (2 * G);
			const top = coastToApogee(ballistic, even, { upM: 0, vUpMS: start, vSideMS: 0 });
			expect(off(top.upM, height)).toBeLessThan(1e-5);
			const from = { eastM: 0, northM: 0, upM: top.upM, vEastMS: 0, vNorthMS: 0, vUpMS: 0 };
			const back = fall({ ballistic, start: from, air: even, wind: makeWind([]) });
			expect(off(back.impactSpeedMS, speed)).toBeLessThan(1e-5);
			expect(off(back.timeS, time)).toBeLessThan(2e-5);
		}
	);
});

const boost: AscentInput = {
	thrust: constant(200, 2),
	dryMassKg: 2,
	propellantKg: 0,
	areaM2: (Math.PI * 0.075 ** 2) / 4,
	drag: makeDragCurve([0], [0.5]),
	fineness: 20
};

// v = √((T-mg)/k) tanh(t √(k(T-mg))/m), h = (m/k) ln cosh(...), after Fehskens and Malewicki as Stine has them (from memory).
describe('boost with constant thrust 200 N, 2.0 kg, 2 s, Cd 0.5, 75 mm (hand-worked)', () => {
	it('constant mass: 167.0156 m/s at 173.4940 m', () => {
		const { burnout } = climb(boost);
		expect(off(burnout.vUpMS, 167.0156)).toBeLessThan(1e-6);
		expect(off(burnout.upM, 173.494)).toBeLessThan(1e-6);
	});
	it('without drag 180.387 m/s at 180.387 m', () => {
		const { burnout } = climb({ ...boost, areaM2: 0 });
		expect(off(burnout.vUpMS, 180.387)).toBeLessThan(3e-6);
		expect(off(burnout.upM, 180.387)).toBeLessThan(3e-6);
	});
	it('mass that falls from 2.1 to 1.9 kg: 167.182 m/s at 170.537 m', () => {
		const { burnout } = climb({ ...boost, dryMassKg: 1.9, propellantKg: 0.2 });
		expect(off(burnout.vUpMS, 167.182)).toBeLessThan(1e-4);
		expect(off(burnout.upM, 170.537)).toBeLessThan(1e-4);
	});
});

describe('rocket equation', () => {
	it('exhaust speed 2000 m/s, 2.1 to 1.9 kg: 200.167 m/s (hand-worked)', () => {
		const time = 0.5;
		const { burnout } = climb({
			...boost,
			thrust: constant((2000 * 0.2) / time, time),
			dryMassKg: 1.9,
			propellantKg: 0.2,
			areaM2: 0
		});
		expect(off(burnout.vUpMS + G * time, 200.167)).toBeLessThan(1e-6);
	});
	// OpenStax, University Physics vol. 1, section 9.7: 200 kg/s at 250 m/s from 2.0e4 kg for 30 s, free of gravity.
	it.each([
		[0, 2.5],
		[15, 2.9],
		[29.999, 3.6],
		[35, 0]
	])(
		'a spacecraft of OpenStax section 9.7 (thrust seen; accelerations from memory) after %f s: %f m/s²',
		(t, a) => {
			const burn = new Burn({ thrust: constant(5e4, 30), dryMassKg: 14_000, propellantKg: 6000 });
			if (t > 30) burn.pass();
			burn.at(t);
			const [force = NaN, mass = NaN] = burn.now;
			expect(Math.abs(force / mass - a)).toBeLessThan(0.02 * a + 1e-12);
			if (t === 0) expect(force).toBe(5e4);
		}
	);
	// OpenStax, College Physics, example 8.8 (from memory): 2.80e6 kg, 1.40e4 kg/s at 2.40e3 m/s, g 9.80 m/s².
	it('the first stage of a large vehicle leaves the pad at 2.20 m/s² (published; from memory)', () => {
		const burn = new Burn({
			thrust: constant(1.4e4 * 2.4e3, 100),
			dryMassKg: 1.4e6,
			propellantKg: 1.4e6
		});
		burn.at(0);
		const [force = NaN, mass = NaN] = burn.now;
		expect(Math.abs(force / mass - 9.8 - 2.2)).toBeLessThan(0.005);
	});
	// Δv = c ln(m0/m1) - g t, h = c t (1 - ln(R)/(R - 1)) - g t²/2 for a steady burn straight up: standard mechanics.
	it('gravity takes g t of it: 2000 m/s, mass ratio 2 in 5 s: 1337.26 m/s at 2946 m (hand-worked)', () => {
		const time = 5;
		const { burnout } = climb({
			...boost,
			thrust: constant(2000 / time, time),
			dryMassKg: 1,
			propellantKg: 1,
			areaM2: 0
		});
		expect(off(burnout.vUpMS, 2000 * Math.LN2 - G * time)).toBeLessThan(1e-6);
		expect(burnout.vUpMS).toBeCloseTo(1337.261, 2);
		expect(off(burnout.upM, 2000 * time * (1 - Math.LN2) - (G * time ** 2) / 2)).toBeLessThan(1e-6);
		expect(burnout.upM).toBeCloseTo(2945.945, 2);
	});
	// Curtis, Orbital Mechanics for Engineering Students, 2nd ed. (worked page seen): constant g of 9.81 m/s², no drag.
	it('a sounding rocket of Curtis (published): burnout 96.59 s, 192.64 km, 7.10 km/s; apogee 2765.10 km', () => {
		const [m0, ratio, impulse, force] = [30_000, 13, 320, 900_000];
		const dry = m0 / ratio;
		const time = ((m0 - dry) * impulse * 9.81) / force;
		expect(off(time, 96.59)).toBeLessThan(1e-4);
		const { burnout, apogee } = climb({
			...boost,
			thrust: constant(force, time),
			dryMassKg: dry,
			propellantKg: m0 - dry,
			areaM2: 0
		});
		// The climb takes standard gravity; what 9.81 takes more from speed and height is known in closed form here.
		const extra = 9.81 - G;
		const v = burnout.vUpMS - extra * time;
		const h = burnout.upM - (extra * time ** 2) / 2;
		expect(off(h, 192_640)).toBeLessThan(1e-4);
		expect(Math.abs(v - 7100)).toBeLessThan(10);
		expect(off(h + v ** 2 / (2 * 9.81), 2_765_100)).toBeLessThan(1e-4);
		expect(off(apogee.upM, burnout.upM + burnout.vUpMS ** 2 / (2 * G))).toBeLessThan(1e-9);
	});
});
