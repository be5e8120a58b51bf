import { describe, expect, it } from 'vitest';
import { chamberPressure } from '$lib/calculations/chamber-pressure/chamber-pressure';
import { runCalculation, type Request } from '$lib/calculations/run';
import { drawFigure } from '$lib/report/figure-drawing';
import { burnRateMS, steadyPressurePa } from '$lib/physics/chamber';
import { strengthLeft } from '$lib/physics/hot-strength';
import {
	burstPressurePa,
	thickWallStressesPa,
	thinHoopStressPa,
	yieldPressurePa
} from '$lib/physics/pressure-case';
import { readQuantity } from '$lib/quantity/read';
import { toSi } from '$lib/quantity/quantity';

const PSI = 6894.757293168;
/** KNO3/sucrose 65/35: 8.26 mm/(s·MPa^0.319), published on R. Nakka's experimental rocketry pages (from memory). */
const sucrose = { rateMS: 8.26e-3, atPa: 1e6, exponent: 0.319 };
const near = (value: number, expected: number, tolerance: number) =>
	expect(Math.abs(value / expected - 1), `${value} for ${expected}`).toBeLessThan(tolerance);

describe('steady chamber pressure', () => {
	it('KNO3/sucrose (from memory): 0.0665 in/(s·psiⁿ) is the same law', () => {
		near(burnRateMS(sucrose, PSI) / 0.0254, 0.0665, 3e-3);
		const inPsi = { rateMS: 0.0665 * 0.0254, atPa: PSI, exponent: 0.319 };
		near(burnRateMS(inPsi, 5e6), burnRateMS(sucrose, 5e6), 3e-3);
	});
	it.each([
		[100, 1.4963e6, 217.0, 9.39],
		[200, 4.1407e6, 600.6, 13.0],
		[300, 7.5102e6, 1089.3, 15.71],
		[400, 11.458e6, 1661.9, 17.98]
	])('hand-worked: Kn %d, ρ 1800, c* 885: %d Pa, %d psi, %d mm/s', (kn, pascals, psi, rate) => {
		const p = steadyPressurePa(sucrose, kn, 1, 1800, 885);
		near(p, pascals, 1e-3);
		near(p / PSI, psi, 1e-3);
		near(1000 * burnRateMS(sucrose, p), rate, 1e-3);
	});
	it.each([
		[0.2, 0.8877],
		[0.319, 0.8694],
		[0.5, 0.8264],
		[0.7, 0.7278],
		[0.8, 0.6209],
		[0.9, 0.3855]
	])('hand-worked: throat area +10 %% at n %d: pressure times %d', (exponent, factor) => {
		const at = (throat: number) => steadyPressurePa({ ...sucrose, exponent }, 200, throat, 1800, 885);
		expect(Math.abs(at(1.1) / at(1) - factor)).toBeLessThan(1e-4);
	});
	it('hand-worked: throat 10.0 to 10.5 mm: area 1.1025, pressure 0.8665, thrust at fixed CF 0.9553', () => {
		const area = 1.05 ** 2;
		const p = steadyPressurePa(sucrose, 200, area, 1800, 885) / steadyPressurePa(sucrose, 200, 1, 1800, 885);
		expect(Math.abs(area - 1.1025)).toBeLessThan(1e-9);
		expect(Math.abs(p - 0.8665)).toBeLessThan(1e-4);
		expect(Math.abs(p * area - 0.9553)).toBeLessThan(1e-4);
	});
	it('refuses an exponent of 1', () => {
		expect(() => steadyPressurePa({ ...sucrose, exponent: 1 }, 200, 1, 1800, 885)).toThrow(
			/no steady pressure/
		);
	});
});

