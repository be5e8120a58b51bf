import { bearingN, plateDeflectionM, plateStrengthN, punchThroughN } from '$lib/physics/structure';
import { stressAreaM2, strippingAreasM2, THREADS } from '$lib/physics/thread';
import { formatSi } from '$lib/quantity/format';
import type { Inputs, Link } from './inputs';

/** What a link is called in answers. */
export const nameOf = (x: Inputs, i: number) => x.links[i]?.name ?? `link ${i + 1}`;

/** Up to here a strength typed for room temperature is taken: common practice, no source. */
const BOND_HOLDS_K = 273.15 + 60;
const PRINT_HOLDS_K = 273.15 + 50;

const isPrinted = ({ kind, female, material }: Link) =>
	kind === 'printed' ||
	(kind === 'thread' && female === 'printed') ||
	((kind === 'washer' || kind === 'plate') && material === 'printed');

/** Whether a link is so warm that the strength typed for it does not hold, and none was measured there. */
export const isUnknown = ({ temperature = 0 }: Inputs, l: Link) =>
	l.holdsAt !== 'here' &&
	((l.kind === 'bond' && temperature > BOND_HOLDS_K) || (isPrinted(l) && temperature > PRINT_HOLDS_K));

export const unknownWords = ({ temperature }: Inputs) =>
	`its strength at ${formatSi(temperature!, 'temperature', { unit: '°C', figures: 3 })} is not known: type the strength measured there, and say that it holds at this temperature.`;

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

/** Strengths of the whole path, infinite where not known; each plate's edge is drawn evenly between its two ideals. */
export const strengthsOf = (x: Inputs, random: () => number): number[] =>
	x.links.map((l) => {
		const strength = strengthOf(l, l.kind === 'plate' ? random() : 0);
		return isUnknown(x, l) ? Infinity : strength;
	});

/** The link that would give way first under a load, or -1 where all hold: the same load runs through all. */
export function firstToFail(strengths: readonly number[], load: number): number {
	let weakest = 0;
	for (let i = 1; i < strengths.length; i++) if (strengths[i]! < strengths[weakest]!) weakest = i;
	return strengths[weakest]! < load ? weakest : -1;
}
