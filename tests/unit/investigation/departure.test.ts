import { describe, expect, it } from 'vitest';
import { departureOf, hangsOn } from '$lib/investigation/views/departure';
import { Case } from './anomaly-case';

const plain = (text: string | null) => text?.replace(/[\u202f\u00a0]/g, ' ') ?? null;

describe('the departure from the expected', () => {
	it.each([
		['620 ± 30 m', '410 m', 'observed 410 m, expected 620 ± 30 m: 210 m less'],
		[
			'apogee 620 ± 30 m',
			'apogee at about 1345 ft by the recorder',
			// 1345 ft × 0.3048 = 409.956 m.
			'observed 1345 ft, expected 620 ± 30 m: 210 m less'
		],
		[
			'main open at 200 m',
			'Main open at about 40 m, two seconds before landing.',
			'observed 40 m, expected 200 m: 160 m less'
		],
		['below 40 °C', '61 °C', 'observed 61 °C, expected 40 °C: 21 °C more'],
		['burn of 2.1 s', 'burn of 3 s', 'observed 3 s, expected 2.1 s: 0.9 s more'],
		['5 to 7 m/s', '6 m/s', 'observed 6 m/s, expected 5 to 7 m/s: no difference']
	])('%s, %s', (expected, observed, words) => {
		expect(plain(departureOf(expected, observed))).toBe(words);
	});

	it.each([
		['bulkhead in place', 'bulkhead 2 m from the tube'],
		['200 m', '9 s'],
		['main at 200 m lasting 31 s', 'main at 40 m'],
		['nose off at 14.2 s', 'no separation until ground hit at 31 s'],
		['3 fins', '2 fins'],
		['', '']
	])('has nothing to compare in "%s" and "%s"', (expected, observed) =>
		expect(departureOf(expected, observed)).toBeNull()
	);
});

it('nothing hangs on a departure that was only stated; what came since is named', () => {
	const bench = new Case();
	const top = bench.state();
	expect(hangsOn(bench.file, 'a1')).toEqual([]);
	bench.add('jam', top);
	bench.find('f1', { jam: 0.6 });
	expect(hangsOn(bench.file, 'a1')).toEqual(['1 event', '1 finding']);
	expect(hangsOn(bench.file, 'a2')).toEqual([]);
});
