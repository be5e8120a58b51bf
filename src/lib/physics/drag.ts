import { interpolate } from './interpolate';
import { requirePositive, requireRange } from './checks';

/** Ballistic coefficient m/(Cd A), kg/m². Launch rules of the US state it as a weight, lb/ft²: 1 is 4.882 kg/m². */
export function ballisticKgM2(massKg: number, dragCoefficient: number, areaM2: number): number {
	requirePositive({ massKg, dragCoefficient, areaM2 });
	return massKg / (dragCoefficient * areaM2);
}

/**
 * Drag coefficient of a smooth sphere on its frontal area, Reynolds number 0.01 to 1e6 (and 0.19 - 8e4/Re above).
 * Between 2e5 and 5e5 it drops (the drag crisis) and published curves disagree by a factor of 2 to 5.
 * Source: R. Clift, J. R. Grace, M. E. Weber, Bubbles, Drops and Particles (1978), table 5.2, as in CalebBell/fluids
 * (seen), but for the piece from 4e5 to 1e6: 0.1 log10 Re - 0.49 (from memory) joins its neighbours, the 0.19 printed
 * there jumps sevenfold.
 */
export function sphereDrag(reynolds: number): number {
	requirePositive({ reynolds });
	const w = Math.log10(reynolds);
	if (reynolds < 0.01) return 24 / reynolds + 3 / 16;
	if (reynolds < 20) return (24 / reynolds) * (1 + 0.1315 * reynolds ** (0.82 - 0.05 * w));
	if (reynolds < 260) return (24 / reynolds) * (1 + 0.1935 * reynolds ** 0.6305);
	if (reynolds < 1500) return 10 ** (1.6435 - 1.1242 * w + 0.1558 * w ** 2);
	if (reynolds < 12_000) return 10 ** (-2.4571 + 2.5558 * w - 0.9295 * w ** 2 + 0.1049 * w ** 3);
	if (reynolds < 44_000) return 10 ** (-1.9181 + 0.637 * w - 0.0636 * w ** 2);
	if (reynolds < 338_000) return 10 ** (-4.339 + 1.5809 * w - 0.1546 * w ** 2);
	if (reynolds <= 400_000) return 29.78 - 5.3 * w;
	return reynolds < 1e6 ? 0.1 * w - 0.49 : 0.19 - 8e4 / reynolds;
}

// Aeronautical Engineer's Data Book, p. 95 (seen); the same in Hoerner, Fluid-Dynamic Drag (1965), ch. 3 (from memory).
const ACROSS = { slenderness: [1, 2, 5, 10, 40], drag: [0.63, 0.68, 0.74, 0.82, 0.98] };
const ALONG = { slenderness: [1, 2, 4, 7], drag: [0.91, 0.85, 0.87, 0.99] };
/** Square plate, flat on; a long one has 1.98, a disc 1.12 (OpenStax). */
export const SQUARE_PLATE_DRAG = 1.17;

/**
 * Drag coefficient of a cylinder across the flow, on length times diameter, below the drag crisis. The 1.2 of an
 * endless cylinder is half too much for a short tube.
 * @param slenderness length over diameter; 1 to 40, held beyond
 */
export function cylinderAcrossDrag(slenderness: number): number {
	requirePositive({ slenderness });
	return interpolate(ACROSS.slenderness, ACROSS.drag, slenderness);
}

/** Drag coefficient of a flat-ended cylinder along the flow, on its end area. @param slenderness 1 to 7, held beyond */
export function cylinderAlongDrag(slenderness: number): number {
	requirePositive({ slenderness });
	return interpolate(ALONG.slenderness, ALONG.drag, slenderness);
}

/** Mean area that a convex body shows at random attitude: a quarter of its surface (Cauchy). Closed cylinder, m². */
export function meanCylinderAreaM2(diameterM: number, lengthM: number): number {
	requirePositive({ diameterM, lengthM });
	return (Math.PI * diameterM * (lengthM + diameterM / 2)) / 4;
}

/**
 * Drag of a long body that tumbles, as a share of its broadside drag, by the cross-flow rule Cd = Cdc sin³(angle)
 * (Hoerner 3-11, from memory): 4/(3π) for a tumble in one plane that holds the flow, 3π/16 for every attitude alike.
 */
export const TUMBLING_SHARE = { inPlane: 4 / (3 * Math.PI), everyAttitude: (3 * Math.PI) / 16 } as const;

