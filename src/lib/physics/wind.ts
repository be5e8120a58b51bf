import { requireFinite, requireNotNegative, requirePositive, requireRange } from './checks';
import { interpolate } from './interpolate';

/** Wind at one height above the pad; `fromDeg` is true, where the wind comes from, as the trade says it. */
export interface WindLevel {
	heightM: number;
	fromDeg: number;
	speedMS: number;
}

/** Wind by height above the pad. East and north say where the air goes. */
export interface Wind {
	readonly heightsM: Float64Array;
	readonly eastMSAt: Float64Array;
	readonly northMSAt: Float64Array;
	eastMS(heightM: number): number;
	northMS(heightM: number): number;
	speedMS(heightM: number): number;
	/** Where it comes from, 0-360 degrees true; 0 in still air. */
	fromDeg(heightM: number): number;
	/** Above this height nothing was measured: the highest wind is assumed to go on. */
	readonly topM: number;
	/** Below this height the lowest wind is assumed to reach the ground. */
	readonly bottomM: number;
}

const RAD = Math.PI / 180;

/** East and north parts of a wind of this speed from this direction, m/s. */
export function windParts(fromDeg: number, speedMS: number): { eastMS: number; northMS: number } {
	requireFinite({ fromDeg });
	requireNotNegative({ speedMS });
	return { eastMS: -speedMS * Math.sin(fromDeg * RAD), northMS: -speedMS * Math.cos(fromDeg * RAD) };
}

/** Direction a wind with these parts comes from, 0 to 360 degrees; 0 in still air. */
export function windFromDeg(eastMS: number, northMS: number): number {
	requireFinite({ eastMS, northMS });
	if (eastMS === 0 && northMS === 0) return 0;
	return (Math.atan2(-eastMS, -northMS) / RAD + 360) % 360;
}

/**
 * Wind by height: east and north parts linear between levels (never the direction), constant outside them.
 * An empty table is still air.
 * @throws {RangeError} where heights do not ascend, a speed is negative or a number is not finite
 */
export function makeWind(levels: readonly WindLevel[]): Wind {
	const sorted = levels.length > 0 ? levels : [{ heightM: 0, fromDeg: 0, speedMS: 0 }];
	const parts = sorted.map((l) => windParts(l.fromDeg, l.speedMS));
	return makeWindFromParts(
		sorted.map((l) => l.heightM),
		parts.map((p) => p.eastMS),
		parts.map((p) => p.northMS)
	);
}

/** The same from east and north parts, m/s. */
export function makeWindFromParts(
	heights: ArrayLike<number>,
	east: ArrayLike<number>,
	north: ArrayLike<number>
): Wind {
	const n = heights.length;
	if (n === 0 || east.length !== n || north.length !== n)
		throw new RangeError(
			`heights, east and north must have one length above 0, got ${n}, ${east.length}, ${north.length}`
		);
	for (let i = 0; i < n; i++) {
		requireFinite({ heightM: heights[i]!, eastMS: east[i]!, northMS: north[i]! });
		if (i > 0 && !(heights[i]! > heights[i - 1]!))
			throw new RangeError(`wind heights must ascend, got ${heights[i - 1]} then ${heights[i]}`);
	}
	const h = Float64Array.from(heights);
	const u = Float64Array.from(east);
	const v = Float64Array.from(north);
	return {
		heightsM: h,
		eastMSAt: u,
		northMSAt: v,
		eastMS: (z) => interpolate(h, u, z),
		northMS: (z) => interpolate(h, v, z),
		speedMS: (z) => Math.hypot(interpolate(h, u, z), interpolate(h, v, z)),
		fromDeg: (z) => windFromDeg(interpolate(h, u, z), interpolate(h, v, z)),
		topM: h[n - 1]!,
		bottomM: h[0]!
	};
}

/**
 * Power law: u = u_r (z/z_r)^a. a is about 1/7 over open flat ground in neutral air, 0.2 in the normal profile of
 * IEC 61400-1 (from memory). Made for the lowest 100 m or so; higher up use a sounding.
 */
export function powerLawSpeedMS(
	speedMS: number,
	referenceM: number,
	exponent: number,
	heightM: number
): number {
	requireNotNegative({ speedMS, heightM });
	requirePositive({ referenceM });
	requireRange({ exponent }, 0, 1);
	return speedMS * (heightM / referenceM) ** exponent;
}

/**
 * Logarithmic law: u = u_r ln((z-d)/z0) / ln((z_r-d)/z0), d = 0.7 of the height of the obstacles. Neutral air,
 * the lowest 100 m or so.
 * @param roughnessM z0: water 0.0002, mown grass 0.0024, open farmland 0.03, hedges 0.1-0.2, village or forest 0.4 m
 * @throws {RangeError} where the reference stands within the obstacles (z_r must exceed d + z0)
 */
export function logLawSpeedMS(
	speedMS: number,
	referenceM: number,
	roughnessM: number,
	heightM: number,
	obstacleM = 0
): number {
	requireNotNegative({ speedMS, heightM, obstacleM });
	requirePositive({ referenceM, roughnessM });
	const d = 0.7 * obstacleM;
	if (referenceM <= d + roughnessM)
		throw new RangeError(
			`referenceM must be above ${d + roughnessM} (0.7 of the obstacles and the roughness), got ${referenceM}`
		);
	if (heightM <= d + roughnessM) return 0;
	return (speedMS * Math.log((heightM - d) / roughnessM)) / Math.log((referenceM - d) / roughnessM);
}

export type SurfaceLaw =
	| { kind: 'constant' }
	| { kind: 'power'; exponent: number }
	| { kind: 'log'; roughnessM: number; obstacleM?: number };

/**
 * A whole profile from one wind near the ground, by one of the laws up to `lawToM` (100 m by default, as far as they
 * are made for) and constant above. A drift from any height computed with it is a guess: over 500 m the real wind
 * is often twice the surface wind and from another quarter.
 */
export function surfaceWind(input: {
	fromDeg: number;
	speedMS: number;
	/** Height at which the wind was measured, above the ground. */
	measuredAtM: number;
	law: SurfaceLaw;
	lawToM?: number;
}): Wind {
	const { fromDeg, speedMS, measuredAtM, law, lawToM = 100 } = input;
	requirePositive({ measuredAtM, lawToM });
	const speedAt = (heightM: number) => {
		switch (law.kind) {
			case 'constant':
				return speedMS;
			case 'power':
				return powerLawSpeedMS(speedMS, measuredAtM, law.exponent, heightM);
			case 'log':
				return logLawSpeedMS(speedMS, measuredAtM, law.roughnessM, heightM, law.obstacleM);
		}
	};
	if (law.kind === 'constant') return makeWind([{ heightM: measuredAtM, fromDeg, speedMS }]);
	// Steps shrink toward the ground as the laws do; 24 of them keep straight lines within 1 % above a metre.
	const heights = Array.from({ length: 25 }, (_, i) => lawToM * (i / 24) ** 3);
	return makeWind(heights.map((heightM) => ({ heightM, fromDeg, speedMS: speedAt(heightM) })));
}
