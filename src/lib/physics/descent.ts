import type { Air } from './air';
import { STANDARD_GRAVITY_M_S2 as G } from './atmosphere';
import { requireFinite, requireNotNegative, requirePositive } from './checks';

/**
 * Steady descent speed, where drag equals weight, m/s.
 * Source: NASA Glenn, "Terminal Velocity", V = √(2W/(Cd ρ A)) (seen), with B = m/(Cd A).
 */
export function terminalSpeedMS(ballisticKgM2: number, densityKgM3: number): number {
	requirePositive({ ballisticKgM2, densityKgM3 });
	return Math.sqrt((2 * ballisticKgM2 * G) / densityKgM3);
}

/** The ballistic coefficient that a steady descent speed in this air shows, kg/m². */
export function ballisticFromSpeedKgM2(speedMS: number, densityKgM3: number): number {
	requirePositive({ speedMS, densityKgM3 });
	return (densityKgM3 * speedMS ** 2) / (2 * G);
}

// Closed forms for a straight fall from rest with quadratic drag in air of constant density (standard mechanics).

/** Speed after a time, m/s: vt tanh(g t/vt). */
export function speedAfterTimeMS(terminalMS: number, timeS: number): number {
	requirePositive({ terminalMS });
	requireNotNegative({ timeS });
	return terminalMS * Math.tanh((G * timeS) / terminalMS);
}

/** Distance fallen in a time, m: (vt²/g) ln cosh(g t/vt). */
export function distanceAfterTimeM(terminalMS: number, timeS: number): number {
	requirePositive({ terminalMS });
	requireNotNegative({ timeS });
	const x = (G * timeS) / terminalMS;
	// ln cosh x = x - ln 2 + ln(1 + e^-2x): cosh itself would overflow in a long fall.
	return (terminalMS ** 2 / G) * (x - Math.LN2 + Math.log1p(Math.exp(-2 * x)));
}

/** Speed after a distance, m/s, from a downward speed at its start: v² = vt² + (v0² - vt²) e^(-2 g h/vt²). */
export function speedAfterDistanceMS(terminalMS: number, distanceM: number, startMS = 0): number {
	requirePositive({ terminalMS });
	requireNotNegative({ distanceM, startMS });
	const share = -Math.expm1((-2 * G * distanceM) / terminalMS ** 2);
	return Math.sqrt(terminalMS ** 2 * share + startMS ** 2 * (1 - share));
}

/** Time to fall a distance from rest, s: (vt/g) acosh(e^(g h/vt²)), written so that it can't overflow. */
export function timeForDistanceS(terminalMS: number, distanceM: number): number {
	requirePositive({ terminalMS });
	requireNotNegative({ distanceM });
	const x = (G * distanceM) / terminalMS ** 2;
	// acosh(e^x) = x + ln(1 + √(1 - e^-2x))
	return (terminalMS / G) * (x + Math.log1p(Math.sqrt(-Math.expm1(-2 * x))));
}

/**
 * Time of a descent at terminal speed all the way, s: the integral of dz/vt(z) through the day's air. A fall from
 * rest takes about (vt/g) ln 2 longer; the terminal speed at landing overstates it by 8 % from 3 km.
 */
export function steadyDescentTimeS(air: Air, ballisticKgM2: number, fromM: number, toM = 0): number {
	requirePositive({ ballisticKgM2 });
	requireFinite({ fromM, toM });
	if (fromM < toM) throw new RangeError(`fromM must not be under toM, got ${fromM} and ${toM}`);
	const panels = Math.max(1, Math.ceil((fromM - toM) / 250));
	const width = (fromM - toM) / panels;
	let sum = 0;
	for (let i = 0; i < panels; i++)
		for (const x of [0.5 - Math.sqrt(3) / 6, 0.5 + Math.sqrt(3) / 6])
			sum += width / 2 / terminalSpeedMS(ballisticKgM2, air.densityKgM3(toM + (i + x) * width));
	return sum;
}
