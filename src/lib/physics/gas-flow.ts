import { requireNotNegative, requirePositive } from './checks';

/**
 * Steady one-dimensional flow of an ideal gas of constant heat-capacity ratio k (-), without friction or heat.
 * Stagnation values carry a 0. Sources: NACA Report 1135 (1953), eqs. 43 to 80; Sutton and Biblarz, "Rocket Propulsion
 * Elements", ch. 3 (both from memory, checked by their published tables). Errors: RangeError for what is impossible.
 */
const GAS_CONSTANT_J_MOL_K = 8.314462618;

function requireRatio(k: number): void {
	// 1.67 is how tables print the 5/3 of a gas of single atoms.
	if (!(k > 1 && k <= 1.67))
		throw new RangeError(`the heat-capacity ratio k must lie above 1 and up to 1.67, got ${k}`);
}

/** Static over stagnation pressure, density and temperature (-) at a Mach number. */
export function isentropicRatios(mach: number, k: number) {
	requireRatio(k);
	requireNotNegative({ mach });
	const temperature = 1 / (1 + ((k - 1) / 2) * mach * mach);
	const pressure = temperature ** (k / (k - 1));
	return { pressure, density: pressure / temperature, temperature };
}

/** p/p0 at Mach 1 (-): below it a hole or throat is choked. */
export function criticalPressureRatio(k: number): number {
	requireRatio(k);
	return (2 / (k + 1)) ** (k / (k - 1));
}

/** Γ(k) = √k (2/(k+1))^((k+1)/(2(k-1))) (-): the choked mass flow is Γ p0 A/√(R T0). */
export function vandenkerckhove(k: number): number {
	requireRatio(k);
	return Math.sqrt(k) * (2 / (k + 1)) ** ((k + 1) / (2 * (k - 1)));
}

/** A/A* (-), the area at a Mach number over that of the sonic throat; infinite at rest. */
export function areaRatio(mach: number, k: number): number {
	requireRatio(k);
	requireNotNegative({ mach });
	return ((2 / (k + 1)) * (1 + ((k - 1) / 2) * mach * mach)) ** ((k + 1) / (2 * (k - 1))) / mach;
}

/** Mach number at which p/p0 is reached (-). */
export function machFromPressureRatio(ratio: number, k: number): number {
	requireRatio(k);
	if (!(ratio > 0 && ratio <= 1)) throw new RangeError(`p/p0 must lie above 0 and up to 1, got ${ratio}`);
	return Math.sqrt((2 / (k - 1)) * (ratio ** (-(k - 1) / k) - 1));
}

/** Mach number at A/A* (-), before the throat or behind it; exact to 1e-12. */
export function machFromAreaRatio(ratio: number, k: number, branch: 'subsonic' | 'supersonic'): number {
	requireRatio(k);
	if (!(ratio >= 1 && Number.isFinite(ratio)))
		throw new RangeError(`A/A* must be 1 or more and finite, got ${ratio}`);
	// In ln M the area is convex with its least value at 0, so bisection always closes.
	let near = 0;
	let far = branch === 'subsonic' ? -1 : 1;
	while (areaRatio(Math.exp(far), k) < ratio) far *= 2;
	while (Math.abs(far - near) > 1e-13 * Math.max(1, Math.abs(far))) {
		const middle = (near + far) / 2;
		if (middle === near || middle === far) break;
		if (areaRatio(Math.exp(middle), k) < ratio) near = middle;
		else far = middle;
	}
	return Math.exp((near + far) / 2);
}

/** c* = √(R T0)/Γ(k), m/s, from the stagnation temperature and the mean molar mass of the gas. */
export function characteristicVelocityMS(temperature0K: number, molarMassKgMol: number, k: number): number {
	requirePositive({ temperature0K, molarMassKgMol });
	return Math.sqrt((GAS_CONSTANT_J_MOL_K / molarMassKgMol) * temperature0K) / vandenkerckhove(k);
}

