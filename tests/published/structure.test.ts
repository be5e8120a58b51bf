import { describe, expect, it } from 'vitest';
import { attachmentStrength } from '$lib/calculations/attachment-strength/attachment-strength';
import { runCalculation } from '$lib/calculations/run';
import {
	bearingN,
	equivalentLoadRadiusM,
	marginOfSafety,
	plateDeflectionM,
	plateStrengthN,
	punchThroughN
} from '$lib/physics/structure';
import { rootAreaM2, stressAreaM2, strippingAreasM2, THREADS } from '$lib/physics/thread';

/** Strength of a load path of one link, N. */
function strengthOf(link: Record<string, string>): number {
	const r = runCalculation(attachmentStrength, { inputs: { load: '1 kN', links: [link] }, samples: 50 });
	if (!r.ok) throw new Error(r.error.message);
	return r.value.outputs['pathStrength']!.nominal!;
}
const off = (value: number, expected: number) => Math.abs(value / expected - 1);
const thread = (name: string) => THREADS[name]!;
const SQ_IN = 0.0254 ** 2;
const LBF = 4.44822;

describe('tensile stress area', () => {
	it.each([
		['M5', 14.2],
		['M6', 20.1],
		['M8', 36.6],
		['M10', 58.0],
		['M12', 84.3]
	])('%s: %d mm² (ISO 898-1; M5 to M12 quoted in public texts, M6 from memory)', (name, mm2) => {
		expect(off(stressAreaM2(thread(name)) * 1e6, mm2)).toBeLessThan(0.002);
	});
	it.each([
		['#2-56', 0.0037],
		['#4-40', 0.00604],
		['#6-32', 0.00909],
		['#8-32', 0.014],
		['#10-24', 0.0175],
		['1/4-20', 0.0318]
	])('%s: %d in² (ASME B1.1; 1/4-20 quoted in a public text, the others from memory)', (name, sqIn) => {
		expect(off(stressAreaM2(thread(name)) / SQ_IN, sqIn)).toBeLessThan(0.003);
	});
	it.each([
		['M2', 2.07],
		['M2.5', 3.39],
		['M3', 5.03],
		['M4', 8.78]
	])('%s: %d mm² (ISO 898-1, from memory)', (name, mm2) => {
		expect(off(stressAreaM2(thread(name)) * 1e6, mm2)).toBeLessThan(0.002);
	});
	it.each([
		['#0-80', 0.0018],
		['5/16-18', 0.0524],
		['3/8-16', 0.0775]
	])('%s: %d in² (ASME B1.1, from memory)', (name, sqIn) => {
		expect(off(stressAreaM2(thread(name)) / SQ_IN, sqIn)).toBeLessThan(0.003);
	});
	it.each([
		['M4', 800, 7.02],
		['M5', 800, 11.35],
		['M8', 800, 29.2],
		['M10', 800, 46.4],
		['M12', 800, 67.4],
		['M6', 400, 8.04],
		['M8', 400, 14.6]
	])('%s at %d MPa breaks at %d kN, by the calculation (ISO 898-1, from memory)', (thread, mpa, kn) => {
		const link = { name: 'A', kind: 'bolt', thread, tensileStrength: `${mpa} MPa` };
		expect(off(strengthOf(link) / 1000, kn)).toBeLessThan(0.004);
	});
	it.each([
		['M6', 580, 11.6],
		['M6', 800, 16.1],
		['M3', 580, 2.92],
		['M3', 800, 4.02]
	])('%s of class 8.8 at %d MPa: %d kN (ISO 898-1, from memory)', (name, mpa, kn) => {
		expect(off((stressAreaM2(thread(name)) * mpa * 1e6) / 1000, kn)).toBeLessThan(0.01);
	});
});

