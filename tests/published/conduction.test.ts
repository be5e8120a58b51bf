import { describe, expect, it } from 'vitest';
import { runCalculation } from '$lib/calculations/run';
import { wallTemperature } from '$lib/calculations/wall-temperature/wall-temperature';
import { constant, COUPLED, phase, temperatureAt, wallOf } from '../unit/physics/wall-cases';

/** Textbook cases that the solver, which has no closed form in it, must come to. */
const within = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value - expected), `${value} for ${expected}`).toBeLessThan(tolerance);
const celsius = (k: number) => k - 273.15;

/**
 * ζ and C1 of the slowest mode, θ = C1 exp(-ζ² Fo) at the end of the wall that is reached last, from two moments so late
 * that the other modes have gone.
 */
function slowestMode(bi: number, shape: 'plate' | 'rod', longestStepS: number): [zeta: number, c1: number] {
	// A rod has a bore of a ten-thousandth of itself.
	const bore = shape === 'rod' ? 1e-4 : undefined;
	const table = constant(1, 1, 1);
	const wall = wallOf([{ table, thicknessM: 1 - (bore ?? 0), cells: 200 }], 400, bore);
	const thetaAt = (time: number) => {
		const convection = shape === 'rod' ? { back: bi } : { hot: bi };
		const durationS = time - wall.state.timeS;
		wall.run(phase({ durationS, ...convection, firstStepS: longestStepS / 50, longestStepS, growth: 1.03 }));
		return ((shape === 'rod' ? wall.state.hotK : wall.state.backK) - 300) / 100;
	};
	const [first, second] = [thetaAt(1.2), thetaAt(1.6)];
	const rate = Math.log(first / second) / 0.4;
	return [Math.sqrt(rate), second * Math.exp(1.6 * rate)];
}
/** The error of the steps halves with them: twice the finer less the coarser has none. */
function slowest(bi: number, shape: 'plate' | 'rod') {
	const step = bi > 0.5 ? 5e-5 : 2e-4;
	const [coarse, fine] = [slowestMode(bi, shape, 2 * step), slowestMode(bi, shape, step)];
	return { zeta: 2 * fine[0] - coarse[0], c1: 2 * fine[1] - coarse[1] };
}

describe('slowest mode with convection (Incropera, table 5.1)', () => {
	it.each([
		[0.01, 0.0998, 1.0017],
		[0.02, 0.141, 1.0033],
		[0.05, 0.2218, 1.0082],
		[0.2, 0.4328, 1.0311],
		[0.3, 0.5218, 1.045],
		[0.5, 0.6533, 1.0701]
	])('plane wall, Bi %d: ζ %d, C1 %d (from memory)', (bi, zeta, c1) => {
		const mode = slowest(bi, 'plate');
		within(mode.zeta, zeta, 1e-4);
		within(mode.c1, c1, 1e-4);
	});
	it.each([
		['plate', 0.1, 0.3111, 1.0161],
		['plate', 1, 0.8603, 1.1191],
		['plate', 10, 1.4289, 1.262],
		['rod', 0.1, 0.4417, 1.0246],
		['rod', 1, 1.2558, 1.2071],
		['rod', 10, 2.1795, 1.5677]
	] as const)('%s, Bi %d: ζ %d, C1 %d (quoted in a public test file)', (shape, bi, zeta, c1) => {
		const mode = slowest(bi, shape);
		within(mode.zeta, zeta, 5e-5);
		within(mode.c1, c1, 5e-5);
	});
});

describe('worked examples (from memory)', () => {
	it('Incropera, example 5.4: steel pipe of 40 mm, 500 W/(m²·K) from 60 °C: after 8 min 42.9 °C outside, 45.2 °C inside, 2.73e7 J/m', () => {
		const wall = wallOf([{ table: constant(63.9, 434, 7832), thicknessM: 0.04 }], 253.15);
		wall.run(phase({ durationS: 480, gasK: 333.15, hot: 500 }));
		// The book rounds its one-term factors to three figures.
		within(celsius(wall.state.backK), 42.9, 0.2);
		within(celsius(wall.state.hotK), 45.2, 0.2);
		within((wall.heat().inJM2 * Math.PI) / 2.73e7, 1, 5e-3);
	});
	it('Incropera, example 5.6: soil at 20 °C under a surface at -15 °C freezes to 0.68 m in 60 days', () => {
		const wall = wallOf([{ table: constant(0.52, 1840, 2050), thicknessM: 6, cells: 600 }], 293.15);
		wall.run(phase({ durationS: 60 * 86_400, gasK: 258.15, hot: COUPLED }));
		within(celsius(temperatureAt(wall, 0.68)), 0, 0.1);
	});
	it('Holman, example 4-2b: steel 25 mm deep, 30 s under 3.2e5 W/m²: 79.3 °C', () => {
		const table = constant(45, 1000, 45 / 1.4e-5 / 1000);
		const wall = wallOf([{ table, thicknessM: 0.25, cells: 500 }], 308.15);
		wall.run(phase({ durationS: 30, gasK: 1e9, hot: 3.2e5 / 1e9 }));
		within(celsius(temperatureAt(wall, 0.025)), 79.3, 0.1);
	});
	it('Çengel, example 4-3: brass plate of 40 mm, 120 W/(m²·K) from 500 °C on both sides, after 7 min: 282 °C by the chart', () => {
		const wall = wallOf([{ table: constant(110, 380, 8530), thicknessM: 0.02 }], 293.15);
		wall.run(phase({ durationS: 420, gasK: 773.15, hot: 120 }));
		within(celsius(wall.state.hotK), 282, 3);
	});
	it('Çengel, example 4-4: steel shaft of 200 mm, from 600 °C in 200 °C at 80 W/(m²·K), after 45 min: 360 °C in the middle by the chart', () => {
		const bore = 1e-5;
		const wall = wallOf(
			[{ table: constant(14.9, 477, 7900), thicknessM: 0.1 - bore, cells: 200 }],
			873.15,
			bore
		);
		wall.run(phase({ durationS: 2700, airK: 473.15, back: 80 }));
		within(celsius(wall.state.hotK), 360, 5);
	});
	it('NAFEMS T2: 0.1 m at 1000 K, radiating into 300 K at the other end: 927.0 K there', () => {
		const r = runCalculation(wallTemperature, {
			inputs: {
				// So little heat capacity that it is steady within a minute.
				layers: [{ thickness: '100 mm', conductivity: '55.6', heat: '100', density: '100' }],
				heating: 'typed',
				coefficient: '1e6',
				recovery: '1000 K',
				burnTime: '60 s',
				start: '300 K',
				backCoefficient: '0',
				emissivity: '0.98'
			},
			samples: 50
		});
		if (!r.ok) throw new Error(r.error.message);
		within(r.value.outputs['backPeak']!.nominal!, 927, 0.2);
	});
});
