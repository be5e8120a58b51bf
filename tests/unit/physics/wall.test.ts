import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ALUMINIUM_6061, PHENOLIC, STEEL } from '$lib/physics/thermal-materials';
import { thermalTable } from '$lib/physics/thermal-table';
import { constant, COUPLED, phase, temperatureAt, wallOf } from './wall-cases';

const near = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value / expected - 1), `${value} for ${expected}`).toBeLessThan(tolerance);

const [steel, aluminium, phenolic] = [STEEL, ALUMINIUM_6061, PHENOLIC].map(thermalTable) as [
	ReturnType<typeof thermalTable>,
	ReturnType<typeof thermalTable>,
	ReturnType<typeof thermalTable>
];
const tables: Record<string, typeof steel> = { steel, aluminium, phenolic };
type Wall = ReturnType<typeof wallOf>;

/** Heat that is not accounted for, over what came in. */
function lost(wall: Wall, atStart: number): number {
	const { inJM2, outJM2, removedJM2, storedJM2 } = wall.heat();
	return Math.abs(inJM2 - outJM2 - removedJM2 - (storedJM2 - atStart)) / Math.abs(inJM2);
}

describe('energy', () => {
	const layers = fc.record({
		hot: fc.constantFrom('steel', 'aluminium', 'phenolic'),
		back: fc.constantFrom('steel', 'aluminium'),
		thick: fc.double({ min: 0.5e-3, max: 8e-3, noNaN: true }),
		erosionMS: fc.constantFrom(0, 2e-4),
		radius: fc.constantFrom(undefined, 0.005, 0.05),
		h: fc.double({ min: 500, max: 40_000, noNaN: true }),
		gasK: fc.double({ min: 900, max: 3500, noNaN: true })
	});
	it('is kept through peaks of the heat capacity, melting, erosion and layers, flat or around an axis', () => {
		fc.assert(
			fc.property(layers, ({ hot, back, thick, erosionMS, radius, h, gasK }) => {
				const wall = wallOf(
					[
						{ table: tables[hot]!, thicknessM: thick, cells: 20, erosionMS },
						{ table: tables[back]!, thicknessM: 3e-3, cells: 10 }
					],
					293,
					radius
				);
				const start = wall.heat().storedJM2;
				const burn = phase({
					durationS: 2,
					gasK,
					hot: h,
					back: 30,
					airK: 293,
					erodes: true,
					firstStepS: 1e-3,
					longestStepS: 0.03
				});
				wall.run(burn);
				if (!wall.state.through)
					wall.run(
						phase({
							durationS: 60,
							gasK: 293,
							hot: 20,
							back: 30,
							airK: 293,
							firstStepS: 0.01,
							longestStepS: 2
						})
					);
				expect(lost(wall, start)).toBeLessThan(1e-9);
			}),
			{ numRuns: 150 }
		);
	});
	it('no face gets hotter than the gas or colder than the air; a hotter gas, a stronger coupling take more', () => {
		fc.assert(
			fc.property(layers, ({ hot, back, thick, radius, h, gasK }) => {
				const run = (coefficient: number, gas: number) => {
					const wall = wallOf(
						[
							{ table: tables[hot]!, thicknessM: thick, cells: 20 },
							{ table: tables[back]!, thicknessM: 3e-3, cells: 10 }
						],
						293,
						radius
					);
					wall.run(
						phase({
							durationS: 1,
							gasK: gas,
							hot: coefficient,
							airK: 293,
							back: 10,
							firstStepS: 1e-3,
							longestStepS: 0.02
						}),
						(s) => {
							expect(s.hotK).toBeLessThanOrEqual(gas + 1e-6);
							expect(s.backK).toBeGreaterThanOrEqual(293 - 1e-6);
						}
					);
					return wall;
				};
				const [plain, more] = [run(h, gasK), run(1.2 * h, gasK + 50)];
				expect(more.state.leftM).toBeLessThanOrEqual(plain.state.leftM + 1e-12);
				if (!more.state.through) expect(more.heat().inJM2).toBeGreaterThan(plain.heat().inJM2);
			}),
			{ numRuns: 60 }
		);
	});
});

