import { describe, expect, it } from 'vitest';
import {
	bartzCoefficient,
	bartzSigma,
	gasViscosityPaS,
	prandtlNumber,
	recoveryTemperatureK
} from '$lib/physics/gas-heating';
import { thermalTable } from '$lib/physics/thermal-table';
import type { Dimension } from '$lib/quantity/dimensions';
import { parseQuantity } from '$lib/quantity/parse';
import { toSi } from '$lib/quantity/quantity';
import { constant, COUPLED, phase, temperatureAt, wallOf } from '../unit/physics/wall-cases';

const near = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value / expected - 1), `${value} for ${expected}`).toBeLessThan(tolerance);
const within = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value - expected), `${value} for ${expected}`).toBeLessThan(tolerance);

const A1_PLACE = { throatM: 0.63246, curvatureM: 0.29743, areaRatio: 1, mach: 1 };
const A1_GAS = {
	temperatureK: 3411,
	pressurePa: 6.894757e6,
	characteristicVelocityMS: 1725.17,
	heatJKgK: 2030.6,
	viscosityPaS: 7.4646e-5,
	prandtl: 0.816,
	k: 1.222
};
const SMALL_PLACE = { throatM: 0.01, curvatureM: 0.01, areaRatio: 1, mach: 1 };
const SMALL_GAS = {
	temperatureK: 1700,
	pressurePa: 4e6,
	characteristicVelocityMS: 900,
	heatJKgK: ((1.14 / 0.14) * 8314.46) / 39.9,
	viscosityPaS: gasViscosityPaS(1700, 39.9),
	prandtl: prandtlNumber(1.14),
	k: 1.14
};

const typed = (text: string, dimension: Dimension) => {
	const read = parseQuantity(text, { dimension });
	if (!read.ok || !read.value.quantity) throw new Error(text);
	return toSi(read.value.quantity, dimension).value;
};

describe('Bartz', () => {
	it('NASA SP-125, sample calculation 4-3 (from memory), in its own units: 0.00273 Btu/(in² s °F), factor by factor', () => {
		const gas: typeof A1_GAS = {
			...A1_GAS,
			pressurePa: typed('1000 psi', 'pressure'),
			characteristicVelocityMS: typed('5660 ft/s', 'speed'),
			heatJKgK: typed('0.485 Btu/(lb °F)', 'specific heat'),
			viscosityPaS: typed('4.18e-6 lb/(in s)', 'viscosity')
		};
		const place = {
			...A1_PLACE,
			throatM: typed('24.9 in', 'length'),
			curvatureM: typed('11.71 in', 'length')
		};
		const unit = typed('1 Btu/(in² s °F)', 'heat-transfer coefficient');
		const h = bartzCoefficient(gas, place) / unit;
		near(h, 0.00273, 5e-3);
		// Each factor is what the coefficient loses where it is one in those units: 1 in, a straight throat, 1 lb/(in² s).
		const inch = { ...place, throatM: 0.0254, curvatureM: place.curvatureM / 24.9 };
		near((0.026 * bartzCoefficient(gas, place)) / bartzCoefficient(gas, inch), 0.01366, 5e-3);
		const straight = bartzCoefficient(gas, { ...place, curvatureM: place.throatM });
		near(bartzCoefficient(gas, place) / straight, 1.078, 5e-3);
		const massFlux = typed('1 lb', 'mass') / 0.0254 ** 2;
		const slow = { ...gas, pressurePa: massFlux * gas.characteristicVelocityMS };
		const flow = bartzCoefficient(gas, place) / bartzCoefficient(slow, place);
		near(flow, 4.02, 5e-3);
		near(h / 0.01366 / 1.078 / flow, 0.046, 5e-3);
	});
	it('the same in SI (hand-worked): 8.02e3 W/(m²·K)', () => {
		near(bartzCoefficient(A1_GAS, A1_PLACE), 8018, 5e-3);
	});
	it('estimates (from memory): Pr 0.815 for k 1.222; viscosity 4.14e-6 lb/(in s) at 6140 R, 22.5 g/mol', () => {
		near(prandtlNumber(1.222), 0.815, 5e-3);
		near(gasViscosityPaS(6140 / 1.8, 22.5) / 17.858, 4.14e-6, 1.5e-2);
	});
	it('hand-worked σ: 1.0266 at Tw/Tc 0.8, k 1.222, Mach 1; exactly 1 at Tw = Tc at rest', () => {
		near(bartzSigma(0.8, 1, 1.222), 1.0266, 1e-3);
		within(bartzSigma(1, 0, 1.222), 1, 1e-12);
	});
	it('hand-worked small motor: 14 538 W/(m²·K); the cold wall takes 3.7 times the flux of one at 1200 K', () => {
		near(SMALL_GAS.heatJKgK, 1696.8, 1e-3);
		near(SMALL_GAS.prandtl, 0.8669, 1e-3);
		near(SMALL_GAS.viscosityPaS, 6.488e-5, 1e-3);
		const h = bartzCoefficient(SMALL_GAS, SMALL_PLACE);
		near(h, 14_538, 5e-3);
		const recovery = recoveryTemperatureK(1700, 1, 1.14, SMALL_GAS.prandtl ** (1 / 3));
		near(recovery, 1695, 1e-3);
		for (const [wall, sigma, flux] of [
			[300, 1.413, 28.6e6],
			[800, 1.204, 15.7e6],
			[1200, 1.084, 7.8e6]
		] as const) {
			near(bartzSigma(wall / 1700, 1, 1.14), sigma, 5e-3);
			near(h * bartzSigma(wall / 1700, 1, 1.14) * (recovery - wall), flux, 5e-3);
		}
	});
	it('hand-worked exponents: twice the pressure 1.7411, twice throat and curvature 0.8706', () => {
		const h = bartzCoefficient(SMALL_GAS, SMALL_PLACE);
		near(bartzCoefficient({ ...SMALL_GAS, pressurePa: 8e6 }, SMALL_PLACE) / h, 1.7411, 1e-3);
		near(bartzCoefficient(SMALL_GAS, { ...SMALL_PLACE, throatM: 0.02, curvatureM: 0.02 }) / h, 0.8706, 1e-3);
	});
	it('hand-worked recovery temperature: 6099.8 R turbulent, 6080.7 R laminar; the stagnation one for r = 1', () => {
		near(recoveryTemperatureK(6140, 1, 1.222, 0.816 ** (1 / 3)), 6099.8, 1e-3);
		near(recoveryTemperatureK(6140, 1, 1.222, 0.816 ** (1 / 3)) / 1.8, 3388.8, 1e-3);
		near(recoveryTemperatureK(6140, 1, 1.222, 0.816 ** 0.5), 6080.7, 1e-3);
		for (const mach of [0, 0.5, 3]) near(recoveryTemperatureK(2000, mach, 1.2, 1), 2000, 1e-12);
	});
	it('fluxes of the published ranges, 1e7 to 1e8 W/m² (MIT 16.512 lecture 7, seen) within 0.5 to 160 MW/m² (Sutton and Biblarz, from memory): both examples lie in them', () => {
		const flux = (gas: typeof A1_GAS, place: typeof A1_PLACE) =>
			bartzCoefficient(gas, place) * bartzSigma(300 / gas.temperatureK, 1, gas.k) * (gas.temperatureK - 300);
		for (const q of [flux(A1_GAS, A1_PLACE), flux(SMALL_GAS, SMALL_PLACE)]) {
			expect(q).toBeGreaterThan(1e7);
			expect(q).toBeLessThan(1e8);
		}
	});
});

