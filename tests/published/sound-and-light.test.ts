import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { soundAndLight } from '$lib/calculations/sound-and-light/sound-and-light';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';
import { makeAir } from '$lib/physics/air';
import { delayFromDistanceS, distanceFromDelayM, soundSlownessSM } from '$lib/physics/sound-travel';

const still = {
	frameRate: '1000 Hz',
	syncError: '0 ± 0 ms',
	windAlong: '0 ± 0 m/s',
	siteTemperature: '20 °C'
};
const try_ = (inputs: Request['inputs'], rest: Partial<Request> = {}) =>
	runCalculation(soundAndLight, { samples: 300, inputs: { ...still, ...inputs }, ...rest });
function run(inputs: Request['inputs'], rest: Partial<Request> = {}): CalculationResult {
	const r = try_(inputs, rest);
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
}
const distance = (inputs: Request['inputs']) => run(inputs).outputs['distance']!.nominal!;

describe('delay between light and sound', () => {
	it('5 s at 20 °C with 343.2 m/s of ISO 9613-1 (from memory): 1716.0 m (hand-worked)', () => {
		expect(Math.abs(distance({ delay: '5 s' }) / 1716 - 1)).toBeLessThan(2e-4);
	});
	it('a mile takes 4.689 s at 20 °C, 6.6 % less than the rule of 5 s (rule seen, time hand-worked)', () => {
		const slowness = soundSlownessSM(makeAir({ siteElevationM: 0, surfaceTemperatureK: 293.15 }), 0, 0);
		const time = delayFromDistanceS(1609.344, slowness);
		expect(Math.abs(time - 4.689)).toBeLessThan(5e-4);
		expect(5 / time - 1).toBeCloseTo(0.066, 3);
		expect(run({ delay: '5 s' }).warnings.join('\n')).toMatch(
			/Five seconds to the mile would say 1609\Dm instead of 1716\Dm/
		);
	});
	it('straight down from 3000 m in standard air: 8.9703 s; with 340.29 m/s throughout 3052.5 m (hand-worked)', () => {
		const slowness = soundSlownessSM(makeAir({ siteElevationM: 0 }), 3000, 0);
		expect(Math.abs(delayFromDistanceS(3000, slowness) - 8.9703)).toBeLessThan(1e-4);
		expect(Math.abs(8.9703 * 340.29 - 3052.5)).toBeLessThan(0.1);
		const whole = run({ siteTemperature: '', delay: '8.9703 s', height: '2990 ± 0 m' }).outputs;
		expect(Math.abs(whole['distance']!.nominal! / 3000 - 1)).toBeLessThan(1e-4);
	});
	it('15 against 25 °C is 29 m in 5 s, and 5 m/s of wind along the path ±25 m (hand-worked)', () => {
		const d = (siteTemperature: string, windAlong = '0 ± 0 m/s') =>
			distance({ delay: '5 s', siteTemperature, windAlong });
		expect(Math.abs(d('25 °C') - d('15 °C') - 29)).toBeLessThan(0.5);
		expect(Math.abs(d('15 °C', '5 ± 0 m/s') - d('15 °C') - 25)).toBeLessThan(0.2);
		expect(Math.abs(d('15 °C', '-5 ± 0 m/s') - d('15 °C') + 25)).toBeLessThan(0.2);
	});
	it('there and back again, and longer from farther', () => {
		const air = makeAir({ siteElevationM: 500 });
		fc.assert(
			fc.property(
				fc.double({ min: 1, max: 20_000, noNaN: true }),
				fc.double({ min: 0, max: 9000, noNaN: true }),
				fc.double({ min: -20, max: 20, noNaN: true }),
				(d, height, wind) => {
					const s = soundSlownessSM(air, 0, height, wind);
					expect(distanceFromDelayM(delayFromDistanceS(d, s), s) / d).toBeCloseTo(1, 12);
					expect(soundSlownessSM(air, height, 0, wind)).toBeCloseTo(s, 12);
					expect(s).toBeLessThan(soundSlownessSM(air, 0, height + 100, wind));
				}
			)
		);
	});
	it('agrees with a fine sum through the temperatures', () => {
		const air = makeAir({ siteElevationM: 300, surfaceTemperatureK: 301 });
		const n = 20_000;
		let sum = 0;
		for (let i = 0; i < n; i++) sum += 1 / (air.soundSpeedMS(((i + 0.5) / n) * 4321) + 4) / n;
		expect(soundSlownessSM(air, 0, 4321, 4) / sum).toBeCloseTo(1, 8);
	});
});

