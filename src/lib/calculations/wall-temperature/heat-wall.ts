import { machFromAreaRatio } from '$lib/physics/gas-flow';
import {
	bartzCoefficient,
	bartzSigma,
	gasViscosityPaS,
	prandtlNumber,
	recoveryTemperatureK,
	type BartzGas
} from '$lib/physics/gas-heating';
import { ALUMINIUM_6061, GRAPHITE, PHENOLIC, STEEL } from '$lib/physics/thermal-materials';
import {
	enthalpyAt,
	thermalTable,
	type ThermalMaterial,
	type ThermalTable
} from '$lib/physics/thermal-table';
import { makeWall, type WallLayer, type WallPhase, type WallState } from '$lib/physics/wall';
import type { Inputs } from './inputs';

type LayerInput = Inputs['layers'][number];

const STEFAN_BOLTZMANN = 5.670374419e-8;
/** Four times the cells and eight times the steps change a temperature's rise or a recession by 3 % at most; see the tests. */
const CELLS = 36;
const FEWEST_CELLS = 6;

const MATERIALS: Record<string, ThermalMaterial> = {
	steel: STEEL,
	aluminium: ALUMINIUM_6061,
	graphite: GRAPHITE,
	phenolic: PHENOLIC,
	other: { densityKgM3: 1, conductivity: () => 1, heat: () => 1 }
};
const tables = new Map<string, ThermalTable>();
function tableOf(id: string): ThermalTable {
	let table = tables.get(id);
	if (!table) tables.set(id, (table = thermalTable(MATERIALS[id]!)));
	return table;
}

/** A layer as the solver takes it, without its cells. A typed material is the table of ones, times what was typed. */
function layerOf(l: LayerInput, x: Inputs): Omit<WallLayer, 'cells'> {
	const table = tableOf(l.material);
	const common = {
		thicknessM: l.thickness,
		latentFactor: x.heatFactor,
		erosionMS: l.erosion ?? 0
	};
	if (l.material !== 'other')
		return { ...common, table, conductivityFactor: x.conductivityFactor, heatFactor: x.heatFactor };
	return {
		...common,
		table: { ...table, densityKgM3: l.density!, meltK: l.meltsAt ?? Infinity, latentJKg: l.latent ?? 0 },
		conductivityFactor: x.conductivityFactor * l.conductivity!,
		heatFactor: x.heatFactor * l.heat!
	};
}

/** Melting point of a layer, K; infinite where it does not melt. */
export const meltsAtK = (l: LayerInput): number =>
	l.material === 'other' ? (l.meltsAt ?? Infinity) : (MATERIALS[l.material]!.meltK ?? Infinity);

/** Mean temperature at which the layer that carries the load counts as soft, K, if it is known. */
export function softAtK(x: Inputs): number | undefined {
	const { material } = x.layers.at(-1)!;
	return x.softAt ?? (material === 'steel' ? 631 : material === 'aluminium' ? 533 : undefined);
}

/** Density of the layer at the hot face, and the heat that takes it from its start to melt, for one that melts. */
export function meltingHeat(x: Inputs): { densityKgM3: number; toMeltJKg: number } {
	const { table, heatFactor = 1, latentFactor = 1 } = layerOf(x.layers[0]!, x);
	const at = (t: number) => enthalpyAt(table, t);
	return {
		densityKgM3: table.densityKgM3,
		toMeltJKg: heatFactor * (at(table.meltK) - at(x.start)) + latentFactor * table.latentJKg
	};
}

export interface GasSide {
	/** At the hot face's temperature, W/(m²·K). */
	coefficient: (surfaceK: number) => number;
	recoveryK: number;
	/** Where Bartz's formula is used. */
	bartz?: BartzGas;
}

export function gasSide(x: Inputs): GasSide {
	if (x.heating === 'typed') {
		const h = x.coefficient!;
		return { coefficient: () => h, recoveryK: x.recovery! };
	}
	const k = x.ratio!;
	const gas: BartzGas = {
		temperatureK: x.gasTemperature!,
		pressurePa: x.pressure!,
		characteristicVelocityMS: x.characteristicVelocity!,
		heatJKgK: ((k / (k - 1)) * 8314.462618) / x.molarMass!,
		viscosityPaS: gasViscosityPaS(x.gasTemperature!, x.molarMass!),
		prandtl: prandtlNumber(k),
		k
	};
	const areaRatio = x.areaRatio ?? 1;
	const mach =
		areaRatio > 1 ? machFromAreaRatio(areaRatio, k, x.place === 'before' ? 'subsonic' : 'supersonic') : 1;
	const base =
		x.bartzFactor! *
		bartzCoefficient(gas, { throatM: x.throat!, curvatureM: x.curvature ?? x.throat!, areaRatio, mach });
	return {
		coefficient: (surfaceK) => base * bartzSigma(surfaceK / gas.temperatureK, mach, k),
		recoveryK: recoveryTemperatureK(gas.temperatureK, mach, k, gas.prandtl ** (1 / 3)),
		bartz: gas
	};
}

/** Radius of the hot face, m; undefined for a flat wall. */
export const hotRadius = (x: Inputs): number | undefined =>
	x.innerRadius ?? (x.heating === 'bartz' ? (x.throat! / 2) * Math.sqrt(x.areaRatio ?? 1) : undefined);