describe('shapes and layers', () => {
	it('around an axis, steady conduction follows the logarithm of the radius', () => {
		const wall = wallOf([{ table: constant(20, 500, 8000), thicknessM: 0.01, cells: 60 }], 300, 0.005);
		wall.run(
			phase({
				durationS: 200,
				gasK: 500,
				hot: COUPLED,
				airK: 300,
				back: COUPLED,
				firstStepS: 0.1,
				longestStepS: 5
			})
		);
		const before = wall.heat();
		wall.run(
			phase({
				durationS: 1,
				gasK: 500,
				hot: COUPLED,
				airK: 300,
				back: COUPLED,
				firstStepS: 0.5,
				longestStepS: 0.5
			})
		);
		near(wall.heat().inJM2 - before.inJM2, (20 * 200) / (0.005 * Math.log(3)), 1e-3);
		near(wall.heat().outJM2 - before.outJM2, (20 * 200) / (0.005 * Math.log(3)), 1e-3);
		near(temperatureAt(wall, 0.005), 500 - (200 * Math.log(2)) / Math.log(3), 1e-3);
	});
	it('a very wide bore is a flat wall', () => {
		const [flat, wide] = [undefined, 1e4].map((r) => {
			const wall = wallOf([{ table: steel, thicknessM: 0.004, cells: 30 }], 293, r);
			wall.run(phase({ durationS: 2, gasK: 3000, hot: 8000, firstStepS: 1e-3, longestStepS: 0.02 }));
			return wall.state;
		});
		near(wide!.backK, flat!.backK, 1e-5);
		near(wide!.leftM, flat!.leftM, 1e-5);
	});
	it('two layers in series pass the steady flux of their resistances', () => {
		const wall = wallOf([
			{ table: constant(0.3, 1000, 1000), thicknessM: 0.002, cells: 20 },
			{ table: constant(150, 900, 2700), thicknessM: 0.003, cells: 10 }
		]);
		const steady = phase({
			durationS: 3000,
			gasK: 800,
			hot: 400,
			airK: 300,
			back: 50,
			firstStepS: 0.1,
			longestStepS: 20
		});
		wall.run(steady);
		const before = wall.heat().outJM2;
		wall.run({ ...steady, durationS: 10 });
		near((wall.heat().outJM2 - before) / 10, 500 / (1 / 400 + 0.002 / 0.3 + 0.003 / 150 + 1 / 50), 1e-4);
	});
	it('what erodes at a constant speed is gone on time, and the layer behind takes over', () => {
		const wall = wallOf([
			{ table: phenolic, thicknessM: 0.002, cells: 20, erosionMS: 1e-3 },
			{ table: steel, thicknessM: 0.004, cells: 20 }
		]);
		wall.run(
			phase({ durationS: 1, gasK: 1500, hot: 500, erodes: true, firstStepS: 1e-3, longestStepS: 0.02 })
		);
		near(wall.state.leftM, 0.005, 1e-9);
		wall.run(
			phase({ durationS: 2, gasK: 1500, hot: 500, erodes: true, firstStepS: 1e-3, longestStepS: 0.02 })
		);
		near(wall.state.leftM, 0.004, 1e-9);
	});
	it('a wall that melts through says so, at a time that the steps hardly change', () => {
		const time = (steps: number) => {
			const wall = wallOf([{ table: aluminium, thicknessM: 0.003, cells: 30 }], 293);
			wall.run(phase({ durationS: 5, gasK: 2500, hot: 12_000, firstStepS: 1e-3, longestStepS: 5 / steps }));
			expect(wall.state.through).toBe(true);
			expect(wall.state.leftM).toBe(0);
			return wall.state.timeS;
		};
		near(time(100), time(3000), 0.01);
	});
});

it('is of second order in space: half the cell, a quarter of the error, also while it melts', () => {
	const loss = (cells: number) => {
		const wall = wallOf(
			[{ table: constant(30, 650, 7850, { meltK: 1773, latentJKg: 272e3 }), thicknessM: 0.01, cells }],
			293
		);
		wall.run(
			phase({ durationS: 3, gasK: 3300, hot: 9000, firstStepS: 2e-4, longestStepS: 2e-3, growth: 1.05 })
		);
		return 0.01 - wall.state.leftM;
	};
	const best = loss(320);
	expect(best).toBeGreaterThan(1e-3);
	const [coarse, fine] = [20, 80].map((n) => Math.abs(loss(n) - best));
	expect(fine).toBeLessThan(coarse! / 8);
	expect(coarse! / best).toBeLessThan(0.01);
});

it.each<[string, () => unknown]>([
	['no layer', () => wallOf([])],
	['no thickness', () => wallOf([{ table: steel, thicknessM: 0 }])],
	['a melting point without latent heat', () => constant(1, 1, 1, { meltK: 900, latentJKg: 0 })],
	['a conductivity of nothing', () => constant(0, 1, 1)],
	[
		'a negative duration',
		() =>
			wallOf([{ table: steel, thicknessM: 0.001 }]).run(
				phase({ durationS: -1, firstStepS: 1, longestStepS: 1 })
			)
	]
])('refuses %s', (_, run) => {
	expect(run).toThrow(RangeError);
});
