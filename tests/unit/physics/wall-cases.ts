import { thermalTable, type ThermalTable } from '$lib/physics/thermal-table';
import { makeWall, type WallLayer, type WallPhase } from '$lib/physics/wall';

/** A material of constant properties. */
export const constant = (
	conductivity: number,
	heat: number,
	densityKgM3: number,
	melts?: { meltK: number; latentJKg: number }
): ThermalTable =>
	thermalTable({ conductivity: () => conductivity, heat: () => heat, densityKgM3, ...melts });

/** So well coupled that the face has the gas's temperature. */
export const COUPLED = 1e12;

export const phase = (
	p: Partial<WallPhase> & { hot?: number; back?: number; durationS: number }
): WallPhase => ({
	gasK: 300,
	airK: 300,
	coefficient: () => p.hot ?? 0,
	backCoefficient: () => p.back ?? 0,
	firstStepS: p.durationS / 2000,
	longestStepS: p.durationS / 2000,
	...p
});

export const wallOf = (
	layers: (Omit<WallLayer, 'cells'> & { cells?: number })[],
	startK = 300,
	innerRadiusM?: number
) =>
	makeWall(
		layers.map((l) => ({ cells: 100, ...l })),
		startK,
		innerRadiusM
	);

/** Temperature at a depth, linear between cell centres. */
export function temperatureAt(wall: ReturnType<typeof makeWall>, depthM: number): number {
	const cells = wall.profile();
	const i = Math.max(
		1,
		cells.findIndex((c) => c.depthM >= depthM)
	);
	const [a, b] = [cells[i - 1]!, cells[i]!];
	return a.temperatureK + ((b.temperatureK - a.temperatureK) * (depthM - a.depthM)) / (b.depthM - a.depthM);
}
