import { makeAir, type Air, type AirLevel } from '$lib/physics/air';
import { standardAtmosphere } from '$lib/physics/atmosphere';
import { ballisticFromSpeedKgM2, terminalSpeedMS } from '$lib/physics/descent';
import { makeWindFromParts } from '$lib/physics/wind';
import type { Random } from '$lib/probability/generator';
import { HABIT, type Field, type ValuesOf } from './calculation';

/** Inputs from which the air of the day follows. */
export const AIR = [
	{
		kind: 'quantity',
		id: 'siteElevation',
		label: 'Height of the pad above sea level',
		dimension: 'length',
		unit: 'm',
		role: 'site elevation',
		default: { text: '0 m', origin: 'sea level, for want of the site’s own' },
		range: { min: -450, max: 6000 }
	},
	{
		kind: 'quantity',
		id: 'siteTemperature',
		label: 'Air temperature at the pad',
		dimension: 'temperature',
		unit: '°C',
		role: 'site temperature',
		range: { min: 220, max: 330 },
		help: 'Blank: the standard atmosphere.'
	},
	{
		kind: 'quantity',
		id: 'sitePressure',
		label: 'Air pressure at the pad',
		dimension: 'pressure',
		unit: 'hPa',
		role: 'site pressure',
		range: { min: 40_000, max: 110_000 },
		help: 'At the site, not reduced to sea level. Blank: the standard atmosphere.'
	},
	{
		kind: 'list',
		id: 'airTemperatures',
		label: 'Air temperature by height',
		item: 'level',
		role: 'air temperatures by height',
		help: 'Of a sounding; heights above the pad, rising. None: the standard slope upward from the pad’s temperature.',
		min: 0,
		max: 200,
		ascending: 'height',
		fields: [
			{
				kind: 'quantity',
				id: 'height',
				label: 'height above the pad',
				dimension: 'length',
				unit: 'm',
				required: true,
				range: { min: -500, max: 40_000 }
			},
			{
				kind: 'quantity',
				id: 'temperature',
				label: 'air temperature',
				dimension: 'temperature',
				unit: '°C',
				required: true,
				range: { min: 150, max: 340 }
			}
		]
	}
] as const satisfies readonly Field[];

/** Inputs that every calculation of a way down through the wind shares. */
export const WIND_AND_AIR = [
	{
		kind: 'list',
		id: 'wind',
		label: 'Wind by height',
		item: 'wind level',
		role: 'wind table',
		help: 'Heights above the pad, rising. Direction is where the wind comes from, true.',
		min: 1,
		max: 200,
		ascending: 'height',
		fields: [
			{
				kind: 'quantity',
				id: 'height',
				label: 'height above the pad',
				dimension: 'length',
				unit: 'm',
				required: true,
				range: { min: -500, max: 40_000 }
			},
			{
				kind: 'quantity',
				id: 'speed',
				label: 'wind speed',
				dimension: 'speed',
				unit: 'm/s',
				required: true,
				range: { min: 0, max: 150 }
			},
			{
				kind: 'quantity',
				id: 'from',
				label: 'direction it comes from',
				dimension: 'angle',
				unit: '°',
				required: true,
				range: { min: -2 * Math.PI, max: 4 * Math.PI }
			}
		]
	},
	{
		kind: 'quantity',
		id: 'windFactor',
		label: 'True wind over the table’s wind',
		dimension: 'ratio',
		unit: '1',
		role: 'error of the wind speed',
		default: { text: '1 ± 0.2', origin: `a wind known from a forecast or a sounding hours away; ${HABIT}` },
		range: { min: 0, max: 5 },
		help: 'One factor for all heights: a table of another hour or place is wrong as a whole.'
	},
	{
		kind: 'quantity',
		id: 'windTurn',
		label: 'Error of the wind direction',
		dimension: 'angle',
		unit: '°',
		role: 'error of the wind direction',
		default: { text: '0 ± 15 °', origin: `a wind known from a forecast or a sounding hours away; ${HABIT}` },
		range: { min: -Math.PI, max: Math.PI },
		help: 'Turns the whole table; positive turns clockwise.'
	},
	...AIR
] as const satisfies readonly Field[];

export type WindAndAir = ValuesOf<typeof WIND_AND_AIR>;

/** Density at which descent rates are stated: sea level, U.S. Standard Atmosphere 1976. */
const SEA_LEVEL_DENSITY = 1.225;

/** Ballistic coefficient of what falls at this speed in air of sea-level density, and back. */
export const ballisticOfRate = (rate: number) => ballisticFromSpeedKgM2(rate, SEA_LEVEL_DENSITY);
export const rateOfBallistic = (ballistic: number) => terminalSpeedMS(ballistic, SEA_LEVEL_DENSITY);

