import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CALCULATIONS } from '$lib/calculations/registry';
import { runCalculation } from '$lib/calculations/run';
import { pieces, wind } from './example';

const whole = {
	breach: { hole: '8 mm', pressure: '4 MPa', throat: '16 mm', exponent: '0.32', expansion: '6' },
	search: {
		segments: [{ area: '2 ha', weight: '1', width: '6 m' }],
		searches: [{ walked: '3 km' }]
	},
	'reconcile-readings': { kind: 'length', least: '0 m', greatest: '2 km' },
	'fall-separation': { pieces, wind, releaseHeight: '400 m', highestParting: '700 m' },
	'landing-footprint': { apogeeHeight: '700 m', mainRate: '6 m/s', bareRate: '40 m/s', wind },
	'deployment-charge': { charge: '1.5 g', bore: '98 mm', volume: '3 L', pin: '#2-56', pins: '3' },
	'tether-load': {
		speed: '9 m/s',
		massA: '2 kg',
		massB: '4 kg',
		length: '6 m',
		lineStrength: '4 kN',
		lineMass: '150 g'
	},
	impact: {
		mass: '8 kg',
		speed: '22 m/s',
		crush: '120 mm',
		damage: [
			{ name: 'Fin', energy: '400 J' },
			{ needs: 'deceleration', deceleration: '90 g' }
		]
	},
	'opening-load': { mass: '10 kg', speed: '20 m/s', diameter: '3 m', strength: '900 N' },
	'attachment-strength': { load: '500 N', links: [{ name: 'Eye', kind: 'bolt' }, { strength: '900 N' }] },
	ascent: {
		liftoffMass: '7 kg',
		propellantMass: '1.2 kg',
		totalImpulse: '2200 N·s',
		burnTime: '2.4 s',
		diameter: '98 mm',
		wind,
		moment: '8 s'
	},
	'deployment-speed': { offset: '-3 s', apogeeHeight: '900 m', mass: '6 kg', diameter: '98 mm' },
	'fin-flutter': {
		rootChord: '200 mm',
		tipChord: '90 mm',
		span: '100 mm',
		thickness: '3 mm',
		shearModulus: '4 GPa',
		ascent: [{ height: '300 m', speed: '180 m/s' }]
	},
	'sound-and-light': { delay: '2.3 s', height: '200 m' },
	'pressure-altitude': { indicatedHeight: '900 m', siteTemperature: '24 °C', trueHeight: '930 m' },
	descent: { mass: '5 kg', dragArea: '2 m²', recordedRate: '9 m/s', fromHeight: '300 m' },
	'chamber-pressure': {
		grains: [{ outer: '50 mm', core: '20 mm', length: '80 mm', count: '4' }],
		density: '1800 kg/m³',
		rate: '8.26 mm/s',
		ratePressure: '1 MPa',
		exponent: '0.32',
		characteristicVelocity: '885 m/s',
		throat: '14 mm'
	},
	'wall-temperature': {
		layers: [
			{ thickness: '2 mm', material: 'phenolic' },
			{ thickness: '3 mm', material: 'aluminium' }
		],
		heating: 'typed',
		coefficient: '900',
		recovery: '2600 K',
		burnTime: '3 s'
	}
} as Record<string, Record<string, unknown>>;

/** Where nothing is computed before something is observed. */
const seen = {
	'reconcile-readings': { readings: [{ value: '812 ± 8 m' }, { value: '641 ± 8 m' }] }
} as Record<string, Record<string, unknown>>;

describe.each(CALCULATIONS.map((c) => [c.id, c] as const))('%s with whatever is thrown at it', (id, c) => {
	const odd = fc.oneof(
		fc.constantFrom<unknown>(
			null,
			'',
			'x',
			-1,
			0,
			1e300,
			[],
			{},
			[null],
			true,
			'-5 m',
			'1e9 m',
			'0 ± 1 m/s',
			'5 kg',
			{ value: 3 },
			{ low: 1, high: 2, unit: 'm' }
		),
		fc.double(),
		fc.string({ maxLength: 8 })
	);
	it('answers with finite numbers or refuses in words', () => {
		fc.assert(
			fc.property(fc.constantFrom(...c.inputs.map((f) => f.id)), odd, (field, value) => {
				const result = runCalculation(c, {
					inputs: { ...whole[id], [field]: value },
					...(seen[id] ? { observed: seen[id] } : {}),
					samples: 50
				});
				if (!result.ok) expect(result.error.message.length).toBeGreaterThan(8);
				else
					for (const o of Object.values(result.value.outputs))
						expect([o.median, o.low90, o.high90, o.nominal ?? 0].every(Number.isFinite)).toBe(true);
			}),
			// Each run of a wall conducts heat a hundred times.
			{ numRuns: id === 'wall-temperature' ? 50 : 150 }
		);
	});
});
