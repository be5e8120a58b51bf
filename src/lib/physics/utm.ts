import { ok, refuse, type Result } from '$lib/quantity/result';
import type { Position } from './geodesy';

/**
 * Universal Transverse Mercator on WGS 84, backward only: positions are shown in degrees.
 * Source: C. F. F. Karney, "Transverse Mercator with an accuracy of a few nanometers", J. Geodesy 85 (2011),
 * eqs. 14, 23 and 36 to fourth order (under a micrometre within a zone).
 */
const A = 6_378_137;
const F = 1 / 298.257223563;
const N = F / (2 - F);
const E2 = F * (2 - F);
const RECTIFYING_RADIUS = (A / (1 + N)) * (1 + N ** 2 / 4 + N ** 4 / 64);
const BETA = [
	N / 2 - (2 / 3) * N ** 2 + (37 / 96) * N ** 3 - N ** 4 / 360,
	N ** 2 / 48 + N ** 3 / 15 - (437 / 1440) * N ** 4,
	(17 / 480) * N ** 3 - (37 / 840) * N ** 4,
	(4397 / 161_280) * N ** 4
];
const SCALE = 0.9996;
const RAD = Math.PI / 180;

/** Latitude bands of 8 degrees from 80 S; the last, X, has 12. */
export const BANDS = 'CDEFGHJKLMNPQRSTUVWX';
export const bandSouthDeg = (band: string): number => -80 + 8 * BANDS.indexOf(band);

/** @param northingM counted from the equator northward, or with 10 000 km added where `south` */
export function positionFromUtm(
	zone: number,
	south: boolean,
	eastingM: number,
	northingM: number
): Result<Position> {
	if (!(zone >= 1 && zone <= 60)) return refuse(`UTM zones run from 1 to 60, not ${zone}.`);
	if (!(eastingM >= 100_000 && eastingM < 1_000_000))
		return refuse(`A UTM easting lies between 100 000 and 1 000 000 m, not ${eastingM}.`);
	if (!(northingM >= 0 && northingM <= 10_000_000))
		return refuse(`A UTM northing lies between 0 and 10 000 000 m, not ${northingM}.`);
	const xi = (northingM - (south ? 10_000_000 : 0)) / (SCALE * RECTIFYING_RADIUS);
	const eta = (eastingM - 500_000) / (SCALE * RECTIFYING_RADIUS);
	let xi1 = xi;
	let eta1 = eta;
	BETA.forEach((beta, i) => {
		const j = 2 * (i + 1);
		xi1 -= beta * Math.sin(j * xi) * Math.cosh(j * eta);
		eta1 -= beta * Math.cos(j * xi) * Math.sinh(j * eta);
	});
	const tauConformal = Math.sin(xi1) / Math.hypot(Math.sinh(eta1), Math.cos(xi1));
	const latitudeDeg = Math.atan(geographicTan(tauConformal)) / RAD;
	const longitudeDeg = zone * 6 - 183 + Math.atan2(Math.sinh(eta1), Math.cos(xi1)) / RAD;
	if (!(latitudeDeg >= -80.5 && latitudeDeg <= 84.5))
		return refuse(`This UTM northing lies at latitude ${latitudeDeg.toFixed(1)}; UTM ends at 80 S and 84 N.`);
	return ok({ latitudeDeg, longitudeDeg: ((longitudeDeg + 540) % 360) - 180 });
}

/** tan of the latitude from tan of the conformal latitude, by Newton's method (Karney 2011, eqs. 19-21). */
function geographicTan(tauConformal: number): number {
	const e = Math.sqrt(E2);
	let tau = tauConformal;
	for (let i = 0; i < 5; i++) {
		const sigma = Math.sinh(e * Math.atanh((e * tau) / Math.hypot(1, tau)));
		const trial = tau * Math.hypot(1, sigma) - sigma * Math.hypot(1, tau);
		tau +=
			((tauConformal - trial) / Math.hypot(1, trial)) *
			((1 + (1 - E2) * tau ** 2) / ((1 - E2) * Math.hypot(1, tau)));
	}
	return tau;
}

const COLUMNS = ['STUVWXYZ', 'ABCDEFGH', 'JKLMNPQR'];
const ROWS = 'ABCDEFGHJKLMNPQRSTUV';

/**
 * The middle of a square of the Military Grid Reference System, with the side of the square.
 * Source: NGA.SIG.0012 (2014), lettering scheme AA, from memory; checked on worked examples.
 */
export function positionFromMgrs(
	zone: number,
	band: string,
	square: string,
	digits: string
): Result<Position & { sideM: number }> {
	if (!(zone >= 1 && zone <= 60)) return refuse(`Grid zones run from 1 to 60, not ${zone}.`);
	const column = COLUMNS[zone % 3]!.indexOf(square[0]!);
	const row = ROWS.indexOf(square[1]!);
	if (column < 0 || row < 0)
		return refuse(`Zone ${zone} has no 100 km square "${square}". Check the letters of the grid reference.`);
	if (digits.length % 2 !== 0 || digits.length > 10)
		return refuse(`A grid reference ends in an even number of digits, up to ten, not ${digits.length}.`);
	const half = digits.length / 2;
	const sideM = 10 ** (5 - half);
	const eastingM = (column + 1) * 100_000 + Number(digits.slice(0, half)) * sideM + sideM / 2;
	const withinM =
		((row + (zone % 2 === 0 ? 15 : 0)) % 20) * 100_000 + Number(digits.slice(half)) * sideM + sideM / 2;
	// Row letters repeat every 2000 km; the band says which time round.
	const southDeg = bandSouthDeg(band);
	const northDeg = band === 'X' ? 84 : southDeg + 8;
	for (let northingM = withinM; northingM < 10_000_000; northingM += 2_000_000) {
		const place = positionFromUtm(zone, southDeg < 0, eastingM, northingM);
		if (!place.ok) continue;
		const slackDeg = 0.1 + sideM / 100_000;
		if (place.value.latitudeDeg >= southDeg - slackDeg && place.value.latitudeDeg <= northDeg + slackDeg)
			return ok({ ...place.value, sideM });
	}
	return refuse(`Square "${square}" does not lie in band ${band} of zone ${zone}. Check the letters.`);
}
