import { ok, refuse, type Result } from '$lib/quantity/result';
import { type Angle, type Axis, parseAngle } from './angle';
import type { Position } from './geodesy';
import { BANDS, bandSouthDeg, positionFromMgrs, positionFromUtm } from './utm';

/** A position as read from what a person wrote. */
export interface ReadPosition extends Position {
	/** What one step of the last written digit is worth on the ground, m: no position is better than that. */
	resolutionM: number;
	/** How it was read, to echo. */
	notation: 'degrees' | 'UTM' | 'grid reference';
	/** Where neither letter nor sign says which half of the globe is meant: taken as N, as E. */
	assumed?: {
		axes: readonly Axis[];
		/** Latitude and longitude as written, to put letters to. */
		halves: readonly [string, string];
	};
}

const EXAMPLES = 'such as 45.76260 N, 4.83570 E or 45° 45.756′ N 4° 50.142′ E';

/**
 * Reads a position in any usual notation: decimal degrees, degrees and minutes, degrees, minutes and seconds, with
 * any marks, letters before or after, signs, comma, semicolon or blank between; ISO 6709, geo: addresses (RFC 5870),
 * UTM and MGRS on WGS 84. Latitude comes first unless letters say otherwise.
 */
export function parsePosition(text: unknown): Result<ReadPosition> {
	if (typeof text !== 'string' || text.trim() === '') return refuse(`Enter a position, ${EXAMPLES}.`);
	if (text.length > 200) return refuse(`This is too long for a position. Enter one ${EXAMPLES}.`);
	return readGrid(text) ?? readDegrees(text);
}

function readDegrees(text: string): Result<ReadPosition> {
	const plain = normalise(text);
	if (/\bO\b|\dO\b/.test(plain))
		return refuse('The letter O means west in some languages and east in others. Write W or E.');
	const parts = splitPair(plain);
	if (!parts)
		return refuse(`"${text.trim()}" is not read as a latitude and a longitude. Enter both, ${EXAMPLES}.`);
	const angles: Angle[] = [];
	for (const part of parts) {
		const angle = parseAngle(part);
		if (!angle.ok) return angle;
		angles.push(angle.value);
	}
	let [latitude, longitude] = angles as [Angle, Angle];
	if (latitude.axis !== undefined && latitude.axis === longitude.axis)
		return refuse(`Both numbers are marked as ${latitude.axis}. One must be N or S, the other E or W.`);
	const swapped = latitude.axis === 'longitude' || longitude.axis === 'latitude';
	if (swapped) [latitude, longitude] = [longitude, latitude];
	const place = checked(latitude, longitude);
	const axes: Axis[] = [];
	if (isUnsaid(latitude, longitude)) axes.push('latitude');
	if (isUnsaid(longitude, latitude)) axes.push('longitude');
	if (!place.ok || axes.length === 0) return place;
	const [a, b] = parts.map((part) => part.replace(/[φλ]/g, '').trim()) as [string, string];
	return ok({ ...place.value, assumed: { axes, halves: swapped ? [b, a] : [a, b] } });
}

/** Decimal degrees are signed by custom, and so is a pair with a sign; degrees and minutes are not. */
const isUnsaid = (angle: Angle, other: Angle): boolean =>
	angle.parts > 1 && angle.said === null && other.said !== 'sign';

function checked(latitude: Angle, longitude: Angle): Result<ReadPosition> {
	if (Math.abs(latitude.deg) > 90)
		return refuse(
			`Latitude ${trim(latitude.deg)} is beyond the pole: it runs from 90 S to 90 N.` +
				(Math.abs(longitude.deg) <= 90 && latitude.axis === undefined
					? ' If the longitude came first, write the letters N or S and E or W.'
					: ' Check the digits.')
		);
	if (Math.abs(longitude.deg) > 180)
		return refuse(
			`Longitude ${trim(longitude.deg)} is out of range: it runs from 180 W to 180 E. Check the digits.`
		);
	const resolutionM = Math.max(
		latitude.stepDeg * 111_200,
		longitude.stepDeg * 111_320 * Math.cos((latitude.deg * Math.PI) / 180)
	);
	return ok({ latitudeDeg: latitude.deg, longitudeDeg: longitude.deg, resolutionM, notation: 'degrees' });
}

const trim = (x: number) => String(Number(x.toFixed(6)));

