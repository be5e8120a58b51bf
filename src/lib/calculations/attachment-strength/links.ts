import { bearingN, plateDeflectionM, plateStrengthN, punchThroughN } from '$lib/physics/structure';
import { stressAreaM2, strippingAreasM2, THREADS } from '$lib/physics/thread';
import type { Inputs, Link } from './inputs';

/** What a link is called in answers. */
export const nameOf = (x: Inputs, i: number) => x.links[i]?.name ?? `link ${i + 1}`;

/** A metal thread gives way in shear at this share of its tensile strength; said with every such link. */
const SHEAR_SHARE = 0.6;

const plateOf = (l: Link) => ({
	radiusM: l.radius!,
	thicknessM: l.thickness!,
	loadRadiusM: l.loadRadius!,
	poisson: l.poisson!
});

/** Strength of a plate with each ideal edge, N. */
export const edgesOf = (l: Link) => plateStrengthN(plateOf(l), l.bendingStrength!);

/** Sag under a load with each ideal edge, m, where the modulus is known. */
export const sagOf = (l: Link, loadN: number) =>
	l.modulus === undefined ? undefined : plateDeflectionM(plateOf(l), loadN, l.modulus);

/** @param edge  0 simply supported, 1 clamped: where between the two the plate's edge lies */
export function strengthOf(l: Link, edge: number): number {
	const count = l.count ?? 1;
	switch (l.kind) {
		case 'bolt':
			return count * stressAreaM2(THREADS[l.thread!]!) * l.tensileStrength!;
		case 'thread': {
			const { outside, inside } = strippingAreasM2(THREADS[l.thread!]!, l.engagement!);
			return count * Math.min(outside * SHEAR_SHARE * l.tensileStrength!, inside * l.shearStrength!);
		}
		case 'washer': {
			const punch = punchThroughN(l.washer!, l.thickness!, l.shearStrength!);
			const crush =
				l.bearingStrength === undefined ? Infinity : bearingN(l.washer!, l.hole!, l.bearingStrength);
			return count * Math.min(punch, crush);
		}
		case 'plate': {
			const { simplySupported, clamped } = edgesOf(l);
			return simplySupported + edge * (clamped - simplySupported);
		}
		case 'bond':
			return l.width! * l.overlap! * l.lapStrength!;
		case 'printed':
			return l.area! * l.layerStrength!;
		case 'line':
			return count * l.strength! * l.keeps!;
		default:
			return l.strength!;
	}
}

/** Strengths of the whole path; each plate's edge is drawn evenly between its two ideals. */
export const strengthsOf = (x: Inputs, random: () => number): number[] =>
	x.links.map((l) => strengthOf(l, l.kind === 'plate' ? random() : 0));

/** The link that would give way first under a load, or -1 where all hold: the same load runs through all. */
export function firstToFail(strengths: readonly number[], load: number): number {
	let weakest = 0;
	for (let i = 1; i < strengths.length; i++) if (strengths[i]! < strengths[weakest]!) weakest = i;
	return strengths[weakest]! < load ? weakest : -1;
}
