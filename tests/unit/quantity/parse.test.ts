import { describe, expect, it } from 'vitest';
import { formatQuantity } from '$lib/quantity/format';
import { parseQuantity } from '$lib/quantity/parse';
import { toSi } from '$lib/quantity/quantity';
import { readQuantity } from '$lib/quantity/read';
import type { Dimension } from '$lib/quantity/dimensions';

/** What a person typed, read into SI. */
function si(text: string, dimension: Dimension, defaultUnit?: string) {
	const read = parseQuantity(text, { dimension, ...(defaultUnit ? { defaultUnit } : {}) });
	if (!read.ok) throw new Error(read.error);
	return read.value.quantity && toSi(read.value.quantity, dimension);
}
function refusal(text: string, dimension: Dimension, defaultUnit?: string): string {
	const read = parseQuantity(text, { dimension, ...(defaultUnit ? { defaultUnit } : {}) });
	return read.ok ? `accepted: ${JSON.stringify(read.value)}` : read.error;
}

describe('one amount', () => {
	it.each<[string, Dimension, number]>([
		['12.5 ft', 'length', 3.81],
		['12,5 m', 'length', 12.5],
		['0,500 m', 'length', 0.5],
		['1 500 m', 'length', 1500],
		['1 500 m', 'length', 1500],
		['1 234 567,5 m', 'length', 1234567.5],
		['1.234,5 m', 'length', 1234.5],
		['12,345.5 m', 'length', 12345.5],
		['1,234,567 m', 'length', 1234567],
		['1e3 Pa', 'pressure', 1000],
		// As programs print it: no range from '1e' to 5.
		['1e-05 kg', 'mass', 1e-5],
		['4E-10 GPa', 'pressure', 0.4],
		['14.7 psia', 'pressure', (14.7 * 0.45359237 * 9.80665) / 0.0254 ** 2],
		['1.2 bara', 'pressure', 120_000],
		['600 fpm', 'speed', 3.048],
		['1.5·10^3 Pa', 'pressure', 1500],
		['2 × 10⁻³ m', 'length', 0.002],
		['−5 °C', 'temperature', 268.15],
		['-40 F', 'temperature', 233.15],
		['70°F', 'temperature', (70 + 459.67) * (5 / 9)],
		['70 deg F', 'temperature', (70 + 459.67) * (5 / 9)],
		['21 degrees C', 'temperature', 294.15],
		['294 deg K', 'temperature', 294],
		['29.92 "Hg', 'pressure', 29.92 * 13_595.1 * 9.80665 * 0.0254],
		['1013.2 mb', 'pressure', 101_320],
		['57 sq. ft', 'area', 57 * 0.3048 ** 2],
		['60 cu in', 'volume', 60 * 0.0254 ** 3],
		['90 °', 'angle', Math.PI / 2],
		['90 deg', 'angle', Math.PI / 2],
		['5\'11"', 'length', 71 * 0.0254],
		['5′ 11″', 'length', 71 * 0.0254],
		["5'11", 'length', 71 * 0.0254],
		['3 ft 6 in', 'length', 42 * 0.0254],
		['-3 ft 6 in', 'length', -42 * 0.0254],
		['3ft6in', 'length', 42 * 0.0254],
		['3 1/2 in', 'length', 3.5 * 0.0254],
		['3½ in', 'length', 3.5 * 0.0254],
		['1/4"', 'length', 0.25 * 0.0254],
		['1 h 20 min', 'time', 4800],
		['2 lb 3 oz', 'mass', 35 * 0.028349523125],
		['12 kg m^-2', 'ballistic coefficient', 12],
		['12 kg·m⁻²', 'ballistic coefficient', 12],
		['0.35 W/(m K)', 'conductivity', 0.35],
		['900 W/m2K', 'heat-transfer coefficient', 900],
		['120 lb/in', 'stiffness', (120 * 0.45359237 * 9.80665) / 0.0254],
		['5 N.m', 'torque', 5],
		['5 Nm', 'torque', 5],
		['20 lbf·ft', 'torque', 20 * 0.45359237 * 9.80665 * 0.3048],
		['12 st 3 lb', 'mass', 171 * 0.45359237],
		['20 in-lb', 'torque', 20 * 0.45359237 * 9.80665 * 0.0254],
		['11 ft-lb', 'energy', 11 * 0.45359237 * 9.80665 * 0.3048],
		['2 kW·h', 'energy', 7.2e6],
		['3 kg·m²/s²', 'energy', 3],
		['10 m/s', 'speed', 10],
		['10 metres per second', 'speed', 10],
		['6 kilometres', 'length', 6000],
		['20 km/h', 'speed', 20 / 3.6],
		['9 knots', 'speed', (9 * 1852) / 3600],
		['3 g', 'acceleration', 29.41995],
		['3 g', 'mass', 0.003],
		['90°', 'angle', Math.PI / 2],
		['12 %', 'ratio', 0.12],
		['0.12', 'ratio', 0.12],
		['25 MPa', 'pressure', 25e6],
		['25 PSI', 'pressure', (25 * 0.45359237 * 9.80665) / 0.0254 ** 2],
		['50 KN', 'force', 50_000]
	])('%s', (text, dimension, expected) => {
		const read = si(text, dimension);
		expect(read?.value).toBeCloseTo(expected, 9 - Math.ceil(Math.log10(Math.abs(expected) + 1)));
	});

	it('a blank is not measured, never zero', () => {
		expect(si('', 'length')).toBeNull();
		expect(si('  \u2009 ', 'length')).toBeNull();
	});

	it('a missing unit is the default one, and said', () => {
		const read = parseQuantity('12', { dimension: 'length', defaultUnit: 'ft' });
		expect(read).toEqual({
			ok: true,
			value: { quantity: { text: '12', unit: 'ft', value: 12 }, notes: ['no unit was typed; read as ft'] }
		});
	});
});

