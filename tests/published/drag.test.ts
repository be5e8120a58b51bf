import { describe, expect, it } from 'vitest';
import { GAS_CONSTANT_AIR, standardAtmosphere } from '$lib/physics/atmosphere';
import {
	ballisticKgM2,
	cylinderAcrossDrag,
	cylinderAlongDrag,
	dragOnAreaRatio,
	meanCylinderAreaM2,
	sphereDrag,
	SQUARE_PLATE_DRAG,
	TUMBLING_SHARE
} from '$lib/physics/drag';
import { ballisticFromSpeedKgM2, terminalSpeedMS } from '$lib/physics/descent';

const off = (value: number, printed: number) => Math.abs(value / printed - 1);

describe('sphere, Clift, Grace and Weber 1978, table 5.2 (published; seen, or hand-worked from its pieces)', () => {
	// As CalebBell/fluids tests/test_drag.py has it (seen).
	it.each([
		[500, 0.554924],
		[2500, 0.40818],
		[40_000, 0.463907]
	])('at Reynolds number %f', (reynolds, expected) =>
		expect(off(sphereDrag(reynolds), expected)).toBeLessThan(2e-6)
	);
	// The same pieces evaluated by an independent program.
	it.each([
		[0.1, 244.3],
		[1, 27.16],
		[10, 4.258],
		[100, 1.087],
		[1000, 0.4711],
		[1e4, 0.4052],
		[1e5, 0.5018],
		[3e5, 0.4808],
		[4e5, 0.0891],
		[1e6, 0.11]
	])('at Reynolds number %f', (reynolds, expected) =>
		expect(off(sphereDrag(reynolds), expected)).toBeLessThan(5e-4)
	);
	// The standard drag curve, Lapple and Shepherd 1940 (from memory).
	it.each([
		[0.1, 240],
		[1, 26.5],
		[10, 4.1],
		[100, 1.07],
		[500, 0.55],
		[1000, 0.46],
		[1e4, 0.405],
		[1e5, 0.48]
	])('within 6 %% of the standard curve at %f', (reynolds, expected) =>
		expect(off(sphereDrag(reynolds), expected)).toBeLessThan(0.06)
	);
	it('joins its pieces, where the printed 0.19 log10 Re - 0.49 would jump sevenfold (docs/known-differences.md)', () => {
		for (const [joint, step] of [
			[0.01, 2e-3],
			[20, 0.02],
			[260, 0.01],
			[1500, 0.01],
			[12_000, 0.01],
			[44_000, 0.01],
			[338_000, 0.03],
			[400_000, 0.25],
			[1e6, 1e-6]
		] as const)
			expect(off(sphereDrag(joint * (1 + 1e-9)), sphereDrag(joint * (1 - 1e-9)))).toBeLessThan(step);
	});
	// CalebBell/fluids (seen), column of this formula: grains settling in water, in m/s.
	it.each([
		[70e-6, 2600, 0.004085],
		[50e-6, 2800, 0.002401]
	])('a grain of %f m and %i kg/m³ settles in water at %f m/s', (diameter, density, expected) => {
		let speed = 0.002;
		for (let i = 0; i < 200; i++)
			speed = Math.sqrt(
				(4 * 9.80665 * diameter * (density - 1000)) / (3 * 1000 * sphereDrag(1e6 * speed * diameter))
			);
		expect(off(speed, expected)).toBeLessThan(1e-3);
	});
	// Derived: a sphere of 50 mm and 0.2 kg at sea level, solved by an independent program.
	it('a 50 mm sphere of 0.2 kg falls at 57.207 m/s', () => {
		const { densityKgM3, viscosityPaS } = standardAtmosphere(0);
		let speed = 50;
		for (let i = 0; i < 100; i++)
			speed = terminalSpeedMS(
				ballisticKgM2(
					0.2,
					sphereDrag((densityKgM3 * speed * 0.05) / viscosityPaS),
					(Math.PI * 0.05 ** 2) / 4
				),
				densityKgM3
			);
		expect(off(speed, 57.207)).toBeLessThan(1e-3);
	});
});

describe("cylinders, Aeronautical Engineer's Data Book, p. 95 (seen)", () => {
	it.each([
		[1, 0.63],
		[2, 0.68],
		[5, 0.74],
		[10, 0.82],
		[40, 0.98]
	])('across, length %i diameters', (slenderness, drag) =>
		expect(cylinderAcrossDrag(slenderness)).toBe(drag)
	);
	it.each([
		[1, 0.91],
		[2, 0.85],
		[4, 0.87],
		[7, 0.99]
	])('along, length %i diameters', (slenderness, drag) => expect(cylinderAlongDrag(slenderness)).toBe(drag));
});

