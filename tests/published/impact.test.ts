import { describe, expect, it } from 'vitest';
import { impact } from '$lib/calculations/impact/impact';
import { runCalculation } from '$lib/calculations/run';
import { equivalentDropM, kineticEnergyJ, meanDecelerationMS2, PEAK_OVER_MEAN } from '$lib/physics/impact';
import { integrate } from '$lib/physics/ode';
import { parseQuantity } from '$lib/quantity/parse';
import { toSi } from '$lib/quantity/quantity';

describe('impact (hand-worked)', () => {
	it('75 ft lbf, a landing-energy limit of student contests (common practice, no source), is 101.69 J', () => {
		const read = parseQuantity('75 ft lbf', { dimension: 'energy' });
		if (!read.ok || !read.value.quantity) throw new Error('not read');
		expect(Math.abs(toSi(read.value.quantity, 'energy').value / 101.69 - 1)).toBeLessThan(1e-4);
		// Damage that needs just that, in an impact that has just that.
		const r = runCalculation(impact, {
			inputs: {
				mass: '10 ± 0 kg',
				speed: `${Math.sqrt((2 * 101.69) / 10)} ± 0 m/s`,
				horizontal: '0 m/s',
				damage: [{ name: 'Tube', needs: 'energy', energy: '75 ± 0 ft·lbf' }]
			},
			samples: 100
		});
		if (!r.ok) throw new Error(r.error.message);
		expect(Math.abs(r.value.outputs['share of Tube']!.nominal! - 1)).toBeLessThan(1e-4);
	});
	it('energy, mean deceleration, drop: m v²/2, v²/(2 s), v²/(2 g)', () => {
		expect(kineticEnergyJ(10, 6)).toBe(180);
		expect(meanDecelerationMS2(6, 0.02)).toBeCloseTo(900, 12);
		expect(equivalentDropM(9.80665)).toBeCloseTo(9.80665 / 2, 12);
	});
	it.each([
		['constant force', () => 1, PEAK_OVER_MEAN.constant, 1],
		['linear spring', (s: number) => s, PEAK_OVER_MEAN.spring, 2]
	] as const)(
		'%s: the peak is that many times the mean over the way (integrated)',
		(_, force, ratio, printed) => {
			expect(ratio).toBe(printed);
			// Stiffness 1 and mass 1 from 1 m/s; the way it takes to stop, and the greatest deceleration on it.
			let [way, most] = [0, 0];
			integrate({
				y0: [0, 1],
				tEnd: 3,
				maxStep: 0.001,
				derivative: (_t, y, dy) => dy.set([y[1]!, -force(y[0]!)]),
				events: [(_t, y) => y[1]!],
				onStep: (_t, y) => {
					way = Math.max(way, y[0]!);
					most = Math.max(most, force(y[0]!));
				}
			});
			expect(most / meanDecelerationMS2(1, way)).toBeCloseTo(ratio, 5);
		}
	);
	it('half a sine in time: π/2 of the mean over time, which is that over the way (integrated)', () => {
		let way = 0;
		integrate({
			y0: [0, 1],
			tEnd: 1,
			relTol: 1e-11,
			absTol: 1e-11,
			derivative: (t, y, dy) => dy.set([y[1]!, -(Math.PI / 2) * Math.sin(Math.PI * t)]),
			onStep: (_t, y) => (way = y[0]!)
		});
		expect(Math.PI / 2 / meanDecelerationMS2(1, way)).toBeCloseTo(PEAK_OVER_MEAN['half-sine'], 6);
	});
});
