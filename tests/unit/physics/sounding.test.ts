import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { makeAir } from '$lib/physics/air';
import { geometricHeightM } from '$lib/physics/atmosphere';
import { airLevels, parseSounding, windLevels, type Sounding } from '$lib/physics/sounding';
import { makeWind } from '$lib/physics/wind';

const file = (name: string) =>
	readFileSync(new URL(`../../open-data/soundings/${name}`, import.meta.url), 'utf8');
const KNOT = 1852 / 3600;

function read(text: string, heights?: Sounding['heights']): Sounding {
	const r = parseSounding(text, heights);
	if (!r.ok) throw new Error(r.error);
	return r.value;
}
const refusal = (text: unknown) => {
	const r = parseSounding(text);
	return r.ok ? 'accepted' : r.error;
};

describe('fixed-width rawinsonde text (Norman, 22 December 2018 12Z)', () => {
	const sounding = read(file('oun-2018-12-22-12z.txt'));

	it('leaves out the level below the ground whose fields are blank, and says so', () => {
		expect(sounding.format).toBe('rawinsonde text');
		expect(sounding.levels[0]).toMatchObject({ pressurePa: 96_600, fromDeg: 55, speedMS: 2 * KNOT });
		expect(sounding.levels[0]!.heightM).toBeCloseTo(345, 1);
		expect(sounding.levels[0]!.temperatureK).toBeCloseTo(276.75, 9);
		expect(sounding.notes).toContain('1 level without wind and temperature left out.');
	});
	it('leaves out the level printed twice, 6 m below itself', () => {
		expect(sounding.notes).toContain('Line 80 repeats the level before it and is left out.');
	});
	it('reads the wind at 1219 m from 350 degrees at 9 knots', () => {
		const wind = makeWind(windLevels(sounding, 0));
		expect(wind.fromDeg(geometricHeightM(1219))).toBeCloseTo(350, 6);
		expect(wind.speedMS(geometricHeightM(1219))).toBeCloseTo(9 * KNOT, 6);
	});
	it('keeps the last levels for their temperature where the wind is blank', () => {
		const last = sounding.levels.at(-1)!;
		expect(last.heightM / (33_221 / (1 - 33_221 / 6_356_766))).toBeCloseTo(1, 12);
		expect(last.fromDeg).toBeUndefined();
		expect(makeWind(windLevels(sounding, 345)).topM).toBeLessThan(33_000);
	});
	it('gives back the pressures that the balloon measured, from the temperatures alone', () => {
		const air = makeAir({
			siteElevationM: 345,
			sounding: airLevels(sounding, 345),
			surfacePressurePa: 96_600
		});
		expect(air.basis).toMatchObject({ temperature: 'sounding', pressure: 'site' });
		for (const { heightM, pressurePa } of sounding.levels.filter((l) => l.heightM < 20_000))
			expect(Math.abs(air.pressurePa(heightM - 345) / pressurePa! - 1)).toBeLessThan(0.005);
	});
});

describe('comma-separated block (Omaha, 16 June 2014 19Z)', () => {
	const sounding = read(file('oax-2014-06-16-19z.txt'));

	it('takes -9999 as missing, also for single winds between good ones', () => {
		expect(sounding.format).toBe('RAW block');
		expect(sounding.levels[1]).not.toHaveProperty('fromDeg');
		expect(sounding.levels[1]!.temperatureK).toBeCloseTo(300.55, 9);
		expect(windLevels(sounding, 350).slice(0, 2)).toEqual([
			{ heightM: expect.closeTo(0, 1) as number, fromDeg: 150, speedMS: 23 * KNOT },
			{ heightM: expect.closeTo(260, 0) as number, fromDeg: 145, speedMS: 29.99 * KNOT }
		]);
	});
	it('lies with its temperatures within half a percent of its own pressures', () => {
		const air = makeAir({ siteElevationM: 350, sounding: airLevels(sounding, 350) });
		expect(air.basis.pressure).toBe('sounding');
		for (const { heightM, pressurePa } of sounding.levels.filter((l) => l.heightM < 20_000))
			expect(Math.abs(air.pressurePa(heightM - 350) / pressurePa! - 1)).toBeLessThan(0.005);
	});
	it.each([
		['%RAW%\n1000,10,5,1,180,5', '%END%'],
		['%RAW%\n1000,10,5,1,180,5\n%END%\n%RAW%\n%END%', 'several profiles'],
		['%RAW%\n1000,10,5,1,-12.5,5\n%END%', 'Line 2: the direction -12.5']
	])('refuses %j', (text, says) => expect(refusal(text)).toContain(says));
});

