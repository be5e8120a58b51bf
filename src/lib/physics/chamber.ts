import { requireNotNegative, requirePositive } from './checks';
import { grainAt, requireGrain, webM, type Grain } from './grain';

/**
 * Burning rate by the law of Vieille and Saint-Robert, r = r_ref (p/p_ref)^n. Stated as a rate at a pressure, so that no
 * coefficient of mixed units exists: 'a' in mm/(s·MPaⁿ) is the rate in mm/s at 1 MPa, 'a' in in/(s·psiⁿ) that in in/s at
 * 1 psi.
 */
export interface BurnRate {
	rateMS: number;
	atPa: number;
	exponent: number;
}

/** @throws RangeError for an exponent of 1 or more: there is no steady pressure */
export function burnRateMS({ rateMS, atPa, exponent }: BurnRate, pressurePa: number): number {
	return rateMS * (pressurePa / atPa) ** exponent;
}

/**
 * Steady chamber pressure, Pa, where the gas made equals the gas that leaves: p = p_ref (Ab ρ r_ref c* / (At p_ref))^(1/(1-n)),
 * the unit-free form of (Kn a ρ c*)^(1/(1-n)). Source: Sutton and Biblarz, solid-propellant fundamentals (from memory).
 * The gas that fills the chamber is left out.
 * @throws RangeError for an exponent of 1 or more, or where the pressure passes all bounds
 */
export function steadyPressurePa(
	rate: BurnRate,
	burningM2: number,
	throatM2: number,
	propellantKgM3: number,
	characteristicVelocityMS: number
): number {
	if (!(rate.exponent < 1))
		throw new RangeError('with a pressure exponent of 1 or more there is no steady pressure');
	const made = burningM2 * propellantKgM3 * rate.rateMS * characteristicVelocityMS;
	const pressure = rate.atPa * (made / (throatM2 * rate.atPa)) ** (1 / (1 - rate.exponent));
	if (Number.isFinite(pressure)) return pressure;
	throw new RangeError(
		'the pressure passes all bounds: the exponent is too close to 1, or burning area, rate or throat do not fit together'
	);
}

export interface Motor {
	/** Equal grains are given once, with their number. */
	grains: readonly (Grain & { count: number })[];
	rate: BurnRate;
	propellantKgM3: number;
	/** As delivered. */
	characteristicVelocityMS: number;
	/** Throat diameter, m, at a time and at the share of the web that is burnt. */
	throatM: (timeS: number, webShare: number) => number;
	/** Area beside the grains' own faces, such as a crack's, that burns from a time on. */
	addedM2?: number;
	addedFromS?: number;
	/** Outside; the burn ends where the throat is no longer surely choked, at twice this. */
	ambientPa: number;
}

/** Pressure over time; two points at one time are a step. */
export interface Burn {
	timeS: number[];
	pressurePa: number[];
	peakPa: number;
	peakTimeS: number;
	/** Over which the pressure is above a tenth of its peak. */
	burnTimeS: number;
	/** Mean over the burn time. */
	meanPa: number;
	/** Burning area over throat area, at the start and greatest. */
	firstKn: number;
	greatestKn: number;
	throatAfterM: number;
	burntKg: number;
}

const STEPS = 60;
/** Just inside a step of the area, relative. */
const INSIDE = 1e-9;

/**
 * Burns a motor, always in equilibrium, by steps of the distance burnt that end where a grain does and where the added
 * area begins.
 * @throws RangeError where the throat is not choked at the start, or for impossible numbers
 */
