import { describe, expect, it } from 'vitest';
import { descent } from '$lib/calculations/descent/descent';
import { runCalculation, type Request } from '$lib/calculations/run';

const run = (inputs: Request['inputs'], rest: Partial<Request> = {}) =>
	runCalculation(descent, { inputs, samples: 400, ...rest });
const outputs = (inputs: Request['inputs']) => {
	const r = run(inputs);
	if (!r.ok) throw new Error(r.error.message);
	return r.value.outputs;
};
const canopy = { mass: '10 kg', canopyDiameter: '3.0 m', dragCoefficient: '0.75 ± 0' };

describe('steady descent (hand-worked, with coefficients of Knacke from memory)', () => {
	it('10 kg under 3.0 m, Cd 0.75, sea level: 5.4955 m/s; and that rate implies the whole canopy, 5.3014 m²', () => {
		const o = outputs({ ...canopy, recordedRate: '5.4955 m/s' });
		expect(Math.abs(o['rate']!.nominal! / 5.4955 - 1)).toBeLessThan(1e-4);
		expect(Math.abs(o['impliedArea']!.nominal! / 5.3014 - 1)).toBeLessThan(1e-4);
		expect(o['openShare']!.nominal).toBeCloseTo(1, 3);
	});
	it('in pounds and feet: 200 lb under 28 ft, Cd 0.75, 0.0023769 slug/ft³: 19.09 ft/s, in whatever unit the pressure comes', () => {
		// √(2 · 200 / (0.75 · 615.75 · 0.0023769)) = 19.09 ft/s.
		for (const sitePressure of ['1013.25 mb', '29.92 in Hg', '14.696 psi', '760 mm Hg', '1 atm']) {
			const o = outputs({
				mass: '200 lb',
				canopyDiameter: '28 ft',
				dragCoefficient: '0.75 ± 0',
				siteTemperature: '59 deg F',
				sitePressure
			});
			expect(Math.abs(o['rate']!.nominal! / 0.3048 / 19.09 - 1)).toBeLessThan(3e-4);
		}
	});
	it('where the air has 1.0 kg/m³ it is 6.0824 m/s', () => {
		// Standard air has 1.0066 kg/m³ at 2000 m and 1.0 at about 2064 m.
		const o = outputs({ ...canopy, siteElevation: '2064 m' });
		expect(Math.abs(o['rate']!.nominal! / 6.0824 - 1)).toBeLessThan(3e-4);
	});
	it('1 m/s of vertical air at 5 m/s moves the implied drag area by -31 to +56 %', () => {
		const area = (verticalAir: string) =>
			outputs({ mass: '10 kg', recordedRate: '5 m/s', verticalAir })['impliedArea']!.nominal!;
		const still = area('0 ± 0 m/s');
		expect(100 * (area('1 ± 0 m/s') / still - 1)).toBeCloseTo(-31, 0);
		expect(100 * (area('-1 ± 0 m/s') / still - 1)).toBeCloseTo(56, 0);
		const r = run({ mass: '10 kg', recordedRate: '5 m/s' });
		expect(r.ok && r.value.warnings.join(' ')).toMatch(/by −31 to \+56 %/);
	});
	it('height lost over time is a rate; half the area as evidence', () => {
		expect(
			outputs({ mass: '10 kg', heightLost: '100 m', timeTaken: '20 s' })['impliedArea']!.nominal
		).toBeCloseTo(outputs({ mass: '10 kg', recordedRate: '5 m/s' })['impliedArea']!.nominal!, 9);
		const r = run(canopy, { observed: { rate: '9 ± 0.3 m/s' }, samples: 2000 });
		if (!r.ok) throw new Error(r.error.message);
		const [open, partly, none] = r.value.likelihoods!.map((l) => l.density);
		expect(partly).toBeGreaterThan(5 * open!);
		expect(partly).toBeGreaterThan(none!);
	});
	it.each<[Request['inputs'], RegExp]>([
		[{ mass: '10 kg' }, /give the drag area or diameter/],
		[{ ...canopy, dragArea: '5 m²' }, /not both/],
		[{ mass: '10 kg', heightLost: '100 m' }, /needs the time/],
		[{ ...canopy, mass: '0 kg' }, /must be more than 0/],
		[{ ...canopy, verticalAir: '9 m/s' }, /the air rises as fast as the canopy sinks/]
	])('refuses %j', (inputs, message) => {
		const r = run(inputs);
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
});
