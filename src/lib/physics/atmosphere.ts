import { requireFinite, requirePositive, requireRange } from './checks';

/** Standard gravity, m/s². Falls and hydrostatics use it at every height; at 10 km it is 0.3 % high. */
export const STANDARD_GRAVITY_M_S2 = 9.80665;
/** Specific gas constant of dry air, J/(kg K): R* = 8314.32 and M = 28.9644 of the 1976 standard (not 8314.46). */
export const GAS_CONSTANT_AIR = 8314.32 / 28.9644;
export const HEAT_RATIO_AIR = 1.4;
export const STANDARD_PRESSURE_PA = 101_325;
/** Effective radius of the Earth in the 1976 standard, for geopotential height, m. */
const EARTH_RADIUS_M = 6_356_766;

/** Heights between which every function here holds, m above sea level. */
export const ATMOSPHERE_RANGE_M = { low: -5_000, high: 47_000 } as const;

/** Geopotential height of a geometric height above sea level, m. U.S. Standard Atmosphere 1976, eq. 18. */
export function geopotentialHeightM(geometricM: number): number {
	requireFinite({ geometricM });
	return (EARTH_RADIUS_M * geometricM) / (EARTH_RADIUS_M + geometricM);
}

/** Geometric height above sea level of a geopotential height, m; the inverse of the above. */
export function geometricHeightM(geopotentialM: number): number {
	requireFinite({ geopotentialM });
	return (EARTH_RADIUS_M * geopotentialM) / (EARTH_RADIUS_M - geopotentialM);
}

/** Speed of sound in dry air, m/s: √(1.4 R T). U.S. Standard Atmosphere 1976. */
export function soundSpeedMS(temperatureK: number): number {
	requirePositive({ temperatureK });
	return Math.sqrt(HEAT_RATIO_AIR * GAS_CONSTANT_AIR * temperatureK);
}

/** Dynamic viscosity of air, Pa s, by Sutherland's law as the 1976 standard has it. */
export function viscosityPaS(temperatureK: number): number {
	requirePositive({ temperatureK });
	return (1.458e-6 * temperatureK ** 1.5) / (temperatureK + 110.4);
}

/** Density of dry air from the gas law, kg/m³. */
export function gasDensityKgM3(pressurePa: number, temperatureK: number): number {
	requirePositive({ pressurePa, temperatureK });
	return pressurePa / (GAS_CONSTANT_AIR * temperatureK);
}

/**
 * A column of air at rest: temperature linear between nodes of geopotential height, pressure in closed form
 * from one known pressure, up and down. Outside the nodes the outermost slopes go on.
 */
export interface Column {
	temperatureK(geopotentialM: number): number;
	pressurePa(geopotentialM: number): number;
	/** Geopotential height at which this pressure is found: the exact inverse of `pressurePa`. */
	heightM(pressurePa: number): number;
}

/** ln(1+x)/x, which stays exact where the layer is isothermal. */
const logRatio = (x: number) => (Math.abs(x) < 1e-12 ? 1 - x / 2 : Math.log1p(x) / x);

/**
 * @param heightsM     geopotential heights, ascending, at least two
 * @param temperaturesK (virtual) temperature at each
 * @param anchor       the known pressure and its geopotential height
 * Source: hydrostatic equation of U.S. Standard Atmosphere 1976 (eqs. 33a and 33b in one form).
 */
export function makeColumn(
	heightsM: readonly number[],
	temperaturesK: readonly number[],
	anchor: { heightM: number; pressurePa: number }
): Column {
	if (heightsM.length < 2 || heightsM.length !== temperaturesK.length)
		throw new RangeError('heightsM and temperaturesK must have the same length, two or more');
	requirePositive({ anchorPressurePa: anchor.pressurePa });
	const h = Float64Array.from(heightsM);
	const t = Float64Array.from(temperaturesK);
	const slope = new Float64Array(h.length - 1);
	for (let i = 0; i < slope.length; i++) {
		if (!(h[i + 1]! > h[i]!)) throw new RangeError(`heightsM must ascend, got ${h[i]} then ${h[i + 1]}`);
		requirePositive({ temperaturesK: t[i]! });
		slope[i] = (t[i + 1]! - t[i]!) / (h[i + 1]! - h[i]!);
	}
	const layerOf = (heightM: number) => {
		let i = 0;
		while (i < slope.length - 1 && heightM >= h[i + 1]!) i++;
		return i;
	};
	const temperatureK = (heightM: number) => {
		const i = layerOf(heightM);
		return t[i]! + slope[i]! * (heightM - h[i]!);
	};
	/** ln of the pressure ratio from the foot of layer i to a height in it. */
	const logDrop = (i: number, heightM: number) => {
		const x = (slope[i]! * (heightM - h[i]!)) / t[i]!;
		return ((-STANDARD_GRAVITY_M_S2 / GAS_CONSTANT_AIR) * (heightM - h[i]!) * logRatio(x)) / t[i]!;
	};
	const logP = new Float64Array(h.length);
	for (let i = 0; i < slope.length; i++) logP[i + 1] = logP[i]! + logDrop(i, h[i + 1]!);
	const base = layerOf(anchor.heightM);
	const shift = Math.log(anchor.pressurePa) - logP[base]! - logDrop(base, anchor.heightM);
	for (let i = 0; i < logP.length; i++) logP[i] = logP[i]! + shift;

	return {
		temperatureK,
		pressurePa(heightM) {
			const i = layerOf(heightM);
			return Math.exp(logP[i]! + logDrop(i, heightM));
		},
		heightM(pressurePa) {
			requirePositive({ pressurePa });
			const y = Math.log(pressurePa);
			let i = 0;
			while (i < slope.length - 1 && y <= logP[i + 1]!) i++;
			const q = ((logP[i]! - y) * GAS_CONSTANT_AIR) / STANDARD_GRAVITY_M_S2;
			const lapse = slope[i]!;
			return h[i]! + t[i]! * (Math.abs(lapse) < 1e-15 ? q : Math.expm1(q * lapse) / lapse);
		}
	};
}

