import { describe, expect, it } from 'vitest';
import { parsePosition } from '$lib/physics/coordinates';
import { positionFromExif } from '$lib/physics/exif-position';

const read = (text: string) => {
	const r = parsePosition(text);
	if (!r.ok) throw new Error(r.error);
	return r.value;
};

describe('notations of one angle, chrisveness/geodesy test/dms-tests.js (seen there)', () => {
	const forms = [
		'45.76260',
		'45.76260°',
		'45 45.756',
		"45° 45.756'",
		'45° 45.756′',
		'45°45.756′',
		'45 45 45.36',
		'45º45\'45.36"',
		'45º 45’ 45.36”',
		'45°45’45.36”',
		'45° 45′ 45.36″',
		'45 ° 45 ′ 45.36 ″'
	];
	it.each(forms)('%s', (form) => {
		// Exact but for the last bit of the sum of the fields.
		for (const [latitude, sign] of [
			[form, 1],
			[`-${form}`, -1],
			[`−${form}`, -1],
			[`${form}S`, -1],
			[`${form} S`, -1],
			[`S ${form}`, -1],
			[`${form} N`, 1],
			[`N${form}`, 1]
		] as const)
			expect(read(`${latitude}, 7`).latitudeDeg).toBeCloseTo(sign * 45.7626, 12);
		expect(read(`7, ${form} W`).longitudeDeg).toBeCloseTo(-45.7626, 12);
		expect(read(`7, ${form}E`).longitudeDeg).toBeCloseTo(45.7626, 12);
	});
	it.each(['0 0 0 0, 1', 'xxx', '', null, false, true, {}, [], undefined, 7])('%j is refused', (value) => {
		expect(parsePosition(value).ok).toBe(false);
	});
	// Own arithmetic: the sign must survive a zero degree field.
	it('-0 30 15 is -0.504166667', () => {
		expect(read('-0 30 15, 0 0 0').latitudeDeg).toBeCloseTo(-0.504166667, 9);
	});
});

describe('EXIF rationals (forms published, seen; values from memory; arithmetic hand-worked)', () => {
	const read = (gps: Parameters<typeof positionFromExif>[0]) => {
		const r = positionFromExif(gps);
		if (!r.ok) throw new Error(r.error);
		return r.value;
	};
	// Values of a public sample image, from memory; the arithmetic is exact.
	it('degrees, minutes, seconds', () => {
		const place = read({
			latitude: [
				[43, 1],
				[28, 1],
				[281400000, 100000000]
			],
			latitudeRef: 'N',
			longitude: [
				[11, 1],
				[53, 1],
				[645599999, 100000000]
			],
			longitudeRef: ['E']
		});
		expect(place.latitudeDeg).toBeCloseTo(43.46744833, 8);
		expect(place.longitudeDeg).toBeCloseTo(11.88512667, 8);
	});
	// The second form that the EXIF attribute reference allows (GDI+ property reference, seen): dd/1, mmmm/100, 0/1.
	it('decimal minutes with zero seconds', () => {
		const place = read({
			latitude: [
				[43, 1],
				[2804, 100],
				[0, 1]
			],
			latitudeRef: 'S',
			longitude: [
				[11, 1],
				[5311, 100],
				[0, 1]
			],
			longitudeRef: 'W'
		});
		expect(place.latitudeDeg).toBeCloseTo(-43.46733, 5);
		expect(place.longitudeDeg).toBeCloseTo(-11.88517, 5);
	});
	// GPSAltitudeRef is a byte, 1 = below sea level (libexif's tag description, seen).
	it.each([
		[0, 86.5],
		[1, -86.5],
		[[1], -86.5],
		[undefined, 86.5]
	])('altitude reference %j', (altitudeRef, expected) => {
		const axis = [
			[1, 1],
			[0, 1],
			[0, 1]
		];
		const place = read({
			latitude: axis,
			latitudeRef: 'N',
			longitude: axis,
			longitudeRef: 'E',
			altitude: [173, 2],
			altitudeRef
		});
		expect(place.altitudeM).toBe(expected);
	});
});

describe('UTM and MGRS (published; from memory)', () => {
	// Map Grid of Australia coordinates of the line in the GDA technical manual (from memory; GRS 80, here within 0.1 mm;
	// both confirmed with PROJ).
	it.each([
		['55 south 273741.297 5796489.777', -(37 + 57 / 60 + 3.7203 / 3600), 144 + 25 / 60 + 29.5244 / 3600],
		['55H 228854.051E 5828259.038N', -(37 + 39 / 60 + 10.1561 / 3600), 143 + 55 / 60 + 35.3839 / 3600]
	])('%s', (text, latitudeDeg, longitudeDeg) => {
		const place = read(text);
		expect(place.notation).toBe('UTM');
		expect(place.latitudeDeg).toBeCloseTo(latitudeDeg, 7);
		expect(place.longitudeDeg).toBeCloseTo(longitudeDeg, 7);
	});
	// chrisveness/geodesy, worked example of the documentation (from memory; the UTM part confirmed with PROJ).
	it('31 N 448251.795 5411932.678 and 31U DQ 48251 11932', () => {
		const utm = read('31 N 448251.795 5411932.678');
		expect(utm.latitudeDeg).toBeCloseTo(48.8582, 7);
		expect(utm.longitudeDeg).toBeCloseTo(2.2945, 7);
		const grid = read('31U DQ 48251 11932');
		expect(grid.resolutionM).toBe(1);
		expect(grid.latitudeDeg).toBeCloseTo(48.8582, 5);
		expect(grid.longitudeDeg).toBeCloseTo(2.2945, 5);
	});
	// The customary example of the grid, on Oahu (from memory); its degrees by PROJ from zone 4, 612345.5, 2367890.5.
	it('4QFJ1234567890, in a zone of even number', () => {
		const grid = read('4QFJ1234567890');
		expect(grid.latitudeDeg).toBeCloseTo(21.4098011578, 7);
		expect(grid.longitudeDeg).toBeCloseTo(-157.9160763175, 7);
	});
});

describe('what the last digit is worth (hand-worked from the WGS 84 axes)', () => {
	it.each([
		['45.00001, 0.00001', 1.11],
		['45 0.001, 0 0.001', 1.85],
		['45 0 1, 0 0 1', 30.9]
	])('%s: %f m', (text, metres) => expect(read(text).resolutionM).toBeCloseTo(metres, 1));
});