describe('case (Lamé)', () => {
	it('outside twice the bore: hoop 5/3 of the pressure there; fully plastic at ln 2 of the strength (Timoshenko, from memory)', () => {
		const twice = { innerRadiusM: 1, outerRadiusM: 2 };
		near(thickWallStressesPa(twice, 3e6).hoopBore, 5e6, 1e-12);
		near(burstPressurePa(twice, 1e8), 0.6931e8, 1e-4);
	});
	it('bore 20, outside 40 mm, 300 MPa: 500 MPa at the bore, 200 outside (data quoted, hand-worked)', () => {
		const s = thickWallStressesPa({ innerRadiusM: 0.01, outerRadiusM: 0.02 }, 300e6);
		near(s.hoopBore, 500e6, 1e-12);
		near(s.hoopOuter, 200e6, 1e-12);
		near(s.axial, 100e6, 1e-12);
		expect(s.radialBore).toBe(-300e6);
	});
	it.each([
		[0.02, -1, -0.01],
		[0.05, -2.5, -0.06],
		[0.1, -5, -0.23],
		[0.2, -9.8, -0.82],
		[0.5, -23, -3.85]
	])(
		'hand-worked: t/ri %d: thin formula %d %% with the inner, %d %% with the mean radius',
		(t, inner, mean) => {
			const bore = thickWallStressesPa({ innerRadiusM: 1, outerRadiusM: 1 + t }, 1).hoopBore;
			expect(Math.abs(100 * (thinHoopStressPa(1, 1, t) / bore - 1) - inner)).toBeLessThan(0.1);
			expect(Math.abs(100 * (thinHoopStressPa(1, 1 + t / 2, t) / bore - 1) - mean)).toBeLessThan(0.05);
		}
	);
	it('yields where the bore reaches the proof strength; bursts at σ t/r_mean for a thin wall', () => {
		const tube = { innerRadiusM: 0.01, outerRadiusM: 0.02 };
		near(thickWallStressesPa(tube, yieldPressurePa(tube, 250e6)).hoopBore, 250e6, 1e-12);
		near(yieldPressurePa(tube, 250e6, 2.5), yieldPressurePa(tube, 100e6), 1e-12);
		near(burstPressurePa({ innerRadiusM: 1, outerRadiusM: 1.02 }, 300e6), (300e6 * 0.02) / 1.01, 1e-4);
		expect(() => burstPressurePa({ innerRadiusM: 1, outerRadiusM: 1 }, 1)).toThrow(/outer radius/);
	});
	it.each([
		[20, 1, 1],
		[100, 1, 1],
		[200, 0.807, 1],
		[300, 0.613, 1],
		[400, 0.42, 1],
		[500, 0.36, 0.78],
		[600, 0.18, 0.47],
		[700, 0.075, 0.23],
		[800, 0.05, 0.11],
		[900, 0.0375, 0.06],
		[1000, 0.025, 0.04],
		[1100, 0.0125, 0.02],
		[1200, 0, 0]
	])(
		'steel at %d °C: k_p %d, k_y %d (EN 1993-1-2 table 3.1, quoted in a public code)',
		(t, proof, ultimate) => {
			const left = strengthLeft('steel', t + 273.15);
			expect(left.proof).toBeCloseTo(proof, 10);
			expect(left.ultimate).toBeCloseTo(ultimate, 10);
		}
	);
	it.each([
		[150, 0.9],
		[205, 0.775],
		[260, 0.5],
		[315, 0.2]
	])('6061-T6 after half an hour at %d °C: %d (from memory, ±0.05)', (t, share) => {
		expect(Math.abs(strengthLeft('aluminium', t + 273.15).proof - share)).toBeLessThan(0.05);
	});
});

