import { TYPICAL_PIECES, typicalBallisticKgM2 } from '$lib/physics/drag';
import { sitePressurePa } from '$lib/physics/atmosphere';
import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';
import { formatQuantity } from '$lib/quantity/format';
import { fromSi, type Quantity, toSi } from '$lib/quantity/quantity';
import { readAnyQuantity } from '$lib/quantity/read';
import type { Investigation } from '../case';
import { readResult } from '../schema/calculation-result';
import { windOf } from './plan';
import { apart } from './positions';
import { bandsOf, placesIn, type SearchBand } from './search-bands';
import { elapsed } from './timeline';

/** One value of one record of the case: 'mass' of a piece, 'east:pad' of another, 'wind' of the weather. */
export interface Ref {
	collection: keyof Investigation;
	id: string;
	value: string;
}

/** What the value is now, as a person would type it, and how sentences name it: 'the mass of E4'. */
export interface CaseValue {
	text: string;
	words: string;
	dimension?: Dimension;
}

type Reader = (file: Investigation, id: string, argument: string) => CaseValue | null;

/** The value that a reference names, or null where the case has none (any more). */
export function valueOf(file: Investigation, { collection, id, value }: Ref): CaseValue | null {
	const [what = '', ...argument] = value.split(':');
	return READERS[`${collection}.${what}`]?.(file, id, argument.join(':')) ?? null;
}

/** Dimension of a quantity whose kind only its unit tells; undefined for a plain number. */
function dimensionOf(q: Quantity): Dimension | undefined {
	const read = q.unit === '1' || q.unit === '' ? null : readAnyQuantity(`1 ${q.unit}`);
	return read?.ok ? read.value.dimension : undefined;
}

/** Whether a value of the case may stand in a field of this dimension; a torque is no energy, whatever its exponents. */
export const fits = (value: CaseValue, dimension: Dimension): boolean =>
	value.dimension !== undefined &&
	(value.dimension === dimension ||
		(dimension !== 'energy' &&
			String(DIMENSIONS[value.dimension].vector) === String(DIMENSIONS[dimension].vector)));

function shown(q: Quantity | null | undefined, words: string): CaseValue | null {
	if (!q) return null;
	const dimension = dimensionOf(q);
	return (dimension && { text: formatQuantity(q, dimension), words, dimension }) || null;
}

/** A computed number with its spread, in figures that carry it. */
function computed(value: number, sigma: number | null, unit: string): string {
	const decimals = Math.max(0, Math.min(3, 1 - Math.floor(Math.log10(sigma || Math.abs(value) / 100 || 1))));
	const number = (x: number) => Number(x.toFixed(decimals));
	return sigma ? `${number(value)} ± ${number(sigma)} ${unit}` : `${number(value)} ${unit}`;
}

const item = (file: Investigation, id: string) => {
	const found = file.evidence[id];
	return found && !found.withdrawn ? found : null;
};
const piece = (file: Investigation, id: string) => {
	const found = item(file, id);
	return found?.kind === 'piece' ? found : null;
};

const typical: Reader = (file, id) => {
	const found = piece(file, id);
	const type = TYPICAL_PIECES.find((known) => known.id === found?.pieceType);
	if (!found || !type) return null;
	const [low, high] = typicalBallisticKgM2(type).map((b) => Number(b.toPrecision(2)));
	return {
		text: `${low} to ${high} kg/m²`,
		words: `the typical ballistic coefficient of E${found.number} (${type.name})`,
		dimension: 'ballistic coefficient'
	};
};

const offset =
	(axis: 'eastM' | 'northM', words: string): Reader =>
	(file, id, from) => {
		const found = item(file, id);
		const between = found && apart(file, from, id);
		if (!between) return null;
		const other = from === 'pad' ? 'the pad' : `E${file.evidence[from]?.number}`;
		return {
			text: computed(between[axis], between.sigmaM, 'm'),
			words: `how far ${words} of ${other} E${found.number} lay`,
			dimension: 'length'
		};
	};

/** How often a reading of this trust is wrong; common practice, no source. */
const WRONG = { high: '1 %', moderate: '5 %', low: '20 %' } as const;

/** A number of one band of a kept landing footprint. */
const band =
	(value: (found: SearchBand) => Omit<CaseValue, 'words'>): Reader =>
	(file, id, key) => {
		const found = bandsOf(file, id).find((one) => one.key === key);
		return found
			? { ...value(found), words: `the ground "${found.name}" of K${file.calculations[id]!.number}` }
			: null;
	};