/** One spelling for marks, signs, names and number forms; axis names become the letters N and E after their number. */
function normalise(text: string): string {
	return text
		.trim()
		.replace(/^geo:([^;?]*).*$/i, '$1')
		.replace(
			/^([+-]\d+(?:\.\d+)?)([+-]\d+(?:\.\d+)?)(?:[+-]\d+(?:\.\d+)?)?(?:CRS.*)?\/?$/i,
			(_, a: string, b: string) => `${iso6709(a, 2)}, ${iso6709(b, 3)}`
		)
		.replace(/[−–—‐‑]/g, '-')
		.replace(/\b(?:deg(?:rees?)?)\b\.?|(?<=\d\s*)deg\b|[°º˚∘*]/gi, '°')
		.replace(/(?<=\d\s*)min(?:utes?)?\b\.?/gi, "'")
		.replace(/(?<=\d\s*)sec(?:onds?)?\b\.?/gi, '"')
		.replace(/["″”“„ʺ]|[''′’‘ʹ`´]{2}/g, '"')
		.replace(/['′’‘ʹ`´]/g, "'")
		.replace(/(\d),(\d+)(?=\s*['"°NSEW])/g, (all, a: string, b: string) =>
			text.includes('.') ? all : `${a}.${b}`
		)
		.replace(/\b(north|south|east|west)\b/gi, (word) => word[0]!.toUpperCase())
		.replace(/\blat(?:itude)?\b\.?\s*[:=]?\s*/gi, ' φ')
		.replace(/\b(?:lon(?:g(?:itude)?)?|lng)\b\.?\s*[:=]?\s*/gi, ' λ')
		.replace(/[nsewo]/g, (letter) => letter.toUpperCase())
		.replace(/^[([{]\s*|\s*[)\]}]$/g, '')
		.replace(/\s+/g, ' ')
		.trim();
}

/** ISO 6709: ±DD.D, ±DDMM.M or ±DDMMSS.S, with one more digit of degrees for longitude. */
function iso6709(value: string, degreeDigits: number): string {
	const [whole = '', fraction] = value.slice(1).split('.');
	const tail = fraction === undefined ? '' : `.${fraction}`;
	const fields = [
		whole.slice(0, degreeDigits),
		whole.slice(degreeDigits, degreeDigits + 2),
		whole.slice(degreeDigits + 2)
	];
	return whole.length <= degreeDigits ? value : value[0]! + fields.filter(Boolean).join(' ') + tail;
}

/** The two halves of a pair, or nothing where it can't be told. */
function splitPair(text: string): [string, string] | undefined {
	const halves = (a: string, b: string): [string, string] => [a.trim(), b.trim()];
	// Decimal commas are told from a separating comma by what stands around them.
	const commas = /^(-?\d+,\d+°?\s*[NSEW]?)(?:\s*[;/]\s*|\s*,\s+|\s+)(-?\d+,\d+°?\s*[NSEW]?)$/.exec(text);
	if (commas) return halves(commas[1]!.replace(',', '.'), commas[2]!.replace(',', '.'));
	const bySeparator = text.split(/[;,/]/).filter((part) => part.trim() !== '');
	if (bySeparator.length === 2) return halves(bySeparator[0]!, bySeparator[1]!);
	if (bySeparator.length !== 1) return undefined;

	const one = bySeparator[0]!.trim();
	const labelled = /^(?=[φλ])(.+?)(?=[φλ](?!.*[φλ]))(.+)$/.exec(one);
	if (labelled) return halves(labelled[1]!, labelled[2]!);
	const letters = [...one.matchAll(/[NSEW]/g)];
	if (letters.length === 2) {
		const at = letters[0]!.index === 0 ? letters[1]!.index : letters[0]!.index + 1;
		return halves(one.slice(0, at), one.slice(at));
	}
	if (letters.length > 0) return undefined;
	const degrees = [...one.matchAll(/[+-]?\s*\d+(?:\.\d+)?\s*°/g)];
	if (degrees.length === 2) return halves(one.slice(0, degrees[1]!.index), one.slice(degrees[1]!.index));
	const numbers = one.split(' ');
	if (numbers.length % 2 !== 0 || numbers.length > 6) return undefined;
	const middle = numbers.length / 2;
	return halves(numbers.slice(0, middle).join(' '), numbers.slice(middle).join(' '));
}

/** UTM or a grid reference; nothing where the text is neither. */
function readGrid(text: string): Result<ReadPosition> | undefined {
	const plain = text.trim().toUpperCase().replace(/\s+/g, ' ');
	const mgrs = /^(\d{1,2}) ?([A-Z]) ?([A-Z]{2}) ?(\d*) ?(\d*)$/.exec(plain);
	if (mgrs) {
		const [, zone, band, square, east, north] = mgrs as unknown as string[];
		if (!BANDS.includes(band!))
			return refuse(`Band letter ${band} is not used; bands run from C to X without I and O.`);
		if (north !== '' && east!.length !== north!.length)
			return refuse('The two numbers of a grid reference have the same number of digits. Check them.');
		const place = positionFromMgrs(Number(zone), band!, square!, east! + north!);
		if (!place.ok) return place;
		const { sideM, ...position } = place.value;
		return ok({ ...position, resolutionM: sideM, notation: 'grid reference' });
	}
	const utm =
		/^(?:UTM )?(?:ZONE )?(\d{1,2}) ?([A-Z]|NORTH|SOUTH),? (\d+(?:\.\d+)?) ?M? ?E?,? (\d+(?:\.\d+)?) ?M? ?N?$/.exec(
			plain
		);
	if (!utm || Number(utm[3]) < 1000) return undefined;
	const [, zone, letter, easting, northing] = utm as unknown as [string, string, string, string, string];
	const hemisphere = hemisphereOf(letter, Number(northing));
	if (!hemisphere.ok) return hemisphere;
	const place = positionFromUtm(
		Number(zone),
		hemisphere.value === 'south',
		Number(easting),
		Number(northing)
	);
	if (!place.ok) return place;
	const decimals = Math.min(...[easting, northing].map((v) => v.split('.')[1]?.length ?? 0));
	return ok({ ...place.value, resolutionM: 10 ** -decimals, notation: 'UTM' });
}

/** N and S may be meant as hemispheres or as bands (S is a northern one). */
function hemisphereOf(letter: string, northingM: number): Result<'north' | 'south'> {
	if (letter === 'NORTH' || letter === 'N') return ok('north');
	if (letter === 'SOUTH') return ok('south');
	if (!BANDS.includes(letter))
		return refuse(`Band letter ${letter} is not used; bands run from C to X without I and O.`);
	if (letter !== 'S') return ok(bandSouthDeg(letter) < 0 ? 'south' : 'north');
	// Band S lies between 32 and 40 N: northings of 3 540 to 4 431 km.
	if (northingM > 3_500_000 && northingM < 4_450_000)
		return refuse(
			'The letter S can mean band S or the southern hemisphere here. Write "north" or "south" instead.'
		);
	return ok('south');
}

export type PositionStyle = 'decimal' | 'minutes' | 'seconds';

/** A position in words of the chart; decimals default to about a decimetre. */
export function formatPosition(place: Position, style: PositionStyle = 'decimal'): string {
	const { latitudeDeg, longitudeDeg } = place;
	return `${formatAngle(latitudeDeg, 'NS', style)}, ${formatAngle(longitudeDeg, 'EW', style)}`;
}

function formatAngle(deg: number, letters: 'NS' | 'EW', style: PositionStyle): string {
	const letter = deg < 0 ? letters[1] : letters[0];
	const size = Math.abs(deg);
	if (style === 'decimal') return `${size.toFixed(6)}° ${letter}`;
	// Rounded once, in the last field's own steps, so that 60 never shows.
	const perDegree = style === 'minutes' ? 60 : 3600;
	const decimals = style === 'minutes' ? 4 : 2;
	const steps = Math.round(size * perDegree * 10 ** decimals);
	const whole = Math.floor(steps / (perDegree * 10 ** decimals));
	const rest = (steps - whole * perDegree * 10 ** decimals) / 10 ** decimals;
	if (style === 'minutes') return `${whole}° ${rest.toFixed(4).padStart(7, '0')}′ ${letter}`;
	const minutes = Math.floor(rest / 60);
	const seconds = (rest - minutes * 60).toFixed(2).padStart(5, '0');
	return `${whole}° ${String(minutes).padStart(2, '0')}′ ${seconds}″ ${letter}`;
}
