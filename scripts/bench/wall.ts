import { thermalTable } from '$lib/physics/thermal-table';
import { makeWall, type WallPhase } from '$lib/physics/wall';
import { n } from './inputs';
import type { Workload } from './workload';

/** A charring-like liner that is heated, cools for ten minutes and is heated again; its properties vary from run to run. */
const W = {
	thickM: 0.01,
	rho: 1400,
	k0: 0.35,
	ak: 0.0006,
	c0: 1300,
	ac: 0.0004,
	meltK: 900,
	latentJKg: 1.5e6,
	startK: 300,
	gasK: 2800,
	h: 900,
	cooled: 10,
	back: 5,
	burnS: 5,
	coolS: 600
};
const table = thermalTable({
	densityKgM3: W.rho,
	conductivity: (t) => W.k0 * (1 + W.ak * (t - 300)),
	heat: (t) => W.c0 * (1 + W.ac * (t - 300)),
	meltK: W.meltK,
	latentJKg: W.latentJKg
});

interface Grid {
	cells: number;
	firstStepS: number;
	burnStepS: number;
	growth: number;
	coolStepS: number;
}

/** Recession of run i, m. */
function recession(i: number, grid: Grid): { lostM: number; steps: number } {
	const [fk, fc, fh, fg, fl] = [0.1, 0.05, 0.15, 0.05, 0.1].map((rel, j) => 1 + rel * n(200 + j, i)) as [
		number,
		number,
		number,
		number,
		number
	];
	const wall = makeWall(
		[
			{
				table,
				thicknessM: W.thickM,
				cells: grid.cells,
				conductivityFactor: fk,
				heatFactor: fc,
				latentFactor: fl
			}
		],
		W.startK
	);
	const rest = {
		backCoefficient: () => W.back,
		airK: W.startK,
		firstStepS: grid.firstStepS,
		growth: grid.growth
	};
	const burn: WallPhase = {
		...rest,
		durationS: W.burnS,
		coefficient: () => W.h * fh,
		gasK: W.gasK * fg,
		longestStepS: grid.burnStepS
	};
	const cool: WallPhase = {
		...rest,
		durationS: W.coolS,
		coefficient: () => W.cooled,
		gasK: W.startK,
		longestStepS: grid.coolStepS
	};
	for (const phase of [burn, cool, burn]) wall.run(phase);
	return { lostM: W.thickM - wall.state.leftM, steps: wall.state.steps };
}

function walls(name: string, size: number, grid: Grid): Workload {
	return {
		name,
		size,
		run() {
			const cpu = process.cpuUsage();
			let [lost, steps] = [0, 0];
			for (let i = 0; i < size; i++) {
				const r = recession(i, grid);
				lost += r.lostM;
				steps += r.steps;
			}
			const { user, system } = process.cpuUsage(cpu);
			return {
				meanRecessionMm: (1000 * lost) / size,
				meanSteps: Math.round(steps / size),
				cpuMs: Math.round((user + system) / 1000)
			};
		}
	};
}

/** As the workload is stated: 200 cells, 5 ms in the burns, growing by 1.05 to 1 s between. */
const STATED: Grid = { cells: 200, firstStepS: 0.005, burnStepS: 0.005, growth: 1.05, coolStepS: 1 };
/** A quarter of the cells and of the steps, at 0.2 % of error in the recession. */
const ENOUGH: Grid = { cells: 50, firstStepS: 0.002, burnStepS: 0.02, growth: 1.1, coolStepS: 10 };
export default [walls('wall', 1000, ENOUGH), walls('wall-stated-grid', 100, STATED)];
