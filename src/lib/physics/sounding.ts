import { ok, refuse, type Result } from '$lib/quantity/result';
import { virtualTemperatureK, type AirLevel } from './air';
import { geometricHeightM } from './atmosphere';
import { readColumns, unitOfField, type Column } from './sounding-columns';
import type { WindLevel } from './wind';

/** One level as read; what was missing is absent. Heights are geometric, by the sounding's own reference. */
export interface SoundingLevel {
	heightM: number;
	pressurePa?: number;
	temperatureK?: number;
	dewPointK?: number;
	fromDeg?: number;
	speedMS?: number;
}

export type HeightReference = 'above the pad' | 'above sea level';

export interface Sounding {
	format: 'rawinsonde text' | 'RAW block' | 'table';
	heights: HeightReference;
	levels: SoundingLevel[];
	/** What was assumed or left out, in words. */
	notes: string[];
}

const LONGEST_TEXT = 500_000;
const MOST_LEVELS = 5_000;
const REPEAT_WITHIN_M = 50;
/** No wind near the Earth's surface has been stronger than 113 m/s; jet streams reach about 130. */
const STRONGEST_WIND_M_S = 150;

/**
 * Reads winds (and temperatures) by height: the fixed-width rawinsonde text that weather services print, the
 * comma-separated block between %RAW% and %END%, or a table 'height direction speed [temperature]' typed or pasted,
 * with units in its heading or behind its numbers (else m, degrees, m/s and °C). Refusals name the line.
 * @param heights what the heights of a table are counted from, unless its heading says so
 */
export function parseSounding(text: unknown, heights?: HeightReference): Result<Sounding> {
	if (typeof text !== 'string' || text.trim() === '')
		return refuse('Nothing to read. Paste lines of height, direction and speed, or a sounding.');
	if (text.length > LONGEST_TEXT)
		return refuse('This text is too long for one sounding. Paste one profile only.');
	const lines = text.replace(/<[^>]*>/g, '').split(/\r\n|\r|\n/);
	const rawStart = lines.findIndex((l) => l.trim() === '%RAW%');
	if (rawStart >= 0) return readRaw(lines, rawStart);
	const fixed = lines.findIndex((l) => /\bPRES\b.*\bHGHT\b/.test(l));
	if (fixed >= 0) return readFixedWidth(lines, fixed);
	return readTable(lines, heights);
}

/** A row of cells beside its line number; an empty cell or -999 and below is missing. */
interface Row {
	line: number;
	cells: string[];
}

const RAW_COLUMNS: Column[] = [
	{ field: 'pressure', factor: 100, offset: 0 },
	{ field: 'height', factor: 1, offset: 0 },
	{ field: 'temperature', factor: 1, offset: 273.15 },
	{ field: 'dew point', factor: 1, offset: 273.15 },
	{ field: 'direction', factor: 1, offset: 0 },
	{ field: 'speed', factor: 1852 / 3600, offset: 0 }
];

function readRaw(lines: string[], start: number): Result<Sounding> {
	if (lines.filter((l) => l.trim() === '%RAW%').length > 1)
		return refuse('This text holds several profiles. Paste one of them, from its %RAW% to its %END%.');
	const end = lines.findIndex((l, i) => i > start && l.trim() === '%END%');
	if (end < 0)
		return refuse('The profile starts with %RAW% and has no %END%: a part is missing. Paste all of it.');
	const rows = lines
		.map((l, i) => ({ line: i + 1, cells: l.split(',').map((c) => c.trim()) }))
		.slice(start + 1, end)
		.filter((r) => r.cells.join('') !== '');
	return levelsOf(rows, RAW_COLUMNS, 'RAW block', 'above sea level', []);
}

function readFixedWidth(lines: string[], headingAt: number): Result<Sounding> {
	const heading = lines[headingAt]!;
	// Every column ends where its name ends, so a blank field stays a blank field.
	const names = [...heading.matchAll(/\S+/g)].map((m) => ({ name: m[0], end: m.index + m[0].length }));
	const cellsOf = (line: string) =>
		names.map(({ end }, i) =>
			line.slice(i === 0 ? 0 : names[i - 1]!.end, i === names.length - 1 ? undefined : end).trim()
		);
	const units = cellsOf(lines[headingAt + 1] ?? '');
	const columns = readColumns(names.map(({ name }, i) => `${name} (${units[i]})`));
	if (!columns.ok) return columns;
	const rows: Row[] = [];
	for (let i = headingAt + 2; i < lines.length; i++) {
		const line = lines[i]!;
		if (/^[\s-]*$/.test(line) && rows.length === 0) continue;
		if (!/^\s*-?\d/.test(line) || !/^[\s\d.+-]*$/.test(line)) break;
		rows.push({ line: i + 1, cells: cellsOf(line) });
	}
	return levelsOf(rows, columns.value, 'rawinsonde text', 'above sea level', []);
}

