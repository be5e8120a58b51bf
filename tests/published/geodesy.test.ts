import { describe, expect, it } from 'vitest';
import { distanceAndBearing, fromLocal, positionFrom, toLocal, type Position } from '$lib/physics/geodesy';

const at = (latitudeDeg: number, longitudeDeg: number): Position => ({ latitudeDeg, longitudeDeg });
const dms = (deg: number, min: number, sec: number) => deg + min / 60 + sec / 3600;
const turn = (deg: number) => (deg + 360) % 360;

describe('C. F. F. Karney, "Algorithms for geodesics", test set, rows of geographiclib-c tests/geodtest.c (seen; cut to what a double holds)', () => {
	it.each([
		[35.60777, -139.44815, -11.17491, -69.95921, 111.09874842956033, 129.28927088970877, 8935244.56048183],
		[55.52454, 106.05087, 77.03196, 197.18234, 22.0200598809828, 109.11204111067151, 4105086.171392441],
		[-50.56724, -16.30485, -33.56571, -94.97412, -105.43967990759016, -47.34854783565033, 6455670.511866869]
	])('%f, %f to %f, %f', (lat1, lon1, lat2, lon2, azi1, azi2, s12) => {
		const r = distanceAndBearing(at(lat1, lon1), at(lat2, lon2));
		expect(Math.abs(r.distanceM - s12)).toBeLessThan(1e-8);
		expect(Math.abs(r.bearingDeg - turn(azi1))).toBeLessThan(1e-12);
		expect(Math.abs(r.finalBearingDeg - turn(azi2))).toBeLessThan(1e-12);
		const end = positionFrom(at(lat1, lon1), azi1, s12);
		expect(Math.abs(end.latitudeDeg - lat2)).toBeLessThan(1e-12);
		expect(Math.abs(turn(end.longitudeDeg) - turn(lon2))).toBeLessThan(1e-12);
	});
});

describe('other lines (published, seen; two and the direct ones hand-worked with GeographicLib)', () => {
	// Geoscience Australia, GDA technical manual (in chrisveness/geodesy tests, seen; GRS 80, WGS 84 the same to 0.1 mm).
	it('Flinders Peak to Buninyong', () => {
		const r = distanceAndBearing(
			at(-dms(37, 57, 3.7203), dms(144, 25, 29.5244)),
			at(-dms(37, 39, 10.1561), dms(143, 55, 35.3839))
		);
		expect(Math.abs(r.distanceM - 54972.271)).toBeLessThan(0.001);
		expect(Math.abs(r.bearingDeg - dms(306, 52, 5.37)) * 3600).toBeLessThan(0.01);
		expect(Math.abs(turn(r.finalBearingDeg + 180) - dms(127, 10, 25.07)) * 3600).toBeLessThan(0.01);
	});
	// chrisveness/geodesy tests (seen), but for one degree of latitude and the near-antipode: computed with GeographicLib.
	it.each([
		[0, 0, 0, 1, 111319.491, 1e-3],
		[0, 0, 1, 0, 110574.389, 1e-3],
		[0, 0, 0.5, 179.5, 19936288.579, 1e-3],
		[0, 0, 0.5, 179.7, 19944127.421, 1e-3], // where Vincenty's series does not converge
		[0, 0, 1e-5, 1e-5, 1.569, 1e-3],
		[90, 0, -90, 0, 20003931.4586, 1e-4]
	])('%f, %f to %f, %f: %f m', (lat1, lon1, lat2, lon2, metres, tolerance) => {
		expect(Math.abs(distanceAndBearing(at(lat1, lon1), at(lat2, lon2)).distanceM - metres)).toBeLessThan(
			tolerance
		);
	});
	it('is nothing between a place and itself', () => {
		expect(distanceAndBearing(at(45, 7), at(45, 7)).distanceM).toBe(0);
	});
	// Derived; computed with GeographicLib 2.1.2.
	it.each([
		[0, 33.03508376, -106.97],
		[45, 33.02187333, -106.93215853],
		[90, 32.98998854, -106.91650333],
		[135, 32.95811504, -106.93218573],
		[180, 32.94491591, -106.97],
		[270, 32.98998854, -107.02349667]
	])('5000 m at %i degrees from 32.99 N 106.97 W', (bearing, latitudeDeg, longitudeDeg) => {
		const end = positionFrom(at(32.99, -106.97), bearing, 5000);
		expect(Math.abs(end.latitudeDeg - latitudeDeg)).toBeLessThan(1e-8);
		expect(Math.abs(end.longitudeDeg - longitudeDeg)).toBeLessThan(1e-8);
	});
});

// Derived from the ellipsoid's radii of curvature: M = a(1-e²)/W³, N = a/W.
describe('metres about a pad (hand-worked)', () => {
	it.each([
		[0, 110574.28, 111319.49],
		[32.99, 110904.28, 93463.76],
		[45, 111131.78, 78846.84],
		[60, 111412.29, 55800.0]
	])('a small step at latitude %f is worth %f and %f m per degree', (latitude, north, east) => {
		const local = toLocal(at(latitude, 7), at(latitude + 1e-3, 7));
		expect(Math.abs(local.northM * 1e3 - north)).toBeLessThan(0.02);
		expect(Math.abs(toLocal(at(latitude, 7), at(latitude, 7 + 1e-3)).eastM * 1e3 - east)).toBeLessThan(0.02);
	});
	it('agrees with the equirectangular map of the middle latitude to half a millimetre in 5 km', () => {
		for (const latitude of [0, 32.99, 45, 60])
			for (const bearing of [0, 45, 90, 135, 200, 300]) {
				const pad = at(latitude, 7);
				const place = positionFrom(pad, bearing, 5000);
				const middle = (((place.latitudeDeg + latitude) / 2) * Math.PI) / 180;
				const e2 = 2 / 298.257223563 - 1 / 298.257223563 ** 2;
				const w = Math.sqrt(1 - e2 * Math.sin(middle) ** 2);
				const north = ((((place.latitudeDeg - latitude) * Math.PI) / 180) * 6378137 * (1 - e2)) / w ** 3;
				const east = (((((place.longitudeDeg - 7) * Math.PI) / 180) * 6378137) / w) * Math.cos(middle);
				expect(Math.abs(Math.hypot(east, north) - 5000)).toBeLessThan(5e-4);
			}
	});
	it('comes back from metres to degrees', () => {
		const pad = at(32.99, -106.97);
		const place = fromLocal(pad, { eastM: -1234.5, northM: 678.9 });
		const local = toLocal(pad, place);
		expect(local.eastM).toBeCloseTo(-1234.5, 7);
		expect(local.northM).toBeCloseTo(678.9, 7);
	});
});
