import {
	gasDensityKgM3,
	geometricHeightM,
	geopotentialHeightM,
	makeColumn,
	pressureAltitudeM,
	soundSpeedMS,
	STANDARD_COLUMN,
	STANDARD_NODES,
	viscosityPaS
} from './atmosphere';
import { requireFinite, requirePositive, requireRange } from './checks';

/** A level of a sounding as the air needs it. Heights are geometric, above sea level. */
export interface AirLevel {
	heightM: number;
	temperatureK: number;
	/** Set where humidity was measured: the temperature at which dry air would be as light. */
	virtualTemperatureK?: number;
	pressurePa?: number;
}

export interface AirInput {
	siteElevationM: number;
	/** Measured at the site; a sounding goes before it. */
	surfaceTemperatureK?: number;
	/** Measured at the site, not reduced to sea level (`sitePressurePa` converts). */
	surfacePressurePa?: number;
	sounding?: readonly AirLevel[];
}

/** Densities at equal steps of height above the pad, for linear interpolation in tight loops. */
export interface DensityTable {
	fromM: number;
	stepM: number;
	densityKgM3: Float64Array;
}

/** The air of the day. Every height is geometric, above the pad. */
export interface Air {
	readonly siteElevationM: number;
	temperatureK(heightAbovePadM: number): number;
	pressurePa(heightAbovePadM: number): number;
	densityKgM3(heightAbovePadM: number): number;
	soundSpeedMS(heightAbovePadM: number): number;
	viscosityPaS(heightAbovePadM: number): number;
	/** True height above the pad at which this pressure is found. */
	heightOfPressureM(pressurePa: number): number;
	/** What an altimeter that knows only the standard, set to zero on the pad, would show there. */
	indicatedHeightM(heightAbovePadM: number): number;
	/** True height above the pad when such an altimeter shows this height. */
	trueHeightM(indicatedHeightM: number): number;
	/** What each part rests on, so that a result can say so. */
	readonly basis: {
		temperature: 'sounding' | 'surface' | 'standard';
		pressure: 'site' | 'sounding' | 'standard';
		/** Heights above the pad between which temperature was measured; beyond them it is assumed. */
		measuredFromM: number;
		measuredToM: number;
	};
	/** Made at the first call, then kept; linear interpolation in it is good to 1e-5. */
	densityTable(): DensityTable;
}

const TABLE_STEP_M = 50;
const TABLE_FROM_M = -1_000;
const TABLE_TO_M = 40_000;
/** The difference from standard is held to the tropopause, then fades to nothing at the top of the isothermal layer. */
const HELD_TO_M = 11_000;

/** Standard nodes above a height, the difference held to 11 km and faded out by 20 km (our choice: no step at 11 km). */
function standardAbove(heightM: number, differenceK: number): [number, number][] {
	const fade = (h: number) => Math.min(1, Math.max(0, (20_000 - h) / (20_000 - HELD_TO_M)));
	return STANDARD_NODES.filter(([h]) => h > heightM + 1).map(([h, t]) => [h, t + differenceK * fade(h)]);
}

/**
 * The air over a site: a sounding where there is one, else the standard temperature plus the difference measured at
 * the surface, held to 11 km above sea level; pressure by hydrostatics, upward and downward from the site.
 * With neither measured it is the standard air at that elevation. Good for heights to 40 km above the pad.
 * @throws {RangeError} naming what is out of range (temperature 180-340 K, pressure 20-115 kPa, elevation -500-9000 m)
 */
