import { requirePositive } from './checks';

const INCH = 0.0254;
const TENTH = 1e-4 * INCH;
const MM = 1e-3;

/** A screw thread; lengths in m. */
export interface Thread {
	label: string;
	form: 'metric' | 'unified';
	majorM: number;
	pitchM: number;
	/**
	 * Limits that decide stripping: greatest minor diameter inside, least pitch diameter outside, least major diameter
	 * outside, greatest pitch diameter inside.
	 */
	limits: { minorInsideM: number; pitchOutsideM: number; majorOutsideM: number; pitchInsideM: number };
}

/** ISO 965 limits of 6g/6H in mm (from memory): d, P, D1max, d2min, dmin, D2max. */
const METRIC: Record<string, readonly [number, number, number, number, number, number]> = {
	M2: [2, 0.4, 1.679, 1.654, 1.886, 1.83],
	'M2.5': [2.5, 0.45, 2.138, 2.117, 2.38, 2.303],
	M3: [3, 0.5, 2.599, 2.58, 2.874, 2.775],
	M4: [4, 0.7, 3.422, 3.433, 3.838, 3.663],
	M5: [5, 0.8, 4.334, 4.361, 4.826, 4.605],
	M6: [6, 1, 5.153, 5.212, 5.794, 5.5],
	M8: [8, 1.25, 6.912, 7.042, 7.76, 7.348],
	M10: [10, 1.5, 8.676, 8.862, 9.732, 9.206],
	M12: [12, 1.75, 10.441, 10.679, 11.701, 11.063]
};

/** Major diameter in inches and threads per inch (ASME B1.1). */
const UNIFIED: Record<string, readonly [number, number]> = {
	'#0-80': [0.06, 80],
	'#2-56': [0.086, 56],
	'#4-40': [0.112, 40],
	'#6-32': [0.138, 32],
	'#8-32': [0.164, 32],
	'#10-24': [0.19, 24],
	'1/4-20': [0.25, 20],
	'5/16-18': [0.3125, 18],
	'3/8-16': [0.375, 16]
};

function metric(label: string): Thread {
	const [d, pitch, minorInside, pitchOutside, majorOutside, pitchInside] = METRIC[label]!;
	return {
		label,
		form: 'metric',
		majorM: d * MM,
		pitchM: pitch * MM,
		limits: {
			minorInsideM: minorInside * MM,
			pitchOutsideM: pitchOutside * MM,
			majorOutsideM: majorOutside * MM,
			pitchInsideM: pitchInside * MM
		}
	};
}

/**
 * Limits of classes 2A/2B by the tolerance formulas of ASME B1.1, rounded as its tables are (from memory;
 * they give every row of the table, see the tests).
 */
function unified(label: string): Thread {
	const [d, n] = UNIFIED[label]!;
	const p = 1 / n;
	// In ten-thousandths, each term rounded before they are added; the tolerance to six places before that.
	const tenths = (inches: number) => Math.round(inches * 1e4);
	const tolerance =
		Math.round(1e6 * (0.0015 * Math.cbrt(d) + 0.0015 * Math.sqrt(d) + 0.015 * p ** (2 / 3))) / 1e6;
	const allowance = tenths(0.3 * tolerance);
	const pitch = tenths(d - 0.649519 * p);
	const large = 0.25 * p - 0.4 * p * p;
	const inside =
		d >= 0.25 ? large : Math.max(large, Math.min(0.394 * p, 0.05 * p ** (2 / 3) + (0.03 * p) / d - 0.002));
	const minor = tenths(d - 1.082532 * p) + tenths(inside);
	return {
		label,
		form: 'unified',
		majorM: d * INCH,
		pitchM: p * INCH,
		limits: {
			minorInsideM: (d >= 0.138 ? 10 * Math.round(minor / 10) : minor) * TENTH,
			pitchOutsideM: (pitch - allowance - tenths(tolerance)) * TENTH,
			majorOutsideM: (tenths(d) - allowance - tenths(0.06 * p ** (2 / 3))) * TENTH,
			pitchInsideM: (pitch + tenths(1.3 * tolerance)) * TENTH
		}
	};
}

/** Coarse threads by their usual names. */
export const THREADS: Readonly<Record<string, Thread>> = Object.fromEntries(
	[...Object.keys(METRIC).map(metric), ...Object.keys(UNIFIED).map(unified)].map((t) => [t.label, t])
);

/**
 * Area at the root, m²: what holds where the threads cross a plane of shear.
 * Source: ISO 724, d3 = d - 1.22687 P; unified: D - 1.299038/n (Shigley, table 8-2, from memory).
 */
export function rootAreaM2({ form, majorM, pitchM }: Thread): number {
	return (Math.PI / 4) * (majorM - (form === 'metric' ? 1.22687 : 1.299038) * pitchM) ** 2;
}

/**
 * Tensile stress area, m².
 * Source: ISO 898-1, π/4 (d - 0.9382 P)²; ASME B1.1, π/4 (D - 0.9743/n)² (quoted in public texts).
 */
export function stressAreaM2({ form, majorM, pitchM }: Thread): number {
	return (Math.PI / 4) * (majorM - (form === 'metric' ? 0.9382 : 0.9743) * pitchM) ** 2;
}

/**
 * Areas that shear when a thread strips over an engaged length, m²: of the screw and of what it is screwed into.
 * Source: FED-STD-H28/2B, table II.B.1, formulas 2a and 4a (quoted in public code).
 * @throws {RangeError} for a length that is not positive
 */
export function strippingAreasM2(
	{ pitchM, limits: l }: Thread,
	engagementM: number
): { outside: number; inside: number } {
	requirePositive({ engagementM });
	const turns = (Math.PI * engagementM) / pitchM;
	const tan30 = 1 / Math.sqrt(3);
	return {
		outside: turns * l.minorInsideM * (pitchM / 2 + tan30 * (l.pitchOutsideM - l.minorInsideM)),
		inside: turns * l.majorOutsideM * (pitchM / 2 + tan30 * (l.majorOutsideM - l.pitchInsideM))
	};
}
