import { describe, expect, it } from 'vitest';
import { logLawSpeedMS, makeWind, makeWindFromParts, surfaceWind, windFromDeg } from '$lib/physics/wind';

describe('wind by height', () => {
	const wind = makeWind([
		{ heightM: 10, fromDeg: 270, speedMS: 4 },
		{ heightM: 500, fromDeg: 180, speedMS: 10 }
	]);
	it('goes on unchanged below and above what was measured', () => {
		expect(wind.eastMS(-100)).toBeCloseTo(4, 12);
		expect(wind.northMS(9000)).toBeCloseTo(10, 12);
		expect([wind.bottomM, wind.topM]).toEqual([10, 500]);
	});
	it('is linear in its parts between', () => {
		expect(wind.eastMS(255)).toBeCloseTo(2, 12);
		expect(wind.northMS(255)).toBeCloseTo(5, 12);
	});
	it('of an empty table is still air', () => {
		expect(makeWind([]).speedMS(100)).toBe(0);
		expect(windFromDeg(0, 0)).toBe(0);
	});
	it.each([
		[[{ heightM: 100, fromDeg: 0, speedMS: 1 }, { heightM: 100, fromDeg: 0, speedMS: 1 }], 'ascend'], // prettier-ignore
		[[{ heightM: 0, fromDeg: 0, speedMS: -1 }], 'speedMS'],
		[[{ heightM: 0, fromDeg: NaN, speedMS: 1 }], 'fromDeg'],
		[[{ heightM: Infinity, fromDeg: 0, speedMS: 1 }], 'heightM']
	])('refuses %j', (levels, name) => expect(() => makeWind(levels)).toThrow(name));
	it('refuses parts of unequal length', () =>
		expect(() => makeWindFromParts([0, 1], [0], [0, 1])).toThrow('one length'));
});

describe('one wind near the ground', () => {
	const given = { fromDeg: 200, speedMS: 5, measuredAtM: 2 };
	it.each([
		[{ kind: 'constant' as const }, 5],
		[{ kind: 'power' as const, exponent: 1 / 7 }, 5 * 50 ** (1 / 7)],
		[{ kind: 'log' as const, roughnessM: 0.03 }, (5 * Math.log(100 / 0.03)) / Math.log(2 / 0.03)]
	])('%j: follows the law to 100 m and stays', (law, at100) => {
		const wind = surfaceWind({ ...given, law });
		expect(wind.speedMS(100)).toBeCloseTo(at100, 9);
		expect(wind.speedMS(3000)).toBeCloseTo(at100, 9);
		expect(wind.fromDeg(30)).toBeCloseTo(200, 9);
		expect(wind.speedMS(2)).toBeGreaterThan(0.99 * 5);
		expect(wind.speedMS(2)).toBeLessThan(1.001 * 5);
	});
	it('is nothing among the obstacles', () => expect(logLawSpeedMS(5, 30, 0.4, 8, 20)).toBe(0));
	it.each([
		[{ measuredAtM: 0 }, 'measuredAtM'],
		[{ speedMS: -1 }, 'speedMS'],
		[{ law: { kind: 'power' as const, exponent: 3 } }, 'exponent']
	])('refuses %j', (change, name) =>
		expect(() => surfaceWind({ ...given, law: { kind: 'constant' }, ...change })).toThrow(name)
	);
});
