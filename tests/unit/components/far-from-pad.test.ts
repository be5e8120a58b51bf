import { describe, expect, it } from 'vitest';
import { farFromPad } from '$lib/components/evidence/far-from-pad';

const pad = { latitudeDeg: 45.7626, longitudeDeg: 4.8357 };
const at = (latitudeDeg: number, longitudeDeg: number) => farFromPad(pad, { latitudeDeg, longitudeDeg });

describe('a place far from the pad', () => {
	it('is nothing to speak of within a walk or a long drift', () => {
		expect(at(45.77, 4.84)).toBeNull();
		expect(at(46.2, 5.2)).toBeNull();
	});
	it.each<[string, number, number, RegExp]>([
		[
			'a lost sign of the latitude',
			-45.77,
			4.84,
			/^That is 10\D?\d{3}.km from the pad; with S for N, .* it would be 8\d\d.m\./
		],
		['a lost sign of the longitude', 45.77, -4.84, /with W for E, .* it would be 8\d\d.m\./],
		['both', -45.77, -4.84, /with both letters changed it would be/],
		[
			'latitude and longitude changed over',
			4.84,
			45.77,
			/with latitude and longitude changed over it would be/
		],
		['none of these', 12, 100, /^That is \d.*km from the pad\. Check the digits/]
	])('%s', (_, latitude, longitude, words) => {
		expect(at(latitude, longitude)).toMatch(words);
	});
	it('a longitude that could be no latitude is not tried as one', () => {
		expect(
			farFromPad({ latitudeDeg: -27, longitudeDeg: 153 }, { latitudeDeg: 27, longitudeDeg: 153 })
		).toMatch(/with S for N/);
	});
});