describe('the calculation', () => {
	it('takes height off the distance along the ground, and errors of timing off the delay', () => {
		const r = run({ delay: '3 s', height: '800 ± 0 m' }).outputs;
		expect(Math.hypot(r['along']!.nominal!, 800)).toBeCloseTo(r['distance']!.nominal!, 6);
		expect(distance({ delay: '3 s', syncError: '100 ± 0 ms' })).toBeCloseTo(distance({ delay: '2.9 s' }), 6);
		expect(distance({ delay: '3 s', seenLate: '0.2 s' })).toBeCloseTo(distance({ delay: '3.2 s' }), 6);
	});
	it('tells deployment from impact by the delay alone', () => {
		const places = {
			padDistance: '300 m',
			deploymentHeight: '250 m',
			apogeeHeight: '1500 m',
			impactDistance: '900 m'
		};
		const best = (delay: string) =>
			run(places, { observed: { delay }, samples: 1000 }).likelihoods!.reduce((a, b) =>
				b.density > a.density ? b : a
			).id;
		expect(best('2.62 s')).toBe('at-impact');
		expect(best('1.14 s')).toBe('at-deployment-height');
		expect(best('0.87 s')).toBe('on-the-pad');
		expect(best('4.5 s')).toBe('at-apogee');
		expect(best('9 s')).toBe('none-of-these');
	});
	it('compares only places whose distance is known, and names what is missing', () => {
		const r = run({ impactDistance: '900 m' }, { observed: { delay: '2.6 s' } });
		expect(r.likelihoods!.map((l) => l.id)).toEqual(['at-impact', 'none-of-these']);
		const ask = (id: string) => {
			const s = try_({}, { observed: { delay: '2 s' }, scenarios: [id, 'none-of-these'] });
			return s.ok ? 'accepted' : s.error.message;
		};
		expect(ask('at-apogee')).toMatch(/needs “Height of apogee”/);
		expect(ask('on-the-pad')).toMatch(/needs “Listener to the pad, along the ground”/);
		expect(ask('at-impact')).toMatch(/needs “Listener to where it hit the ground”/);
	});
	it.each<[string, Request['inputs'], RegExp]>([
		['reaction', { timedBy: 'hand' }, /0\.2 to 0\.3 s is 68\.\d\Dm to 103\Dm/],
		[
			'pictures and their sound',
			{ frameRate: '30 Hz' },
			/One picture of the video is 11\.4\Dm; sound and picture/
		],
		['no temperature', { siteTemperature: '' }, /10 K more or less is 29 m in 5 s/],
		['echo, wind, seen late', {}, /An echo, a hill or wind that bends the sound away.*seen after it happened/]
	])('warns of %s', (_, changed, warning) => {
		expect(run({ delay: '3 s', ...changed }).warnings.join('\n')).toMatch(warning);
	});
	it.each<[string, Request['inputs'], RegExp]>([
		['a delay too short for the height', { delay: '1 s', height: '800 m' }, /less than the height/],
		['a delay within its errors', { delay: '0.1 s', syncError: '300 ± 0 ms' }, /errors of timing/],
		['wind as fast as sound', { delay: '1 s', windAlong: '-400 m/s' }, /must be at least/]
	])('refuses %s', (_, changed, message) => {
		const r = try_(changed);
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
	it('refuses an exact delay as evidence', () => {
		const r = try_({ padDistance: '90 m' }, { observed: { delay: '3 ± 0 s' } });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(/no delay is known exactly/);
	});
});
