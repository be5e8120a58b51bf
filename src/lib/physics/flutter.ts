import { HEAT_RATIO_AIR } from './atmosphere';
import { requireNotNegative, requirePositive } from './checks';

/** One exposed fin panel, its plan a trapezoid. */
export interface FinPanel {
	rootChordM: number;
	tipChordM: number;
	/** From the body out to the tip. */
	spanM: number;
	/** At the root. */
	thicknessM: number;
	shearModulusPa: number;
}

/**
 * 24 ε κ/π with ε = 0.25 (centre of gravity at half chord) and κ = 1.4: 2.674. With 1.337, which is widely copied, the
 * speed comes out √2 too high. The report prints 39.3 psi: the same times the sea-level pressure of 14.7 psi.
 * Source: D. J. Martin, NACA TN 4197 (1958), eq. 18, constants quoted in a public text; re-derived here.
 */
export const FLUTTER_CONSTANT = (24 * 0.25 * HEAT_RATIO_AIR) / Math.PI;

/** Span squared over the area of the one exposed panel. */
export const aspectRatio = ({ rootChordM, tipChordM, spanM }: FinPanel) =>
	(2 * spanM) / (rootChordM + tipChordM);

/**
 * Speed at which a flat, uniform, unswept fin begins to flutter, m/s:
 * Vf/a = √(G / (K A³/((t/c)³ (A+2)) · (λ+1)/2 · p)). A screening formula.
 * @throws {RangeError} naming a length, modulus, pressure or speed of sound that is not positive
 * Source: NACA TN 4197, eq. 18.
 */
export function flutterSpeedMS(fin: FinPanel, pressurePa: number, soundSpeedMS: number): number {
	const { rootChordM, tipChordM, spanM, thicknessM, shearModulusPa } = fin;
	requirePositive({ rootChordM, spanM, thicknessM, shearModulusPa, pressurePa, soundSpeedMS });
	requireNotNegative({ tipChordM });
	const a = aspectRatio(fin);
	const taper = tipChordM / rootChordM;
	const flexible =
		((FLUTTER_CONSTANT * a ** 3) / ((thicknessM / rootChordM) ** 3 * (a + 2))) *
		((taper + 1) / 2) *
		pressurePa;
	return soundSpeedMS * Math.sqrt(shearModulusPa / flexible);
}