/** What a scenario changes. */
export interface Fault {
	/** On the coefficient. */
	heat?: number;
	/** Hot gas reaches what lies behind the first layer. */
	firstLayerMissing?: boolean;
	/** Share of the last layer that was not there. */
	thinner?: number;
	/** On the thickness of the layer at the hot face. */
	hotLayer?: number;
}

export interface Heated {
	hotPeakK: number;
	backPeakK: number;
	/** Mean of the layer that carries the load: greatest while it burns, and at all. */
	loadBurnK: number;
	loadPeakK: number;
	leftM: number;
	lostM: number;
	/** Burning time, all firings together, at which it first melts, is soft, is through; infinite where it does not. */
	meltS: number;
	softS: number;
	throughS: number;
	steps: number;
}

/** More of both for a finer run, in tests. */
export interface Fineness {
	cells: number;
	steps: number;
}

/**
 * Burns, pauses, burns again and soaks; `watch` is called after every step with the time since ignition and the number of
 * the firing.
 */
export function heatWall(
	x: Inputs,
	fault: Fault = {},
	watch?: (timeS: number, s: WallState, firing: number) => void,
	fine: Fineness = { cells: 1, steps: 1 }
): Heated {
	const layers = x.layers.map((l) => layerOf(l, x));
	layers[0]!.thicknessM *= fault.hotLayer ?? 1;
	layers.at(-1)!.thicknessM *= 1 - (fault.thinner ?? 0);
	if (fault.firstLayerMissing) layers.shift();
	const whole = layers.reduce((sum, l) => sum + l.thicknessM, 0);
	const wall = makeWall(withCells(layers, fine.cells), x.start, hotRadius(x));
	const { state } = wall;
	const side = gasSide(x);
	const { emissivity, backCoefficient: still, start: airK } = x;
	const backCoefficient = (t: number) =>
		still + emissivity * STEFAN_BOLTZMANN * (t * t + airK * airK) * (t + airK);
	const growth = 1 + 0.1 / fine.steps;
	const burn: WallPhase = {
		durationS: x.burnTime,
		coefficient: (t) => (fault.heat ?? 1) * side.coefficient(t),
		gasK: side.recoveryK,
		erodes: true,
		backCoefficient,
		airK,
		firstStepS: x.burnTime / 2000 / fine.steps,
		longestStepS: x.burnTime / 120 / fine.steps,
		growth
	};
	const cooling = (durationS: number): WallPhase => ({
		...burn,
		durationS,
		coefficient: () => still,
		gasK: airK,
		erodes: false,
		firstStepS: Math.min(durationS, x.burnTime) / 200 / fine.steps,
		longestStepS: durationS / 50 / fine.steps
	});
	const soft = softAtK(x) ?? Infinity;
	const out: Heated = {
		hotPeakK: x.start,
		backPeakK: x.start,
		loadBurnK: x.start,
		loadPeakK: x.start,
		leftM: whole,
		lostM: 0,
		meltS: Infinity,
		softS: Infinity,
		throughS: Infinity,
		steps: 0
	};
	const firings = Math.round(x.firings);
	for (let i = 1; i <= firings && !state.through; i++) {
		const ignition = state.timeS;
		const before = (i - 1) * x.burnTime;
		const see = (burning: boolean) => (s: WallState) => {
			out.hotPeakK = Math.max(out.hotPeakK, s.hotK);
			out.backPeakK = Math.max(out.backPeakK, s.backK);
			out.loadPeakK = Math.max(out.loadPeakK, s.loadK);
			if (burning) {
				out.loadBurnK = Math.max(out.loadBurnK, s.loadK);
				const clock = before + s.timeS - ignition;
				if (s.melting) out.meltS = Math.min(out.meltS, clock);
				if (s.loadK >= soft) out.softS = Math.min(out.softS, clock);
				if (s.through) out.throughS = clock;
			}
			watch?.(s.timeS - ignition, s, i);
		};
		wall.run(burn, see(true));
		if (!state.through) wall.run(cooling(i < firings ? x.pause : x.soak), see(false));
	}
	out.leftM = state.leftM;
	// Sums of cells differ in their last digits.
	out.lostM = whole - state.leftM < 1e-9 * whole ? 0 : whole - state.leftM;
	out.steps = state.steps;
	return out;
}

const remembered = new WeakMap<Inputs, Heated>();
/** Without a fault; remembered, as model, evidence and answers ask for the same samples one after the other. */
export function asTyped(x: Inputs): Heated {
	let heated = remembered.get(x);
	if (!heated) remembered.set(x, (heated = heatWall(x)));
	return heated;
}

/** Cells where the temperature varies: by the time that heat takes through each layer. */
function withCells(layers: readonly Omit<WallLayer, 'cells'>[], more: number): WallLayer[] {
	const weights = layers.map((l) => {
		const { conductivity, densityKgM3 } = l.table;
		// Cold: what counts is the contrast between layers.
		const heat = (enthalpyAt(l.table, 400) - enthalpyAt(l.table, 300)) * (l.heatFactor ?? 1);
		return l.thicknessM * Math.sqrt((densityKgM3 * heat) / (conductivity[30]! * (l.conductivityFactor ?? 1)));
	});
	const sum = weights.reduce((a, b) => a + b, 0);
	return layers.map((l, i) => ({
		...l,
		cells: more * Math.max(FEWEST_CELLS, Math.round((CELLS * weights[i]!) / sum))
	}));
}