const motor = {
	grains: [{ count: '4', outer: '50 mm', core: '20 ± 0 mm', length: '80 ± 0 mm' }],
	density: '1800 ± 0 kg/m3',
	rate: '8.26 ± 0 mm/s',
	ratePressure: '1 MPa',
	exponent: '0.319 ± 0',
	fittedFrom: '0.1 MPa',
	fittedTo: '10 MPa',
	temperature: '0 ± 0 K',
	characteristicVelocity: '885 m/s',
	efficiency: '1 ± 0',
	throat: '14 ± 0 mm'
};
const tube = {
	caseInner: '54 mm',
	caseWall: '3 mm',
	caseProof: '276 MPa',
	caseUltimate: '310 MPa',
	caseMaterial: 'aluminium'
};
const run = (inputs: Request['inputs'], rest: Partial<Request> = {}) => {
	const r = runCalculation(chamberPressure, { inputs: { ...motor, ...inputs }, samples: 200, ...rest });
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
};
const nominal = (inputs: Request['inputs'], id: string) => run(inputs).outputs[id]!.nominal!;
const refusal = (inputs: Request['inputs']) => {
	const r = runCalculation(chamberPressure, { inputs: { ...motor, ...inputs }, samples: 50 });
	return r.ok ? 'accepted' : r.error.message;
};