/** Pressure at a nozzle's exit over that outside below which the gas leaves its wall (Summerfield, from memory). */
export const SEPARATES = 0.4;

/**
 * Thrust coefficient F/(p0 At) (-) of a full-flowing, choked nozzle with exit-to-throat area ratio, and its exit
 * pressure. Ideal: divergence, friction, two-phase flow and separation (exit below about 0.4 of the back pressure) take
 * from it.
 * @throws RangeError where the throat would not be choked
 */
export function thrustCoefficient(flow: {
	k: number;
	areaRatio: number;
	pressure0Pa: number;
	backPressurePa: number;
}): { coefficient: number; exitPressurePa: number; separated: boolean } {
	const { k, pressure0Pa, backPressurePa } = flow;
	requirePositive({ pressure0Pa });
	requireNotNegative({ backPressurePa });
	if (backPressurePa > criticalPressureRatio(k) * pressure0Pa)
		throw new RangeError('the throat is not choked at this pressure; the thrust coefficient has no meaning');
	const exit = isentropicRatios(machFromAreaRatio(flow.areaRatio, k, 'supersonic'), k).pressure;
	const momentum = Math.sqrt(
		((2 * k * k) / (k - 1)) * (2 / (k + 1)) ** ((k + 1) / (k - 1)) * (1 - exit ** ((k - 1) / k))
	);
	return {
		coefficient: momentum + (exit - backPressurePa / pressure0Pa) * flow.areaRatio,
		exitPressurePa: exit * pressure0Pa,
		separated: exit * pressure0Pa < SEPARATES * backPressurePa
	};
}

export interface Hole {
	k: number;
	pressure0Pa: number;
	/** Of the air outside. */
	backPressurePa: number;
	areaM2: number;
	/** Share of the area that flows (-), 1 if not given: 0.6 to 0.9 for sharp or rough holes (common practice). */
	discharge?: number;
}

/** Pressure and Mach number in the narrowest section: sonic where choked, at back pressure else. */
function orifice({ k, pressure0Pa, backPressurePa, areaM2, discharge = 1 }: Hole) {
	requirePositive({ pressure0Pa, discharge });
	requireNotNegative({ backPressurePa, areaM2 });
	const ratio = Math.max(criticalPressureRatio(k), Math.min(1, backPressurePa / pressure0Pa));
	const choked = ratio * pressure0Pa > backPressurePa;
	return {
		choked,
		mach: choked ? 1 : machFromPressureRatio(ratio, k),
		pressurePa: ratio * pressure0Pa,
		areaM2: discharge * areaM2
	};
}

/** Mass flow through a throat or hole, kg/s; p0 A/c* where choked, less where not, nothing against the pressure. */
export function massFlowKgS(hole: Hole & { characteristicVelocityMS: number }): {
	massFlowKgS: number;
	choked: boolean;
} {
	requirePositive({ characteristicVelocityMS: hole.characteristicVelocityMS });
	const { choked, mach, areaM2 } = orifice(hole);
	const share = mach === 0 ? 0 : 1 / areaRatio(mach, hole.k);
	return { massFlowKgS: (share * hole.pressure0Pa * areaM2) / hole.characteristicVelocityMS, choked };
}

/** (k+1)(2/(k+1))^(k/(k-1)) (-): force on a choked hole into vacuum over p0 A. */
export const sonicForceCoefficient = (k: number): number => (k + 1) * criticalPressureRatio(k);

/**
 * Force of gas that leaves a hole without a cone, N: momentum plus pressure in the narrowest section,
 * A [p (1 + k M²) - pa]. A growing, oblique or conical hole gives another force.
 */
export function jetForceN(hole: Hole): number {
	const { mach, pressurePa, areaM2 } = orifice(hole);
	return Math.max(0, areaM2 * (pressurePa * (1 + hole.k * mach * mach) - hole.backPressurePa));
}
