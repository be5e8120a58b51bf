import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deploymentCharge } from '$lib/calculations/deployment-charge/deployment-charge';
import { runCalculation, type Request } from '$lib/calculations/run';
import { drawFigure } from '$lib/report/figure-drawing';
import { partingSpeedsMS, pinsSheared, separationEnergyJ } from '$lib/physics/charge';

const bay = { charge: '1.5 g', bore: '98 mm', volume: '3 L', pin: '#2-56', pins: '3' };
const attempt = (inputs: Record<string, string>, rest: Partial<Request> = {}) =>
	runCalculation(deploymentCharge, { inputs, samples: 1000, ...rest });
function run(...given: Parameters<typeof attempt>) {
	const r = attempt(...given);
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
}
const warnings = (inputs: Record<string, string>) =>
	run(inputs)
		.warnings.join(' ')
		.replace(/\u202f/g, ' ');

describe('did it part', () => {
	it('shows the bracket, not one number: cold, trade, adiabatic, and what samples between them say', () => {
		const { outputs, statements } = run(bay);
		const at = (of: string) => outputs[`bracket of ${of}`]!.nominal! / 1000;
		expect(at('Cold gas, all heat lost')).toBeCloseTo(15.1, 1);
		expect(at('The value that the trade takes')).toBeCloseTo(109.6, 0);
		expect(at('No heat lost: a bound')).toBeCloseTo(135.8, 0);
		expect(outputs['pressure']!.low90).toBeGreaterThan(15_000);
		expect(outputs['pressure']!.label).toBe('Pressure above the air outside');
		expect(statements[0]).toMatch(
			/parts in \d\d of 100 firings as built.*It parts with the value that the trade takes for the gas, and with no heat lost, but not with cold gas\.$/
		);
	});
	it('says so where even the coldest gas does, or no heat lost does not', () => {
		expect(run({ ...bay, pins: '1', charge: '6 g' }).statements[0]).toMatch(/Even the coldest gas parts it/);
		expect(run({ ...bay, pins: '20' }).statements[0]).toMatch(/Even without any loss of heat it does not/);
		expect(run({ ...bay, substance: 'other' }).statements[0]).not.toMatch(/trade/);
	});
	it('holding is pins on their root area and friction (hand-worked: #2-56 at 51.3 MPa, 103 N each)', () => {
		const { outputs } = run({ ...bay, pinShear: '51.3 ± 0 MPa', friction: '10 ± 0 N' });
		expect(Math.abs(outputs['holding']!.nominal! - (3 * 103 + 10))).toBeLessThan(2);
		const rod = run({
			...bay,
			pin: 'rod',
			rod: '2 ± 0 mm',
			pins: '2',
			pinShear: '50 ± 0 MPa',
			friction: '10 ± 0 N'
		});
		expect(rod.outputs['holding']!.nominal).toBeCloseTo(2 * 50 * Math.PI + 10, 6);
		expect(run({ ...bay, pin: 'none', pins: '', friction: '25 N' }).outputs['holding']!.nominal).toBe(25);
	});
	it('twice the bore at the same pressure is four times the force', () => {
		const force = (bore: string, volume: string, charge: string) =>
			run({ ...bay, bore, volume, charge }).outputs['force']!.nominal!;
		expect(force('196 mm', '12 L', '6 g') / force('98 mm', '3 L', '1.5 g')).toBeCloseTo(4, 9);
	});
	it('says where only the hottest gas does', () => {
		expect(run({ ...bay, pinShear: '100 ± 0 MPa', friction: '290 ± 0 N' }).statements[0]).toMatch(
			/parts only if the gas loses no heat: not with the value that the trade takes/
		);
	});
	it('the rows of its figure fit even a narrow page', () => {
		expect(drawFigure(run(bay).figure!, { width: 320 })).toMatch(
			/>As stated<.*>All heat lost<.*>Trade’s value<.*>No heat lost</
		);
	});
	it('a sealed bay adds the air it brought up', () => {
		const pressure = (more: Record<string, string>) => run({ ...bay, ...more }).outputs['pressure']!.nominal!;
		const added = pressure({ bay: 'sealed', height: '2000 m' }) - pressure({ height: '2000 m' });
		expect(added).toBeCloseTo(101_325 - 79_495, -2);
	});
	it('the speed of the hand-worked example, its pins and friction taken out', () => {
		const { outputs } = run({
			charge: '1 g',
			bore: '100 mm',
			volume: `${(Math.PI / 4) * 3} ± 0 L`,
			worth: `${(((103_421 * Math.PI) / 4) * 3e-3) / 1e-3 / 1000} ± 0 kJ/kg`,
			friction: '0.001 ± 0 N',
			massA: '2 ± 0 kg',
			massB: '4 ± 0 kg',
			stroke: '100 mm',
			gamma: '1.2 ± 0'
		});
		expect(outputs['apart']!.nominal).toBeCloseTo(9.107, 2);
		expect(outputs['energy']!.nominal).toBeCloseTo(55.29, 1);
		expect(outputs['speedA']!.nominal).toBeCloseTo(6.07, 2);
	});
});

