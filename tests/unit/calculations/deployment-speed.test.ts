import { describe, expect, it } from 'vitest';
import { deploymentSpeed } from '$lib/calculations/deployment-speed/deployment-speed';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';

const inputs = { apogeeHeight: '1200 ± 20 m', mass: '6 kg', diameter: '98 mm', siteTemperature: '15 °C' };
const try_ = (changed: Request['inputs'], rest: Partial<Request> = {}) =>
	runCalculation(deploymentSpeed, { samples: 200, inputs: { ...inputs, ...changed }, ...rest });
function run(changed: Request['inputs'], rest: Partial<Request> = {}): CalculationResult {
	const result = try_(changed, rest);
	if (!result.ok) throw new Error(`${result.error.path}: ${result.error.message}`);
	return result.value;
}
const nominal = (r: CalculationResult, id: string) => r.outputs[id]!.nominal!;

describe('speed at deployment', () => {
	it('is the sideways speed alone at apogee, with its dynamic pressure', () => {
		const r = run({ offset: '0 s', sidewaysSpeed: '12 ± 1 m/s' });
		expect(nominal(r, 'speed')).toBeCloseTo(12, 6);
		expect(nominal(r, 'pressure')).toBeCloseTo(0.5 * 1.0901 * 144, 0);
		expect(r.figure!.title).toMatch(/^A deployment at apogee is at 12/);
	});
	it('grows with the time from apogee, faster on the early side', () => {
		const speed = (offset: string) => nominal(run({ offset }), 'speed');
		expect(speed('-5 s')).toBeGreaterThan(speed('5 s'));
		expect(speed('5 s')).toBeGreaterThan(speed('2 s'));
		const r = run({ offset: '-4 s' });
		expect(nominal(r, 'upward')).toBeGreaterThan(35);
		expect(nominal(r, 'heightLost') + nominal(r, 'height')).toBeCloseTo(1200, 6);
		expect(r.statements.join(' ')).toMatch(
			/before apogee is [\d.]+ times that of a deployment one second late/
		);
	});
	it('takes the sideways speed from speed and angle at burnout', () => {
		const angle = { sidewaysAs: 'angle', burnoutSpeed: '200 ± 1 m/s', burnoutAngle: '10 ± 0.1 deg' };
		const r = run({ ...angle, offset: '0 s' });
		// Less than the 34.7 m/s at burnout, as the drag took its share of it too.
		expect(nominal(r, 'speed')).toBeLessThan(30);
		expect(nominal(r, 'speed')).toBeGreaterThan(10);
		expect(r.warnings.join(' ')).toMatch(/15 % of the apogee height/);
		expect(run({ ...angle, burnoutSpeed: '40 ± 1 m/s', offset: '-5 s' }).warnings.join(' ')).toMatch(
			/faster than at burnout: the motor was still burning/
		);
	});
	it('speed and height together tell early from late', () => {
		const weigh = (offset: string) => {
			const told = run({ offset, sidewaysSpeed: '8 ± 0 m/s' });
			const observed = {
				speed: `${nominal(told, 'speed')} ± 2 m/s`,
				heightLost: `${nominal(told, 'heightLost')} ± 3 m`
			};
			const r = run({ dragCoefficient: '0.5 ± 0.03' }, { observed, samples: 1500 });
			return r.likelihoods!.reduce((a, b) => (b.density > a.density ? b : a)).id;
		};
		expect(weigh('-4.5 s')).toBe('early');
		expect(weigh('6.5 s')).toBe('late');
		expect(weigh('0.3 s')).toBe('at-apogee');
	});
	it('a moment at which it was not flying finds it on the ground', () => {
		const r = run(
			{ apogeeHeight: '60 ± 1 m' },
			{ observed: { speed: '4 m/s' }, scenarios: ['late', 'none-of-these'] }
		);
		expect(r.likelihoods![0]!.words).toMatch(/would be 0/);
	});
	it.each<[string, Request['inputs'], RegExp]>([
		['late', { offset: '3 s' }, /fall nose first .* tumbles or has come apart is slower/],
		['ground speed', {}, /a speed over the ground holds the wind too/],
		['Mach', { offset: '-30 s', mass: '30 kg', apogeeHeight: '8000 m' }, /Mach \d\.\d+: .* not one number/]
	])('warns of %s', (_, changed, warning) => {
		expect(run(changed).warnings.join('\n')).toMatch(warning);
	});
	it.each<[string, Request['inputs'], RegExp]>([
		['after landing', { offset: '200 s' }, /hits the ground/],
		['before the flight', { offset: '-60 s' }, /on the pad|faster than 1500/],
		['half an angle', { sidewaysAs: 'angle', burnoutSpeed: '90 m/s' }, /speed and angle at burnout/]
	])('refuses %s', (_, changed, message) => {
		const r = try_(changed);
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
	it('refuses times in the wrong order and an exact reading', () => {
		const scenarios = [{ id: 'late', from: '5 s', to: '2 s' }, 'none-of-these'];
		const r = try_({}, { observed: { speed: '40 m/s' }, scenarios });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(/least time from apogee/);
		const s = try_({}, { observed: { speed: '40 ± 0 m/s' } });
		expect(s.ok ? 'accepted' : s.error.message).toMatch(/not known exactly/);
	});
});