const TABLE_COLUMNS: Column[] = [
	{ field: 'height', factor: 1, offset: 0 },
	{ field: 'direction', factor: 1, offset: 0 },
	{ field: 'speed', factor: 1, offset: 0 },
	{ field: 'temperature', factor: 1, offset: 273.15 }
];

function readTable(lines: string[], given: HeightReference | undefined): Result<Sounding> {
	const rows: Row[] = [];
	const heading: string[] = [];
	for (const [i, line] of lines.entries()) {
		const text = line.replace(/#.*$/, '').trim();
		if (text === '') continue;
		if (/^[+-]?[\d.]/.test(text)) rows.push({ line: i + 1, cells: splitRow(line.replace(/#.*$/, '')) });
		else if (rows.length === 0) heading.push(text);
		else
			return refuse(
				`Line ${i + 1}: "${text.slice(0, 40)}" does not start with a height. Take it out or mend it.`
			);
	}
	let columns = TABLE_COLUMNS;
	const notes: string[] = [];
	if (heading.length > 0) {
		const read = readColumns(splitHeading(heading));
		if (!read.ok) return read;
		columns = read.value;
	} else
		notes.push(
			'No heading: where no unit stands, read as height in m, direction it comes from in degrees, speed in m/s, temperature in °C.'
		);
	const words = heading.join(' ');
	const said = /\b(amsl|msl|asl|sea level)\b/i.test(words)
		? 'above sea level'
		: /\b(agl|above (the )?(pad|ground))\b/i.test(words)
			? 'above the pad'
			: undefined;
	if (said && given && said !== given)
		return refuse(`The heading says heights ${said}, but ${given} was chosen. Change one of the two.`);
	if (!said && !given) notes.push('Heights are read as above the pad.');
	return levelsOf(rows, columns, 'table', said ?? given ?? 'above the pad', notes);
}

/** Cells by tab or semicolon, else by comma, else by blanks. Commas beside semicolons or tabs are decimal. */
function splitRow(line: string): string[] {
	if (/[;\t]/.test(line)) return line.split(/[;\t]/).map((c) => c.trim().replace(',', '.'));
	if (line.includes(',')) return line.split(',').map((c) => c.trim());
	// A unit belongs to the number before it.
	return line
		.trim()
		.replace(/(\d\.?)\s+(?=(m|ft|km|kts?|kn|knots?|m\/s|km\/h|mph|°\s?[CF]?|deg|[CFK])(\s|$))/g, '$1')
		.split(/\s+/);
}

/** Names with their units: split at the separators, else before each known name; a second line holds units. */
function splitHeading(heading: string[]): string[] {
	const separator = [/[;\t]/, /,/].find((s) => s.test(heading[0]!));
	const split = (line: string) =>
		(separator ? line.split(separator) : line.split(/\s+(?=[a-z]{3,})/i)).map((c) => c.trim());
	const names = split(heading[0]!);
	const units = heading[1] === undefined ? [] : separator ? split(heading[1]) : heading[1].split(/\s+/);
	return names.map((name, i) => (units[i] ? `${name} (${units[i].replace(/[()[\]]/g, '')})` : name));
}

function levelsOf(
	rows: Row[],
	columns: Column[],
	format: Sounding['format'],
	heights: HeightReference,
	notes: string[]
): Result<Sounding> {
	if (rows.length > MOST_LEVELS)
		return refuse(`${rows.length} levels are too many; ${MOST_LEVELS} can be read.`);
	const levels: SoundingLevel[] = [];
	let empty = 0;
	for (const row of rows) {
		const read = levelOf(row, columns);
		if (!read.ok) return read;
		const level = read.value;
		if (level.temperatureK === undefined && level.speedMS === undefined) {
			empty++;
			continue;
		}
		if (format !== 'table') level.heightM = geometricHeightM(level.heightM);
		const before = levels[levels.length - 1]?.heightM ?? -Infinity;
		if (!(level.heightM > before)) {
			// Weather services print a level twice now and then, metres apart; a person's table is in order or wrong.
			if (format === 'table' || before - level.heightM > REPEAT_WITHIN_M)
				return refuse(
					`Line ${row.line}: its height is not above the one before. Put the levels in order from the ground up, each height once.`
				);
			notes.push(`Line ${row.line} repeats the level before it and is left out.`);
			continue;
		}
		levels.push(level);
	}
	if (levels.length === 0)
		return refuse(
			'No line with a height and a wind was found. Enter lines such as "300 240 6": height, direction, speed.'
		);
	if (empty > 0)
		notes.push(`${empty} ${empty === 1 ? 'level' : 'levels'} without wind and temperature left out.`);
	return ok({ format, heights, levels, notes });
}

function levelOf({ line, cells }: Row, columns: Column[]): Result<SoundingLevel> {
	const no = (why: string) => refuse(`Line ${line}: ${why}`);
	if (cells.length > columns.length)
		return no(`${cells.length} numbers where ${columns.length} are expected. Check the separators.`);
	const values = new Map<Column['field'], number>();
	for (const [i, column] of columns.entries()) {
		const cell = cells[i] ?? '';
		if (column.field === 'other' || cell === '' || /^(-+|\/+|nan|n\/a|m)$/i.test(cell)) continue;
		const [, digits, behind = ''] = /^([+-]?(?:\d+\.?\d*|\.\d+)(?:e[+-]?\d+)?)\s*(\D.*)?$/i.exec(cell) ?? [];
		const number = Number(digits);
		if (!Number.isFinite(number)) return no(`"${cell}" is not a number (${column.field}).`);
		const unit = behind === '' ? ok(column) : unitOfField(behind, column.field);
		if (!unit.ok) return no(`"${cell}": ${unit.error}.`);
		if (number <= -999 && (column.field !== 'height' || number === -999 || number === -9999)) continue;
		if (column.field === 'direction' && !(number >= 0 && number <= 360))
			return no(`the direction ${number} is not between 0 and 360 degrees.`);
		if (column.field === 'speed' && number < 0)
			return no(
				`the speed ${number} is negative. Directions say where the wind comes from, speeds are 0 or more.`
			);
		const { factor, offset } = column.field === 'direction' ? column : unit.value;
		values.set(column.field, number * factor + offset);
	}
	const heightM = values.get('height');
	if (heightM === undefined) return no('the height is missing.');
	const speedMS = values.get('speed');
	const direction = values.get('direction');
	const fromDeg = direction === undefined ? undefined : direction > 360 ? direction - 360 : direction;
	const [temperatureK, dewPointK, pressurePa] = [
		values.get('temperature'),
		values.get('dew point'),
		values.get('pressure')
	];
	if (!(heightM >= -1_000 && heightM <= 60_000))
		return no(`a height of ${Math.round(heightM)} m can't be right. Check the unit.`);
	if (speedMS !== undefined && speedMS > STRONGEST_WIND_M_S)
		return no(
			`a wind of ${Math.round(speedMS)} m/s can't be right. Check the unit and the order of the columns.`
		);
	if (temperatureK !== undefined && !(temperatureK > 150 && temperatureK < 335))
		return no(`a temperature of ${Math.round(temperatureK - 273.15)} °C can't be right. Check the unit.`);
	if (pressurePa !== undefined && !(pressurePa > 0 && pressurePa < 115_000))
		return no("the pressure can't be right. Check the unit.");
	// A speed without a direction, or the reverse, is no wind, except that still air needs no direction.
	const wind =
		speedMS === 0
			? { fromDeg: fromDeg ?? 0, speedMS }
			: fromDeg !== undefined && speedMS !== undefined
				? { fromDeg, speedMS }
				: {};
	return ok({
		heightM,
		...(pressurePa === undefined ? {} : { pressurePa }),
		...(temperatureK === undefined ? {} : { temperatureK }),
		...(dewPointK === undefined || !(dewPointK > 0) ? {} : { dewPointK }),
		...wind
	});
}

/** The levels with a wind, by height above the pad (levels under it stay, so that the pad lies between two). */
export function windLevels(sounding: Sounding, siteElevationM: number): WindLevel[] {
	const shiftM = sounding.heights === 'above the pad' ? 0 : -siteElevationM;
	return sounding.levels.flatMap(({ heightM, fromDeg, speedMS }) =>
		fromDeg === undefined || speedMS === undefined ? [] : [{ heightM: heightM + shiftM, fromDeg, speedMS }]
	);
}

/** The levels with a temperature, above sea level, for `makeAir`. */
export function airLevels(sounding: Sounding, siteElevationM: number): AirLevel[] {
	const shiftM = sounding.heights === 'above the pad' ? siteElevationM : 0;
	return sounding.levels.flatMap(({ heightM, temperatureK, dewPointK, pressurePa }) =>
		temperatureK === undefined
			? []
			: [
					{
						heightM: heightM + shiftM,
						temperatureK,
						...(pressurePa === undefined ? {} : { pressurePa }),
						...(pressurePa === undefined || dewPointK === undefined
							? {}
							: { virtualTemperatureK: virtualTemperatureK(temperatureK, dewPointK, pressurePa) })
					}
				]
	);
}