/** Nodes of the standard temperature, geopotential m and K; the first is on the tropospheric slope below sea level. */
export const STANDARD_NODES: readonly (readonly [heightM: number, temperatureK: number])[] = [
	[-5_000, 320.65],
	[11_000, 216.65],
	[20_000, 216.65],
	[32_000, 228.65],
	[47_000, 270.65]
];

/** The 1976 standard as a column of geopotential height. */
export const STANDARD_COLUMN: Column = makeColumn(
	STANDARD_NODES.map(([h]) => h),
	STANDARD_NODES.map(([, t]) => t),
	{ heightM: 0, pressurePa: STANDARD_PRESSURE_PA }
);

export interface AirState {
	temperatureK: number;
	pressurePa: number;
	densityKgM3: number;
	soundSpeedMS: number;
	viscosityPaS: number;
}

/**
 * Standard air at a geometric height above sea level.
 * Source: U.S. Standard Atmosphere 1976, layers from -5 to 47 km.
 * @throws {RangeError} outside these heights
 */
export function standardAtmosphere(geometricM: number): AirState {
	requireRange({ geometricM }, ATMOSPHERE_RANGE_M.low, ATMOSPHERE_RANGE_M.high);
	const h = geopotentialHeightM(geometricM);
	const temperatureK = STANDARD_COLUMN.temperatureK(h);
	const pressurePa = STANDARD_COLUMN.pressurePa(h);
	return {
		temperatureK,
		pressurePa,
		densityKgM3: gasDensityKgM3(pressurePa, temperatureK),
		soundSpeedMS: soundSpeedMS(temperatureK),
		viscosityPaS: viscosityPaS(temperatureK)
	};
}

/** Pressure altitude: the geopotential height at which the standard atmosphere has this pressure, m. Exact to 47 km. */
export function pressureAltitudeM(pressurePa: number): number {
	return STANDARD_COLUMN.heightM(pressurePa);
}

/**
 * True height difference of a layer that an altimeter shows as `indicatedM` above pressure altitude `fromM`, on a day
 * whose temperature differs from standard by the same number of kelvins at each pressure: dH = dHp (1 + dT/T_ISA).
 * Exact below 11 km of pressure altitude. 1 K is worth about 0.35 %.
 */
export function thicknessM(indicatedM: number, differenceK: number, fromM = 0): number {
	requireFinite({ differenceK });
	requireRange({ fromM, toM: fromM + indicatedM }, ATMOSPHERE_RANGE_M.low, 11_000);
	const from = STANDARD_COLUMN.temperatureK(fromM);
	return indicatedM - (differenceK / 0.0065) * Math.log1p((-0.0065 * indicatedM) / from);
}

/**
 * Pressure at the site from one reduced to sea level by the standard atmosphere (an altimeter setting), Pa.
 * A weather map's sea-level pressure is reduced with the day's temperature instead: at 1500 m and 20 K from standard
 * the two differ by about 13 hPa, near sea level by nothing.
 */
export function sitePressurePa(seaLevelPressurePa: number, siteElevationM: number): number {
	requireRange({ siteElevationM }, ATMOSPHERE_RANGE_M.low, 9_000);
	return STANDARD_COLUMN.pressurePa(
		pressureAltitudeM(seaLevelPressurePa) + geopotentialHeightM(siteElevationM)
	);
}

/** The inverse: the pressure at the site, reduced to sea level by the standard atmosphere, Pa. */
export function seaLevelPressurePa(sitePressurePa: number, siteElevationM: number): number {
	requireRange({ siteElevationM }, ATMOSPHERE_RANGE_M.low, 9_000);
	return STANDARD_COLUMN.pressurePa(pressureAltitudeM(sitePressurePa) - geopotentialHeightM(siteElevationM));
}
