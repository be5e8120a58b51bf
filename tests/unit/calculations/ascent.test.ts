import { describe, expect, it } from 'vitest';
import { ascent } from '$lib/calculations/ascent/ascent';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';
import { readResult } from '$lib/investigation/schema/calculation-result';
import { drawFigure } from '$lib/report/figure-drawing';
import { figureCsv } from '$lib/report/figure-csv';
import { wind } from './example';

const inputs = {
	liftoffMass: '9 kg',
	propellantMass: '1.2 kg',
	totalImpulse: '2000 N·s',
	burnTime: '2.4 s',
	diameter: '98 mm',
	rodLength: '2.5 m',
	siteTemperature: '22 °C'
};
const exact = {
	liftoffMass: '9 ± 0 kg',
	propellantMass: '1.2 ± 0 kg',
	impulseFactor: '1 ± 0',
	timeFactor: '1 ± 0',
	dragFactor: '1 ± 0',
	ordinaryShare: '1 ± 0'
};
const try_ = (changed: Request['inputs'], rest: Partial<Request> = {}) =>
	runCalculation(ascent, { samples: 100, inputs: { ...inputs, ...changed }, ...rest });
function run(changed: Request['inputs'] = {}, rest: Partial<Request> = {}): CalculationResult {
	const result = try_(changed, rest);
	if (!result.ok) throw new Error(`${result.error.path}: ${result.error.message}`);
	return result.value;
}
const nominal = (r: CalculationResult, id: string) => r.outputs[id]!.nominal!;
const breeze = [
	{ height: '0 m', speed: '6 m/s', from: '270 deg' },
	{ height: '1000 m', speed: '6 m/s', from: '270 deg' }
];

const limit = {
	liftoffMass: '7 kg',
	propellantMass: '1.2 kg',
	totalImpulse: '2200 N·s',
	burnTime: '2.4 s',
	diameter: '98 mm',
	wind,
	moment: '8 s'
};