describe('spread', () => {
	it.each<[string, object]>([
		['12 +/- 1 ft', { value: 12, plusMinus: 1 }],
		['12 ± 1 ft', { value: 12, plusMinus: 1 }],
		['12+-1ft', { value: 12, plusMinus: 1 }],
		['(12 ± 1) ft', { value: 12, plusMinus: 1 }],
		['12 ± 8 % ft', { value: 12, plusMinus: 0.96 }],
		['12 ft ± 8 %', { value: 12, plusMinus: 0.96 }],
		['12 ft ± 6 in', { value: 12, plusMinus: 0.5 }],
		['12 ± 1 ft (95 %)', { value: 12, plusMinus: 1, level: 0.95 }],
		['12 ± 1 ft at 95 % confidence', { value: 12, plusMinus: 1, level: 0.95 }],
		['12 ± 1 ft (k=2)', { value: 12, plusMinus: 0.5 }],
		['12 ± 1 ft (2σ)', { value: 12, plusMinus: 0.5 }],
		['10 to 14 ft', { value: 12, low: 10, high: 14 }],
		['10–14 ft', { value: 12, low: 10, high: 14 }],
		['10-14 ft', { value: 12, low: 10, high: 14 }],
		['10 - 14 ft', { value: 12, low: 10, high: 14 }],
		['10 ft-14 ft', { value: 12, low: 10, high: 14 }],
		['10..14 ft', { value: 12, low: 10, high: 14 }],
		['between 10 and 14 ft', { value: 12, low: 10, high: 14 }],
		['-2 to 2 ft', { value: 0, low: -2, high: 2 }],
		['120 in to 14 ft', { value: 12, low: 10, high: 14 }]
	])('%s', (text, expected) => {
		const read = parseQuantity(text, { dimension: 'length' });
		if (!read.ok) throw new Error(read.error);
		const { text: typed, unit, ...rest } = read.value.quantity ?? { text: '', unit: '' };
		expect({ typed, unit }).toEqual({ typed: text, unit: 'ft' });
		expect(Object.keys(rest).sort()).toEqual(Object.keys(expected).sort());
		for (const [key, x] of Object.entries(expected))
			expect(rest).toHaveProperty(key, expect.closeTo(x as number, 12));
	});

	it('12 ± 8 % without a unit takes the default unit', () => {
		expect(si('12 ± 8 %', 'length', 'm')).toEqual({ value: 12, plusMinus: 0.96 });
	});
	it('a percentage of a ratio is in points', () => {
		expect(si('12 ± 8 %', 'ratio')).toEqual({ value: 0.12, plusMinus: 0.08 });
	});
	it('a temperature spread does not carry the zero point', () => {
		expect(si('20 ± 2 °C', 'temperature')).toEqual({ value: 293.15, plusMinus: 2 });
		expect(si('68 ± 9 °F', 'temperature')?.plusMinus).toBeCloseTo(5, 12);
		expect(si('20 to 30 °C', 'temperature')).toEqual({ value: 298.15, low: 293.15, high: 303.15 });
	});
	it('a range of directions may pass north', () => {
		const read = si('350 to 20 deg', 'angle');
		expect(read?.low).toBeCloseTo((350 * Math.PI) / 180, 12);
		expect(read?.high).toBeCloseTo((380 * Math.PI) / 180, 12);
	});
});

