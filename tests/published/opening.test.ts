import { describe, expect, it } from 'vitest';
import { terminalSpeedMS } from '$lib/physics/descent';
import { ballisticParameter, fillingTimeS, openingPeak, pflanz, snatch } from '$lib/physics/opening';

const off = (value: number, expected: number) => Math.abs(value / expected - 1);
const G = 9.80665;

describe('reduction by the load slowing down (closed form, hand-worked; checked by direct maximisation)', () => {
	it.each([
		[0.5, [0.1002, 0.2158, 0.4649, 0.5857, 0.8789, 0.9868]],
		[1, [0.0459, 0.1452, 0.4593, 0.64, 0.907, 0.9901]]
	])('area growing as t^%d: X1 at A = 0.01, 0.1, 1, 2, 10, 100 is %j', (j, expected) => {
		[0.01, 0.1, 1, 2, 10, 100].forEach((a, i) =>
			expect(Math.abs(pflanz(a, j).reduction - expected[i]!)).toBeLessThan(1e-4)
		);
	});
	it('the peak at A = 0.1 comes at 0.0965, 0.2582, 0.5313 of the filling time for j = 1/2, 1, 2', () => {
		for (const [j, at] of [
			[0.5, 0.0965],
			[1, 0.2582],
			[2, 0.5313]
		] as const)
			expect(Math.abs(pflanz(0.1, j).peakAt - at)).toBeLessThan(1e-3 * at);
	});
	it('both branches meet: 0.5625 for j = 1, 0.4444 for 2, 0.6944 for 1/2', () => {
		for (const [j, x] of [
			[1, 9 / 16],
			[2, 4 / 9],
			[0.5, 25 / 36]
		] as const) {
			const critical = (j + 2) / (j * (j + 1));
			for (const side of [1 - 1e-12, 1, 1 + 1e-12])
				expect(Math.abs(pflanz(critical * side, j).reduction - x)).toBeLessThan(1e-9);
		}
	});
});

interface Case {
	m: number;
	d: number;
	cd: number;
	v: number;
	n: number;
	rho: number;
	j: number;
}
const main: Case = { m: 10, d: 3, cd: 0.75, v: 20, n: 8, rho: 1.225, j: 2 };
const drogue: Case = { m: 10, d: 0.6, cd: 0.75, v: 60, n: 8, rho: 1, j: 2 };
const cross: Case = { m: 5, d: 1.5, cd: 0.6, v: 30, n: 11.7, rho: 1.225, j: 1 };
function opening({ m, d, cd, v, n, rho, j }: Case) {
	const dragArea = (cd * Math.PI * d * d) / 4;
	const fillTime = fillingTimeS(n, d, v);
	const o = { massKg: m, dragAreaM2: dragArea, densityKgM3: rho, speedMS: v, fillTimeS: fillTime };
	const a = ballisticParameter(o);
	const { reduction } = pflanz(a, j);
	const infinite = (dragArea * rho * v * v) / 2;
	return {
		dragArea,
		fillTime,
		a,
		reduction,
		infinite,
		terminal: terminalSpeedMS(m / dragArea, rho),
		gravity: openingPeak({ ...o, downRad: Math.PI / 2, growth: j })
	};
}

