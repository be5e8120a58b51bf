import { ok, refuse, type Result } from '$lib/quantity/result';
import type { Position } from './geodesy';

/** The GPS fields of a photo as an EXIF reader hands them over; nothing is trusted. */
export interface ExifGps {
	/** Three rationals, each numerator and denominator: degrees, minutes, seconds. */
	latitude: unknown;
	latitudeRef: unknown;
	longitude: unknown;
	longitudeRef: unknown;
	/** One rational; its reference is a byte, 1 below sea level. */
	altitude?: unknown;
	altitudeRef?: unknown;
}

export interface PhotoPosition extends Position {
	/** Above sea level (or the ellipsoid: phones differ, by up to 100 m); absent where not recorded. */
	altitudeM?: number;
}

/**
 * The position in a photo's GPS tag. Minutes may carry decimals with zero seconds (the dd/1, mmmm/100, 0/1 form).
 * A broken field is refused, never read as 0 or as N or E. Source: EXIF 2.3 (CIPA DC-008), GPS attributes.
 */
export function positionFromExif(gps: ExifGps): Result<PhotoPosition> {
	const latitude = readAxis(gps.latitude, gps.latitudeRef, 'latitude', ['N', 'S'], 90);
	if (!latitude.ok) return latitude;
	const longitude = readAxis(gps.longitude, gps.longitudeRef, 'longitude', ['E', 'W'], 180);
	if (!longitude.ok) return longitude;
	if (latitude.value === 0 && longitude.value === 0)
		return refuse("The photo's GPS tag says 0, 0: the phone had no fix. Enter the position by hand.");
	const altitudeM = readAltitude(gps.altitude, gps.altitudeRef);
	return ok({
		latitudeDeg: latitude.value,
		longitudeDeg: longitude.value,
		...(altitudeM === undefined ? {} : { altitudeM })
	});
}

function readAxis(
	value: unknown,
	ref: unknown,
	name: string,
	letters: readonly [string, string],
	limitDeg: number
): Result<number> {
	const broken = (why: string) => refuse(`The photo's GPS ${name} ${why}. Enter the position by hand.`);
	const letter = (Array.isArray(ref) ? String(ref[0]) : typeof ref === 'string' ? ref : '')
		.trim()
		.toUpperCase()[0];
	if (letter === undefined || !letters.includes(letter))
		return broken(`does not say ${letters[0]} or ${letters[1]}`);
	if (!Array.isArray(value) || value.length !== 3) return broken('does not have its three numbers');
	const parts = value.map(rational);
	if (parts.some((p) => p === undefined))
		return broken('has a number that is not a fraction (a zero under the line)');
	const [deg, min, sec] = parts as [number, number, number];
	if (min >= 60 || sec >= 60) return broken('has minutes or seconds of 60 or more');
	const size = deg + min / 60 + sec / 3600;
	if (size > limitDeg) return broken(`is ${size.toFixed(4)}, which is out of range`);
	return ok(letter === letters[1] ? -size : size);
}

function readAltitude(value: unknown, ref: unknown): number | undefined {
	const size = rational(Array.isArray(value) && Array.isArray(value[0]) ? (value as unknown[])[0] : value);
	const below: unknown =
		Array.isArray(ref) || ref instanceof Uint8Array ? (ref as ArrayLike<unknown>)[0] : ref;
	return size === undefined ? undefined : Number(below) === 1 ? -size : size;
}

/** The value of a numerator and denominator, none negative; undefined where it is not one. */
function rational(pair: unknown): number | undefined {
	if (!Array.isArray(pair) || pair.length !== 2) return undefined;
	const [top, under] = pair as unknown[];
	if (typeof top !== 'number' || typeof under !== 'number') return undefined;
	return under > 0 && top >= 0 && Number.isFinite(top / under) ? top / under : undefined;
}