describe('enough force, too little work', () => {
	const short = {
		charge: '0.4 g',
		bore: '100 mm',
		volume: '1 L',
		worth: '110 kJ/kg',
		pin: '#2-56',
		pins: '2',
		friction: '10 N'
	};
	const joint = { stroke: '150 mm', massA: '1 kg', massB: '2 kg' };
	it('parts by force alone while the engaged length is not known', () => {
		expect(run(short).statements[0]).toMatch(/parts in 9\d of 100/);
	});
	it('with it, it shears the pins but stops inside: nothing says that it parts', () => {
		const { outputs, statements, figure, series } = run({ ...short, ...joint });
		expect(outputs['apart']!.nominal).toBe(0);
		expect(outputs['energy']!.high90).toBe(0);
		expect((series as { parted: number }).parted).toBeLessThan(0.03);
		expect(statements.join(' ')).toMatch(
			/parts in [1-3] of 100 firings .* In 9\d of 100 it shears the pins but stops inside the joint/
		);
		expect(figure!.title).toMatch(
			/parts the joint in [1-3] of 100 firings; in 9\d of 100 it shears the pins but stops/
		);
		expect(warnings({ ...short, ...joint })).toMatch(/stops inside the joint.*Speed and energy are none/);
		expect(warnings({ ...short, ...joint })).not.toMatch(/The speed is a bound/);
	});
	it('the likelihood follows', () => {
		const density = (flight: string, more: Record<string, string> = {}) =>
			run({ ...short, ...joint }, { observed: { flight, ...more } }).likelihoods![0]!.density;
		expect(density('parted')).toBeLessThan(0.05);
		expect(density('held')).toBeGreaterThan(0.95);
		expect(density('held', { sheared: '2' })).toBeGreaterThan(0.85);
		expect(density('parted', { sheared: '2' })).toBeLessThan(0.05);
		expect(density('held', { ground: 'parted' })).toBeLessThan(0.05);
	});
	it('a joint that does come out has a speed, one that stops inside has none', () => {
		const { outputs, series } = run({ ...short, ...joint, worth: '60 to 200 kJ/kg' });
		const { parted, stalled } = series as { parted: number; stalled: number };
		expect(parted).toBeGreaterThan(0.15);
		expect(stalled).toBeGreaterThan(0.5);
		expect(outputs['apart']!.low90).toBe(0);
		expect(outputs['apart']!.high90).toBeGreaterThan(1);
	});
});

