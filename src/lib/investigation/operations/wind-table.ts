import type { SoundingLevel } from '$lib/physics/sounding';
import { parseSounding } from '$lib/physics/sounding';
import { quantity } from '$lib/quantity/quantity';
import { done, type Outcome, refused } from '../outcome';
import { LIMITS } from '../schema/common';
import type { Weather, WindLevel } from '../schema/record';

/** A wind table as read from text, for a person to look at before it is taken over. */
export interface WindRead {
	heightsAre: Weather['heightsAre'];
	wind: WindLevel[];
	/** Soundings give directions against true north; a plain table does not say. */
	fromReference: Weather['fromReference'] | null;
	/** What kind of text it was taken for. */
	readAs: string;
	/** What was assumed and what was left out, in words. */
	notes: string[];
}

const READ_AS = {
	'rawinsonde text': 'a sounding as weather services print it',
	'RAW block': 'the %RAW% block of a sounding',
	table: 'a table of height, direction, speed and temperature'
} as const;

/**
 * Reads a pasted table or a sounding into rows of the wind table; refuses with the number of the line. Nothing is
 * saved by it.
 * @param heightsAre  what the heights of a plain table are counted from; a sounding says so itself
 * @param upToM       levels above this height, on the table's own reference, are left out; null keeps all
 */
export function readWindTable(
	text: string,
	heightsAre: Weather['heightsAre'],
	upToM: number | null = null
): Outcome<WindRead> {
	const heights = heightsAre === 'abovePad' ? 'above the pad' : 'above sea level';
	const isTable = !/^\s*%RAW%\s*$|\bPRES\b.*\bHGHT\b/m.test(text);
	const read = isTable ? parseSounding(text, heights) : parseSounding(text);
	if (!read.ok) return refused(read.error, 'text');
	const { format, levels, notes, heights: said } = read.value;

	const low = levels.filter((level) => upToM === null || level.heightM <= upToM);
	const wind = low.flatMap((level) => asWindLevel(level, format === 'table' ? 0.01 : 0.1));
	const windless = low.length - wind.length;
	const left = [...notes];
	if (windless > 0)
		left.push(`${windless} ${windless === 1 ? 'level' : 'levels'} with a temperature but no wind left out.`);
	if (low.length < levels.length)
		left.push(`${levels.length - low.length} levels above the height you named left out.`);
	if (wind.length === 0) return refused('None of the levels has a wind.', 'text');
	if (wind.length > LIMITS.rows)
		return refused(
			`${wind.length} levels have a wind; ${LIMITS.rows} can be kept. Name a height up to which to read.`,
			'upTo'
		);
	return done({
		heightsAre: said === 'above the pad' ? 'abovePad' : 'aboveSea',
		wind,
		fromReference: format === 'table' ? null : 'true',
		readAs: READ_AS[format],
		notes: left
	});
}

/** Finer than any sounding measures, and short enough to be read. */
const rounded = (x: number, step: number) => Number((Math.round(x / step) * step).toFixed(2));

function asWindLevel({ heightM, fromDeg, speedMS, temperatureK }: SoundingLevel, stepM: number): WindLevel[] {
	if (fromDeg === undefined || speedMS === undefined) return [];
	return [
		{
			height: quantity(rounded(heightM, stepM), 'm'),
			fromDeg,
			speed: quantity(rounded(speedMS, 0.01), 'm/s'),
			temperature: temperatureK === undefined ? null : quantity(rounded(temperatureK - 273.15, 0.01), '°C')
		}
	];
}
