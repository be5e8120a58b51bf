import { requireNotNegative, requirePositive } from './checks';

/**
 * Geometry of solid propellant that burns at one rate, normal to every free face: a tube with a cylindrical core and,
 * if wanted, equal slots from the core through the whole wall. SI. Source: plane geometry (hand-derived), checked by
 * the volume that the burning takes away.
 */
export interface Grain {
	outerM: number;
	coreM: number;
	lengthM: number;
	/** Faces at its ends that burn: 0, 1 or 2. */
	freeEnds: number;
	outerBurns: boolean;
	/** How many slots, evenly around; 0 for none. */
	slots: number;
	slotWidthM: number;
}

/** @throws RangeError where the grain can't exist */
export function requireGrain(g: Grain): void {
	requirePositive({ outerM: g.outerM, lengthM: g.lengthM });
	requireNotNegative({ coreM: g.coreM, slotWidthM: g.slotWidthM });
	if (!(g.coreM < g.outerM)) throw new RangeError('the core of a grain must be narrower than the grain');
	if (g.slots > 0 && !(g.slotWidthM > 0 && g.slotWidthM <= g.coreM))
		throw new RangeError('a slot must be wider than nothing and not wider than the core');
	if (g.coreM === 0 && g.freeEnds === 0 && !g.outerBurns)
		throw new RangeError('a grain without a core needs a free face');
}

/** Half the angle between neighbouring slots. */
const halfSector = (g: Grain) => (g.slots === 0 ? Math.PI : Math.PI / g.slots);
const outerRadius = (g: Grain, burntM: number) => g.outerM / 2 - (g.outerBurns ? burntM : 0);

/** Distance burnt (m) at which nothing is left. */
export function webM(g: Grain): number {
	const inward = g.outerBurns ? 1 : 0;
	const radial = g.coreM === 0 && !g.outerBurns ? Infinity : (g.outerM - g.coreM) / 2 / (1 + inward);
	const sine = g.slots > 1 ? Math.sin(halfSector(g)) : Infinity;
	const between =
		sine === Infinity ? Infinity : ((g.outerM / 2) * sine - g.slotWidthM / 2) / (1 + inward * sine);
	const axial = g.freeEnds === 0 ? Infinity : g.lengthM / g.freeEnds;
	return Math.max(0, Math.min(radial, between, axial));
}

/** Area under the circle of radius r from 0 to h across. */
const segment = (r: number, h: number) =>
	(h * Math.sqrt(Math.max(0, r * r - h * h)) + r * r * Math.asin(Math.min(1, h / r))) / 2;

/** Burning perimeter (m) and propellant (m²) left in the cross-section. */
function section(g: Grain, burntM: number): { perimeterM: number; areaM2: number } {
	const outer = outerRadius(g, burntM);
	// A solid rod without a core burns from its outside and ends only.
	const inner = g.coreM === 0 ? 0 : g.coreM / 2 + burntM;
	if (inner >= outer) return { perimeterM: 0, areaM2: 0 };
	const outside = g.outerBurns ? outer : 0;
	if (g.slots === 0)
		return {
			perimeterM: 2 * Math.PI * (inner + outside),
			areaM2: Math.PI * (outer * outer - inner * inner)
		};
	const half = halfSector(g);
	const h = g.slotWidthM / 2 + burntM;
	const sine = g.slots === 1 ? Infinity : Math.sin(half);
	if (h >= outer * sine) return { perimeterM: 0, areaM2: 0 };
	// Once the half-width exceeds this, the sides of neighbouring slots meet outside the core.
	const meet = sine * inner;
	const cot = g.slots === 1 ? 0 : 1 / Math.tan(half);
	const start = h <= meet ? Math.sqrt(Math.max(0, inner * inner - h * h)) : h * cot;
	const side = Math.sqrt(outer * outer - h * h) - start;
	const arc = h <= meet ? inner * (half - Math.asin(h / inner)) : 0;
	const rim = outside * (half - Math.asin(h / outer));
	const edge = Math.min(h, meet);
	const slot = segment(outer, h) - segment(inner, edge) - (cot * (h * h - edge * edge)) / 2;
	return {
		perimeterM: 2 * g.slots * (side + arc + rim),
		areaM2: 2 * g.slots * ((half * (outer * outer - inner * inner)) / 2 - slot)
	};
}

/** Burning area (m²) and propellant left (m³) once every face has burnt a distance. */
export function grainAt(g: Grain, burntM: number): { burningM2: number; volumeM3: number } {
	const length = g.lengthM - g.freeEnds * burntM;
	const { perimeterM, areaM2 } = section(g, burntM);
	if (length <= 0 || areaM2 <= 0) return { burningM2: 0, volumeM3: 0 };
	return { burningM2: perimeterM * length + g.freeEnds * areaM2, volumeM3: areaM2 * length };
}

/** Area open to the gas through the grain before it burns, m². */
export const portAreaM2 = (g: Grain): number => (Math.PI * g.outerM ** 2) / 4 - section(g, 0).areaM2;