describe('a table typed or pasted', () => {
	it('takes a unit behind each number, with or without a blank', () => {
		const plain = read('0 240 4 16\n300 250 7 14').levels;
		const typed = read('0 m 240° 4 m/s 16 °C\n300m 250 deg 7 m/s 57.2 F').levels;
		expect(typed[0]).toEqual(plain[0]);
		expect(typed[1]!.temperatureK).toBeCloseTo(plain[1]!.temperatureK!, 9);
		const other = read('0 m; 240; 8 kt\n1000 ft; 250; 14 kt').levels;
		expect(other[1]).toEqual({ heightM: 304.8, fromDeg: 250, speedMS: 14 * KNOT });
	});

	it('refuses a unit of something else, by line and number', () => {
		expect(refusal('0; 240; 4\n300 m; 250; 14 hPa')).toMatch(/^Line 2: "14 hPa": /);
		expect(refusal('0 240 4\n300 250m 14')).toBe('Line 2: "250m": a direction is in degrees, not in "m".');
	});

	it('a heading that says where wind goes holds beside units behind the numbers', () => {
		const levels = read('height (m), direction toward, speed (m/s)\n0, 60°, 4 m/s').levels;
		expect(levels[0]!.fromDeg).toBe(240);
	});

	it.each([
		['blanks', '0 240 3\n300 250 6'],
		['commas', '0,240,3\n300,250,6'],
		['tabs', '0\t240\t3\r\n300\t250\t6'],
		['semicolons and decimal commas', '0;240;3,0\n300;250;6,0'],
		['notes and blank lines', '# from the forecast\n\n0 240 3 # pad\n300 250 6\n']
	])('is read with %s', (_, text) => {
		expect(windLevels(read(text), 1400)).toEqual([
			{ heightM: 0, fromDeg: 240, speedMS: 3 },
			{ heightM: 300, fromDeg: 250, speedMS: 6 }
		]);
	});
	it.each([
		'height (ft), direction (deg), speed (kt), temperature (F)\n1000, 90, 10, 50',
		'Height ft\tDirection deg\tSpeed kt\tTemp F\n1000\t90\t10\t50',
		'height (ft) direction (deg) speed (kt) temperature (F)\n1000 90 10 50',
		'height direction speed temperature\nft deg kt F\n1000 90 10 50',
		'dir;speed_kt;height_ft;gust;temp_F\n90;10;1000;x;50'
	])('takes names, order and units from its heading: %j', (text) => {
		const [level] = read(text).levels;
		expect(level!.heightM).toBeCloseTo(304.8, 9);
		expect(level!.fromDeg).toBe(90);
		expect(level!.speedMS).toBeCloseTo(10 * KNOT, 9);
		expect(level!.temperatureK).toBeCloseTo(283.15, 9);
	});
	it('turns a direction that says where the wind goes', () => {
		expect(read('height, direction toward, speed\n0, 270, 5').levels[0]!.fromDeg).toBe(90);
	});
	it('takes heights above sea level from the heading or the choice, and refuses the two against each other', () => {
		const text = 'height MSL (m), direction, speed\n1500, 90, 5';
		expect(windLevels(read(text), 1400)[0]!.heightM).toBeCloseTo(100, 9);
		expect(windLevels(read('1500 90 5', 'above sea level'), 1400)[0]!.heightM).toBeCloseTo(100, 9);
		expect(parseSounding(text, 'above the pad')).toMatchObject({ ok: false });
	});
	it('says what it assumed', () => {
		expect(read('0 90 5').notes).toHaveLength(2);
		expect(read('height AGL (m), direction, speed (m/s)\n0, 90, 5').notes).toEqual([]);
	});
	it('takes -999 and blanks as missing, never as 0', () => {
		const { levels } = read('0,90,5,12\n300,-999,-999,10\n600,,,8\n900,100,-9999,7');
		expect(levels.map((l) => l.speedMS)).toEqual([5, undefined, undefined, undefined]);
		expect(levels).toHaveLength(4);
	});
	it('lets still air go without a direction', () => {
		expect(read('0,,0\n100,90,2').levels[0]).toEqual({ heightM: 0, fromDeg: 0, speedMS: 0 });
	});
	it.each([
		['', 'Nothing to read'],
		[undefined, 'Nothing to read'],
		['0 240 3\n600 250 6\n300 260 8', 'Line 3: its height is not above the one before'],
		['0 240 3\n0 250 6', 'Line 2'],
		['0 400 3', 'Line 1: the direction 400 is not between 0 and 360'],
		['0 240 3\n\n300 240 -3', 'Line 3: the speed -3 is negative'],
		['0 240 400', 'a wind of 400 m/s'],
		['0 240 6 288', 'a temperature of 288 °C'],
		['0 240 six', '"six" is not a number'],
		['0 240 3\nhello', 'Line 2: "hello" does not start with a height'],
		['0 240 3 15 7', '5 numbers where 4 are expected'],
		['direction speed\n240 3', 'names no height'],
		['height (kg), direction, speed\n0, 240, 3', 'In the heading "height (kg)"'],
		['height, height, speed\n0, 240, 3', 'twice'],
		['height, direction, speed', 'No line with a height'],
		['-9999 240 3', 'the height is missing'],
		['1e99 240 3', "can't be right"]
	])('refuses %j', (text, says) => expect(refusal(text)).toContain(says));
});
