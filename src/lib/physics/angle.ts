import { ok, refuse, type Result } from '$lib/quantity/result';

export type Axis = 'latitude' | 'longitude';

/** One latitude or longitude as read. */
export interface Angle {
	deg: number;
	/** Which of the two it is, where a letter or a name said so. */
	axis: Axis | undefined;
	/** What says on which side of equator or meridian it lies. */
	said: 'letter' | 'sign' | null;
	/** 2 for degrees and minutes, 3 with seconds. */
	parts: number;
	/** One step of the last written digit, degrees. */
	stepDeg: number;
}

/** φ and λ stand for the names latitude and longitude. */
const ANGLE =
	/^([φλ]?)\s*([NSEW]?)\s*([+-]?)\s*(\d+(?:\.\d*)?|\.\d+)\s*(°?)(?:\s*(\d+(?:\.\d*)?)\s*('?)(?:\s*(\d+(?:\.\d*)?)\s*("?))?)?\s*([NSEW]?)$/;

/**
 * Reads one angle in normalised marks: degrees, degrees and minutes, or degrees, minutes and seconds, with a sign or
 * a letter before or after; also the run-together DDMM.mmm of receivers where a letter says it is one.
 */
export function parseAngle(text: string): Result<Angle> {
	const shown = text.replace(/φ/g, 'latitude ').replace(/λ/g, 'longitude ').trim();
	const match = ANGLE.exec(text.trim());
	if (!match)
		return refuse(
			`"${shown}" is not read as an angle. Enter it such as 45.7626 or 45° 45.756′ or 45° 45′ 45.36″.`
		);
	const [, name, before, sign, first, , second, , third, , after] = match as unknown as (
		string | undefined
	)[];
	if (before && after) return refuse(`"${shown}" has a letter before and after. Keep one.`);
	const letter = before || after || '';
	if (sign === '-' && letter)
		return refuse(`"${shown}" has a minus sign and the letter ${letter}. Keep one of the two.`);
	const axis = letter ? (/[NS]/.test(letter) ? 'latitude' : 'longitude') : axisOf(name);
	if (letter && name && axisOf(name) !== axis)
		return refuse(`"${shown}" has the letter ${letter}, which is not its ${axisOf(name)}.`);

	let fields = [first, second, third].filter((f): f is string => f !== undefined);
	if (fields.length === 1 && letter && /^\d{4,5}(\.|$)/.test(fields[0]!)) {
		const [whole, fraction] = fields[0]!.split('.');
		fields = [whole!.slice(0, -2), whole!.slice(-2) + (fraction ? `.${fraction}` : '')];
	}
	for (const [i, field] of fields.entries()) {
		if (i < fields.length - 1 && field.includes('.'))
			return refuse(`In "${shown}" only the last number may have decimals. Check the separator.`);
		if (i > 0 && Number(field) >= 60)
			return refuse(`In "${shown}" the ${i === 1 ? 'minutes' : 'seconds'} must be below 60, not ${field}.`);
	}
	const size = fields.reduce((sum, field, i) => sum + Number(field) / 60 ** i, 0);
	const last = fields[fields.length - 1]!;
	const decimals = last.split('.')[1]?.length ?? 0;
	return ok({
		deg: sign === '-' || letter === 'S' || letter === 'W' ? -size : size,
		axis,
		said: letter ? 'letter' : sign ? 'sign' : null,
		parts: fields.length,
		stepDeg: 10 ** -decimals / 60 ** (fields.length - 1)
	});
}

const axisOf = (name: string | undefined) =>
	name === 'φ' ? 'latitude' : name === 'λ' ? 'longitude' : undefined;