export function burnMotor(motor: Motor): Burn {
	const { grains, rate, propellantKgM3, characteristicVelocityMS, ambientPa } = motor;
	const { addedM2 = 0, addedFromS = 0 } = motor;
	requirePositive({ propellantKgM3, characteristicVelocityMS, rate: rate.rateMS, at: rate.atPa, ambientPa });
	requireNotNegative({ addedM2, addedFromS });
	grains.forEach(requireGrain);
	const ends = [...new Set(grains.map(webM))].sort((a, b) => a - b);
	const web = ends.at(-1) ?? 0;
	const total = grains.reduce((sum, g) => sum + g.count * grainAt(g, 0).volumeM3, 0);
	const area = (y: number) => grains.reduce((sum, g) => sum + g.count * grainAt(g, y).burningM2, 0);
	const timeS: number[] = [];
	const pressurePa: number[] = [];
	const note = (time: number, p: number) => {
		timeS.push(time);
		pressurePa.push(p);
	};
	let greatestKn = 0;
	function pressureAt(burning: number, at: number, time: number): number {
		const diameter = motor.throatM(time, Math.min(1, at / web));
		if (!(diameter > 0)) throw new RangeError('the throat has closed');
		const throat = (Math.PI / 4) * diameter * diameter;
		greatestKn = Math.max(greatestKn, burning / throat);
		return steadyPressurePa(rate, burning, throat, propellantKgM3, characteristicVelocityMS);
	}
	let [t, y, gone] = [0, 0, 0];
	let added = addedFromS <= 0 ? addedM2 : 0;
	let burning = area(0) + added;
	let p = pressureAt(burning, 0, 0);
	const firstKn = greatestKn;
	if (!(p > 2 * ambientPa))
		throw new RangeError(
			'the throat would hardly be choked: burning area, rate or throat do not fit together'
		);
	note(0, p);
	/** Burns on as far as `next`; false where the propellant or the pressure ends before. */
	function burnTo(next: number): boolean {
		const slow = 1 / burnRateMS(rate, p);
		const nextBurning = area(next) + added;
		const nextP = pressureAt(nextBurning, next, t + (next - y) * slow);
		// No chamber has less pressure than the air, and where nothing is left to burn no rate would end the step.
		const time = ((next - y) * (slow + 1 / burnRateMS(rate, Math.max(nextP, ambientPa)))) / 2;
		if (added < addedM2 && t + time >= addedFromS) {
			// The added area begins within this step: burn as far as that, then with it.
			const part = y + Math.max(0, (addedFromS - t) / time) * (next - y);
			added = addedM2;
			const before = area(part) + added;
			gone += ((burning + before - added) / 2) * (part - y);
			t = Math.max(t, addedFromS);
			note(t, pressureAt(before - added, part, t));
			[y, burning, p] = [part, before, pressureAt(before, part, t)];
			note(t, p);
			return burnTo(next);
		}
		const volume = ((burning + nextBurning) / 2) * (next - y);
		// A crack eats what the faces would have had: the burn ends when all is gone.
		const share = Math.min(1, volume > 0 ? (total - gone) / volume : 1);
		gone += share * volume;
		t += share * time;
		y += share * (next - y);
		[burning, p] = [nextBurning, nextP];
		note(t, p);
		return share === 1 && p > 2 * ambientPa;
	}
	for (let k = 0, from = 0; k < ends.length; from = ends[k++]!) {
		const to = ends[k]!;
		const pieces = Math.max(4, Math.ceil((STEPS * (to - from)) / web));
		if (k > 0) {
			y = from * (1 + INSIDE);
			burning = area(y) + added;
			p = pressureAt(burning, y, t);
			note(t, p);
		}
		let i = 1;
		while (i <= pieces && burnTo(i === pieces ? to * (1 - INSIDE) : from + ((to - from) * i) / pieces)) i++;
		if (i <= pieces) break;
	}
	return {
		...summary(timeS, pressurePa),
		firstKn,
		greatestKn,
		throatAfterM: motor.throatM(t, Math.min(1, y / web)),
		burntKg: gone * propellantKgM3
	};
}

function summary(timeS: number[], pressurePa: number[]) {
	let peak = 0;
	for (let i = 1; i < pressurePa.length; i++) if (pressurePa[i]! > pressurePa[peak]!) peak = i;
	const floor = pressurePa[peak]! / 10;
	let [burnTimeS, impulse] = [0, 0];
	for (let i = 1; i < timeS.length; i++) {
		const [p0, p1] = [pressurePa[i - 1]!, pressurePa[i]!];
		if (Math.max(p0, p1) <= floor) continue;
		burnTimeS += timeS[i]! - timeS[i - 1]!;
		impulse += ((p0 + p1) / 2) * (timeS[i]! - timeS[i - 1]!);
	}
	return {
		timeS,
		pressurePa,
		peakPa: pressurePa[peak]!,
		peakTimeS: timeS[peak]!,
		burnTimeS,
		meanPa: burnTimeS > 0 ? impulse / burnTimeS : pressurePa[peak]!
	};
}
