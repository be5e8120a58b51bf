import { snatch } from '$lib/physics/opening';
import type { Inputs } from './inputs';

/** Stiffness of the line as it is pulled: measured, or strength over stretch at break; N/m. */
export const stiffnessOf = (x: Inputs) =>
	x.dynamic * (x.stiffness ?? x.lineStrength / (x.stretchAtBreak * x.length));

/** What gives way first: the line at its knots or stitches, or the weakest other link, N. */
export const bearsOf = (x: Inputs) => Math.min(x.lineStrength * x.keeps, x.strength ?? Infinity);

export const reducedMassOf = ({ massA, massB }: Inputs) => (massA * massB) / (massA + massB);

/** Speed of the one end against the other as the line comes taut, m/s. */
export const speedOf = (x: Inputs) => x.speed ?? Math.sqrt((2 * x.energy!) / reducedMassOf(x));

/** Peak force, stretch and time, at its own speed or at another. */
export const pullOf = (x: Inputs, speedMS = speedOf(x)) =>
	snatch({ massAKg: x.massA, massBKg: x.massB, speedMS, stiffnessNM: stiffnessOf(x) });

/** Force at the end that is jerked, before the other feels it: v √(k m) of the line's own mass, N. */
export const waveOf = (x: Inputs) =>
	x.lineMass === undefined ? undefined : speedOf(x) * Math.sqrt(stiffnessOf(x) * x.lineMass);