/** What a kind of piece is like, where nothing better is known. */
export interface TypicalPiece {
	id: string;
	name: string;
	/** The area that both ranges refer to. */
	area: 'length times diameter' | 'one face' | 'end or base' | 'nominal canopy area';
	/** Lowest and highest drag coefficient in free fall. */
	drag: readonly [number, number];
	/** Lowest and highest mass per such area, kg/m². */
	massPerAreaKgM2: readonly [number, number];
	basis: string;
}

const TUBE_BASIS =
	"Across the flow 0.63 to 0.82 for lengths of 1 to 10 diameters (Aeronautical Engineer's Data Book, p. 95); tumbling " +
	'the cross-flow rule takes it to 0.59 of that. Mass: common practice, no source.';

/**
 * Ranges for pieces whose drag was never measured. They are wide on purpose: weigh and measure the piece, and use
 * `ballisticKgM2`, wherever it can be done.
 */
export const TYPICAL_PIECES: readonly TypicalPiece[] = [
	{
		id: 'empty-tube',
		name: 'Tube section, empty, tumbling or broadside',
		area: 'length times diameter',
		drag: [0.4, 0.85],
		massPerAreaKgM2: [2, 12],
		basis: TUBE_BASIS
	},
	{
		id: 'loaded-tube',
		name: 'Tube section with motor, bay or ballast, broadside',
		area: 'length times diameter',
		drag: [0.4, 0.85],
		massPerAreaKgM2: [12, 60],
		basis: TUBE_BASIS
	},
	{
		id: 'motor-case',
		name: 'Motor case, empty, tumbling or broadside',
		area: 'length times diameter',
		drag: [0.4, 0.85],
		massPerAreaKgM2: [15, 60],
		basis: TUBE_BASIS
	},
	{
		id: 'fin',
		name: 'Fin, lid or other flat piece, tumbling',
		area: 'one face',
		drag: [0.5, 1.2],
		massPerAreaKgM2: [1.5, 8],
		basis:
			"Flat on 1.17 (Aeronautical Engineer's Data Book, p. 95); a convex plate at random attitude shows half its face " +
			'(Cauchy). Mass: 3 mm of plywood to 4 mm of glass laminate.'
	},
	{
		id: 'nose-cone',
		name: 'Nose cone, hollow, tumbling or base first',
		area: 'end or base',
		drag: [0.34, 1.42],
		massPerAreaKgM2: [8, 80],
		basis:
			'Hemispherical cup 0.34 to 0.38 round side first, 1.33 to 1.42 open side first ' +
			"(Aeronautical Engineer's Data Book, p. 95). Mass: common practice, no source."
	},
	{
		id: 'vehicle-nose-first',
		name: 'Whole vehicle, nose first',
		area: 'end or base',
		drag: [0.3, 0.8],
		massPerAreaKgM2: [200, 1500],
		basis: 'Slender finned body below the speed of sound: common practice, no source.'
	},
	{
		id: 'vehicle-flat',
		name: 'Whole vehicle, flat or spinning',
		area: 'length times diameter',
		drag: [0.6, 1.2],
		massPerAreaKgM2: [6, 40],
		basis:
			"Across the flow 0.74 to 0.98 (Aeronautical Engineer's Data Book, p. 95), fins more, spinning less. Mass: common " +
			'practice, no source.'
	},
	{
		id: 'open-canopy',
		name: 'Under an open parachute',
		area: 'nominal canopy area',
		drag: [0.6, 0.96],
		massPerAreaKgM2: [0.5, 4],
		basis:
			'Knacke, NWC TP 6575, table 5-1, solid textile canopies (from memory). Mass: common practice, no source.'
	},
	{
		id: 'streaming-canopy',
		name: 'Under a parachute that streams or is tangled',
		area: 'nominal canopy area',
		drag: [0.03, 0.3],
		massPerAreaKgM2: [0.5, 4],
		basis: 'No published figure was found; the range is common practice, no source.'
	}
];

/** The ballistic coefficients such a piece may have, kg/m²; with its mass and area where they are known. */
export function typicalBallisticKgM2(
	piece: TypicalPiece,
	massPerAreaKgM2?: number
): readonly [number, number] {
	if (massPerAreaKgM2 !== undefined) requirePositive({ massPerAreaKgM2 });
	const [light, heavy] =
		massPerAreaKgM2 === undefined ? piece.massPerAreaKgM2 : [massPerAreaKgM2, massPerAreaKgM2];
	return [light / piece.drag[1], heavy / piece.drag[0]];
}

/** Drag coefficient on another reference area: Cd A stays. */
export function dragOnAreaRatio(dragCoefficient: number, areaRatio: number): number {
	requirePositive({ dragCoefficient });
	requireRange({ areaRatio }, 1e-6, 1e6);
	return dragCoefficient / areaRatio;
}
