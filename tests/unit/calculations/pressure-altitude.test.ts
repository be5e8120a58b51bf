import { describe, expect, it } from 'vitest';
import { pressureAltitude } from '$lib/calculations/pressure-altitude/pressure-altitude';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';

function run(inputs: Request['inputs'], rest: Partial<Request> = {}): CalculationResult {
	const r = runCalculation(pressureAltitude, { inputs, ...rest });
	if (!r.ok) throw new Error(r.error.message);
	return r.value;
}

describe('a temperature that is not known', () => {
	const blank = run({ indicatedHeight: '1000 m' });
	it('is in the interval: 10 K is 3.5 % of the height', () => {
		const { low90, high90, nominal } = blank.outputs['trueHeight']!;
		expect(nominal).toBeCloseTo(1000, 0);
		// 1.645 standard deviations of 10 K and 3 K together, at 0.348 % of the height a kelvin.
		expect((high90 - low90) / 2).toBeGreaterThan(55);
		expect((high90 - low90) / 2).toBeLessThan(65);
		for (const day of ['30 °C', '0 °C'])
			expect(run({ indicatedHeight: '1000 m', siteTemperature: day }).outputs['trueHeight']!.nominal)
				// A day of 1.5 standard deviations lies within it.
				.toSatisfy((h: number) => h > low90 && h < high90);
	});
	it('is said among what is assumed, and ranks first', () => {
		expect(blank.notes.join(' ')).toMatch(/temperature being unknown: 0 ± 10 K is assumed/);
		expect(blank.sensitivity.find((s) => s.output === 'trueHeight')!.ranked[0]!.path).toBe('dayWarmer');
	});
	it('plays no part once the temperature is given', () => {
		const { notes, outputs } = run({ indicatedHeight: '1000 m', siteTemperature: '15 °C' });
		expect(notes.join(' ')).not.toMatch(/being unknown/);
		expect(outputs['trueHeight']!.high90 - outputs['trueHeight']!.low90).toBeLessThan(45);
	});
});

describe('a height known otherwise', () => {
	it('is warned of: above the ellipsoid or the sea, and what its makers state holds under open sky', () => {
		const said = run({ trueHeight: '930 m' }).warnings.join(' ');
		expect(said).toMatch(/ellipsoid or above mean sea level, tens of metres apart.*under open sky/);
		expect(run({ indicatedHeight: '900 m' }).warnings.join(' ')).not.toMatch(/ellipsoid/);
	});
});

describe('readings that tell no height', () => {
	it('a pressure aloft above that of the pad is remarked', () => {
		const { warnings } = run({ readAs: 'pressure', pressureAloft: '1050 hPa', sitePressure: '1013 hPa' });
		expect(warnings.join(' ')).toMatch(/30\d.m below the pad.*check whether the two are swapped/);
		expect(run({ indicatedHeight: '-3 m' }).warnings.join(' ')).not.toMatch(/below the pad/);
		expect(run({ indicatedHeight: '-300 m' }).warnings.join(' ')).toMatch(/below the pad: check the sign/);
	});
	it.each(['charge', 'fast'])('gives no true height and no figure at a moment of %s', (moment) => {
		const { outputs, figure, statements, sensitivity } = run({
			indicatedHeight: '900 m',
			trueHeight: '930 m',
			moment
		});
		expect(Object.keys(outputs)).toEqual(['indicated', 'pressureAltitude']);
		expect(sensitivity).toEqual([]);
		expect(figure).toBeUndefined();
		expect(statements.join(' ')).toMatch(/No true height is given/);
	});
	it('still weighs a reading at such a moment', () => {
		const { likelihoods } = run(
			{ trueHeight: '930 m', moment: 'charge' },
			{ observed: { reading: '700 m' } }
		);
		expect(likelihoods!.length).toBe(5);
	});
});
