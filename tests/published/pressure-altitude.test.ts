import { describe, expect, it } from 'vitest';
import { pressureAltitude } from '$lib/calculations/pressure-altitude/pressure-altitude';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';
import { standardAtmosphere, thicknessM } from '$lib/physics/atmosphere';
import { makeAir } from '$lib/physics/air';

const exact = { aloftError: '0 ± 0 K', portError: '0 ± 0 hPa' };
const try_ = (inputs: Request['inputs'], rest: Partial<Request> = {}) =>
	runCalculation(pressureAltitude, { samples: 200, inputs: { ...exact, ...inputs }, ...rest });
function run(inputs: Request['inputs'], rest: Partial<Request> = {}): CalculationResult {
	const r = try_(inputs, rest);
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
}
const value = (inputs: Request['inputs'], id = 'trueHeight') => run(inputs).outputs[id]!.nominal!;

describe('in the temperatures of a sounding', () => {
	const day = (kelvins: string) =>
		[0, 1000, 4000].map((h) => ({ height: `${h} m`, temperature: `${kelvins} K` }));
	// h = (R T / g) ln(p0/p) of one temperature: 287.0529 · 273.15 / 9.80665 · ln 1.25 = 1784.2 m, and 4.9 m in 30 km/2 more as a height above a round Earth.
	it('hand-worked: 0 °C all the way from 1000 to 800 hPa is 1784 m, whatever the pad says', () => {
		const inputs = {
			readAs: 'pressure',
			pressureAloft: '800 hPa',
			sitePressure: '1000 hPa',
			airTemperatures: day('273.15')
		};
		expect(Math.abs(value(inputs) - 1784.7)).toBeLessThan(0.5);
		expect(value({ ...inputs, aloftError: '10 ± 0 K' }) / value(inputs)).toBeCloseTo(283.15 / 273.15, 3);
		expect(run(inputs).warnings.join(' ')).toMatch(/stand for the one at the pad/);
	});
});

describe('pressure altitude (hand-worked, exact layers)', () => {
	it.each([
		[950, 540.3],
		[900, 988.5],
		[850, 1457.3],
		[700, 3012.2],
		[500, 5574.4],
		[300, 9164.0],
		[250, 10363.0],
		[200, 11784.1],
		[100, 16179.7]
	])('of %i hPa is %f m', (hPa, metres) => {
		const inputs = { readAs: 'pressure', pressureAloft: `${hPa} hPa`, sitePressure: '1013.25 hPa' };
		expect(Math.abs(value(inputs, 'pressureAltitude') - metres)).toBeLessThan(0.1);
	});
	// Norman, 22 May 2011, 12 Z: pressures and true heights above the station at 966 hPa (seen); the heights that a recorder shows, derived.
	it.each([
		[850, 1109, 1056.3, -4.75],
		[730.1, 2398, 2278.9, -4.97],
		[584, 4210, 4011.3, -4.72],
		[500, 5425, 5173.5, -4.64]
	])(
		'of a real sounding: at %f hPa, %i m above the ground, a recorder shows %f m, %f %%',
		(hPa, height, shown, percent) => {
			const inputs = {
				readAs: 'pressure',
				pressureAloft: `${hPa} hPa`,
				sitePressure: '966 hPa',
				siteElevation: '345 m'
			};
			const ours = value(inputs, 'indicated');
			expect(Math.abs(ours - shown)).toBeLessThan(1);
			expect(Math.abs(100 * (ours / height - 1) - percent)).toBeLessThan(0.1);
		}
	);
	// The short form 44330 (1-(p/1013.25)^(1/5.255)) is not used; what it would say stands in the warning.
	it.each([
		[150, 98],
		[100, 381]
	])('at %i hPa the short form is %i m low (hand-worked), which is warned of below 226.3 hPa', (hPa, low) => {
		const short = 44_330 * (1 - (hPa / 1013.25) ** (1 / 5.255));
		const inputs = { readAs: 'pressure', pressureAloft: `${hPa} hPa`, sitePressure: '1013.25 hPa' };
		expect(Math.abs(value(inputs, 'pressureAltitude') - short - low)).toBeLessThan(0.6);
		expect(run(inputs).warnings.join('\n')).toContain(`${low} m`);
	});
	// ICAO Doc 8168: -40 °C quoted in a safety note (seen), the others from its table (from memory).
	it.each([
		[-40, 2000, 480, 10],
		[-20, 1000, 140, 5],
		[-30, 1000, 190, 5]
	])(
		'at %i °C a recorder at true %i ft shows %i ft more (published; from memory)',
		(c, feet, more, tolerance) => {
			const shown = value(
				{ siteTemperature: `${c} °C`, sitePressure: '1013.25 hPa', trueHeight: `${feet} ft` },
				'wouldShow'
			);
			expect(Math.abs(shown / 0.3048 - feet - more)).toBeLessThan(tolerance);
		}
	);
	it.each([
		[-20, 929.8],
		[15, 1052.7],
		[30, 1105.3]
	])('1000 m shown, %i K from standard: %f m (hand-worked)', (kelvin, metres) => {
		expect(Math.abs(thicknessM(1000, kelvin) - metres)).toBeLessThan(0.2);
		// The day's air holds the difference at each height, not at each pressure: within 1 m of it.
		const inputs = { indicatedHeight: '1000 m', siteTemperature: `${15 + kelvin} °C` };
		expect(Math.abs(value(inputs) - metres)).toBeLessThan(1);
	});
	it('air 20 K warmer is 6.5 % thinner at sea level (hand-worked), and the warning says so with its numbers', () => {
		const warm = makeAir({ siteElevationM: 0, surfaceTemperatureK: 308.15 });
		expect(warm.densityKgM3(0) / standardAtmosphere(0).densityKgM3 - 1).toBeCloseTo(-0.065, 3);
		expect(run({ indicatedHeight: '10 m', siteTemperature: '35 °C' }).warnings.join('\n')).toMatch(
			/pressure altitude alone would be 1\.22\Dkg\/m³ there; with the day’s temperature it is 1\.14/
		);
	});
});