describe('distributions by their name', () => {
	const lognormal = { value: 8, factor: 1.2, plusMinus: 8 * Math.log(1.2) };
	const triangle = { value: 6, low: 5, high: 8, shape: 'triangular' };
	it.each<[string, object]>([
		['normal 8 ± 1 kg', { value: 8, plusMinus: 1 }],
		['normal(8, 1) kg', { value: 8, plusMinus: 1 }],
		['uniform 5 to 8 kg', { value: 6.5, low: 5, high: 8 }],
		['uniform(5; 8) kg', { value: 6.5, low: 5, high: 8 }],
		['triangular 5, 6, 8 kg', triangle],
		['triangular(5, 6, 8) kg', triangle],
		['triangular 5 to 6 to 8 kg', triangle],
		['triangle 5 kg, 6 kg, 8 kg', triangle],
		['log-normal 8 × 1.2 kg', lognormal],
		['log-normal 8 kg × 1.2', lognormal],
		['lognormal(8, 1.2) kg', lognormal],
		['log-normal 8 kg, factor 1.2', lognormal]
	])('%s', (text, expected) => {
		const read = si(text, 'mass', 'kg')!;
		expect(Object.keys(read).sort()).toEqual(Object.keys(expected).sort());
		for (const [key, x] of Object.entries(expected))
			expect(read).toHaveProperty(key, typeof x === 'number' ? expect.closeTo(x, 4) : x);
	});
	it.each([
		['normal 8 kg', /normal 8 ± 1/],
		['uniform 8 kg', /uniform 5 to 8/],
		['triangular 5, 8 kg', /least, most probable, greatest/],
		['triangular 8, 6, 5 kg', /least, most probable, greatest/],
		['log-normal 8 ± 1 kg', /median and a factor: log-normal 8 × 1\.2/],
		['log-normal 8 × 0.9 kg', /the factor above 1/],
		['log-normal 8 × 1.2 m', /"8 m" is a length; a mass is needed/]
	])('refuses %s', (text, message) => {
		expect(refusal(text, 'mass', 'kg')).toMatch(message);
	});
	it('are written as they are read', () => {
		for (const text of ['triangular 5.5, 6.0, 8.0 kg', 'log-normal 8 kg × 1.2']) {
			const read = parseQuantity(text, { dimension: 'mass' });
			const { quantity } = read.ok ? read.value : { quantity: null };
			expect(formatQuantity(quantity!, 'mass').replace(/\u202f/g, ' ')).toBe(text);
			const { text: _, ...written } = quantity!;
			expect(readQuantity(written, { dimension: 'mass' })).toMatchObject({ value: { quantity: written } });
		}
	});
});

describe('compass points', () => {
	it.each([
		['NW', 315],
		['north-west', 315],
		['S', 180],
		['ene', 67.5],
		['NW ± 10°', 315]
	])('%s', (text, degrees) => {
		expect(si(text, 'angle')!.value).toBeCloseTo((degrees * Math.PI) / 180, 12);
	});
});

describe('where per cent are usual', () => {
	it.each<[string, object]>([
		['0.4', { value: 0.4 }],
		['0.07', { value: 0.07 }],
		['0.4 ± 0.1', { value: 0.4, plusMinus: 0.1 }],
		['0.1 to 0.3', { value: 0.2, low: 0.1, high: 0.3 }],
		['40', { value: 0.4 }],
		['0.4 %', { value: 0.004 }],
		['0', { value: 0 }]
	])('%s', (text, expected) => {
		const read = si(text, 'ratio', '%')!;
		expect(Object.keys(read).sort()).toEqual(Object.keys(expected).sort());
		for (const [key, x] of Object.entries(expected))
			expect(read).toHaveProperty(key, expect.closeTo(x as number, 14));
	});
	it('says how a plain number was read, and asks where it may be either', () => {
		const notes = (text: string) => {
			const read = parseQuantity(text, { dimension: 'ratio', defaultUnit: '%' });
			return read.ok ? read.value.notes.join() : read.error;
		};
		expect(notes('0.4')).toBe('a plain number below 1 is read as a share of 1');
		expect(notes('40')).toBe('no unit was typed; read as %');
		expect(notes('1')).toBe('1 can be read as 1 % or as 100 %; type one of these');
		expect(readQuantity(0.4, { dimension: 'ratio', defaultUnit: '%' })).toMatchObject({
			value: { quantity: { value: 40, unit: '%' } }
		});
	});
	it('a plain number with a plus-minus in per cent is neither', () => {
		expect(refusal('0.75 ± 10 %', 'ratio', '1')).toBe(
			'this can be read in two ways; write both in one unit, such as 0.75 ± 0.075'
		);
	});
});

