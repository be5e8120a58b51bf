import { heatWall, meltsAtK, softAtK } from './heat-wall';
import type { Inputs } from './inputs';

/** A layer that may recede by more than is computed: it neither melts here nor has a speed from earlier firings. */
export const recessionUnknown = (l: Inputs['layers'][number]): boolean =>
	meltsAtK(l) === Infinity && !(l.erosion! > 0);

/** Searched from this to this share of the thickness typed. */
const SHARES = [0.05, 20] as const;

/**
 * Thickness of the layer at the hot face, m, with which the wall is neither through nor, where a limit is known, the layer
 * that carries the load too soft, in burn and soak; infinite where no thickness within reach does it.
 */
export function neededThicknessM(x: Inputs): number {
	const soft = softAtK(x) ?? Infinity;
	const holds = (hotLayer: number) => {
		const r = heatWall(x, { hotLayer });
		return !Number.isFinite(r.throughS) && r.loadPeakK < soft;
	};
	let [low, high] = SHARES.map(Math.log) as [number, number];
	if (!holds(Math.exp(high))) return Infinity;
	if (holds(Math.exp(low))) return SHARES[0] * x.layers[0]!.thickness;
	for (let i = 0; i < 8; i++) {
		const middle = (low + high) / 2;
		if (holds(Math.exp(middle))) high = middle;
		else low = middle;
	}
	return Math.exp(high) * x.layers[0]!.thickness;
}