describe('root area, and what a nylon screw holds in single shear at 43.4, 51.3 and 66.2 MPa', () => {
	it.each([
		['#0-80', 0.00151, [9.5, 11.2, 14.4]],
		['#2-56', 0.0031, [19.5, 23.0, 29.7]],
		['#4-40', 0.00496, [31.3, 37.0, 47.7]],
		['#6-32', 0.00745, [46.9, 55.4, 71.5]]
	] as const)(
		'%s: %d in² (Shigley, table 8-2, from memory); force in lbf %j (hand-worked)',
		(name, sqIn, lbf) => {
			const area = rootAreaM2(thread(name));
			// To one in the last printed digit; the forces follow the area.
			expect(Math.abs(area / SQ_IN - sqIn)).toBeLessThan(1.5e-5);
			[43.4, 51.3, 66.2].forEach((mpa, i) =>
				expect(off((area * mpa * 1e6) / LBF, lbf[i]!)).toBeLessThan(0.01)
			);
		}
	);
	it('1/4-20: 0.0269 in² (from memory); 753, 890, 1149 N (hand-worked)', () => {
		const area = rootAreaM2(thread('1/4-20'));
		expect(off(area / SQ_IN, 0.0269)).toBeLessThan(0.002);
		[753, 890, 1149].forEach((n, i) =>
			expect(off(area * [43.4, 51.3, 66.2][i]! * 1e6, n)).toBeLessThan(0.002)
		);
	});
	it.each([
		['M2', 1.789, 118],
		['M2.5', 2.98, 197],
		['M3', 4.473, 296],
		['M4', 7.75, 513]
	])('%s: %d mm², %d N at 66.2 MPa (ISO 724, from memory)', (name, mm2, n) => {
		expect(off(rootAreaM2(thread(name)) * 1e6, mm2)).toBeLessThan(0.001);
		expect(Math.abs(rootAreaM2(thread(name)) * 66.2e6 - n)).toBeLessThan(0.5);
	});
	it.each([
		['#8-32', 0.01196],
		['#10-24', 0.0145],
		['5/16-18', 0.0454],
		['3/8-16', 0.0678]
	])('%s: %d in² (Shigley, table 8-2, from memory)', (name, sqIn) => {
		expect(off(rootAreaM2(thread(name)) / SQ_IN, sqIn)).toBeLessThan(0.002);
	});
	it.each([
		['M5', 12.7],
		['M6', 17.9],
		['M8', 32.8],
		['M10', 52.3],
		['M12', 76.3]
	])('%s: %d mm² (Shigley, table 8-1, from memory)', (name, mm2) => {
		expect(off(rootAreaM2(thread(name)) * 1e6, mm2)).toBeLessThan(0.002);
	});
	it('a #2 on its nominal diameter would be 87 to 88 % too strong, on its tensile area 19 % (hand-worked)', () => {
		const t = thread('#2-56');
		expect(((Math.PI / 4) * t.majorM ** 2) / rootAreaM2(t) - 1).toBeCloseTo(0.875, 3);
		expect(stressAreaM2(t) / rootAreaM2(t) - 1).toBeCloseTo(0.19, 2);
	});
});

describe('limits of threads', () => {
	it.each([
		['#0-80', 0.0514, 0.0496, 0.0563, 0.0542],
		['#2-56', 0.0737, 0.0717, 0.0813, 0.0772],
		['#4-40', 0.0939, 0.0925, 0.1061, 0.0991],
		['#6-32', 0.114, 0.1141, 0.1312, 0.1214],
		['#8-32', 0.139, 0.1399, 0.1571, 0.1475],
		['#10-24', 0.156, 0.1586, 0.1818, 0.1672],
		['5/16-18', 0.265, 0.2712, 0.3026, 0.2817],
		['3/8-16', 0.321, 0.3287, 0.3643, 0.3401]
	])('%s, 2A/2B: D1max %d, d2min %d, dmin %d, D2max %d in (ASME B1.1, from memory)', (name, ...inches) => {
		const { minorInsideM, pitchOutsideM, majorOutsideM, pitchInsideM } = thread(name).limits;
		[minorInsideM, pitchOutsideM, majorOutsideM, pitchInsideM].forEach((m, i) =>
			expect(m / 0.0254).toBeCloseTo(inches[i]!, 6)
		);
	});
});

describe('thread stripping (FED-STD-H28/2B formulas, quoted in public code)', () => {
	it('1/4-20 UNC 2A/2B: 0.368 and 0.539 in² per inch (limits and areas from memory)', () => {
		const t = thread('1/4-20');
		const { limits } = t;
		for (const [value, inches] of [
			[limits.minorInsideM, 0.207],
			[limits.pitchOutsideM, 0.2127],
			[limits.majorOutsideM, 0.2408],
			[limits.pitchInsideM, 0.2224]
		] as const)
			expect(value / 0.0254).toBeCloseTo(inches, 4);
		const areas = strippingAreasM2(t, 0.0254);
		expect(off(areas.outside / SQ_IN, 0.368)).toBeLessThan(0.003);
		expect(off(areas.inside / SQ_IN, 0.539)).toBeLessThan(0.003);
	});
	it('M6 6g/6H: 8.646 and 12.19 mm² per mm (limits from memory, areas hand-worked)', () => {
		const areas = strippingAreasM2(thread('M6'), 1e-3);
		expect(off(areas.outside * 1e6, 8.646)).toBeLessThan(0.005);
		expect(off(areas.inside * 1e6, 12.19)).toBeLessThan(0.005);
	});
});