describe('ascent', () => {
	it('takes a curve as well as totals, the same where both say the same', () => {
		const curve = [
			{ time: '0 s', force: '0 N' },
			{ time: '0.072 s', force: '891.2656 N' },
			{ time: '2.16 s', force: '891.2656 N' },
			{ time: '2.4 s', force: '0 N' }
		];
		const { totalImpulse: _t, burnTime: _b, ...rest } = { ...inputs, ...exact };
		const byCurve = runCalculation(ascent, {
			inputs: { ...rest, motorAs: 'curve', thrust: curve },
			samples: 50
		});
		if (!byCurve.ok) throw new Error(byCurve.error.message);
		expect(nominal(byCurve.value, 'apogee') / nominal(run(exact), 'apogee')).toBeCloseTo(1, 5);
	});
	it('places apogee upwind, and only where something leans or blows', () => {
		expect(run().outputs).not.toHaveProperty('east');
		const r = run({ wind: breeze });
		expect(nominal(r, 'east')).toBeLessThan(-10);
		expect(Math.abs(nominal(r, 'north'))).toBeLessThan(1e-6);
		expect(nominal(r, 'apogeeSpeed')).toBeGreaterThan(3);
	});
	it('tells height, speed and dynamic pressure at a moment before and after apogee', () => {
		const up = run({ ...exact, moment: '5 s' });
		const down = run({ ...exact, moment: '25 s' });
		expect(nominal(up, 'momentClimb')).toBeGreaterThan(50);
		expect(nominal(down, 'momentClimb')).toBeLessThan(-30);
		expect(nominal(up, 'momentPressure') / nominal(up, 'momentSpeed') ** 2).toBeCloseTo(0.54, 1);
	});
	it('samples agree with the stated inputs where nothing varies', () => {
		const { nominal: stated, median } = run(exact).outputs['apogee']!;
		expect(Math.abs(median / stated! - 1)).toBeLessThan(1e-3);
	});

	it('says whether a shortfall is ordinary, against its own apogee and against the one expected', () => {
		const said = (apogee: string) =>
			run({ simulatedApogee: '1300 m' }, { observed: { apogee }, samples: 800 }).statements.join(' ');
		const h = nominal(run(), 'apogee');
		expect(said(`${Math.round(0.93 * h)} ± 10 m`)).toMatch(/6 % short.*needs no cause/);
		expect(said(`${Math.round(0.5 * h)} ± 10 m`)).toMatch(
			/^\d+.m is 50 % below the computed apogee.*expected before the flight of 1300.* would reach no more than \d+.m\. .*needs a cause/
		);
		expect(said(`${Math.round(1.5 * h)} ± 10 m`)).toMatch(/higher than these inputs allow/);
	});
	it.each<[string, Request['inputs'], RegExp]>([
		['nothing wrong', {}, /^nothing-wrong$/],
		['a lean of 35°', { rodAngle: '35 deg' }, /^off-upright$/],
		['0.7 of the impulse', { impulseFactor: '0.7 ± 0' }, /^weak-motor$/]
	])('by apogee, time and speed together it finds %s', (_, flown, id) => {
		const flight = run({ ...exact, ...flown });
		const observed = {
			apogee: `${0.94 * nominal(flight, 'apogee')} ± 8 m`,
			timeToApogee: `${0.97 * nominal(flight, 'timeToApogee')} ± 0.15 s`,
			maxSpeed: `${nominal(flight, 'maxSpeed')} ± 2 m/s`
		};
		const r = run(
			{ ...exact, dragFactor: '1 ± 0.05', ordinaryShare: '0.94 ± 0.02' },
			{ observed, samples: 800 }
		);
		const best = r.likelihoods!.reduce((a, b) => (b.density > a.density ? b : a));
		expect(best.id).toMatch(id);
		expect(r.likelihoods!.map((l) => l.id)).toEqual(ascent.evidence!.scenarios.map((s) => s.id));
	});
	it('a burst case early in the burn speaks for thrust lost, in the time that was named', () => {
		const r = run(
			{},
			{
				observed: { apogee: '60 ± 5 m', maxSpeed: '35 ± 2 m/s' },
				scenarios: [{ id: 'lost-thrust', from: '0.3 s', to: '0.8 s' }, 'weak-motor', 'none-of-these'],
				samples: 800
			}
		);
		const [lost, weak] = r.likelihoods!;
		expect(lost!.label).toMatch(/Thrust lost from .*0\.3.* to .*0\.8/);
		expect(lost!.density).toBeGreaterThan(20 * weak!.density);
	});
	it('a scenario in which it never lifts off predicts that nothing is recorded', () => {
		const r = run(
			{ totalImpulse: '400 N·s' },
			{
				observed: { apogee: '3 ± 2 m' },
				scenarios: [{ id: 'weak-motor', from: '0.8', to: '0.9' }, 'none-of-these']
			}
		);
		expect(r.likelihoods![0]!.words).toMatch(/the apogee would be 0\Dm in 90 of 100/);
	});

	it.each<[string, Request['inputs'], RegExp]>([
		[
			'fast with one drag',
			{ totalImpulse: '4000 N·s' },
			/Mach 1\.\d+: from about Mach 0\.8 on .* not one number/
		],
		[
			'a drag table too short',
			{ totalImpulse: '4000 N·s', dragTable: [{ mach: '0.5', coefficient: '0.5' }] },
			/the drag table ends at 0\.5/
		],
		['the base drag', {}, /with the motor out the drag of the base is greater/],
		[
			'a delay from the coast without drag',
			{},
			/Never set a delay by the coast without drag: [\d.]+\Ds and \d+\Dm after/
		],
		[
			'a lean',
			{ rodAngle: '8 deg' },
			/does not fly upright: time to apogee and apogee no longer tell the same/
		],
		['a slow start in wind', { wind: breeze, rodLength: '0.8 m' }, /below 15 m\/s or four times the wind/],
		['turning into the wind', { wind: breeze }, /turn into its own wind at once/],
		['a wrong unit of impulse', { totalImpulse: '2000 lbf·s' }, /specific impulse of \d+ s.*Check impulse/],
		['no propellant', { propellantMass: '0 kg' }, /No mass of propellant is given/],
		['standard air', { siteTemperature: '' }, /6\.5 % thinner/]
	])('warns of %s', (_, changed, warning) => {
		expect(run(changed).warnings.join('\n')).toMatch(warning);
	});
	it('and is silent where a warning does not hold', () => {
		const r = run({ dragTable: [{ mach: '3', coefficient: '0.5' }] }).warnings.join('\n');
		expect(r).not.toMatch(/drag table|upright|own wind|specific impulse|thinner|four times/);
	});
	it('no warning holds a number that is none', () => {
		expect(run({ propellantMass: '0 kg' }).warnings.join(' ')).not.toMatch(/Infinity|NaN/);
	});
	it('a flight at the limit of flying, which other steps no longer lift, is left out of the picture', () => {
		const inputs = { ...limit, timeFactor: '1 ± 100' };
		const r = runCalculation(ascent, { inputs, samples: 50 });
		expect(r.ok && r.value.figure).toBeTruthy();
	});
	it.each<[string, Request['inputs'], RegExp]>([
		['all propellant', { propellantMass: '9 kg' }, /as much as the whole vehicle/],
		['half a motor', { burnTime: '' }, /total impulse and burn time/],
		['no curve', { motorAs: 'curve' }, /two points or more/],
		[
			'a curve of nothing',
			{
				motorAs: 'curve',
				thrust: [
					{ time: '0 s', force: '0 N' },
					{ time: '1 s', force: '0 N' }
				]
			},
			/must be positive/
		],
		['what never lifts off', { totalImpulse: '60 N·s' }, /never exceeds the weight/],
		['what leaves the air', { totalImpulse: '60000 N·s' }, /above 40 km/]
	])('refuses %s', (_, changed, message) => {
		const r = try_(changed);
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
	it('refuses an exact reading and parameters that do not rise', () => {
		const r = try_({}, { observed: { apogee: '900 ± 0 m' } });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(/not known exactly/);
		const s = try_(
			{},
			{ observed: { apogee: '900 m' }, scenarios: [{ id: 'more-drag', from: '5', to: '2' }, 'none-of-these'] }
		);
		expect(s.ok ? 'accepted' : s.error.message).toMatch(/lower bound/);
	});

	it('draws height and, below it, speed by time; both are kept and written as numbers', () => {
		const { figure } = run({}, { observed: { apogee: '700 m' } });
		expect(figure!.title).toMatch(/should have reached .* was recorded/);
		const kept = readResult(JSON.parse(JSON.stringify(run())))!.figure!;
		expect(kept.below!.y.label).toBe('Upward speed');
		const svg = drawFigure(figure!, { width: 600 });
		expect(svg).toMatch(/recorded apogee.*Height above the pad, m.*translate\(0 312\).*Upward speed, m\/s/s);
		expect(svg).toMatch(/height="624"/);
		expect(figureCsv(figure!)).toMatch(
			/^layer,part,Time after lift-off \(s\),Height above the pad \(m\)\n[^]*\n\nlayer,part,Time after lift-off \(s\),Upward speed \(m\/s\)\n/
		);
	});
});
