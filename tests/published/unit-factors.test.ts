import { describe, expect, it } from 'vitest';
import type { Dimension } from '$lib/quantity/dimensions';
import { unitOf } from '$lib/quantity/units';

/**
 * Conversion factors as NIST Special Publication 811 (2008), appendix B.8, prints them: from memory, the document
 * was not at hand. Printed to seven figures there; the last one is rounded.
 */
describe('NIST SP 811 appendix B.8 conversion factors', () => {
	it.each<[string, Dimension, number]>([
		['in', 'length', 2.54e-2],
		['ft', 'length', 3.048e-1],
		['yd', 'length', 9.144e-1],
		['yds', 'length', 9.144e-1],
		['nautical miles', 'length', 1.852e3],
		['sq ft', 'area', 9.290304e-2],
		['square inches', 'area', 6.4516e-4],
		['cu in', 'volume', 1.638706e-5],
		['cubic feet', 'volume', 2.831685e-2],
		['fpm', 'speed', 5.08e-3],
		['lb/sq in', 'pressure', 6.894757e3],
		['mb', 'pressure', 1e2],
		['millibars', 'pressure', 1e2],
		['in Hg', 'pressure', 3.386389e3],
		['in. Hg', 'pressure', 3.386389e3],
		['"Hg', 'pressure', 3.386389e3],
		['inches of mercury', 'pressure', 3.386389e3],
		['mm Hg', 'pressure', 1.333224e2],
		['pounds-force', 'force', 4.448222],
		['mi', 'length', 1.609344e3],
		['nmi', 'length', 1.852e3],
		['mil', 'length', 2.54e-5],
		['in²', 'area', 6.4516e-4],
		['ft²', 'area', 9.290304e-2],
		['in³', 'volume', 1.638706e-5],
		['ft³', 'volume', 2.831685e-2],
		['gal', 'volume', 3.785412e-3],
		['lb', 'mass', 4.535924e-1],
		['oz', 'mass', 2.834952e-2],
		['gr', 'mass', 6.479891e-5],
		['slug', 'mass', 1.45939e1],
		['mph', 'speed', 4.4704e-1],
		['kn', 'speed', 5.144444e-1],
		['km/h', 'speed', 2.777778e-1],
		['ft/s', 'speed', 3.048e-1],
		['lbf', 'force', 4.448222],
		['kgf', 'force', 9.80665],
		['dyn', 'force', 1e-5],
		['psi', 'pressure', 6.894757e3],
		['ksi', 'pressure', 6.894757e6],
		['psf', 'pressure', 4.788026e1],
		['atm', 'pressure', 1.01325e5],
		['inHg', 'pressure', 3.386389e3],
		['inH2O', 'pressure', 2.490889e2],
		['mmHg', 'pressure', 1.333224e2],
		['torr', 'pressure', 1.333224e2],
		['kgf/cm²', 'pressure', 9.80665e4],
		['BTU', 'energy', 1.055056e3],
		['cal', 'energy', 4.184],
		['ft·lbf', 'energy', 1.355818],
		['kWh', 'energy', 3.6e6],
		['hp', 'power', 7.456999e2],
		['lb/ft³', 'density', 1.601846e1],
		['lb/in³', 'density', 2.76799e4],
		['oz/in³', 'density', 1.729994e3],
		['lb/ft²', 'ballistic coefficient', 4.882428],
		['lbf/ft', 'stiffness', 1.45939e1],
		['lbf/in', 'stiffness', 1.751268e2],
		['lbf·in', 'torque', 1.129848e-1],
		['lb·ft²', 'moment of inertia', 4.214011e-2],
		['BTU/(ft²·h)', 'heat flux', 3.154591],
		['BTU/(h·ft·°F)', 'conductivity', 1.730735],
		['BTU/(h·ft²·°F)', 'heat-transfer coefficient', 5.678263],
		['BTU/(lb·°F)', 'specific heat', 4.1868e3],
		['BTU/lb', 'specific energy', 2.326e3],
		['°', 'angle', 1.745329e-2],
		['arcmin', 'angle', 2.908882e-4],
		['rpm', 'angular rate', 1.047198e-1],
		['P', 'viscosity', 1e-1],
		['°F', 'temperature difference', 5.555556e-1],
		['mA·h', 'charge', 3.6]
	])('1 %s as %s', (unit, dimension, printed) => {
		expect(Math.abs(unitOf(unit, dimension).factor / printed - 1)).toBeLessThan(5e-7);
	});

	it('an acre is 43 560 ft², 4046.8564224 m²; that of SP 811 is by the U.S. survey foot, 4.046873e3, 4 in a million more', () => {
		const { factor } = unitOf('acre', 'area');
		expect(factor).toBeCloseTo(4046.8564224, 9);
		expect(factor * (1200 / 3937 / 0.3048) ** 2).toBeCloseTo(4046.873, 3);
		expect(unitOf('ha', 'area').factor).toBe(1e4);
	});

	it('fixed points of the temperature scales', () => {
		const k = (value: number, unit: string) => {
			const { factor, offset } = unitOf(unit, 'temperature');
			return value * factor + offset;
		};
		expect(k(0, '°C')).toBe(273.15);
		expect(k(32, '°F')).toBeCloseTo(273.15, 12);
		expect(k(212, '°F')).toBeCloseTo(373.15, 12);
		expect(k(-40, '°F')).toBeCloseTo(k(-40, '°C'), 12);
		expect(k(491.67, '°R')).toBeCloseTo(273.15, 12);
	});
});
