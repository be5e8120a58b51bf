import { describe, expect, it } from 'vitest';
import { breach } from '$lib/calculations/breach/breach';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';

const motor = { hole: '8 mm', pressure: '4 MPa', throat: '16 mm', exponent: '0.32' };
const flight = {
	scope: 'path',
	thrust: '900 N',
	burnTime: '2.5 s',
	burnoutSpeed: '250 m/s',
	mass: '8 kg',
	inertia: '2.5 kg·m²',
	behind: '0.7 m',
	margin: '0.2 m',
	diameter: '100 mm',
	forceSlope: '12 1/rad'
};
const straight = { ...motor, ...flight, rollRate: '0 °/s' };
const ask = (inputs: Record<string, unknown>, rest: Partial<Request> = {}) =>
	runCalculation(breach, { inputs, samples: 300, ...rest });
function run(inputs: Record<string, unknown>, rest?: Partial<Request>): CalculationResult {
	const r = ask(inputs, rest);
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
}
const warned = (inputs: Record<string, unknown>) => run(inputs).warnings.join(' ');

describe('force and loss', () => {
	it('5 mm at 4 MPa, k 1.14 (hand-worked, 4.4.1): 94.9 N where the hole costs no pressure; by hand 78.5 N', () => {
		const r = run({
			...motor,
			hole: '5 mm',
			throat: '900 mm',
			discharge: '1',
			heatRatio: '1.14',
			outside: '101325 Pa'
		});
		expect(r.outputs['force']!.nominal! / 94.9).toBeCloseTo(1, 2);
		expect(r.statements[0]).toMatch(/pushes with 95\sN.*would say 79\sN/);
	});
	it('a hole is like a throat that much larger: pressure goes as (At + Cd Ah)^(-1/(1-n))', () => {
		const r = run({ ...motor, discharge: '0.8' });
		const share = (1 + (0.8 * 64) / 256) ** (-1 / (1 - 0.32));
		expect(r.outputs['pressure']!.nominal).toBeCloseTo(4e6 * share, 3);
		expect(r.outputs['pressureLost']!.nominal).toBeCloseTo(1 - share, 12);
		expect(r.outputs['thrustLost']!.nominal).toBeCloseTo(1 - share, 12);
	});
	it('with the expansion of the nozzle given, the outside pressure takes a little more of the thrust', () => {
		const [without, given] = [motor, { ...motor, expansion: '6' }].map(
			(inputs) => run(inputs).outputs['thrustLost']!.nominal!
		);
		expect(given).toBeGreaterThan(without!);
		expect(given).toBeLessThan(without! + 0.05);
	});
	it('a nozzle of any expansion loses thrust, never gains any, and no more than an ideal one would', () => {
		for (const pressure of ['0.6 MPa', '4 MPa'])
			for (const expansion of ['1', '4', '10', '30', '100']) {
				const lost = run({ ...motor, hole: '3 mm', pressure, expansion }).outputs['thrustLost']!.nominal!;
				const { nominal } = run({ ...motor, hole: '3 mm', pressure }).outputs['thrustLost']!;
				expect(lost).toBeGreaterThanOrEqual(nominal!);
				expect(lost).toBeLessThan(nominal! + 0.05);
			}
		expect(run({ ...motor, expansion: '6' }).warnings.join(' ')).not.toMatch(/separates/);
	});
	it('without the path: no likelihood, and it says what that takes', () => {
		const r = run(motor);
		expect(r.outputs['turn']).toBeUndefined();
		expect(r.likelihoods).toBeUndefined();
		expect(r.warnings.join(' ')).toMatch(/Force and loss only.*no likelihood: that takes mass, inertia/);
		const refused = ask(motor, { observed: { turn: '5 ± 2°' } });
		expect(refused.ok ? 'accepted' : refused.error.message).toMatch(/only where it is computed/);
		expect(r.figure!.layers[0]!.kind).toBe('rows');
	});
});

describe('the angle of attack that it holds', () => {
	const flown = { ...straight, airDensity: '1.2 ± 0 kg/m³', damping: '0.1' };
	it('is force times arm over the restoring moment, and with roll the swing that goes round (hand-worked)', () => {
		// N = ½ · 1.2 · 250² · π/4 · 0.1² · 12 = 3534 N/rad; N s = 706.9 N·m/rad; ω = √(706.9/2.5) = 16.82 rad/s.
		const { force, trim } = run(flown).outputs;
		const steady = (force!.nominal! * 0.7) / 706.86;
		expect(trim!.nominal! / steady).toBeCloseTo(1, 4);
		// At 180 °/s, the middle of what is assumed: ω² / |ω² − p² + 2iζωp|, p = π: 3.5 % more.
		const rolling = run({ ...flown, rollRate: '' }).outputs['trim']!.nominal!;
		expect(rolling / steady).toBeCloseTo(
			282.74 / Math.hypot(282.74 - Math.PI ** 2, 0.2 * 16.815 * Math.PI),
			4
		);
		expect(rolling / steady).toBeCloseTo(1.035, 3);
	});
});