/** Calculations that give a peak load, and the output that it is. */
export const PEAK_LOAD: Readonly<Record<string, string>> = {
	'opening-load': 'load',
	'tether-load': 'force',
	'deployment-charge': 'force'
};
/** Standard deviations of a normal distribution between the ends of its middle 90 %. */
const IN_90 = 2 * 1.645;

const END: Readonly<Record<string, string>> = {
	low: 'the lower end of ',
	high: 'the upper end of '
};

/** An output of a kept run, in its middle with its spread or at one end of its middle 90 %. */
function outputOf(
	file: Investigation,
	id: string,
	key: string,
	end: string,
	words: string
): CaseValue | null {
	const run = file.calculations[id];
	const output = readResult(run?.result)?.outputs[key];
	if (!run || !output) return null;
	const { median, low90, high90, dimension, unit } = output;
	const show = (si: number) => fromSi(si, unit, dimension);
	const at = show(end === 'low' ? low90 : end === 'high' ? high90 : median);
	const spread = end === '' && high90 > low90 ? (show(high90) - show(low90)) / IN_90 : null;
	const label = output.label.charAt(0).toLowerCase() + output.label.slice(1);
	const named = words || `the ${label}${output.of ? `, ${output.of},` : ''}`;
	return {
		text: computed(at, spread, unit).replace(/ 1$/, ''),
		words: `${named} by K${run.number} ${run.title}`,
		dimension
	};
}

const READERS: Readonly<Record<string, Reader>> = {
	'evidence.title': (file, id) => {
		const found = item(file, id);
		return found && { text: found.title, words: `the name of E${found.number}` };
	},
	'evidence.mass': (file, id) => {
		const found = piece(file, id);
		return found && shown(found.mass, `the mass of E${found.number}`);
	},
	'evidence.ballisticCoefficient': (file, id) => {
		const found = piece(file, id);
		return found && shown(found.ballisticCoefficient, `the ballistic coefficient of E${found.number}`);
	},
	'evidence.typical': typical,
	'evidence.detection': (file, id) => {
		const found = item(file, id);
		return found?.kind === 'absence' && found.detection !== null
			? {
					text: `${Number((100 * found.detection).toPrecision(4))} %`,
					words: `the chance of E${found.number} to find it`,
					dimension: 'ratio'
				}
			: null;
	},
	'evidence.trust': (file, id) => {
		const found = item(file, id);
		return found?.trust ? { text: WRONG[found.trust], words: `how far E${found.number} is trusted` } : null;
	},
	'evidence.value': (file, id) => {
		const found = item(file, id);
		if (found?.kind === 'measurement') return shown(found.value, `E${found.number}, ${found.what}`);
		return found?.kind === 'test' ? shown(found.value, `E${found.number}, ${found.title}`) : null;
	},
	'evidence.reading': (file, id, index) => {
		const found = item(file, id);
		const read = found?.kind === 'reading' ? found.values[Number(index)] : undefined;
		return found && read ? shown(read.value, `E${found.number}, ${read.label}`) : null;
	},
	'evidence.east': offset('eastM', 'east'),
	'evidence.north': offset('northM', 'north'),
	'parts.mass': (file, id) => shown(file.parts[id]?.mass, `the mass of the part "${file.parts[id]?.name}"`),
	'expected.value': (file, id) => {
		const expected = file.expected[id];
		return expected
			? shown(expected.value, `the expected ${expected.label || EXPECTED_WORDS[expected.what]}`)
			: null;
	},
	'site.elevation': (file, id) => shown(file.site[id]?.elevation, 'the elevation of the site'),
	'weather.temperature': (file, id) =>
		shown(file.weather[id]?.surfaceTemperature, 'the temperature at the site'),
	'weather.pressure': pressureAtSite,
	'weather.speedSpread': (file, id) => {
		const spread = file.weather[id]?.speedSpread;
		return spread === undefined
			? null
			: { text: `1 ± ${spread}`, words: 'the spread of the wind’s speed', dimension: 'ratio' };
	},
	'weather.directionSpread': (file, id) => {
		const spread = file.weather[id]?.directionSpreadDeg;
		return spread === undefined
			? null
			: { text: `0 ± ${spread} °`, words: 'the spread of the wind’s direction', dimension: 'angle' };
	},
	'weather.temperatures': (file) => {
		const rows = temperatureRows(file);
		return rows.length === 0 ? null : { text: rowsText(rows), words: 'the temperature by height' };
	},
	'weather.wind': (file) => {
		const rows = windRows(file);
		return rows.length === 0 ? null : { text: rowsText(rows), words: 'the wind table' };
	},
	'calculations.bandArea': band(({ areaM2 }) => ({
		text: `${Number(fromSi(areaM2, 'ha', 'area').toPrecision(3))} ha`,
		dimension: 'area'
	})),
	'calculations.bandWeight': band(({ weight }) => ({
		text: `${figures(100 * weight)} %`,
		dimension: 'ratio'
	})),
	'calculations.bandPlaces': band((found) => ({ text: placesIn(found) })),
	'calculations.peak': (file, id, end) => {
		const key = PEAK_LOAD[file.calculations[id]?.calculation ?? ''] ?? '';
		const which = END[end] ?? '';
		return outputOf(file, id, key, end, `${which}the peak load`);
	},
	'calculations.output': (file, id, key) => outputOf(file, id, key, '', ''),
	'timeline.since': (file, id, from) => {
		const between = elapsed(file, from, id);
		if (!between || between.seconds <= 0) return null;
		const [first, last] = [file.timeline[from]!.what, file.timeline[id]!.what];
		return {
			text: computed(between.seconds, between.sigmaS, 's'),
			words: `the time from "${first}" to "${last}"`,
			dimension: 'time'
		};
	}
};

