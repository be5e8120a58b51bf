import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAir, virtualTemperatureK } from '$lib/physics/air';
import {
	gasDensityKgM3,
	geopotentialHeightM,
	makeColumn,
	pressureAltitudeM,
	STANDARD_COLUMN,
	STANDARD_GRAVITY_M_S2,
	standardAtmosphere
} from '$lib/physics/atmosphere';

describe("the day's air", () => {
	it('is the standard at the elevation of the site when nothing was measured', () => {
		const air = makeAir({ siteElevationM: 1400 });
		for (const h of [-300, 0, 2000, 9000, 15_000, 30_000]) {
			const standard = standardAtmosphere(1400 + h);
			expect(air.temperatureK(h)).toBeCloseTo(standard.temperatureK, 9);
			expect(air.pressurePa(h) / standard.pressurePa).toBeCloseTo(1, 12);
			expect(air.densityKgM3(h) / standard.densityKgM3).toBeCloseTo(1, 12);
			expect(air.soundSpeedMS(h)).toBeCloseTo(standard.soundSpeedMS, 9);
			expect(air.viscosityPaS(h) / standard.viscosityPaS).toBeCloseTo(1, 12);
		}
		expect(air.basis).toEqual({
			temperature: 'standard',
			pressure: 'standard',
			measuredFromM: 0,
			measuredToM: 0
		});
	});
	it('holds the surface difference to 11 km above sea level and loses it by 20 km, without a step', () => {
		const air = makeAir({
			siteElevationM: 1000,
			surfaceTemperatureK: standardAtmosphere(1000).temperatureK + 12
		});
		const difference = (h: number) => air.temperatureK(h) - standardAtmosphere(1000 + h).temperatureK;
		for (const h of [0, 5000, 9000]) expect(difference(h)).toBeCloseTo(12, 9);
		expect(difference(14_550)).toBeCloseTo(6, 1);
		for (const h of [19_100, 25_000]) expect(difference(h)).toBeCloseTo(0, 9);
	});
	it('starts at the pressure of the site and obeys hydrostatics from there', () => {
		const air = makeAir({ siteElevationM: 600, surfacePressurePa: 93_000, surfaceTemperatureK: 305 });
		expect(air.pressurePa(0)).toBeCloseTo(93_000, 6);
		expect(air.densityKgM3(0)).toBeCloseTo(gasDensityKgM3(93_000, 305), 12);
		for (const h of [-200, 50, 4000, 12_000, 25_000]) {
			const slope =
				(air.pressurePa(h + 0.5) - air.pressurePa(h - 0.5)) /
				(geopotentialHeightM(600 + h + 0.5) - geopotentialHeightM(600 + h - 0.5));
			expect(-slope / (air.densityKgM3(h) * STANDARD_GRAVITY_M_S2)).toBeCloseTo(1, 6);
		}
	});
	it('gives the height of a pressure, and back', () => {
		const air = makeAir({ siteElevationM: 600, surfacePressurePa: 93_000, surfaceTemperatureK: 270 });
		for (const h of [-200, 0, 3000, 11_500, 28_000]) {
			expect(air.heightOfPressureM(air.pressurePa(h))).toBeCloseTo(h, 6);
			expect(air.trueHeightM(air.indicatedHeightM(h))).toBeCloseTo(h, 6);
		}
	});
	it('goes on above and below a short sounding with the standard slope', () => {
		const air = makeAir({
			siteElevationM: 500,
			sounding: [
				{ heightM: 600, temperatureK: 290, pressurePa: 94_000 },
				{ heightM: 2600, temperatureK: 285 }
			]
		});
		expect(air.basis).toMatchObject({ temperature: 'sounding', pressure: 'sounding' });
		expect(air.basis.measuredFromM).toBeCloseTo(100, 9);
		expect(air.basis.measuredToM).toBeCloseTo(2100, 9);
		expect(air.temperatureK(100)).toBeCloseTo(290, 9);
		expect(air.temperatureK(0)).toBeCloseTo(290.65, 3);
		expect(air.temperatureK(1100)).toBeCloseTo(287.5, 2);
		expect(air.temperatureK(3100)).toBeCloseTo(278.5, 1);
		expect(air.pressurePa(100)).toBeCloseTo(94_000, 6);
	});
	it('is lighter where it is moist', () => {
		const virtual = virtualTemperatureK(303.15, 296.15, 100_000);
		expect(virtual - 303.15).toBeGreaterThan(3); // 18 g/kg of water, 0.608 of it in kelvins per 303
		expect(virtual - 303.15).toBeLessThan(3.6);
		const level = { heightM: 0, temperatureK: 303.15, pressurePa: 100_000 };
		const dry = makeAir({ siteElevationM: 0, sounding: [level] });
		const moist = makeAir({ siteElevationM: 0, sounding: [{ ...level, virtualTemperatureK: virtual }] });
		expect(moist.densityKgM3(0) / dry.densityKgM3(0)).toBeCloseTo(303.15 / virtual, 9);
		expect(moist.temperatureK(0)).toBe(dry.temperatureK(0));
	});
	it('has a table for tight loops, good to 1e-5', () => {
		const air = makeAir({ siteElevationM: 300, surfaceTemperatureK: 300 });
		const { fromM, stepM, densityKgM3 } = air.densityTable();
		for (const h of [-990, 12.5, 4321, 11_111, 35_000]) {
			const i = Math.floor((h - fromM) / stepM);
			const share = (h - fromM) / stepM - i;
			const value = densityKgM3[i]! * (1 - share) + densityKgM3[i + 1]! * share;
			expect(Math.abs(value / air.densityKgM3(h) - 1)).toBeLessThan(1e-5);
		}
	});
	it.each([
		[{ siteElevationM: NaN }, 'siteElevationM'],
		[{ siteElevationM: 12_000 }, 'siteElevationM'],
		[{ siteElevationM: 0, surfaceTemperatureK: 15 }, 'surfaceTemperatureK'],
		[{ siteElevationM: 0, surfacePressurePa: 1013 }, 'surfacePressurePa'],
		[{ siteElevationM: 0, sounding: [{ heightM: 0, temperatureK: 15 }] }, 'soundingTemperatureK'],
		[{ siteElevationM: 0, sounding: [{ heightM: 9, temperatureK: 280 }, { heightM: 9, temperatureK: 281 }] }, 'heightsM must ascend'] // prettier-ignore
	])('refuses %j', (input, name) => expect(() => makeAir(input)).toThrow(name));
});