describe('what a recorder shows', () => {
	const day = { siteElevation: '420 m', siteTemperature: '28 °C', sitePressure: '962 hPa' };
	it('comes back from the height that it stands for, whatever the day, the lag and the port', () => {
		for (const more of [{}, { portError: '3 ± 0 hPa' }, { portLag: '0.8 s', climbRate: '-40 m/s' }]) {
			const shown = value({ ...day, ...more, trueHeight: '1800 ± 0 m' }, 'wouldShow');
			expect(value({ ...day, ...more, indicatedHeight: `${shown} m` })).toBeCloseTo(1800, 6);
		}
	});
	it('as pressures and as a height is the same', () => {
		const byPressure = run({ ...day, readAs: 'pressure', pressureAloft: '800 hPa' }).outputs;
		const shown = byPressure['indicated']!.nominal!;
		expect(value({ ...day, indicatedHeight: `${shown} m` })).toBeCloseTo(
			byPressure['trueHeight']!.nominal!,
			6
		);
	});
	it('is too low on a warm day, by the share that it says', () => {
		const r = run({ ...day, indicatedHeight: '1000 m' });
		expect(r.outputs['share']!.nominal).toBeGreaterThan(0.04);
		expect(r.outputs['correction']!.nominal! / 1000).toBeCloseTo(r.outputs['share']!.nominal!, 9);
		expect(r.figure!.title).toMatch(/^Shown 1000\Dm, it was 105\d\Dm/);
	});
	it('weighs a recorder against a height known otherwise', () => {
		const best = (reading: string, more: Request['inputs'] = {}) =>
			run(
				{ ...day, aloftError: '0 ± 1 K', portError: '0 ± 0.2 hPa', trueHeight: '2000 ± 4 m', ...more },
				{ observed: { reading }, samples: 1000 }
			).likelihoods!.reduce((a, b) => (b.density > a.density ? b : a)).id;
		const shown = value({ ...day, trueHeight: '2000 ± 0 m' }, 'wouldShow');
		expect(best(`${shown} ± 3 m`)).toBe('standard-air');
		expect(best('2000 ± 3 m')).toBe('told-the-temperature');
		expect(best(`${shown - 60} ± 3 m`)).toBe('port-lag');
		expect(best('2250 ± 3 m')).toBe('port-pressure');
		expect(best('3900 ± 3 m')).toBe('none-of-these');
	});
	it.each<[string, Request['inputs'], RegExp]>([
		['no temperature', {}, /0\.35 % for each kelvin.*5 % on a day 15 K warmer, 7 % at 20 K/],
		['zero on the pad', {}, /takes out the error of the pressure setting, not that of the temperature/],
		['the speed of sound', { moment: 'fast' }, /that of the shock.*means nothing/],
		['a charge', { moment: 'charge' }, /A charge lifts or lowers the pressure.*means nothing/],
		['a lag', { climbRate: '150 m/s' }, /each tenth of a second .* is 15\.0\Dm/],
		['a cold day', { siteTemperature: '-30 °C' }, /4 % for 10 K is too small/]
	])('warns of %s', (_, changed, warning) => {
		expect(run({ indicatedHeight: '900 m', ...changed }).warnings.join('\n')).toMatch(warning);
	});
	it.each<[string, Request['inputs'], Request['observed'], RegExp]>([
		['nothing', {}, undefined, /give what the recorder showed, or a height/],
		[
			'one pressure alone',
			{ readAs: 'pressure', pressureAloft: '800 hPa' },
			undefined,
			/pressure at the pad too, of the same recorder/
		],
		[
			'a port error beyond the pressure',
			{ readAs: 'pressure', pressureAloft: '20 hPa', sitePressure: '1000 hPa', portError: '19 ± 0 hPa' },
			undefined,
			/hardly any pressure left/
		],
		[
			'a reading without another height',
			{ indicatedHeight: '900 m' },
			{ reading: '900 m' },
			/known otherwise/
		],
		['an exact reading', { trueHeight: '900 m' }, { reading: '900 ± 0 m' }, /no reading is exact/]
	])('refuses %s', (_, changed, observed, message) => {
		const r = try_(changed, observed ? { observed } : {});
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
	it('refuses bounds that do not rise', () => {
		const scenarios = [{ id: 'port-lag', from: '5 s', to: '2 s' }, 'none-of-these'];
		const r = try_({ trueHeight: '900 m' }, { observed: { reading: '880 m' }, scenarios });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(/lower bound/);
	});
});