describe('as evidence', () => {
	const densities = (observed: Record<string, string>, inputs = bay, samples = 2000) =>
		Object.fromEntries(run(inputs, { observed, samples }).likelihoods!.map((l) => [l.id, l.density]));
	it('a joint that did not part speaks for no fire or a strong joint, the more so after a good ground test', () => {
		const alone = densities({ flight: 'held' });
		expect(alone['not-fired']).toBeGreaterThan(3 * alone['as-built']!);
		const tested = densities({ flight: 'held', ground: 'parted' });
		expect(tested['not-fired']! / tested['as-built']!).toBeGreaterThan(
			5 * (alone['not-fired']! / alone['as-built']!)
		);
		const failedTest = densities({ flight: 'held', ground: 'held' });
		expect(failedTest['as-built']).toBeGreaterThan(0.8 * failedTest['not-fired']!);
	});
	it('all pins sheared tell against a charge that did not fire', () => {
		const d = densities({ sheared: '3' });
		expect(d['as-built']).toBeGreaterThan(20 * d['not-fired']!);
		expect(d['none-of-these']).toBeCloseTo(0.25, 6);
		expect(densities({ sheared: '0' })['not-fired']).toBeGreaterThan(0.97);
	});
	it('a speed that was seen', () => {
		const d = densities({ flight: 'parted', speed: '8 ± 1 m/s' }, { ...bay, ...sections });
		expect(d['as-built']).toBeGreaterThan(5 * d['weak']!);
	});
	it.each<[string, Record<string, string>, Record<string, string>, RegExp]>([
		['more than there were', { sheared: '4' }, {}, /whole number up to the 3/],
		['half a pin', { sheared: '1.5' }, {}, /whole number/],
		['parted with pins whole', { sheared: '2', flight: 'parted' }, {}, /every pin sheared or tore out/],
		['held with no pin left', { sheared: '3', flight: 'held' }, {}, /the joint was free/],
		['no pins at all', { sheared: '0' }, { pin: 'none', pins: '' }, /without pins none/],
		['a speed without masses', { speed: '8 m/s' }, {}, /give both masses/],
		[
			'an exact speed',
			{ speed: '8 ± 0 m/s' },
			{ massA: '2 kg', massB: '4 kg', stroke: '9 cm' },
			/no speed is known exactly/
		]
	])('refuses %s', (_, observed, more, message) => {
		const r = attempt({ ...bay, ...more }, { observed });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
	it('refuses shares and factors the wrong way round', () => {
		for (const id of ['weak', 'strong-joint']) {
			const r = attempt(bay, {
				observed: { flight: 'held' },
				scenarios: [{ id, from: '0.9', to: '0.2' }, 'none-of-these']
			});
			expect(r.ok ? '' : r.error.message).toMatch(/must be less than the greatest/);
		}
	});
});
const sections = { massA: '2 kg', massB: '4 kg', stroke: '100 mm' };

describe('what the trade gets wrong is a warning, or cannot be entered', () => {
	it.each<[string, Record<string, string>, RegExp]>([
		['halving again for the solids', bay, /solids are already in these values: nothing is to be halved/],
		['one pressure as if known', bay, /temperatures in this subject are not known to a factor of two/],
		[
			'vents, loose joints, packed volume',
			bay,
			/Vents, loose joints.*packed cloth and cord take up volume.*ground test/
		],
		['tiny charge', { ...bay, charge: '0.2 g' }, /so small that the igniter and the loss of heat decide/],
		['powder at altitude', { ...bay, height: '6 km' }, /thin air powder that lies loose or in a soft sleeve/],
		['substitute powder', { ...bay, substance: 'other' }, /Substitute powders have other gas/],
		[
			'rise and absolute pressure',
			{ ...bay, bay: 'sealed', height: '3 km' },
			/above the air outside, not absolute/
		],
		[
			'cold, damp, brittle, soft wall, length',
			bay,
			/stronger cold and dry.*30 % and more.*brittle.*length does not count.*soft or thin wall/
		],
		[
			'more than a bay bears',
			{ ...bay, charge: '5 g', volume: '0.05 L' },
			/1\d\d bar is more than.*about 10 bar \(common practice, no source\).*gives way first/
		],
		['a single pin', { ...bay, pins: '1' }, /sections cock and jam/],
		['a rod for a screw', { ...bay, pin: 'rod', rod: '2 mm' }, /a screw does not, choose it by its thread/],
		['tensile for shear', { ...bay, pinShear: '80 MPa' }, /80 MPa is a tensile strength for nylon/],
		['speed as a prediction', { ...bay, ...sections }, /a bound: gas leaves.*Do not add it to a parachute/]
	])('%s', (_, inputs, message) => {
		expect(warnings(inputs)).toMatch(message);
	});
	it('nominal diameter of a screw: there is no such input, its thread is chosen', () => {
		const r = attempt({ ...bay, pin: '2.18 mm' });
		expect(r.ok ? '' : r.error.message).toMatch(/is not one of none, M2/);
	});
	it('it sizes no charge: there is no wanted pressure to enter', () => {
		const r = attempt({ ...bay, pressure: '15 psi' });
		expect(r.ok ? '' : r.error.message).toMatch(/there is no input "pressure"/);
		expect(run(bay).cautions.join(' ')).toMatch(
			/live until a competent person has disarmed it.*no guide to choosing, making or loading.*August 2012.*safety officer prevail/
		);
	});
});

describe('impossible input is refused with the reason', () => {
	it.each<[Record<string, string>, RegExp]>([
		[{ ...bay, pins: '' }, /Number of pins is missing/],
		[{ ...bay, pins: '2.5' }, /number of pins must be a whole number/],
		[{ ...bay, massA: '2 kg' }, /give all three or none/],
		[{ ...bay, pin: 'none', pins: '', friction: '0 N' }, /something must hold the joint/],
		[{ ...bay, charge: '500 g' }, /beyond what this calculation is made for/]
	])('%j', (inputs, message) => {
		const r = attempt(inputs);
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
});

describe('laws (properties)', () => {
	const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
	it('the work of the gas is its pressure integrated over the stroke (cross-check: Simpson)', () => {
		fc.assert(
			fc.property(
				between(1e5, 6e5),
				between(5e-4, 1e-2),
				between(1e-3, 3e-2),
				between(0.01, 0.4),
				between(1.01, 1.6),
				(p, v, a, s, g) => {
					const q = {
						absolutePa: p,
						ambientPa: 9e4,
						volumeM3: v,
						areaM2: a,
						strokeM: s,
						gamma: g,
						frictionN: 7,
						pinEnergyJ: 0.2
					};
					const n = 2000;
					let sum = 0;
					for (let i = 0; i <= n; i++)
						sum +=
							(i === 0 || i === n ? 1 : i % 2 ? 4 : 2) *
							(p * (v / (v + (a * s * i) / n)) ** g * a - 9e4 * a - 7);
					const work = (sum * s) / n / 3 - 0.2;
					expect(Math.abs(separationEnergyJ(q) - work)).toBeLessThan(1e-6 * (p * a * s));
				}
			)
		);
	});
	it('momentum and energy are kept', () => {
		fc.assert(
			fc.property(between(0, 500), between(0.1, 50), between(0.1, 50), (e, m, n) => {
				const { a, b, apart } = partingSpeedsMS(e, m, n);
				expect(Math.abs(m * a - n * b)).toBeLessThan(1e-9 * (1 + m * a));
				expect(a + b).toBeCloseTo(apart, 9);
				expect((m * a * a + n * b * b) / 2).toBeCloseTo(e, 6);
			})
		);
	});
	it('more force never shears fewer pins', () => {
		fc.assert(
			fc.property(fc.array(between(10, 100), { maxLength: 6 }), between(0, 700), (pins, force) => {
				const at = (f: number) => pinsSheared(f, Float64Array.from(pins));
				expect(at(force + 10)).toBeGreaterThanOrEqual(at(force));
				expect(at(pins.reduce((s, p) => s + p, 0) + 1)).toBe(pins.length);
			})
		);
	});
});
