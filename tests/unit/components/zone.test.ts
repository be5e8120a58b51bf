import { afterEach, expect, it } from 'vitest';
import { zoneMinutesAt } from '$lib/components/shell/zone';

const own = process.env['TZ'];
afterEach(() => {
	if (own === undefined) delete process.env['TZ'];
	else process.env['TZ'] = own;
});

const winter = new Date('2031-01-10T12:00:00Z');

/** Central European Time is UTC+1, and UTC+2 from the last Sunday of March to that of October (Directive 2000/84/EC). */
it.each([
	['2030-05-17 14:02', 120],
	['2030-05-17', 120],
	['2030-03-31', 120],
	['2030-12-17 14:02', 60],
	['', 60],
	['some day in May, no year', 60]
])('the zone of a flight "%s", typed in winter', (typed, minutes) => {
	process.env['TZ'] = 'Europe/Paris';
	expect(zoneMinutesAt(typed, winter)).toBe(minutes);
});

it('a zone without an offset is 0, never minus zero', () => {
	process.env['TZ'] = 'UTC';
	expect(Object.is(zoneMinutesAt('2030-05-17 14:02'), 0)).toBe(true);
});