export const EXPECTED_WORDS = {
	apogee: 'apogee',
	timeToApogee: 'time to apogee',
	maxSpeed: 'greatest speed',
	burnTime: 'burn time',
	drogueRate: 'descent rate under the drogue',
	mainHeight: 'height at which the main opens',
	mainRate: 'descent rate under the main',
	descentTime: 'time of descent',
	other: 'value'
} as const;

/** Pressure at the site; one that was reduced to sea level is brought back there by the standard atmosphere. */
function pressureAtSite(file: Investigation, id: string): CaseValue | null {
	const weather = file.weather[id];
	if (!weather?.surfacePressure) return null;
	if (weather.pressureIs === 'atSite') return shown(weather.surfacePressure, 'the pressure at the site');
	const elevation = file.site['main']?.elevation;
	if (!elevation) return null;
	const { value, plusMinus = null } = toSi(weather.surfacePressure, 'pressure');
	const hPa = (pascal: number) => fromSi(pascal, 'hPa', 'pressure');
	return {
		text: computed(
			hPa(sitePressurePa(value, toSi(elevation, 'length').value)),
			plusMinus === null ? null : hPa(plusMinus),
			'hPa'
		),
		words: 'the pressure at the site, from the one reduced to sea level',
		dimension: 'pressure'
	};
}

/** A calculation takes no longer table; more heights than this are thinned evenly. */
const MOST_LEVELS = 200;
const figures = (x: number) => Number(x.toPrecision(6));

/** As many of the levels as a calculation takes. */
function thinned<T extends { heightM: number }>(levels: readonly T[]): T[] {
	const all = levels.filter(({ heightM }) => heightM >= -500 && heightM <= 40_000);
	const step = Math.max(1, all.length / MOST_LEVELS);
	return Array.from({ length: Math.min(all.length, MOST_LEVELS) }, (_, i) => all[Math.floor(i * step)]!);
}

/** The wind as a calculation lists it: heights above the pad, true degrees. */
export function windRows(file: Investigation): Record<'height' | 'speed' | 'from', string>[] {
	return thinned(windOf(file)).map(({ heightM, fromDeg, speedMS }) => ({
		height: `${figures(heightM)} m`,
		speed: `${figures(speedMS)} m/s`,
		from: `${figures(fromDeg)} °`
	}));
}

/** Temperatures of the same table, where it has them. */
export function temperatureRows(file: Investigation): Record<'height' | 'temperature', string>[] {
	const levels = windOf(file).flatMap(({ heightM }, i) => {
		const { temperature } = file.weather['main']!.wind[i]!;
		return temperature ? [{ heightM, temperature }] : [];
	});
	return thinned(levels).map(({ heightM, temperature }) => ({
		height: `${figures(heightM)} m`,
		temperature: formatQuantity(temperature, 'temperature')
	}));
}

/** Rows of a list as one text, to see whether they are still as they were taken. */
export const rowsText = (rows: readonly Readonly<Record<string, string>>[]): string =>
	rows.map((row) => Object.values(row).join(' ')).join('; ');