describe('opening loads (hand-worked, with coefficients of Knacke from memory)', () => {
	it('main, 10 kg under 3.0 m at 20 m/s: Cd S 5.3014, 18.50 N/m², tf 1.2 s, A 0.12832, X1 0.14816, 2208 N with Cx alone, 327.1 N, 5.496 m/s', () => {
		const o = opening(main);
		const expected = [5.3014, 18.5, 1.2, 0.12832, 0.14816, 2208, 327.1, 5.496];
		[
			o.dragArea,
			(10 * G) / o.dragArea,
			o.fillTime,
			o.a,
			o.reduction,
			1.7 * o.infinite,
			1.7 * o.infinite * o.reduction,
			o.terminal
		].forEach((value, i) => expect(off(value, expected[i]!)).toBeLessThan(1e-3));
		expect(1 / o.reduction).toBeCloseTo(6.75, 2);
	});
	it('at 40 m/s the same A and four times the load, 1308.6 N', () => {
		const [slow, fast] = [opening(main), opening({ ...main, v: 40 })];
		expect(fast.fillTime).toBeCloseTo(0.6, 12);
		expect(fast.a).toBeCloseTo(slow.a, 12);
		expect(off(1.7 * fast.infinite * fast.reduction, 1308.6)).toBeLessThan(1e-3);
	});
	it('drogue, 10 kg under 0.6 m at 60 m/s in 1.0 kg/m³: 462.5 N/m², A 19.649, X1 0.9669, 627.4 N, 30.41 m/s', () => {
		const o = opening(drogue);
		const expected = [0.21206, 462.5, 19.649, 0.9669, 627.4, 30.41];
		[o.dragArea, (10 * G) / o.dragArea, o.a, o.reduction, 1.7 * o.infinite * o.reduction, o.terminal].forEach(
			(value, i) => expect(off(value, expected[i]!)).toBeLessThan(1e-3)
		);
	});
	it('cross, 5 kg under 1.5 m at 30 m/s: Cd S 1.0603, tf 0.585 s, A 0.4387, X1 0.3042, 204.5 N, 8.689 m/s', () => {
		const o = opening(cross);
		const expected = [1.0603, 0.585, 0.4387, 0.3042, 204.5, 8.689];
		[o.dragArea, o.fillTime, o.a, o.reduction, 1.15 * o.infinite * o.reduction, o.terminal].forEach(
			(value, i) => expect(off(value, expected[i]!)).toBeLessThan(1e-3)
		);
	});
	it('the thinner the air the closer to infinite mass: A 0.1283, 0.1747, 0.3801, X1 0.1482, 0.1820, 0.3056', () => {
		for (const [rho, a, x] of [
			[1.225, 0.1283, 0.1482],
			[0.9, 0.1747, 0.182],
			[0.41351, 0.3801, 0.3056]
		] as const) {
			const o = opening({ ...main, rho });
			expect(Math.abs(o.a - a)).toBeLessThan(1e-4);
			expect(Math.abs(o.reduction - x)).toBeLessThan(1e-4);
		}
	});
	it.each([
		['main at 20 m/s', main, 314.8, 0.616],
		['main at 40 m/s', { ...main, v: 40 }, 885.0, 0.592],
		['drogue', drogue, 378.7, 1],
		['cross', cross, 215.2, 0.602]
	] as const)('with gravity, straight down, %s: %d N at %d of the filling time', (_, c, newtons, at) => {
		const { gravity } = opening(c);
		expect(off(gravity.forceN, newtons)).toBeLessThan(1e-3);
		expect(Math.abs(gravity.peakAt - at)).toBeLessThan(0.006);
	});
	it('without it Pflanz gives 192.5, 770, 369, 177.8 N: 40 % low at 20 m/s', () => {
		for (const [c, newtons] of [
			[main, 192.5],
			[{ ...main, v: 40 }, 770],
			[drogue, 369],
			[cross, 177.8]
		] as const) {
			const o = opening(c);
			expect(off(o.infinite * o.reduction, newtons)).toBeLessThan(1e-3);
		}
	});
	it('descent of 10 kg under 3.0 m: 5.4955 m/s at 1.225, 6.0824 at 1.0 kg/m³', () => {
		expect(off(opening(main).terminal, 5.4955)).toBeLessThan(1e-4);
		expect(off(opening({ ...main, rho: 1 }).terminal, 6.0824)).toBeLessThan(1e-4);
	});
});

describe('snatch (hand-worked; idea of Ewing et al., from memory)', () => {
	it('9 and 1 kg at 15 m/s on 8000 N/m: 1272.79 N, 0.1591 m, 16.66 ms', () => {
		const s = snatch({ massAKg: 9, massBKg: 1, speedMS: 15, stiffnessNM: 8000 });
		expect(s.reducedMassKg).toBeCloseTo(0.9, 12);
		expect(off(s.forceN, 1272.79)).toBeLessThan(1e-5);
		expect(s.stretchM).toBeCloseTo(0.1591, 4);
		expect(s.timeS * 1000).toBeCloseTo(16.66, 2);
	});
});