describe('terminal speed (published or hand-worked, as each says)', () => {
	// OpenStax University Physics 1, section 6.4 (seen); it takes g as 9.80.
	it.each([
		[85, 1.0, 0.7, 44],
		[75, 0.7, 0.18, 98]
	])('a skydiver of %i kg, Cd %f on %f m² (published; seen)', (mass, cd, area, expected) =>
		expect(off(terminalSpeedMS(ballisticKgM2(mass, cd, area), 1.21), expected)).toBeLessThan(0.01)
	);
	// Halliday, Resnick, Walker, Fundamentals of Physics, ch. 6 (from memory): 1.5 mm, Cd 0.60, air of 1.2 kg/m³.
	it('a raindrop of 1.5 mm radius falls at 7.4 m/s (published; from memory)', () => {
		const b = ballisticKgM2((4 / 3) * Math.PI * 0.0015 ** 3 * 1000, 0.6, Math.PI * 0.0015 ** 2);
		expect(off(terminalSpeedMS(b, 1.2), 7.4)).toBeLessThan(0.005);
	});
	// Derived.
	it.each([
		[0.82, 0.1 * 1, 15.31, 14.6],
		[1.2, 0.1 * 1, 12.65, 10.0],
		[0.87, (Math.PI * 0.1 ** 2) / 4, 53.03, 176]
	])('a tube of 0.1 x 1 m and 1.2 kg, Cd %f on %f m² (hand-worked)', (cd, area, speed, beta) => {
		const b = ballisticKgM2(1.2, cd, area);
		expect(off(b, beta)).toBeLessThan(5e-3); // as many figures as are printed
		expect(off(terminalSpeedMS(b, 1.225), speed)).toBeLessThan(1e-3);
	});
	// Derived, as are the two tables below: v = √(2 g β / ρ) at 1.225 kg/m³, by an independent program.
	it('a square plate of 0.2 m and 0.1 kg, flat on (hand-worked)', () => {
		expect(off(terminalSpeedMS(ballisticKgM2(0.1, SQUARE_PLATE_DRAG, 0.04), 1.225), 5.849)).toBeLessThan(
			1e-3
		);
	});
	it.each([
		[1, 4.0],
		[3, 6.93],
		[10, 12.65],
		[30, 21.92],
		[100, 40.01],
		[300, 69.31]
	])('of %i kg/m² at sea level (hand-worked)', (b, speed) => {
		expect(off(terminalSpeedMS(b, 1.225), speed)).toBeLessThan(1e-3);
		expect(ballisticFromSpeedKgM2(terminalSpeedMS(b, 1.225), 1.225)).toBeCloseTo(b, 9);
	});
	it.each([
		[0.5, 6.25],
		[1, 8.84],
		[3, 15.31],
		[10, 27.96],
		[30, 48.43],
		[100, 88.41]
	])(
		'of %f lb/ft², 4.882428 kg/m² each (14 CFR 420.5 defines it as a weight, seen; hand-worked)',
		(psf, speed) => expect(off(terminalSpeedMS(psf * 4.882428, 1.225), speed)).toBeLessThan(1e-3)
	);
	// Parachute of 3 m and 0.75 under 10 kg; coefficients of the kind in Knacke, NWC TP 6575 (from memory).
	it.each([
		[1.225, 5.4955],
		[1.0, 6.0824]
	])('10 kg under 3 m of 0.75 in %f kg/m³ (hand-worked)', (density, speed) =>
		expect(off(terminalSpeedMS(ballisticKgM2(10, 0.75, (Math.PI * 9) / 4), density), speed)).toBeLessThan(
			1e-4
		)
	);
	// Derived: the same drag on another area; 0.67 is the projected over the nominal diameter (Knacke, from memory).
	it('Cd 0.75 on nominal area is 1.671 on the projected area where Dp/Do = 0.67', () => {
		expect(off(dragOnAreaRatio(0.75, 0.67 ** 2), 1.671)).toBeLessThan(1e-3);
		expect(dragOnAreaRatio(0.7, 1 / 2)).toBeCloseTo(1.4, 12); // hemisphere: the mouth is half of the cloth
	});
});

describe('attitude (hand-worked)', () => {
	// Cauchy: mean projected area is a quarter of the surface (Monte Carlo 0.08246).
	it('mean area of a closed cylinder 0.1 x 1 m', () => {
		expect(off(meanCylinderAreaM2(0.1, 1), 0.082467)).toBeLessThan(1e-5);
	});
	// Derived: the means of sin³ over a plane, 4/(3π), and over all attitudes, 3π/16.
	it('cross-flow rule over a tumble', () => {
		expect(off(TUMBLING_SHARE.inPlane, 0.42441)).toBeLessThan(2e-5);
		expect(off(TUMBLING_SHARE.everyAttitude, 0.58905)).toBeLessThan(2e-5);
		// The means themselves, by a sum over the angle between body and flow.
		const n = 20_000;
		const angles = Array.from({ length: n }, (_, i) => ((i + 0.5) / n) * Math.PI);
		const mean = (weight: (a: number) => number) =>
			angles.reduce((s, a) => s + Math.sin(a) ** 3 * weight(a), 0) /
			angles.reduce((s, a) => s + weight(a), 0);
		expect(mean(() => 1)).toBeCloseTo(TUMBLING_SHARE.inPlane, 6);
		expect(mean((a) => Math.sin(a))).toBeCloseTo(TUMBLING_SHARE.everyAttitude, 6);
	});
	it('the gas constant is that of the 1976 standard', () =>
		expect(GAS_CONSTANT_AIR).toBeCloseTo(287.05307, 5));
});