/** The few airs and fallers in use; samples most often share one. Results never hang on what is kept. */
export function remember<T>(most: number): (key: string, make: () => T) => T {
	const kept = new Map<string, T>();
	return (key, make) => {
		const found = kept.get(key);
		if (found !== undefined) return found;
		if (kept.size >= most) kept.clear();
		const made = make();
		kept.set(key, made);
		return made;
	};
}
const airs = remember<Air>(64);

type AirInputs = ValuesOf<typeof AIR>;

export function airOf(x: AirInputs): Air {
	const key = `${x.siteElevation} ${x.siteTemperature} ${x.sitePressure} ${levelsKey(x)}`;
	return airs(key, () => warmerAir(x, 0));
}

/** The day's air, by so many kelvins warmer at all heights. */
export function warmerAir(x: AirInputs, kelvins: number): Air {
	const pad = x.siteTemperature ?? standardAtmosphere(x.siteElevation).temperatureK;
	return makeAir({
		siteElevationM: x.siteElevation,
		surfaceTemperatureK: pad + kelvins,
		...(x.sitePressure === undefined ? {} : { surfacePressurePa: x.sitePressure }),
		sounding: airLevels(x, x.siteElevation, x.siteTemperature).map((level) => ({
			...level,
			temperatureK: level.temperatureK + kelvins
		}))
	});
}

/** The sounding over a pad at this elevation; it starts with the pad's own temperature where one was measured below it. */
export function airLevels(
	{ airTemperatures }: AirInputs,
	elevation: number,
	padTemperature: number | undefined
): AirLevel[] {
	const levels = airTemperatures.map(({ height, temperature }) => ({
		heightM: elevation + height,
		temperatureK: temperature
	}));
	const lowest = levels[0];
	return padTemperature === undefined || !lowest || lowest.heightM < elevation + 1
		? levels
		: [{ heightM: elevation, temperatureK: padTemperature }, ...levels];
}

/** Tells soundings apart. */
export const levelsKey = ({ airTemperatures }: AirInputs): string =>
	airTemperatures.map(({ height, temperature }) => `${height} ${temperature}`).join();

interface WindParts {
	heights: Float64Array;
	east: Float64Array;
	north: Float64Array;
}

/** The table's wind with its error of speed and direction, as the way the air goes. */
export function windOf({ wind, windFactor, windTurn }: WindAndAir): WindParts {
	return {
		heights: Float64Array.from(wind, (w) => w.height),
		east: Float64Array.from(wind, (w) => -windFactor * w.speed * Math.sin(w.from + windTurn)),
		north: Float64Array.from(wind, (w) => -windFactor * w.speed * Math.cos(w.from + windTurn))
	};
}

/** Velocity over the ground, [east, north]; with an unknown heading any direction, and none in the nominal run. */
export function horizontal(
	speed: number,
	heading: number | undefined,
	random: Random,
	precise: boolean
): [number, number] {
	if (heading === undefined && precise) return [0, 0];
	const toward = heading ?? 2 * Math.PI * random();
	return [speed * Math.sin(toward), speed * Math.cos(toward)];
}

/** Wind over the ground, [east, north], by height. */
export function windAlong(x: WindAndAir): (height: number) => [number, number] {
	const { heights, east, north } = windOf(x);
	const wind = makeWindFromParts(heights, east, north);
	return (height) => [wind.eastMS(height), wind.northMS(height)];
}

/**
 * Heights between two, so distributed that every moment of a steady descent between them is equally probable: the
 * density of height goes as 1/speed, that is as √ρ. Takes a probability, gives the height.
 */
export function uniformInTime(air: Air, low: number, high: number): (p: number) => number {
	const cells = 64;
	const step = (high - low) / cells;
	const sum = new Float64Array(cells + 1);
	for (let i = 0; i < cells; i++) sum[i + 1] = sum[i]! + Math.sqrt(air.densityKgM3(low + (i + 0.5) * step));
	return (p) => {
		const target = p * sum[cells]!;
		let i = 0;
		while (i < cells - 1 && sum[i + 1]! < target) i++;
		return low + step * (i + (target - sum[i]!) / (sum[i + 1]! - sum[i]!));
	};
}

/** Where a wind table is too short or too weak to answer from a height. */
export function windLimits(x: WindAndAir, from: number): string[] {
	const top = x.wind.at(-1)?.height ?? 0;
	const out: string[] = [];
	if (top < 150 && from > 150)
		out.push(
			'Only a wind near the ground is given and it is taken as constant above. With a surface wind alone a drift through a real sounding came out 4.7 times too small, and a release height 600 m instead of 404 m: enter the wind aloft.'
		);
	else if (top < 0.9 * from)
		out.push(
			`The wind is given to ${Math.round(top)} m only; above that the highest one is taken to go on to ${Math.round(from)} m.`
		);
	const strongest = Math.max(...x.wind.map((w) => w.speed * x.windFactor));
	if (strongest < 2)
		out.push(
			'The wind is below 2 m/s or unknown: pieces then part mainly by the velocity they started with, and places tell little about heights.'
		);
	return out;
}