export function makeAir(input: AirInput): Air {
	const { siteElevationM, surfaceTemperatureK, surfacePressurePa, sounding } = input;
	requireRange({ siteElevationM }, -500, 9_000);
	if (surfaceTemperatureK !== undefined) requireRange({ surfaceTemperatureK }, 180, 340);
	if (surfacePressurePa !== undefined) requireRange({ surfacePressurePa }, 20_000, 115_000);
	const siteM = geopotentialHeightM(siteElevationM);
	const aloft = (sounding ?? [])
		.filter((l) => l.heightM < 40_000)
		.map((l) => ({ ...l, heightM: geopotentialHeightM(l.heightM) }));

	const dry: [number, number][] = [];
	const virtual: [number, number][] = [];
	if (aloft.length > 0) {
		const first = aloft[0]!;
		const last = aloft[aloft.length - 1]!;
		for (const level of aloft) {
			requireRange({ soundingTemperatureK: level.temperatureK }, 150, 340);
			dry.push([level.heightM, level.temperatureK]);
			virtual.push([level.heightM, level.virtualTemperatureK ?? level.temperatureK]);
		}
		for (const nodes of [dry, virtual]) {
			// Under the lowest level and over the highest the standard slope goes on.
			const foot = nodes[0]![1];
			nodes.unshift([first.heightM - 6_000, foot + 39]);
			const top = nodes[nodes.length - 1]![1];
			nodes.push(...standardAbove(last.heightM, top - STANDARD_COLUMN.temperatureK(last.heightM)));
		}
	} else {
		const standardK = STANDARD_COLUMN.temperatureK(siteM);
		dry.push(...standardAbove(-Infinity, (surfaceTemperatureK ?? standardK) - standardK));
		virtual.push(...dry);
	}

	const anchor = anchorOf(aloft, siteM, surfacePressurePa);
	const columnOf = (nodes: [number, number][], at: { heightM: number; pressurePa: number }) =>
		makeColumn(
			nodes.map(([h]) => h),
			nodes.map(([, t]) => t),
			at
		);
	const column = columnOf(virtual, anchor);
	const dryColumn = columnOf(dry, anchor);

	const above = (heightAbovePadM: number) => geopotentialHeightM(siteElevationM + heightAbovePadM);
	const padIndicatedM = pressureAltitudeM(column.pressurePa(siteM));
	const density = (heightAbovePadM: number) => {
		const h = above(heightAbovePadM);
		return gasDensityKgM3(column.pressurePa(h), column.temperatureK(h));
	};
	const heightOfPressureM = (pressurePa: number) =>
		geometricHeightM(column.heightM(pressurePa)) - siteElevationM;
	let table: DensityTable | undefined;

	return {
		siteElevationM,
		temperatureK: (h) => dryColumn.temperatureK(above(h)),
		pressurePa: (h) => column.pressurePa(above(h)),
		densityKgM3: density,
		soundSpeedMS: (h) => soundSpeedMS(dryColumn.temperatureK(above(h))),
		viscosityPaS: (h) => viscosityPaS(dryColumn.temperatureK(above(h))),
		heightOfPressureM,
		indicatedHeightM: (h) => pressureAltitudeM(column.pressurePa(above(h))) - padIndicatedM,
		trueHeightM(indicatedHeightM) {
			requireFinite({ indicatedHeightM });
			return heightOfPressureM(STANDARD_COLUMN.pressurePa(padIndicatedM + indicatedHeightM));
		},
		basis: {
			temperature: aloft.length > 0 ? 'sounding' : surfaceTemperatureK !== undefined ? 'surface' : 'standard',
			pressure: anchor.basis,
			measuredFromM: aloft.length > 0 ? geometricHeightM(aloft[0]!.heightM) - siteElevationM : 0,
			measuredToM: aloft.length > 0 ? geometricHeightM(aloft[aloft.length - 1]!.heightM) - siteElevationM : 0
		},
		densityTable() {
			if (!table) {
				const n = (TABLE_TO_M - TABLE_FROM_M) / TABLE_STEP_M + 1;
				const densityKgM3 = Float64Array.from({ length: n }, (_, i) =>
					density(TABLE_FROM_M + i * TABLE_STEP_M)
				);
				table = { fromM: TABLE_FROM_M, stepM: TABLE_STEP_M, densityKgM3 };
			}
			return table;
		}
	};
}

/** The known pressure from which the column is integrated: the site's own, else the sounding's nearest the site. */
function anchorOf(aloft: readonly AirLevel[], siteM: number, surfacePressurePa: number | undefined) {
	if (surfacePressurePa !== undefined)
		return { heightM: siteM, pressurePa: surfacePressurePa, basis: 'site' as const };
	let best: { heightM: number; pressurePa: number } | undefined;
	for (const { heightM, pressurePa } of aloft)
		if (pressurePa !== undefined && (!best || Math.abs(heightM - siteM) < Math.abs(best.heightM - siteM)))
			best = { heightM, pressurePa };
	if (best) return { ...best, basis: 'sounding' as const };
	return { heightM: siteM, pressurePa: STANDARD_COLUMN.pressurePa(siteM), basis: 'standard' as const };
}

/** Virtual temperature, K: T (1 + 0.608 q), q from the dew point by Bolton's vapour pressure (1980, eq. 10). */
export function virtualTemperatureK(temperatureK: number, dewPointK: number, pressurePa: number): number {
	requirePositive({ temperatureK, dewPointK, pressurePa });
	const c = dewPointK - 273.15;
	const vapourPa = 611.2 * Math.exp((17.67 * c) / (c + 243.5));
	const specificHumidity = (0.622 * vapourPa) / (pressurePa - 0.378 * vapourPa);
	return temperatureK * (1 + 0.608 * specificHumidity);
}
