import geodesic from 'geographiclib-geodesic';
import { requireFinite, requireNotNegative, requireRange } from './checks';

/** A place on WGS 84, degrees; north and east positive. */
export interface Position {
	latitudeDeg: number;
	longitudeDeg: number;
}

/** Metres east and north of a pad. */
export interface LocalPosition {
	eastM: number;
	northM: number;
}

const { WGS84 } = geodesic.Geodesic;
const RAD = Math.PI / 180;

/** A bearing brought into 0 to 360 degrees. */
export function normalBearingDeg(deg: number): number {
	requireFinite({ deg });
	return ((deg % 360) + 360) % 360;
}

/** True bearing of a compass reading; declination is positive where the needle points east of true north. */
export function trueBearingDeg(magneticDeg: number, declinationDeg: number): number {
	requireRange({ declinationDeg }, -180, 180);
	return normalBearingDeg(magneticDeg + declinationDeg);
}

/**
 * Shortest way from one place to another on WGS 84: metres, and the true bearing at each end, 0 to 360 degrees.
 * Good to 15 nm. Where the places coincide the bearing is 180 by convention and means nothing.
 * Source: C. F. F. Karney, "Algorithms for geodesics", J. Geodesy 87 (2013) 43-55, through GeographicLib.
 */
export function distanceAndBearing(
	from: Position,
	to: Position
): { distanceM: number; bearingDeg: number; finalBearingDeg: number } {
	requirePosition(from);
	requirePosition(to);
	const r = WGS84.Inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
	return {
		distanceM: r.s12!,
		bearingDeg: normalBearingDeg(r.azi1!),
		finalBearingDeg: normalBearingDeg(r.azi2!)
	};
}

/** The place at a distance and true bearing from another. Same source. */
export function positionFrom(from: Position, bearingDeg: number, distanceM: number): Position {
	requirePosition(from);
	requireFinite({ bearingDeg });
	requireNotNegative({ distanceM });
	const r = WGS84.Direct(from.latitudeDeg, from.longitudeDeg, bearingDeg, distanceM);
	return { latitudeDeg: r.lat2!, longitudeDeg: r.lon2! };
}

/**
 * Metres east and north of the pad, from the geodesic's length and bearing (an azimuthal equidistant plane): distance
 * and bearing from the pad are exact, distances between two pieces 5 km out are right to a millimetre.
 */
export function toLocal(pad: Position, place: Position): LocalPosition {
	const { distanceM, bearingDeg } = distanceAndBearing(pad, place);
	return { eastM: distanceM * Math.sin(bearingDeg * RAD), northM: distanceM * Math.cos(bearingDeg * RAD) };
}

/** The inverse of `toLocal`. */
export function fromLocal(pad: Position, { eastM, northM }: LocalPosition): Position {
	requireFinite({ eastM, northM });
	return positionFrom(pad, Math.atan2(eastM, northM) / RAD, Math.hypot(eastM, northM));
}

function requirePosition({ latitudeDeg, longitudeDeg }: Position): void {
	requireRange({ latitudeDeg }, -90, 90);
	requireRange({ longitudeDeg }, -540, 540);
}