describe('chamber pressure as a calculation', () => {
	it('its first and greatest pressure are those of the law at their Kn (hand-worked)', () => {
		const o = run({}).outputs;
		// 4 grains: core π·20·80 and two ends of π/4·(50² − 20²) each, over the throat π/4·14².
		near(o['firstKn']!.nominal!, (4 * (20 * 80 + (50 ** 2 - 20 ** 2) / 2)) / (14 ** 2 / 4), 1e-9);
		near(o['peak']!.nominal!, steadyPressurePa(sucrose, o['greatestKn']!.nominal!, 1, 1800, 885), 1e-6);
		expect(o['amplification']!.nominal).toBeCloseTo(1 / (1 - 0.319), 12);
	});
	it('the rate typed in inches at 1 psi gives the same motor', () => {
		const rate = `${burnRateMS(sucrose, PSI) / 0.0254} ± 0 in/s`;
		near(nominal({ rate, ratePressure: '1 psi' }, 'peak'), nominal({}, 'peak'), 1e-6);
	});
	it('slots that leave slivers end in finite time, also where the last of them burns at the pressure of the air', () => {
		const slotted = { ...motor.grains[0]!, slots: '5', slotWidth: '4 ± 0 mm' };
		const r = run({ grains: [slotted], rate: '244 ± 0 mm/s', efficiency: '0.167 ± 0' });
		expect(r.outputs['throatAfter']!.nominal).toBeCloseTo(0.014, 12);
		const points = r.figure!.layers.flatMap((l) => (l.kind === 'line' ? l.points.map(([t]) => t) : []));
		expect(points.length).toBeGreaterThan(20);
		expect(points.every(Number.isFinite)).toBe(true);
	});
	it('case: hoop of the plain tube, margins, and heat that takes strength', () => {
		const o = run({ ...tube, caseWall: '3 ± 0 mm' }).outputs;
		const load = o['peak']!.nominal! - 101_325;
		near(o['hoop']!.nominal!, (load * (30 ** 2 + 27 ** 2)) / (30 ** 2 - 27 ** 2), 1e-9);
		near(o['closureForce']!.nominal!, load * Math.PI * 0.027 ** 2, 1e-9);
		near(o['yieldMargin']!.nominal! + 1, 276e6 / o['hoop']!.nominal!, 1e-9);
		const hot = nominal({ ...tube, caseTemperature: '260 °C' }, 'yieldMargin');
		near(hot + 1, (o['yieldMargin']!.nominal! + 1) / 2, 1e-9);
		near(
			nominal({ ...tube, concentration: '2.5' }, 'yieldMargin') + 1,
			(o['yieldMargin']!.nominal! + 1) / 2.5,
			1e-9
		);
	});
	it('a pressure too high for the design with the throat unchanged speaks for a crack or a block, not for wear', () => {
		const r = run(
			{ rate: '8.26 mm/s', throat: '14 mm' },
			{ observed: { peak: '9 MPa', throatAfter: '14 mm' }, samples: 600 }
		);
		const density = Object.fromEntries(r.likelihoods!.map((l) => [l.id, l.density]));
		expect(density['more-burning-area']).toBeGreaterThan(30 * density['as-designed']!);
		expect(density['more-burning-area']).toBeGreaterThan(30 * density['throat-eroded']!);
		expect(density['more-burning-area']).toBeGreaterThan(density['none-of-these']!);
	});
	it('a sensor at its limit says at least, and weighs by the probability of that', () => {
		const r = run({ rate: '8.26 mm/s' }, { observed: { peak: '4 MPa', peakIs: 'at least' }, samples: 400 });
		const density = Object.fromEntries(r.likelihoods!.map((l) => [l.id, l.density]));
		expect(density['as-designed']).toBeGreaterThan(0.9);
		expect(density['as-designed']).toBeLessThanOrEqual(1);
		expect(density['none-of-these']).toBeLessThan(0.7);
	});
	it('a worn throat and a long, weak burn speak for wear', () => {
		const r = run({}, { observed: { throatAfter: '16 mm', burnTime: '1.3 ± 0.1 s' }, samples: 600 });
		const best = r.likelihoods!.reduce((a, b) => (b.density > a.density ? b : a));
		expect(best.id).toBe('throat-eroded');
	});
	it('the figure says the answer, with the case’s yield and burst as rules', () => {
		const f = run(tube).figure!;
		expect(f.title).toMatch(
			/^The pressure peaks at [\d.]+\sMPa; the case yields at [\d.]+\sMPa, bursts at [\d.]+\sMPa$/
		);
		const rules = (figure: typeof f) => figure.layers.flatMap((l) => (l.kind === 'rule' ? [l.label] : []));
		// At five times the pressure they would press it flat.
		expect(rules(f)).toEqual([]);
		const thin = run({ ...tube, caseWall: '0.8 mm' }).figure!;
		expect(rules(thin)).toEqual(['yields', 'bursts']);
		const words = [...drawFigure(thin).matchAll(/<text[^>]*>([^<]*)<\/text>/g)].map((m) => m[1]);
		expect(words).toEqual(expect.arrayContaining(['yields', 'bursts']));
		expect(run({ ...tube, caseWall: '0.2 mm' }).figure!.title).toMatch(/more than the case can hold/);
		expect(run({ ...tube, caseWall: '0.2 mm' }).warnings.join(' ')).toMatch(/is never reached/);
	});
	it.each<[string, Request['inputs'], RegExp]>([
		[
			'a high exponent',
			{ exponent: '0.75 ± 0', throat: '14 mm' },
			/very sensitive: 1 % more burning area makes 4\.0 %/
		],
		['no range of the fit', { fittedTo: '' }, /not given/],
		['a peak outside the fit', { fittedTo: '2 MPa' }, /lies outside the 0\.100\sMPa to 2\.00\sMPa/],
		['a theoretical c*', {}, /0\.85 to 0\.95 of a computed c\*/],
		['a narrow port', { throat: '15 mm' }, /erosive burning/],
		['a warm grain', { temperature: '20 ± 0 K' }, /warmer than in the rate/],
		['a throat that changes', {}, /10 % more area makes 13 % less/],
		['the start', {}, /Ignition and filling/],
		['dense gas', { rate: '40 ± 0 mm/s', throat: '6 ± 0 mm' }, /gas that fills/],
		['a thick wall', { ...tube, caseWall: '6 mm' }, /would be 11 % low/],
		// Twice the bore: 0.433 of the strength by von Mises (from memory), 0.6 by the hoop alone.
		['a bore that yields early', { ...tube, caseWall: '27 mm' }, /by von Mises at 28\s?% less/],
		['hot aluminium', { ...tube, caseTemperature: '150 °C' }, /not verified/],
		['hot steel', { ...tube, caseMaterial: 'steel', caseTemperature: '350 °C' }, /softens for good/],
		[
			'frozen steel',
			{ ...tube, caseMaterial: 'steel', caseTemperature: '-10 °C' },
			/Below 0 °C there is no data/
		],
		['fire rates', { ...tube, caseMaterial: 'steel', caseTemperature: '350 °C' }, /as slowly as in a fire/],
		['a wide seal', tube, /wider than the bore, the force on them is greater/],
		['a cold case', tube, /proof test done cold/],
		['holes', tube, /2\.5 to 3 times/]
	])('warns of %s', (_, inputs, message) => {
		expect(run(inputs).warnings.join('\n')).toMatch(message);
	});
	it.each([
		[100, 3],
		[4000, 1]
	])(
		'of %i firings without a burst it claims no more than fewer than %i of 100 (rule of three)',
		(samples, most) => {
			const inputs = { ...motor, ...tube };
			const r = runCalculation(chamberPressure, { inputs, samples });
			const said = r.ok ? r.value.statements.join(' ') : r.error.message;
			expect(said).toContain(`bursts in none of ${samples} (so in fewer than ${most} of 100)`);
			const few = r.ok && r.value.notes.some((note) => note.startsWith(`Only ${samples} samples were drawn`));
			expect(few).toBe(samples < 300);
		}
	);
	it('close to an exponent of 1 it says that there is no stable pressure, and never a power of ten', () => {
		const below = run({ exponent: '0.95 ± 0', throat: '14 mm' });
		expect(below.warnings.join('\n')).toMatch(/very sensitive[^]*10 % less makes 723 % more/);
		for (const exponent of ['0.96 ± 0', '0.98 ± 0', '0.995 ± 0']) {
			const r = run({ exponent, throat: '14 mm' });
			const said = [...r.statements, ...r.warnings].join('\n');
			expect(said).toMatch(/so close to 1, the motor has no stable pressure/);
			expect(r.figure!.title).toMatch(/^No stable pressure/);
			expect(said).not.toMatch(/\de[+-]?\d|makes [\d.]+ %/);
		}
	});
	it.each<[Request['inputs'], RegExp]>([
		[{ exponent: '1.1' }, /runs away or goes out/],
		[{ exponent: '0.999 ± 0' }, /passes all bounds: the exponent is too close to 1/],
		[{ rate: '8 psi' }, /speed is needed/],
		[{ grains: [] }, /at least 1 grain/],
		[{ grains: [{ outer: '50 mm', core: '60 mm', length: '80 mm' }] }, /narrower than the grain/],
		[{ grains: [{ outer: '50 mm', core: '20 mm', length: '80 mm', count: '1.5' }] }, /whole/],
		[
			{ grains: [{ outer: '50 mm', core: '20 mm', length: '80 mm', slots: '2' }] },
			/width of a slot is missing/
		],
		[
			{ grains: [{ outer: '50 mm', core: '2 mm', length: '80 mm', slots: '2', slotWidth: '5 mm' }] },
			/not wider than the core/
		],
		[{ grains: [{ outer: '50 mm', core: '0 ± 0 mm', length: '80 mm', ends: '0' }] }, /needs a free face/],
		[{ caseInner: '54 mm' }, /together, or none/],
		[{ ...tube, caseInner: '40 mm' }, /wider than the inside of the case/],
		[{ ...tube, caseUltimate: '200 MPa' }, /must not be less/],
		[{ ...tube, caseMaterial: 'steel', caseTemperature: '1200 °C' }, /nothing is left/],
		[{ throat: '200 mm' }, /hardly be choked/],
		[{ fittedFrom: '5 MPa', fittedTo: '1 MPa' }, /in order/],
		[{ throatGrowth: '-60 mm/s' }, /impossible here/]
	])('refuses %j', (inputs, message) => {
		expect(refusal(inputs)).toMatch(message);
	});
	it('the rate can’t be typed as a coefficient of mixed units', () => {
		expect(readQuantity('0.0665 in/(s psi)', { dimension: 'speed', defaultUnit: 'mm/s' }).ok).toBe(false);
		const read = readQuantity('0.0665 in/s', { dimension: 'speed', defaultUnit: 'mm/s' });
		if (!read.ok || !read.value.quantity) throw new Error('not read');
		near(toSi(read.value.quantity, 'speed').value, 0.0665 * 0.0254, 1e-12);
	});
});
