import { describe, expect, it } from 'vitest';
import { CALCULATIONS, calculationById } from '$lib/calculations/registry';
import { runCalculation, type Request } from '$lib/calculations/run';
import { AIR, airOf } from '$lib/calculations/through-wind';
import { wind } from './example';

const of = (
	siteTemperature: number | undefined,
	airTemperatures: { height: number; temperature: number }[]
) => airOf({ siteElevation: 300, siteTemperature, sitePressure: undefined, airTemperatures });

describe('the air of the day', () => {
	it('follows the sounding, and the pad’s own temperature below its lowest level', () => {
		const levels = [
			{ height: 400, temperature: 285 },
			{ height: 1400, temperature: 275 }
		];
		const air = of(270, levels);
		expect(air.temperatureK(0)).toBeCloseTo(270, 6);
		expect(air.temperatureK(200)).toBeCloseTo(277.5, 1);
		expect(air.temperatureK(900)).toBeCloseTo(280, 1);
		expect(of(undefined, levels).temperatureK(400)).toBeCloseTo(285, 6);
	});
	it('is as before without one', () => {
		expect(of(290, []).temperatureK(1000)).toBeCloseTo(283.5, 1);
		expect(of(undefined, []).densityKgM3(0)).toBeCloseTo(1.19, 2);
	});
	it('is asked for in the same words by every calculation that uses air', () => {
		const asking = CALCULATIONS.filter(({ inputs }) => inputs.some(({ id }) => id === 'siteElevation'));
		expect(asking.map(({ id }) => id)).toEqual(
			expect.arrayContaining([
				'fall-separation',
				'landing-footprint',
				'descent',
				'ascent',
				'pressure-altitude'
			])
		);
		const shared = AIR.find(({ id }) => id === 'airTemperatures');
		for (const { id, inputs } of asking)
			expect(
				inputs.find((f) => f.id === 'airTemperatures'),
				id
			).toBe(shared);
	});
	const frost = [
		{ height: '0 m', temperature: '-30 °C' },
		{ height: '3000 m', temperature: '-40 °C' }
	];
	it.each<[string, string, Request['inputs'], 1 | -1]>([
		['landing-footprint', 'descentTime of As planned', { apogeeHeight: '1500 m', drogueRate: '20 m/s', mainRate: '6 m/s', mainHeight: '300 m', wind }, 1], // prettier-ignore
		['descent', 'rate', { mass: '5 kg', dragArea: '2 m²' }, -1],
		['ascent', 'apogee', { liftoffMass: '9 kg', propellantMass: '1.2 kg', totalImpulse: '2000 N·s', burnTime: '2.4 s', diameter: '98 mm', rodLength: '2.5 m' }, -1] // prettier-ignore
	])('moves %s: thick cold air brakes more', (id, output, inputs, sign) => {
		const run = (airTemperatures: unknown) => {
			const r = runCalculation(calculationById(id)!, {
				samples: 100,
				inputs: { ...inputs, airTemperatures }
			});
			if (!r.ok) throw new Error(r.error.message);
			const found = r.value.outputs[output];
			if (!found) throw new Error(Object.keys(r.value.outputs).join());
			return found.nominal!;
		};
		expect(Math.sign(run(frost) - run([]))).toBe(sign);
	});
	it('refuses levels that do not rise', () => {
		const r = runCalculation(calculationById('descent')!, {
			samples: 100,
			inputs: { mass: '5 kg', dragArea: '2 m²', airTemperatures: frost.toReversed() }
		});
		expect(r).toMatchObject({ ok: false, error: { path: 'airTemperatures.2.height' } });
	});
});