describe('refusals say what to do', () => {
	it.each<[string, Dimension, string]>([
		['5 kg', 'length', '"5 kg" is a mass; a length is needed, such as 5 m'],
		['5 m', 'mass', '"5 m" is a length; a mass is needed, such as 5 kg'],
		['5 N', 'mass', '"5 N" is a force; a mass is needed, such as 5 kg'],
		[
			'600 psig',
			'pressure',
			'"psig" counts from the pressure of the air outside; write psi, and where an absolute pressure is asked for add that of the air first (101.3 kPa, 14.7 psi at sea level)'
		],
		[
			'4 bar(g)',
			'pressure',
			'"bar(g)" counts from the pressure of the air outside; write bar, and where an absolute pressure is asked for add that of the air first (101.3 kPa, 14.7 psi at sea level)'
		],
		['5 furlongs', 'length', '"furlongs" is not a unit known here; a length is needed, such as 5 m'],
		['1,500 m', 'length', '"1,500" can be read as 1500 or as 1.500; type one of these'],
		['twelve', 'length', '"twelve" is not understood; a length is needed, such as 5 m or 5 ± 1 m'],
		[
			'often',
			'ratio',
			'"often" is not understood; a plain number or a percentage is needed, such as 0.05 or 5 % or 5 ± 1 %'
		],
		['< 5 m', 'length', '"< 5 m" leaves one side open; give a range, such as 0 to 5 m'],
		['12', 'length', 'the unit is missing; a length is needed, such as 5 m'],
		['14 to 10 ft', 'length', 'a range runs from low to high, such as 10 to 14'],
		['12 ± -1 ft', 'length', 'a plus-minus is not negative'],
		['12 ft (95 %)', 'length', 'a level needs a plus-minus before it, such as 12 ± 1 (95 %)'],
		['12 ± 1 ft (100 %)', 'length', 'a level lies between 0 and 100 %, such as (95 %)'],
		['5 kg ±', 'mass', 'how much follows the ±? Write it behind, such as 12 ± 1 kg'],
		['± 5 kg', 'mass', 'the value before the ± is missing: write both, such as 12 ± 1 kg'],
		['12 ± 1 ± 2 ft', 'length', 'give one plus-minus only, such as 12 ± 1'],
		['1/0 in', 'length', '"1/0" divides by zero'],
		['1e999 m', 'length', '"1e999" is too large a number'],
		[
			'5 ft 14 in',
			'length',
			'"5 ft 14 in" does not read as one amount; write it with one unit: a length is needed, such as 5 m'
		],
		[
			'5 N·m',
			'energy',
			'"5 N·m" is a torque; an energy is needed, such as 5 J; a torque does work only through the angle that it turns, and is none itself'
		],
		[
			'5 lbf·ft',
			'energy',
			'"5 lbf·ft" is a torque; an energy is needed, such as 5 J; a torque does work only through the angle that it turns, and is none itself'
		],
		['5 J', 'torque', '"5 J" is an energy; a torque is needed, such as 5 N·m'],
		['NaN m', 'length', '"NaN m" is not understood; a length is needed, such as 5 m or 5 ± 1 m'],
		['5 mj', 'energy', '"mj" can be read in two ways; mind capital and small letters, such as J']
	])('%s', (text, dimension, message) => {
		expect(refusal(text, dimension)).toBe(message);
	});
});

describe('the two forms of a ballistic coefficient', () => {
	it('without a unit it is refused, even where a default stands', () => {
		expect(refusal('30', 'ballistic coefficient', 'kg/m²')).toMatch(
			/^the unit is missing; write kg\/m² or lb\/ft²/
		);
	});
	it('the weight form psf and the mass form lb/ft² are one number in kg/m², and it is said', () => {
		// 1 psf = 4.882428 kg/m² in mass form: derived from the exact definitions of pound, foot and standard gravity.
		for (const unit of ['psf', 'lb/ft2', 'lbf/ft²']) {
			const read = parseQuantity(`1 ${unit}`, { dimension: 'ballistic coefficient' });
			if (!read.ok || !read.value.quantity) throw new Error('not read');
			expect(toSi(read.value.quantity, 'ballistic coefficient').value).toBeCloseTo(4.882428, 6);
			expect(read.value.notes[0]).toMatch(/4\.882428 kg\/m²/);
		}
	});
	it('pounds where a force is wanted are their weight, and it is said', () => {
		const read = parseQuantity('50 lb', { dimension: 'force' });
		if (!read.ok || !read.value.quantity) throw new Error('not read');
		expect(toSi(read.value.quantity, 'force').value).toBeCloseTo(222.4111, 4);
		expect(read.value.notes[0]).toMatch(/read as its weight/);
	});
});
