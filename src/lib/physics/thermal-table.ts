import { requirePositive } from './checks';

/** What heat conduction needs of a material; temperatures in K. */
export interface ThermalMaterial {
	densityKgM3: number;
	/** W/(m·K) at a temperature. */
	conductivity: (temperatureK: number) => number;
	/** J/(kg·K) at a temperature. */
	heat: (temperatureK: number) => number;
	/** Where it begins to melt and run off; absent for what does not melt. */
	meltK?: number;
	latentJKg?: number;
}

/** Grid of the tables that the conduction solver reads, K. */
export const TABLE_START_K = 150;
export const TABLE_STEP_K = 5;
const TABLE_POINTS = 800;

/** A material as tables over one grid of temperature: conductivity and enthalpy, which is linear between the points. */
export interface ThermalTable {
	densityKgM3: number;
	conductivity: Float64Array;
	/** J/kg above the start of the table. */
	enthalpy: Float64Array;
	meltK: number;
	latentJKg: number;
}

/** Integrates the heat capacity finely, so that a narrow peak such as steel's at 735 °C is kept whole. */
export function thermalTable(material: ThermalMaterial): ThermalTable {
	const { densityKgM3, meltK = Infinity, latentJKg = 0 } = material;
	requirePositive({ densityKgM3 });
	if (meltK < Infinity) requirePositive({ meltK, latentJKg });
	const conductivity = new Float64Array(TABLE_POINTS);
	const enthalpy = new Float64Array(TABLE_POINTS);
	const fine = 50;
	for (let i = 0; i < TABLE_POINTS; i++) {
		const t = TABLE_START_K + i * TABLE_STEP_K;
		conductivity[i] = material.conductivity(t);
		if (i === 0) continue;
		let sum = 0;
		for (let j = 0; j < fine; j++) sum += material.heat(t - TABLE_STEP_K * (1 - (j + 0.5) / fine));
		enthalpy[i] = enthalpy[i - 1]! + (sum / fine) * TABLE_STEP_K;
		requirePositive({ conductivity: conductivity[i]!, heat: sum });
	}
	return { densityKgM3, conductivity, enthalpy, meltK, latentJKg };
}

/** Place in a table, kept inside it. */
const segment = (at: number) => (at < 0 ? 0 : at > TABLE_POINTS - 2 ? TABLE_POINTS - 2 : at | 0);

/** J/kg at a temperature, above the start of the table. */
export function enthalpyAt({ enthalpy }: ThermalTable, temperatureK: number): number {
	const at = (temperatureK - TABLE_START_K) / TABLE_STEP_K;
	const j = segment(at);
	return enthalpy[j]! + (at - j) * (enthalpy[j + 1]! - enthalpy[j]!);
}

/** The inverse: from near a guess, K. */
export function temperatureAt({ enthalpy }: ThermalTable, value: number, nearK: number): number {
	let j = segment((nearK - TABLE_START_K) / TABLE_STEP_K);
	while (j < TABLE_POINTS - 2 && value > enthalpy[j + 1]!) j++;
	while (j > 0 && value < enthalpy[j]!) j--;
	return TABLE_START_K + TABLE_STEP_K * (j + (value - enthalpy[j]!) / (enthalpy[j + 1]! - enthalpy[j]!));
}
