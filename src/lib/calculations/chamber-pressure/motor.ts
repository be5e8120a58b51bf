import { burnMotor, type Burn, type Motor } from '$lib/physics/chamber';
import { strengthLeft } from '$lib/physics/hot-strength';
import { burstPressurePa, yieldPressurePa } from '$lib/physics/pressure-case';
import type { Inputs } from './inputs';

/** Standard air outside: it takes no part that matters, a chamber has twenty times as much. */
export const AMBIENT_PA = 101_325;

/** What a scenario changes about the motor. */
export interface Fault {
	/** Growth of the throat's diameter over the whole burn, as a share of it. */
	throatGrows?: number;
	/** Share of the throat's area that is blocked. */
	blocked?: number;
	/** Burning area added, from ignition, as a share of the grains' first burning area. */
	added?: number;
}

export const grainsOf = (x: Inputs): Motor['grains'] =>
	x.grains.map((g) => ({
		count: Math.round(g.count),
		outerM: g.outer,
		coreM: g.core,
		lengthM: g.length,
		freeEnds: Number(g.ends),
		outerBurns: g.outside === 'burns',
		slots: Number(g.slots),
		slotWidthM: g.slotWidth ?? 0
	}));

const peaks = new WeakMap<Inputs, number>();

/** Burns the motor as these inputs say it is, or with a fault. */
export function burn(x: Inputs, fault: Fault = {}, firstAreaM2 = 0): Burn {
	const open = Math.sqrt(1 - (fault.blocked ?? 0));
	const throatM = (time: number, share: number) =>
		x.throat * (1 + (fault.throatGrows ?? 0) * share) +
		x.throatGrowth * Math.max(0, time - x.throatGrowthFrom);
	const b = burnMotor({
		grains: grainsOf(x),
		rate: {
			rateMS: x.rate * Math.exp(x.temperatureSensitivity * x.temperature),
			atPa: x.ratePressure,
			exponent: x.exponent
		},
		propellantKgM3: x.density,
		characteristicVelocityMS: x.characteristicVelocity * x.efficiency,
		throatM: (time, share) => open * throatM(time, share),
		addedM2: x.added + (fault.added ?? 0) * firstAreaM2,
		addedFromS: fault.added === undefined ? x.addedFrom : 0,
		ambientPa: AMBIENT_PA
	});
	if (Object.keys(fault).length === 0) peaks.set(x, b.peakPa);
	// What is measured afterwards is the cleared throat.
	return { ...b, throatAfterM: b.throatAfterM / open };
}

/** Greatest pressure of these inputs, Pa; remembered, as model and answer ask for the same samples one after the other. */
export function peakOf(x: Inputs): number {
	let peak = peaks.get(x);
	if (peak === undefined) peaks.set(x, (peak = burn(x).peakPa));
	return peak;
}

export interface CaseStrength {
	/** Absolute chamber pressures. */
	yieldPa: number;
	burstPa: number;
}

/** Chamber pressures at which the case yields and bursts, with its strength at its temperature; undefined without a case. */
export function caseStrength(x: Inputs): CaseStrength | undefined {
	const { caseInner, caseWall, caseProof, caseUltimate, caseMaterial, caseTemperature } = x;
	if (
		caseInner === undefined ||
		caseWall === undefined ||
		caseProof === undefined ||
		caseUltimate === undefined
	)
		return undefined;
	const tube = { innerRadiusM: caseInner / 2, outerRadiusM: caseInner / 2 + caseWall };
	const left =
		caseMaterial === 'steel' || caseMaterial === 'aluminium'
			? strengthLeft(caseMaterial, caseTemperature)
			: { proof: 1, ultimate: 1 };
	if (!(left.proof > 0)) throw new RangeError('at this temperature nothing is left of the case’s strength');
	return {
		yieldPa: AMBIENT_PA + yieldPressurePa(tube, left.proof * caseProof, x.concentration),
		burstPa: AMBIENT_PA + burstPressurePa(tube, left.ultimate * caseUltimate)
	};
}
