import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatPosition, parsePosition, type PositionStyle } from '$lib/physics/coordinates';
import { positionFromExif } from '$lib/physics/exif-position';

const refusal = (text: string) => {
	const r = parsePosition(text);
	return r.ok ? `accepted as ${r.value.latitudeDeg}, ${r.value.longitudeDeg}` : r.error;
};

describe('pairs', () => {
	it.each([
		'45.7626 4.8357',
		'45.7626, 4.8357',
		'45.7626,4.8357',
		'45.7626;4.8357',
		'45.7626 / 4.8357',
		'45,7626 4,8357',
		'45,7626; 4,8357',
		'45,7626, 4,8357',
		'45,7626° N 4,8357° E',
		'N 45.7626 E 4.8357',
		'45.7626N4.8357E',
		'4.8357 E, 45.7626 N',
		'E4.8357 N45.7626',
		'45.7626° north, 4.8357° east',
		'lat 45.7626 lon 4.8357',
		'Latitude: 45.7626, Longitude: 4.8357',
		'lon=4.8357 lat=45.7626',
		'(45.7626, 4.8357)',
		'geo:45.7626,4.8357;u=5',
		'+45.7626+004.8357/',
		'45 45.756 4 50.142',
		"45° 45.756' N 4° 50.142' E",
		"45° 45,756' N 4° 50,142' E",
		'45 deg 45.756 min N, 4 deg 50.142 min E',
		'45 45 45.36 4 50 8.52',
		'45°45\'45.36"N 4°50\'8.52"E',
		"45°45'45.36''N 4°50'8.52''E",
		'45º 45´ 45.36" 4º 50´ 8.52"',
		'4545.756N, 00450.142E',
		'+454545.36+0045008.52/',
		'  45.7626\t4.8357\n'
	])('%j', (text) => {
		const r = parsePosition(text);
		if (!r.ok) throw new Error(r.error);
		expect(r.value.latitudeDeg).toBeCloseTo(45.7626, 9);
		expect(r.value.longitudeDeg).toBeCloseTo(4.8357, 9);
	});
	it.each([
		['-33.5 -70.25', -33.5, -70.25],
		['33.5S 70.25W', -33.5, -70.25],
		['33°30′ S, 70°15′ W', -33.5, -70.25],
		['-0.5, -0.25', -0.5, -0.25],
		['S0 30 W0 15', -0.5, -0.25]
	])('%s', (text, latitudeDeg, longitudeDeg) =>
		expect(parsePosition(text)).toMatchObject({ ok: true, value: { latitudeDeg, longitudeDeg } })
	);
	it.each([
		['45 45.756 4 50.142', ['latitude', 'longitude'], ['45 45.756', '4 50.142']],
		["45° 45,756' 4° 50,142'", ['latitude', 'longitude'], ["45° 45.756'", "4° 50.142'"]],
		['lon 4 50.142, lat 45 45.756', ['latitude', 'longitude'], ['45 45.756', '4 50.142']],
		['45 45.756 S, 4 50.142', ['longitude'], ['45 45.756 S', '4 50.142']]
	])('%s says no half of the globe, so what was assumed is said', (text, axes, halves) =>
		expect(parsePosition(text)).toMatchObject({ ok: true, value: { assumed: { axes, halves } } })
	);
	it.each([
		'45.7626 4.8357',
		"45° 45.756' N 4° 50.142' E",
		'-45 45.756 4 50.142',
		'+454545.36+0045008.52/',
		'4545.756N, 00450.142E',
		'31U FT 1234 5678'
	])('%s says it by letters, by signs, or by the custom of decimal degrees', (text) => {
		const read = parsePosition(text);
		expect(read.ok && read.value.assumed).toBeUndefined();
	});
	it.each([
		['95 N, 4 E', 'beyond the pole'],
		['95 N 4 E', 'Check the digits'],
		['-106.97, 32.99', 'If the longitude came first, write the letters'],
		['45, 181', 'from 180 W to 180 E'],
		['45 N, 46 S', 'Both numbers are marked as latitude'],
		['45 N', 'is not read as a latitude and a longitude'],
		['45.7626', 'is not read as'],
		['45 60 N, 4 E', 'minutes must be below 60'],
		['45 10 61 N, 4 E', 'seconds must be below 60'],
		['45.5 30 N, 4 E', 'only the last number may have decimals'],
		['-45 S, 4 E', 'a minus sign and the letter S'],
		['N 45 N, 4 E', 'a letter before and after'],
		['45 N, 4 O', 'The letter O'],
		['lat 45 E, lon 4 N', 'which is not its latitude'],
		['1 2 3 4 5 6 7', 'is not read as'],
		['45, 4, 3', 'is not read as'],
		['north of the barn', 'is not read as'],
		['61U DQ 48251 11932', 'from 1 to 60'],
		['31I DQ 48251 11932', 'Band letter I'],
		['31U IQ 48251 11932', 'no 100 km square'],
		['31U DQ 48251 1193', 'same number of digits'],
		['31U DH 48251 11932', 'does not lie in band'],
		['31 S 448251 4000000', 'The letter S can mean'],
		['31 N 48251 5411932', 'easting'],
		['31 N 448251 11411932', 'northing'],
		['x'.repeat(300), 'too long']
	])('refuses %j', (text, says) => expect(refusal(text)).toContain(says));

	it.each(['decimal', 'minutes', 'seconds'] as PositionStyle[])('reads what it writes in %s', (style) => {
		fc.assert(
			fc.property(
				fc.double({ min: -90, max: 90, noNaN: true }),
				fc.double({ min: -180, max: 180, noNaN: true }),
				(latitudeDeg, longitudeDeg) => {
					const r = parsePosition(formatPosition({ latitudeDeg, longitudeDeg }, style));
					if (!r.ok) throw new Error(r.error);
					expect(Math.abs(r.value.latitudeDeg - latitudeDeg)).toBeLessThan(1.5e-6);
					expect(Math.abs(r.value.longitudeDeg - longitudeDeg)).toBeLessThan(1.5e-6);
				}
			)
		);
	});
	it('never writes 60 minutes or seconds', () => {
		const place = { latitudeDeg: 45.9999999999, longitudeDeg: -4.9999999999 };
		expect(formatPosition(place, 'seconds')).toBe('46° 00′ 00.00″ N, 5° 00′ 00.00″ W');
		expect(formatPosition(place, 'minutes')).toBe('46° 00.0000′ N, 5° 00.0000′ W');
	});
	it('answers any text without a throw and without NaN', () => {
		fc.assert(
			fc.property(fc.string({ unit: fc.constantFrom(...'0123456789.,;-+°\'"NSEWUC /latgeo') }), (text) => {
				const r = parsePosition(text);
				if (r.ok) {
					expect(Math.abs(r.value.latitudeDeg)).toBeLessThanOrEqual(90);
					expect(Math.abs(r.value.longitudeDeg)).toBeLessThanOrEqual(180);
				} else expect(r.error.length).toBeGreaterThan(10);
			}),
			{ numRuns: 3000 }
		);
	});
});

