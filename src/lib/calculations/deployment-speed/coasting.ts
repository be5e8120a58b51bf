import { coastFor, coastToApogee, type CoastState } from '$lib/physics/coast';
import { airOf } from '../through-wind';
import type { Inputs } from './inputs';

const ballisticOf = (x: Inputs) => x.mass / ((x.dragCoefficient * Math.PI * x.diameter ** 2) / 4);

/** Share of the apogee height at which a burn most often ends; its air serves the coast from there. */
const BURNOUT_SHARE = 0.15;

/** One sample is asked about at many moments. */
const known = new WeakMap<Inputs, number>();

function sideways(x: Inputs): number {
	if (x.sidewaysAs !== 'angle') return x.sidewaysSpeed!;
	const found = known.get(x);
	if (found !== undefined) return found;
	const [speed, angle] = [x.burnoutSpeed!, x.burnoutAngle!];
	const { vSideMS } = coastToApogee(ballisticOf(x), airOf(x), {
		upM: BURNOUT_SHARE * x.apogeeHeight,
		vUpMS: speed * Math.cos(angle),
		vSideMS: speed * Math.sin(angle)
	});
	known.set(x, vSideMS);
	return vSideMS;
}

export interface Deployed extends CoastState {
	speed: number;
	/** Dynamic pressure, Pa. */
	pressure: number;
	heightLost: number;
}

/** The vehicle so long after apogee. @throws {RangeError} in words that can be shown */
export function deployed(x: Inputs, offset: number): Deployed {
	const apogee = { upM: x.apogeeHeight, vUpMS: 0, vSideMS: sideways(x) };
	const s = coastFor(ballisticOf(x), airOf(x), apogee, offset);
	const speed = Math.hypot(s.vUpMS, s.vSideMS);
	return {
		...s,
		speed,
		pressure: (airOf(x).densityKgM3(s.upM) * speed * speed) / 2,
		heightLost: x.apogeeHeight - s.upM
	};
}
