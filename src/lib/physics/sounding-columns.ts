import { ok, refuse, type Result } from '$lib/quantity/result';
import { readUnit } from '$lib/quantity/units';

/** What a column holds and how its numbers become SI. */
export interface Column {
	field: 'height' | 'direction' | 'speed' | 'temperature' | 'dew point' | 'pressure' | 'other';
	factor: number;
	offset: number;
}

const NAMES: readonly [RegExp, Exclude<Column['field'], 'other'>][] = [
	[/^(dew|dwpt|td\b)/i, 'dew point'],
	[/^(h(eigh)?t|hght|hgt|alt|elev|z\b|h\b)/i, 'height'],
	[/^(wind ?)?(dir|drct|wdir|from|bearing)|^wdir/i, 'direction'],
	[/^(wind ?)?(sp(ee)?d|sknt|sped|wspd|velocity|v\b)|^wind\b|^ws\b/i, 'speed'],
	[/^(temp|t\b)/i, 'temperature'],
	[/^(pres|p\b)/i, 'pressure']
];
const DEFAULT_UNIT = {
	height: 'm',
	speed: 'm/s',
	temperature: '°C',
	'dew point': '°C',
	pressure: 'hPa'
} as const;

/** A unit as it stands in a heading or behind a number, as factor and offset to SI. Directions stay in degrees. */
export function unitOfField(
	unit: string,
	field: Exclude<Column['field'], 'other'>
): Result<{ factor: number; offset: number }> {
	if (field === 'direction')
		return /^(°|deg\.?|degrees?)$/i.test(unit)
			? ok({ factor: 1, offset: 0 })
			: refuse(`a direction is in degrees, not in "${unit}"`);
	const dimension = field === 'height' ? 'length' : field === 'dew point' ? 'temperature' : field;
	return readUnit(unit, dimension);
}

/** Columns from their headings, each a name with its unit behind it or in brackets. */
export function readColumns(headings: readonly string[]): Result<Column[]> {
	const columns: Column[] = [];
	for (const heading of headings) {
		const words = heading.replace(/[_:=]/g, ' ').trim();
		const [name, field] = NAMES.find(([pattern]) => pattern.test(words)) ?? [];
		if (!name || !field) {
			columns.push({ field: 'other', factor: 1, offset: 0 });
			continue;
		}
		if (columns.some((c) => c.field === field))
			return refuse(`The heading names the ${field} twice. Keep one column of it.`);
		if (field === 'direction') {
			// The trade says where wind comes from; a table that says where it goes is turned round.
			const toward = /\b(to|toward|towards)\b/i.test(words);
			columns.push({ field, factor: 1, offset: toward ? 180 : 0 });
			continue;
		}
		const unit = unitIn(words) ?? DEFAULT_UNIT[field];
		const read = unitOfField(unit, field);
		if (!read.ok) return refuse(`In the heading "${heading.trim()}": ${read.error}.`);
		columns.push({ field, factor: read.value.factor, offset: read.value.offset });
	}
	if (!columns.some((c) => c.field === 'height'))
		return refuse(
			'The heading names no height. Name the columns such as "height (m), direction (deg), speed (m/s)".'
		);
	return ok(columns);
}

/** The unit in brackets, else the last word where it isn't part of the name. */
function unitIn(words: string): string | undefined {
	const bracketed = /[([]\s*([^)\]]*?)\s*[)\]]/.exec(words);
	if (bracketed) return bracketed[1] || undefined;
	const rest = words
		.split(/\s+/)
		.slice(1)
		.filter(
			(w) =>
				!/^(above|the|pad|ground|sea|level|agl|a?msl|asl|speed|direction|from|to|towards?|in|point)$/i.test(w)
		);
	return rest[rest.length - 1];
}