describe('the path that was seen', () => {
	const seen = (observed: Record<string, string>, inputs: Record<string, unknown> = straight) =>
		run(inputs, { observed, samples: 1500 });
	it('a small turn: not early in the burn, if at all', () => {
		const r = seen({ turn: '6 ± 3°' });
		const opened = r.outputs['opened']!;
		expect(opened.low90).toBeGreaterThan(1);
		expect(opened.high90).toBeLessThanOrEqual(2.7);
		expect(r.statements[0]).toMatch(
			/^If a hole of this size opened in the burn, it did so between 1\.\d+\ss and 2\.\d+\ss/
		);
		expect(r.statements.join(' ')).toMatch(
			/Had it opened before \d.\d+\ss, the turn by burnout would have been .* or more in 95 of 100/
		);
		expect(r.likelihoods!.map((l) => l.id)).toEqual([
			'opened-between',
			'opened-between',
			'opened-between',
			'not-in-the-burn',
			'none-of-these'
		]);
		const [early, , late, none] = r.likelihoods!.map((l) => l.density);
		expect(late).toBeGreaterThan(100 * early!);
		expect(none! / late!).toBeGreaterThan(0.2);
	});
	it('a large turn: earlier, and no sound flight', () => {
		const r = seen({ turn: '45 ± 5°' });
		const [, middle, late, none] = r.likelihoods!.map((l) => l.density);
		expect(middle).toBeGreaterThan(late!);
		expect(middle).toBeGreaterThan(50 * none!);
		expect(r.outputs['opened']!.median).toBeLessThan(seen({ turn: '6 ± 3°' }).outputs['opened']!.median);
	});
	it('the side: a hole behind the centre of gravity bends the path to its own side', () => {
		const [toward, away] = ['toward', 'away'].map((side) =>
			seen({ turn: '20 ± 3°', side })
				.likelihoods!.slice(0, 3)
				.reduce((s, l) => s + l.density, 0)
		);
		expect(toward).toBeGreaterThan(20 * away!);
	});
	it('roll averages the force out: less turn, and less told about when', () => {
		const turned = (rollRate: string) =>
			run({ ...straight, rollRate, openedAt: '1 s' }).outputs['turn']!.nominal!;
		expect(turned('1080 °/s ')).toBeLessThan(0.3 * turned('0 °/s'));
	});
	it('drift alone is enough, and windows may be chosen', () => {
		const r = run(straight, {
			observed: { drift: '20 ± 5 m' },
			scenarios: [{ id: 'opened-between', from: '1.5 s' }, 'none-of-these'],
			samples: 600
		});
		expect(r.likelihoods![0]!.label).toMatch(/^It opened between 1.5\ss and 2.5\ss$/);
		expect(r.likelihoods![0]!.density).toBeGreaterThan(r.likelihoods![1]!.density);
		expect(r.figure!.y.label).toBe('Drift by burnout');
	});
	it('draws the turn by the moment of opening, and what was seen as a rule', () => {
		const { figure } = seen({ turn: '6 ± 3°' });
		expect(figure!.title).toMatch(/^If it opened in the burn, then between/);
		expect(figure!.layers.map((l) => l.kind)).toEqual(['band', 'line', 'rule']);
	});
});

describe('warns', () => {
	it.each<[string, Record<string, unknown>, RegExp]>([
		['that a burn-through grows', motor, /burn-through grows.*lower bound.*upper bound/],
		['of jets that strike structure, oblique and conical holes', motor, /strikes structure.*angle.*conical/],
		['that pressures are steady', motor, /steady ones.*constant over the burn/],
		['of a discharge too high for a rough hole', { ...motor, discharge: '1' }, /0.6 to 0.9 of their area/],
		['of a sensitive motor', { ...motor, exponent: '0.75' }, /answers to the smallest change/],
		['of k of air', { ...motor, heatRatio: '1.4 ± 0' }, /k of 1.4 is that of air/],
		[
			'of a nozzle too wide for what is left',
			{ ...motor, expansion: '30' },
			/0\.4 of the pressure outside: it separates/
		],
		['of a great loss', { ...motor, hole: '17 mm' }, /more than half of the pressure/],
		['of a tumble', straight, /more than 15° of attack/],
		['that roll is not known', { ...straight, rollRate: '' }, /averages it out/],
		['that none is assumed', straight, /No roll is assumed/],
		['that a finned vehicle holds an angle', straight, /small steady angle of attack/]
	])('%s', (_, inputs, message) => expect(warned(inputs)).toMatch(message));
	it('says where no moment gives the path', () => {
		const r = run({ ...straight, hole: '1 mm' }, { observed: { turn: '80 ± 2°' } });
		expect(r.warnings.join(' ')).toMatch(/No moment of opening gives the path|Run more samples/);
	});
	it('carries its cautions', () => {
		expect(run(motor).cautions.join(' ')).toMatch(/not fired again, reused or taken apart.*range officer/);
	});
});

describe('refuses', () => {
	it.each<[string, Record<string, unknown>, RegExp]>([
		['no hole', { ...motor, hole: '' }, /Diameter of the hole is missing/],
		['a path without its margin', { ...straight, margin: '' }, /Static margin.* is missing/],
		['no area', { ...motor, told: 'other' }, /Area of the hole is missing/],
		['an exponent without steady pressure', { ...motor, exponent: '1' }, /no steady pressure/],
		['a hole that empties the chamber', { ...motor, hole: '100 mm' }, /all but goes out/],
		[
			'a burnout slower than the rail',
			{ ...straight, burnoutSpeed: '10 m/s' },
			/above that at the end of the rail/
		],
		['a hole after burnout', { ...straight, openedAt: '3 s' }, /after burnout/],
		['a margin of nothing', { ...straight, margin: '0 m' }, /must be more than 0/]
	])('%s', (_, inputs, message) => {
		const r = ask(inputs);
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
	it.each<[Record<string, string>, Record<string, unknown>, RegExp]>([
		[{ turn: '5 ± 0°' }, straight, /nothing is known exactly/],
		[{ side: 'away' }, straight, /how far it turned/],
		[{ turn: '5 ± 2°', side: 'away' }, { ...straight, rollRate: '' }, /only where it did not roll/]
	])('what cannot be compared: %j', (observed, inputs, message) => {
		const r = ask(inputs, { observed });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
});
