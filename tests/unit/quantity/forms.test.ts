import fc from 'fast-check';
import * as v from 'valibot';
import { describe, expect, it } from 'vitest';
import { DIMENSIONS, dimensionNames, type Dimension } from '$lib/quantity/dimensions';
import { decimalsFor, formatNumber, formatQuantity, formatSi } from '$lib/quantity/format';
import { parseQuantity } from '$lib/quantity/parse';
import { fromSi, QuantitySchema, toSi } from '$lib/quantity/quantity';
import { readAnyQuantity, readQuantity } from '$lib/quantity/read';

const length = { dimension: 'length', defaultUnit: 'm' } as const;
const read = (input: unknown, wanted: { dimension: Dimension; defaultUnit?: string } = length) => {
	const r = readQuantity(input, wanted);
	if (!r.ok) throw new Error(r.error);
	return r.value.quantity;
};
const plain = (text: string) => text.replace(/\u202F/g, ' ');

describe('JSON forms', () => {
	it('value, unit, plus-minus and level', () => {
		expect(read({ value: 12, unit: 'ft', plusMinus: 1, level: 0.95 })).toEqual({
			text: '',
			unit: 'ft',
			value: 12,
			plusMinus: 1,
			level: 0.95
		});
	});
	it('low and high, text, a bare number, and a stored quantity with its origin', () => {
		expect(read({ low: 10, high: 14, unit: 'ft' })).toEqual({
			text: '',
			unit: 'ft',
			value: 12,
			low: 10,
			high: 14
		});
		expect(read('12 +/- 1 ft')).toMatchObject({ value: 12, plusMinus: 1, unit: 'ft' });
		expect(read(12)).toEqual({ text: '', unit: 'm', value: 12 });
		expect(read({ text: '12 ft', unit: 'ft', value: 12, from: { item: 'e-1' } })).toEqual({
			text: '12 ft',
			unit: 'ft',
			value: 12
		});
	});
	it('a range with a value that is not its middle says which counts', () => {
		const both = readQuantity({ value: 8.2, low: 8, high: 9, unit: 'm' }, length);
		expect(both.ok && [both.value.quantity?.value, both.value.notes]).toEqual([
			8.5,
			['of a value and a range the range counts, with its middle 8.5 m']
		]);
		const stored = readQuantity({ value: 0.2, low: 0.1, high: 0.3, unit: 'm' }, length);
		expect(stored.ok && stored.value.notes).toEqual([]);
	});
	it.each([null, undefined, '', { value: null }, { value: null, unit: 'm' }])(
		'%j is not measured',
		(input) => {
			expect(read(input)).toBeNull();
		}
	);
	it.each<[unknown, RegExp]>([
		[{ value: 5, unit: 'kg' }, /^"5 kg" is a mass; a length is needed/],
		[{ value: '5', unit: 'm' }, /^"value" .* is not a number/],
		[{ value: 5, unit: 'm', spread: 1 }, /^"spread" does not belong/],
		[{ value: 5, unit: 'm', plusMinus: -1 }, /^a plus-minus is not negative/],
		[{ value: 5, unit: 'm', plusMinus: 1, level: 95 }, /^a level lies between 0 and 1/],
		[{ value: 5, unit: 'm', level: 0.95 }, /^a level needs a plus-minus/],
		[{ plusMinus: 1, unit: 'm' }, /^a plus-minus needs a value/],
		[{ low: 5, unit: 'm' }, /^a range needs both/],
		[{ low: 5, high: 4, unit: 'm' }, /^a range runs from low to high/],
		[{ value: 5, low: 8, high: 9, unit: 'm' }, /^the value 5 lies outside its own range of 8 to 9/],
		[{ value: NaN, unit: 'm' }, /is not a number/],
		[-1.7e308, /too large a number/],
		[{ low: 0, high: 1e99, unit: 'km' }, /too large a number/],
		[true, /^a length is needed/],
		[[1], /a length is needed|does not belong/]
	])('%j is refused', (input, message) => {
		const r = readQuantity(input, length);
		expect(r.ok ? r.value : r.error).toMatch(message);
	});
	it('finds the dimension of an amount whose kind is not given', () => {
		const any = (text: string) => {
			const r = readAnyQuantity(text);
			return r.ok ? r.value.dimension : r.error;
		};
		expect(['5 lb', '3 psi', '12 kg/m2', '20 °C', '5 m/s', '4 ohm', '7'].map(any)).toEqual([
			'mass',
			'pressure',
			'ballistic coefficient',
			'temperature',
			'speed',
			'resistance',
			'ratio'
		]);
		expect(any('a lot')).toMatch(/^"a lot" is not understood/);
	});
});

