/**
 * The hand rule of the trade, for comparison only: two pieces fall at their steady speeds from the first moment, in
 * one wind. Δx = w h (1/v1 - 1/v2). It leaves out the start of the fall, the thinner air aloft and the velocity at
 * parting. Hand-derived; SI.
 */
export const steadySeparation = (wind: number, height: number, v1: number, v2: number) =>
	wind * height * (1 / v1 - 1 / v2);

/** Release height from a separation by the same rule. Infinite for equal speeds: throws instead. */
export function steadyReleaseHeight(separation: number, wind: number, v1: number, v2: number): number {
	const k = wind * (1 / v1 - 1 / v2);
	if (k === 0) throw new RangeError('pieces that fall alike in this wind say nothing about the height');
	return separation / k;
}

/** Standard uncertainty of `steadyReleaseHeight` by first-order propagation, with its parts. */
export function steadyHeightUncertainty(q: {
	height: number;
	wind: number;
	v1: number;
	v2: number;
	uSeparation: number;
	uWind: number;
	uV1: number;
	uV2: number;
}): { total: number; separation: number; wind: number; v1: number; v2: number } {
	const k = Math.abs(1 / q.v1 - 1 / q.v2);
	const separation = q.uSeparation / (q.wind * k);
	const wind = (q.height * q.uWind) / q.wind;
	const v1 = (q.height * q.uV1) / (k * q.v1 ** 2);
	const v2 = (q.height * q.uV2) / (k * q.v2 ** 2);
	return { total: Math.hypot(separation, wind, v1, v2), separation, wind, v1, v2 };
}
