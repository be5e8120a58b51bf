import { requireFinite, requireNotNegative, requirePositive } from './checks';

/** Thrust by time as straight lines between corners, the impulse up to each corner beside it. */
export interface Thrust {
	/** Corners, s from ignition, rising from 0. */
	readonly timeS: Float64Array;
	readonly forceN: Float64Array;
	/** Impulse delivered before each corner, N s. */
	readonly impulseNS: Float64Array;
	/** Slope from each corner to the next, N/s. */
	readonly slopeNS: Float64Array;
	readonly burnTimeS: number;
	readonly totalImpulseNS: number;
}

/**
 * @param timesS  rising; where the first is after 0 the thrust starts at 0 N at ignition
 * @throws {RangeError} where times do not rise, a force is negative, or nothing pushes at all
 */
export function makeThrust(timesS: ArrayLike<number>, forcesN: ArrayLike<number>): Thrust {
	const start = timesS[0]! > 0 ? [0] : [];
	const timeS = Float64Array.from([...start, ...Array.from(timesS)]);
	const forceN = Float64Array.from([...start, ...Array.from(forcesN)]);
	if (timeS.length < 2 || timeS.length !== forceN.length || timeS[0] !== 0)
		throw new RangeError('a thrust curve needs two points or more, the first not before ignition');
	const impulseNS = new Float64Array(timeS.length);
	const slopeNS = new Float64Array(timeS.length);
	for (let i = 0; i < timeS.length; i++) {
		requireFinite({ timeS: timeS[i]!, forceN: forceN[i]! });
		if (forceN[i]! < 0) throw new RangeError(`thrust must not be negative, got ${forceN[i]} N`);
		if (i === 0) continue;
		const step = timeS[i]! - timeS[i - 1]!;
		if (!(step > 0)) throw new RangeError(`thrust times must rise, got ${timeS[i - 1]} then ${timeS[i]} s`);
		slopeNS[i - 1] = (forceN[i]! - forceN[i - 1]!) / step;
		impulseNS[i] = impulseNS[i - 1]! + (step * (forceN[i]! + forceN[i - 1]!)) / 2;
	}
	const totalImpulseNS = impulseNS.at(-1)!;
	requirePositive({ totalImpulseNS });
	return { timeS, forceN, impulseNS, slopeNS, burnTimeS: timeS.at(-1)!, totalImpulseNS };
}

/** Thrust over its mean by share of the burn time: plain forms for a motor of which only the totals are known. */
export const THRUST_SHAPES = {
	even: [
		[0, 0],
		[0.03, 1],
		[0.9, 1],
		[1, 0]
	],
	falling: [
		[0, 0],
		[0.03, 1.5],
		[0.9, 0.6],
		[1, 0]
	],
	rising: [
		[0, 0],
		[0.03, 0.6],
		[0.9, 1.5],
		[1, 0]
	]
} as const;
export type ThrustShape = keyof typeof THRUST_SHAPES;

/** A curve of that form with this total impulse and burn time. */
export function thrustOfTotals(shape: ThrustShape, totalImpulseNS: number, burnTimeS: number): Thrust {
	requirePositive({ totalImpulseNS, burnTimeS });
	const form = THRUST_SHAPES[shape];
	const { totalImpulseNS: area } = makeThrust(
		form.map(([t]) => t),
		form.map(([, f]) => f)
	);
	const mean = totalImpulseNS / (area * burnTimeS);
	return makeThrust(
		form.map(([t]) => t * burnTimeS),
		form.map(([, f]) => f * mean)
	);
}

/** A motor that burns by a curve, with the mass of what carries it; moved along in time from corner to corner. */
export interface BurnInput {
	thrust: Thrust;
	/** Delivered impulse over the curve's; 1 by default. */
	impulseFactor?: number;
	/** Burn time over the curve's, at the same impulse; 1 by default. */
	timeFactor?: number;
	/** Without propellant. */
	dryMassKg: number;
	/** Burnt in step with the impulse. */
	propellantKg: number;
	/** The motor stops pushing then, s after ignition; what is left of the propellant stays aboard. */
	thrustLostS?: number;
}

export class Burn {
	/** When it stops pushing, s after ignition. */
	readonly endS: number;
	/** Force, N, and mass, kg, at the time last asked for. */
	readonly now = new Float64Array(2);
	#segment = 0;
	readonly #curve: Thrust;
	readonly #forceFactor: number;
	readonly #timeFactor: number;
	readonly #fullKg: number;
	/** Propellant burnt by each N s of the curve, kg. */
	readonly #perImpulse: number;
	readonly #leftKg: number;

	/** @throws {RangeError} naming a mass or factor that is out of range */
	constructor(input: BurnInput) {
		const { thrust, impulseFactor = 1, timeFactor = 1, dryMassKg, propellantKg } = input;
		requirePositive({ dryMassKg, impulseFactor, timeFactor });
		requireNotNegative({ propellantKg });
		this.#curve = thrust;
		this.#timeFactor = timeFactor;
		this.#forceFactor = impulseFactor / timeFactor;
		this.#fullKg = dryMassKg + propellantKg;
		this.#perImpulse = propellantKg / thrust.totalImpulseNS;
		const whole = thrust.burnTimeS * timeFactor;
		this.endS = Math.min(whole, input.thrustLostS ?? whole);
		let i = 0;
		while (i < thrust.timeS.length - 2 && this.endS > thrust.timeS[i + 1]! * timeFactor) i++;
		this.#leftKg = this.#massIn(i, this.endS);
	}
	#forceIn(i: number, t: number): number {
		const { forceN, slopeNS, timeS } = this.#curve;
		return this.#forceFactor * (forceN[i]! + slopeNS[i]! * (t / this.#timeFactor - timeS[i]!));
	}
	#massIn(i: number, t: number): number {
		const { forceN, slopeNS, timeS, impulseNS } = this.#curve;
		const step = t / this.#timeFactor - timeS[i]!;
		const impulse = impulseNS[i]! + step * (forceN[i]! + (slopeNS[i]! * step) / 2);
		return this.#fullKg - this.#perImpulse * impulse;
	}
	/** Sets `now` for a time within the current stretch between corners. */
	at(t: number): void {
		const i = this.#segment;
		if (i < 0) {
			this.now[0] = 0;
			this.now[1] = this.#leftKg;
		} else {
			this.now[0] = this.#forceIn(i, t);
			this.now[1] = this.#massIn(i, t);
		}
	}
	/** The next corner, s after ignition; infinite after the burn. */
	get next(): number {
		return this.#segment < 0
			? Infinity
			: Math.min(this.#curve.timeS[this.#segment + 1]! * this.#timeFactor, this.endS);
	}
	/** Goes over that corner. */
	pass(): void {
		if (this.next >= this.endS) this.#segment = -1;
		else this.#segment++;
	}
	/** Goes to where the thrust first exceeds the weight (along the rod), s after ignition; undefined where it never does. */
	liftOffS(gravityMS2: number): number | undefined {
		for (; this.#segment >= 0; this.pass()) {
			const i = this.#segment;
			const [from, to] = [this.#curve.timeS[i]! * this.#timeFactor, this.next];
			const spare = (t: number) => this.#forceIn(i, t) - gravityMS2 * this.#massIn(i, t);
			if (spare(from) > 0) return from;
			if (spare(to) <= 0) continue;
			let [low, high] = [from, to];
			while (high - low > 1e-9 * (1 + to)) {
				const middle = (low + high) / 2;
				if (spare(middle) > 0) high = middle;
				else low = middle;
			}
			return high;
		}
		return undefined;
	}
}