describe('photo positions that must not be believed', () => {
	const whole = (n: number) => [
		[n, 1],
		[0, 1],
		[0, 1]
	];
	const good = { latitude: whole(45), latitudeRef: 'N', longitude: whole(7), longitudeRef: 'E' };
	it.each([
		[{ latitudeRef: undefined }, 'does not say N or S'],
		[{ longitudeRef: 'N' }, 'does not say E or W'],
		[{ latitude: [[45, 1]] }, 'three numbers'],
		[{ latitude: undefined }, 'three numbers'],
		[{ latitude: [[45, 0], [0, 1], [0, 1]] }, 'a zero under the line'], // prettier-ignore
		[{ latitude: [[45, 1], [61, 1], [0, 1]] }, '60 or more'], // prettier-ignore
		[{ latitude: whole(91) }, 'out of range'],
		[{ latitude: whole(0), longitude: whole(0) }, 'no fix']
	])('%j', (change, says) => {
		expect(positionFromExif({ ...good, ...change })).toMatchObject({
			ok: false,
			error: expect.stringContaining(says) as string
		});
	});
	it('leaves the height out where it is broken', () => {
		expect(positionFromExif({ ...good, altitude: [5, 0] })).toEqual({
			ok: true,
			value: { latitudeDeg: 45, longitudeDeg: 7 }
		});
	});
});