describe('round trips', () => {
	it('every dimension: its SI unit and both display units come back to 1e-12', () => {
		fc.assert(
			fc.property(
				fc.constantFrom(...dimensionNames),
				fc.double({ min: 1e-3, max: 1e4, noNaN: true }),
				(dimension, x) => {
					for (const unit of [
						DIMENSIONS[dimension].si,
						DIMENSIONS[dimension].metric,
						DIMENSIONS[dimension].imperial
					]) {
						const q = read({ value: x, unit }, { dimension });
						const si = toSi(q!, dimension).value;
						const back = fromSi(si, unit, dimension);
						expect(Math.abs(back - x)).toBeLessThan(1e-12 * (Math.abs(x) + Math.abs(si) + 300));
					}
				}
			)
		);
	});
	it('what is printed as typed reads back as the same quantity', () => {
		const digits = fc.integer({ min: -99999, max: 99999 }).map((n) => n / 100);
		fc.assert(
			fc.property(
				digits,
				fc.integer({ min: 0, max: 999 }),
				fc.constantFrom('m', 'ft', 'km'),
				(value, pm, unit) => {
					const q = read({ value, unit, plusMinus: pm / 100, level: 0.95 });
					const again = read(formatQuantity(q!, 'length'));
					expect(again?.value).toBeCloseTo(value, 9);
					expect(again?.plusMinus).toBeCloseTo(pm / 100, 9);
					expect([again?.unit, again?.level]).toEqual([q?.unit, 0.95]);
				}
			)
		);
	});
	it('no text makes it throw, and what it accepts fits the schema', () => {
		const part = fc.constantFrom(
			'1',
			'12.5',
			',',
			'-',
			'±',
			' ',
			'm',
			'ft',
			"'",
			'"',
			'%',
			'(',
			')',
			'95',
			'to',
			'e3',
			'/',
			'²',
			'k=2'
		);
		fc.assert(
			fc.property(
				fc.oneof(
					fc.string(),
					fc.array(part).map((a) => a.join(''))
				),
				fc.constantFrom(...dimensionNames),
				(text, dimension) => {
					const r = parseQuantity(text, { dimension, defaultUnit: DIMENSIONS[dimension].si });
					if (!r.ok) expect(r.error.length).toBeGreaterThan(5);
					else if (r.value.quantity) expect(v.safeParse(QuantitySchema, r.value.quantity).success).toBe(true);
				}
			),
			{ numRuns: 3000 }
		);
	});
});

describe('printing', () => {
	it('groups digits, keeps a true minus, and never prints -0', () => {
		expect(formatNumber(12345.678, 1)).toBe('12\u202F345.7');
		expect(formatNumber(1234, 0)).toBe('1234');
		expect(formatNumber(-0.04, 1)).toBe('0.0');
		expect(formatNumber(-3.2, 1)).toBe('\u22123.2');
		expect(formatNumber(12345, -2)).toBe('12\u202F300');
		expect(formatNumber(1.5e9, 0)).toBe('1.500·10^9');
		expect(() => formatNumber(NaN, 1)).toThrow(RangeError);
	});
	it('significant figures survive rounding up', () => {
		expect([decimalsFor(9.996, 3), decimalsFor(0.0123, 2), decimalsFor(1500, 2), decimalsFor(0, 3)]).toEqual([
			1, 3, -2, 0
		]);
	});
	it('quantities in the unit typed and in a unit system', () => {
		const q = read('12.5 ± 1 ft (95 %)')!;
		expect(plain(formatQuantity(q, 'length'))).toBe('12.5 ± 1.0 ft (95 %)');
		expect(plain(formatQuantity(q, 'length', 'metric'))).toBe('3.81 ± 0.30 m (95 %)');
		expect(plain(formatQuantity(read('10 to 14 m')!, 'length', 'imperial'))).toBe('32.81 to 45.93 ft');
		expect(plain(formatSi(293.15, 'temperature'))).toBe('20.00 °C');
		expect(plain(formatSi(Math.PI / 2, 'angle', { figures: 3 }))).toBe('90.0°');
		expect(plain(formatSi(0.25, 'ratio'))).toBe('0.2500');
	});
});

it('figures that are asked for hold for large numbers too', () => {
	expect(plain(formatSi(15_899, 'force', { figures: 3 }))).toBe('15 900 N');
	expect(plain(formatSi(15_899, 'force'))).toBe('15 899 N');
	expect(plain(formatSi(1257, 'length', { figures: 3 }))).toBe('1257 m');
});
