import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireNotNegative, requirePositive } from './checks';

/**
 * Time in which a canopy fills, s: it fills along a fixed number of its diameters.
 * Source: Knacke, NWC TP 6575, ch. 5: tf = n Do/v (from memory).
 */
export function fillingTimeS(fillConstant: number, nominalDiameterM: number, speedMS: number): number {
	requirePositive({ fillConstant, nominalDiameterM, speedMS });
	return (fillConstant * nominalDiameterM) / speedMS;
}

/**
 * Ballistic parameter of an opening: large where the load hardly slows while the canopy fills (infinite mass).
 * Source: Pflanz, as in Knacke, ch. 5 (from memory): A = 2 m/((Cd S) ρ v tf).
 */
export function ballisticParameter(q: {
	massKg: number;
	dragAreaM2: number;
	densityKgM3: number;
	speedMS: number;
	fillTimeS: number;
}): number {
	const { massKg, dragAreaM2, densityKgM3, speedMS, fillTimeS } = q;
	requirePositive({ massKg, dragAreaM2, densityKgM3, speedMS, fillTimeS });
	return (2 * massKg) / (dragAreaM2 * densityKgM3 * speedMS * fillTimeS);
}

/**
 * Pflanz's reduction of the opening load for a load that slows while the canopy fills, its area growing as (t/tf)^j,
 * gravity left out; and when the peak comes, as a share of the filling time.
 * Source: closed form, derived and checked by direct maximisation.
 */
export function pflanz(parameter: number, growth: number): { reduction: number; peakAt: number } {
	requirePositive({ parameter, growth });
	const j = growth;
	const scaled = (parameter * j * (j + 1)) / (j + 2);
	if (scaled >= 1) return { reduction: (1 + 1 / (parameter * (j + 1))) ** -2, peakAt: 1 };
	return {
		reduction: scaled ** (j / (j + 1)) * ((j + 2) / (2 * (j + 1))) ** 2,
		peakAt: scaled ** (1 / (j + 1))
	};
}

export interface Opening {
	massKg: number;
	dragAreaM2: number;
	densityKgM3: number;
	/** At line stretch. */
	speedMS: number;
	/** Below the horizontal, rad; π/2 is straight down. */
	downRad: number;
	fillTimeS: number;
	growth: number;
}

/**
 * Greatest drag while a canopy fills, with gravity, N; no over-inflation. The path is a point mass in the vertical
 * plane in still air: dv/dt = g - (ρ Cd S (t/tf)^j/2m)|v| v, by the classical Runge-Kutta method with steps short
 * enough for the peak and for the slow end.
 * @returns the force, and when it comes as a share of the filling time
 */
export function openingPeak(o: Opening): { forceN: number; peakAt: number } {
	const { massKg, dragAreaM2, densityKgM3, speedMS, downRad, fillTimeS, growth } = o;
	requireNotNegative({ downRad });
	const early = pflanz(ballisticParameter(o), growth).peakAt;
	const terminal = Math.sqrt((2 * massKg * G) / (densityKgM3 * dragAreaM2));
	const steps = Math.min(20_000, Math.ceil(Math.max(80, 40 / early, (8 * fillTimeS * G) / terminal)));
	const h = fillTimeS / steps;
	const full = (densityKgM3 * dragAreaM2) / (2 * massKg);
	let across = speedMS * Math.cos(downRad);
	let down = speedMS * Math.sin(downRad);
	let peak = 0;
	let peakAt = 0;
	let k1 = 0;
	for (let i = 0; i < steps; i++) {
		const k2 = full * ((i + 0.5) / steps) ** growth;
		const k3 = full * ((i + 1) / steps) ** growth;
		let s = k1 * Math.hypot(across, down);
		const [a1, d1] = [-s * across, G - s * down];
		let [x, z] = [across + (h / 2) * a1, down + (h / 2) * d1];
		s = k2 * Math.hypot(x, z);
		const [a2, d2] = [-s * x, G - s * z];
		[x, z] = [across + (h / 2) * a2, down + (h / 2) * d2];
		s = k2 * Math.hypot(x, z);
		const [a3, d3] = [-s * x, G - s * z];
		[x, z] = [across + h * a3, down + h * d3];
		s = k3 * Math.hypot(x, z);
		across += (h / 6) * (a1 + 2 * a2 + 2 * a3 - s * x);
		down += (h / 6) * (d1 + 2 * d2 + 2 * d3 + G - s * z);
		k1 = k3;
		const force = k3 * (across * across + down * down);
		if (force > peak) [peak, peakAt] = [force, (i + 1) / steps];
	}
	return { forceN: massKg * peak, peakAt };
}

/**
 * Force in a line that brings two masses to one speed, and how far it stretches: linear and elastic, its own mass and
 * all drag left out.
 * Source: energy and momentum; idea of Ewing et al., AFFDL-TR-78-151 (from memory).
 */
export function snatch(q: { massAKg: number; massBKg: number; speedMS: number; stiffnessNM: number }): {
	reducedMassKg: number;
	forceN: number;
	stretchM: number;
	timeS: number;
} {
	requirePositive({ massAKg: q.massAKg, massBKg: q.massBKg, stiffnessNM: q.stiffnessNM });
	requireNotNegative({ speedMS: q.speedMS });
	const reducedMassKg = (q.massAKg * q.massBKg) / (q.massAKg + q.massBKg);
	return {
		reducedMassKg,
		forceN: q.speedMS * Math.sqrt(q.stiffnessNM * reducedMassKg),
		stretchM: q.speedMS * Math.sqrt(reducedMassKg / q.stiffnessNM),
		timeS: (Math.PI / 2) * Math.sqrt(reducedMassKg / q.stiffnessNM)
	};
}