describe('round plate with a load at its middle (Roark, table 11.2, cases 16 and 17)', () => {
	const plate = { radiusM: 0.15, thicknessM: 0.0015, loadRadiusM: 0.01, poisson: 0.29 };
	it('a 150 mm, t 1.5 mm, 200 GPa, 314 N: 5.854 and 2.295 mm (published: a public worksheet)', () => {
		const w = plateDeflectionM(plate, 314, 200e9);
		expect(off(w.simplySupported, 5.854e-3)).toBeLessThan(0.005);
		expect(off(w.clamped, 2.295e-3)).toBeLessThan(0.005);
	});
	it('under 1 kN, ν 0.3: 0.551 and 0.217 W a²/(E t³) (handbook coefficients, from memory)', () => {
		const w = plateDeflectionM({ ...plate, poisson: 0.3 }, 1000, 200e9);
		const unit = (1000 * plate.radiusM ** 2) / (200e9 * plate.thicknessM ** 3);
		expect(off(w.simplySupported / unit, 0.551)).toBeLessThan(0.002);
		expect(off(w.clamped / unit, 0.217)).toBeLessThan(0.002);
	});
	it('the plate of the worksheet is beyond half its thickness, and the calculation says so', () => {
		const link = {
			name: 'Plate',
			kind: 'plate',
			material: 'other',
			radius: '150 mm',
			loadRadius: '10 mm',
			thickness: '1.5 mm',
			modulus: '200 GPa',
			poisson: '0.29',
			bendingStrength: '300 MPa'
		};
		const r = runCalculation(attachmentStrength, { inputs: { load: '314 N', links: [link] }, samples: 50 });
		if (!r.ok) throw new Error(r.error.message);
		expect(off(r.value.outputs['sagSimplySupported of Plate']!.nominal!, 5.854e-3)).toBeLessThan(0.005);
		expect(off(r.value.outputs['sagClamped of Plate']!.nominal!, 2.295e-3)).toBeLessThan(0.005);
		expect(r.value.warnings.join(' ')).toMatch(
			/more than half its thickness: the plate formula says nothing/
		);
	});
	it('the two edges sag as (3+ν)/(1+ν): 2.504 at ν 0.33 (hand-worked)', () => {
		const w = plateDeflectionM({ ...plate, poisson: 0.33 }, 100, 70e9);
		// The row prints four figures.
		expect(w.simplySupported / w.clamped).toBeCloseTo(2.5038, 4);
	});
	it('ro 1 mm in t 5 mm acts over 1.7825 mm (formula from memory)', () => {
		expect(off(equivalentLoadRadiusM(0.001, 0.005), 1.7825e-3)).toBeLessThan(1e-3);
	});
	it('stress at the strength is 6 M/t² with the moments of the two cases (hand-worked)', () => {
		const { simplySupported, clamped } = plateStrengthN(plate, 100e6);
		const middle = 1.29 * Math.log(15);
		expect(simplySupported).toBeCloseTo((100e6 * 0.0015 ** 2 * 4 * Math.PI) / 6 / (middle + 1), 9);
		expect(clamped).toBeCloseTo((100e6 * 0.0015 ** 2 * 4 * Math.PI) / 6 / middle, 9);
	});
});

describe('washer, margin of safety, adhesive coupon (hand-worked)', () => {
	it('20.7 MPa on the coupon of ASTM D1002, 25.4 mm wide and 12.7 mm overlap: 6.68 kN', () => {
		const link = { name: 'Lap', kind: 'bond', width: '25.4 mm', overlap: '12.7 mm', lapStrength: '20.7 MPa' };
		expect(off(strengthOf(link), 6680)).toBeLessThan(1e-3);
	});
	it('1000 N on a 12 mm washer and a 6 mm sheet: 4.42 MPa', () => {
		expect(off(1000 / punchThroughN(0.012, 0.006, 1), 4.42e6)).toBeLessThan(1e-3);
	});
	it('bearing takes the ring alone', () => {
		expect(bearingN(0.012, 0.006, 1e6)).toBeCloseTo((Math.PI / 4) * 108, 9);
	});
	it('20.1 mm² at 400 MPa against 4000 N and FS 1.4: +0.4357', () => {
		expect(marginOfSafety(20.1e-6 * 400e6, 4000, 1.4)).toBeCloseTo(0.4357, 4);
	});
});