describe('a column of air', () => {
	it('gives pressure altitude as the exact inverse of pressure', () => {
		fc.assert(
			fc.property(fc.double({ min: -4000, max: 45_000, noNaN: true }), (h) => {
				expect(Math.abs(pressureAltitudeM(STANDARD_COLUMN.pressurePa(h)) - h)).toBeLessThan(1e-6);
			})
		);
	});
	it('does not depend on the level that it is anchored at', () => {
		const [heights, temperatures] = [[0, 3000, 8000], [300, 300, 250]]; // prettier-ignore
		const a = makeColumn(heights, temperatures, { heightM: 0, pressurePa: 1e5 });
		const b = makeColumn(heights, temperatures, { heightM: 6500, pressurePa: a.pressurePa(6500) });
		for (const h of [-500, 1000, 3000, 7999, 9000])
			expect(b.pressurePa(h) / a.pressurePa(h)).toBeCloseTo(1, 12);
	});
	it.each([
		[[0], [288], 'same length'],
		[[0, 0], [288, 280], 'ascend'],
		[[0, 1], [-3, 280], 'temperaturesK']
	])('refuses %j %j', (heights, temperatures, says) =>
		expect(() => makeColumn(heights, temperatures, { heightM: 0, pressurePa: 1e5 })).toThrow(says)
	);
});
