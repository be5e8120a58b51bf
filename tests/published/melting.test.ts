import { describe, expect, it } from 'vitest';
import { steadyRecessionMS } from '$lib/physics/gas-heating';
import { constant, phase, temperatureAt, wallOf } from '../unit/physics/wall-cases';

const near = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value / expected - 1), `${value} for ${expected}`).toBeLessThan(tolerance);

describe('melting', () => {
	const steel = { meltK: 1773.15, latentJKg: 272e3 };
	it.each([
		[2e6, 0.2065, 65.8, 28.5],
		[5e6, 0.5162, 10.53, 11.4],
		[10e6, 1.0323, 2.633, 5.7],
		[20e6, 2.0646, 0.658, 2.85]
	])(
		'hand-worked after Landau, steel at %d W/m²: %d mm/s, melting from %d s, layer %d mm',
		(q, speed, start, layer) => {
			const v = steadyRecessionMS(q, 7850, 650 * 1480 + 272e3);
			near(1000 * v, speed, 1e-3);
			near((1000 * 30) / 7850 / 650 / v, layer, 2e-3);
			// The same wall, thick, by the solver: constant flux from 20 °C.
			const thick = 15 * (layer / 1000);
			const wall = wallOf([{ table: constant(30, 650, 7850, steel), thicknessM: thick, cells: 250 }], 293.15);
			let melting = 0;
			const far = start * 12;
			const left: [number, number][] = [];
			wall.run(
				phase({
					durationS: far,
					gasK: 1e9 + 1773,
					hot: q / 1e9,
					firstStepS: start / 5000,
					longestStepS: start / 100,
					growth: 1.02
				}),
				(s) => {
					if (s.melting && melting === 0) melting = s.timeS;
					left.push([s.timeS, s.leftM]);
				}
			);
			near(melting, start, 0.02);
			const [t0, l0] = left.find(([t]) => t > 0.9 * far)!;
			const [t1, l1] = left.at(-1)!;
			const measured = (l0 - l1) / (t1 - t0);
			expect(measured).toBeLessThan(v * 1.002);
			near(measured, v, 0.03);
		}
	);
	it.each([
		[2e6, 65.8],
		[5e6, 10.53],
		[10e6, 2.633],
		[20e6, 0.658]
	])('hand-worked after Landau, steel at %d W/m²: melting begins after %d s', (q, start) => {
		const thick = 6 * Math.sqrt((30 / 7850 / 650) * start);
		const wall = wallOf([{ table: constant(30, 650, 7850, steel), thicknessM: thick, cells: 300 }], 293.15);
		let melting = 0;
		const longestStepS = start / 4000;
		wall.run(
			phase({
				durationS: 1.05 * start,
				gasK: 1e9 + 1773.15,
				hot: q / 1e9,
				firstStepS: start / 1e5,
				longestStepS,
				growth: 1.03
			}),
			(s) => (melting ||= s.melting ? s.timeS : 0)
		);
		near(melting, start, 1e-3);
	});
	it('hand-worked after Landau, steel at 10 MW/m² in steady melting: 1061.7 °C 2 mm ahead of the front', () => {
		const wall = wallOf([{ table: constant(30, 650, 7850, steel), thicknessM: 0.12, cells: 600 }], 293.15);
		wall.run(phase({ durationS: 75, gasK: 1e9 + 1773.15, hot: 0.01, firstStepS: 1e-4, longestStepS: 3e-3 }));
		expect(Math.abs(temperatureAt(wall, 0.002) - 273.15 - 1061.7)).toBeLessThan(0.5);
	});
});