describe('conduction against published and exact values', () => {
	it('Holman, example 4-2a (from memory): steel 25 mm deep, 30 s after 250 °C: 118.5 °C', () => {
		const wall = wallOf(
			[{ table: constant(45, 1000, 45 / 1.4e-5 / 1000), thicknessM: 0.25, cells: 500 }],
			308.15
		);
		wall.run(phase({ durationS: 30, gasK: 523.15, hot: COUPLED }));
		within(temperatureAt(wall, 0.025) - 273.15, 118.5, 0.1);
	});
	it('Holman, example 4-5 (aluminium, 120 °C at 40 mm): 3561 s, where the book’s chart gives about 3000 (hand-worked)', () => {
		const table = constant(215, 1000, 215 / 8.4e-5 / 1000);
		const wall = wallOf(
			[
				{ table, thicknessM: 0.2, cells: 100 },
				{ table, thicknessM: 3.8, cells: 300 }
			],
			473.15
		);
		let [time, before] = [0, [0, 473.15]];
		wall.run(phase({ durationS: 4000, gasK: 343.15, hot: 525, firstStepS: 0.5, longestStepS: 1 }), (s) => {
			const t = temperatureAt(wall, 0.04);
			if (time === 0 && t <= 393.15)
				time = before[0]! + ((before[1]! - 393.15) / (before[1]! - t)) * (s.timeS - before[0]!);
			before = [s.timeS, t];
		});
		near(time, 3561, 1e-3);
	});
	it.each([
		[0.1, 0.10354],
		[0.2, 0.19098],
		[0.5, 0.38431],
		[1, 0.57242],
		[2, 0.7446],
		[3, 0.821]
	])('hand-worked, Carslaw and Jaeger 2.7: surface at b = %d: %d', (b, theta) => {
		// k = ρc = 1, so b = h √t; h = 1. The error of the steps halves with them, and twice the finer less the coarser has none.
		const t = b * b;
		const surface = (steps: number) => {
			const wall = wallOf([{ table: constant(1, 1, 1), thicknessM: 8 * b, cells: 600 }], 300);
			wall.run(
				phase({
					durationS: t,
					gasK: 400,
					hot: 1,
					firstStepS: t / 50 / steps,
					longestStepS: t / steps,
					growth: 1.03
				})
			);
			return (wall.state.hotK - 300) / 100;
		};
		within(2 * surface(4000) - surface(2000), theta, 1e-5);
	});
	it.each([
		[1, 0.05, 0.99975, undefined],
		[1, 0.1, 0.99311, undefined],
		[1, 0.2, 0.95064, 0.64339],
		[1, 0.5, 0.77253, undefined],
		[10, 0.1, undefined, 0.17057]
	])('hand-worked series, plane wall of Bi %d at Fo %d: middle %s, surface %s', (bi, fo, middle, surface) => {
		const wall = wallOf([{ table: constant(1, 1, 1), thicknessM: 1, cells: 200 }], 400);
		wall.run(
			phase({ durationS: fo, gasK: 300, hot: bi, firstStepS: fo / 1e5, longestStepS: fo / 5e3, growth: 1.05 })
		);
		if (middle !== undefined) within((wall.state.backK - 300) / 100, middle, 1e-4);
		if (surface !== undefined) within((wall.state.hotK - 300) / 100, surface, 1e-4);
	});
	it.each([
		[0.05, 0.25231, 0.00027],
		[0.1, 0.35683, 0.00789],
		[0.2, 0.50517, 0.06146],
		[0.5, 0.83188, 0.33479],
		[1, 1.33332, 0.83334]
	])(
		'hand-worked, Carslaw and Jaeger 3.8, constant flux, Fo %d: heated face %d, back %d',
		(fo, hot, back) => {
			const wall = wallOf([{ table: constant(1, 1, 1), thicknessM: 1, cells: 200 }], 300);
			// A weak coupling to a very hot gas is a constant flux of 1 W/m².
			wall.run(
				phase({
					durationS: fo,
					gasK: 1e9,
					hot: 1e-9,
					firstStepS: fo / 1e5,
					longestStepS: fo / 5e3,
					growth: 1.05
				})
			);
			within(wall.state.hotK - 300, hot, 1e-4);
			within(wall.state.backK - 300, back, 1e-4);
		}
	);
	it('NAFEMS T3 (quoted in public documentation): 36.60 °C at 0.08 m after 32 s, with 40 cells', () => {
		const wall = wallOf([{ table: constant(35, 440.5, 7200), thicknessM: 0.1, cells: 40 }], 273.15);
		const steps = 1600;
		for (let i = 0; i < steps; i++) {
			const t = (32 * (i + 1)) / steps;
			wall.run(
				phase({
					durationS: 32 / steps,
					gasK: 273.15 + 100 * Math.sin((Math.PI * t) / 40),
					hot: COUPLED,
					airK: 273.15,
					back: COUPLED,
					firstStepS: 1,
					longestStepS: 1
				})
			);
		}
		within(temperatureAt(wall, 0.02) - 273.15, 36.6, 0.1);
	});
	it('hand-worked steady slab, k = 54 - 0.0333 T: 2.11725e6 W/m², 325.66 °C in the middle', () => {
		const table = thermalTable({
			conductivity: (t) => Math.max(20, 54 - 0.0333 * (t - 273.15)),
			heat: () => 500,
			densityKgM3: 7850
		});
		const wall = wallOf([{ table, thicknessM: 0.01 }], 500);
		wall.run(
			phase({
				durationS: 60,
				gasK: 873.15,
				hot: COUPLED,
				airK: 373.15,
				back: COUPLED,
				firstStepS: 0.01,
				longestStepS: 1
			})
		);
		const before = wall.heat().inJM2;
		wall.run(
			phase({
				durationS: 1,
				gasK: 873.15,
				hot: COUPLED,
				airK: 373.15,
				back: COUPLED,
				firstStepS: 0.1,
				longestStepS: 0.1
			})
		);
		near(wall.heat().inJM2 - before, 2.11725e6, 1e-3);
		near(temperatureAt(wall, 0.005) - 273.15, 325.66, 1e-3);
	});
	it('energy balance (exact): constant flux into an insulated wall raises its mean by q t/(ρ c L) at every step', () => {
		const wall = wallOf([{ table: constant(30, 500, 8000), thicknessM: 0.01 }], 300);
		wall.run(phase({ durationS: 2, gasK: 1e12, hot: 1e-6, firstStepS: 1e-3, longestStepS: 0.05 }), (s) => {
			near(s.loadK - 300, (1e6 * s.timeS) / (8000 * 500 * 0.01), 1e-6);
		});
	});
});
