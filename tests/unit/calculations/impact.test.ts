import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { impact } from '$lib/calculations/impact/impact';
import { runCalculation, type Request } from '$lib/calculations/run';
import { meanDecelerationMS2 } from '$lib/physics/impact';
import { drawFigure } from '$lib/report/figure-drawing';

type Inputs = Request['inputs'];
const hit = { mass: '8 kg', speed: '22 m/s', crush: '120 mm', penetration: '0 mm' };
const exact = { mass: '8 ± 0 kg', speed: '20 ± 0 m/s', horizontal: '0 m/s', crush: '100 ± 0 mm' };
const attempt = (inputs: Inputs, rest: Partial<Request> = {}) =>
	runCalculation(impact, { inputs, samples: 1000, ...rest });
function run(...given: Parameters<typeof attempt>) {
	const r = attempt(...given);
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
}
const warnings = (inputs: Inputs) =>
	run(inputs)
		.warnings.join(' ')
		.replace(/\u202f/g, ' ');

describe('spreads that cannot be meant so', () => {
	it('a normal mass of 8 ± 50 kg is questioned, with what becomes of its middle', () => {
		// Φ(−8/50) = 0.436; the median of what is left is 8 + 50 Φ⁻¹(0.4364 + 0.5636/2) = 8 + 50 · 0.5776 = 36.9.
		expect(warnings({ ...hit, mass: '8 ± 50 kg' })).toMatch(
			/Mass.*: with a standard deviation of 50 kg, 44 of 100 values would lie below 0 kg.*above 36\.9 kg and not above the 8\.00 kg typed/
		);
		expect(warnings({ ...hit, mass: '8 ± 3 kg' })).not.toMatch(/standard deviation/);
	});
	it('a triangle and a log-normal are drawn as they are', () => {
		const energy = (mass: string) => run({ ...exact, mass }, { samples: 4000 }).outputs['energy']!;
		// 200 J/kg: half of a triangle of 5, 6, 8 kg lies below 8 − √(3 · 2/2) kg, half of a log-normal below its median.
		expect(energy('triangular 5, 6, 8 kg').median / 200).toBeCloseTo(8 - Math.sqrt(3), 1);
		const { median, low90, high90 } = energy('log-normal 8 × 1.2 kg');
		expect(median / 1600).toBeCloseTo(1, 1);
		expect(high90 / median).toBeCloseTo(1.2 ** 1.645, 1);
		expect(median / low90).toBeCloseTo(1.2 ** 1.645, 1);
	});
});

describe('how hard', () => {
	it('8 kg at 20 m/s over 100 mm: 1600 J, 2000 m/s² in the mean, a peak of once to twice that (hand-worked)', () => {
		const { outputs } = run(exact);
		expect(outputs['energy']!.nominal).toBeCloseTo(1600, 9);
		expect(outputs['mean']!.nominal).toBeCloseTo(2000, 9);
		expect(outputs['force']!.nominal).toBeCloseTo(16_000, 6);
		expect(outputs['peak']!.nominal).toBeCloseTo(3000, 9);
		expect(outputs['peak']!.low90).toBeCloseTo(2100, -2);
		expect(outputs['peak']!.high90).toBeCloseTo(3900, -2);
		const peak = (pulse: string) => run({ ...exact, pulse }).outputs['peak']!.nominal!;
		expect([peak('constant'), peak('spring')]).toEqual([2000, 4000]);
		expect(peak('half-sine')).toBeCloseTo(1000 * Math.PI, 9);
	});
	it('the ground gives way too: crush and depth add', () => {
		expect(run({ ...exact, penetration: '300 ± 0 mm' }).outputs['mean']!.nominal).toBeCloseTo(500, 9);
		const { crush, ...soft } = exact;
		expect(crush).toBeDefined();
		expect(run({ ...soft, penetration: '100 ± 0 mm' }).outputs['mean']!.nominal).toBeCloseTo(2000, 9);
		expect(run(soft).outputs['mean']).toBeUndefined();
	});
	it('speed along the ground adds energy, but is not stopped by the crush', () => {
		const { outputs } = run({ ...exact, horizontal: '15 ± 0 m/s' });
		expect(outputs['speed']!.nominal).toBeCloseTo(25, 9);
		expect(outputs['energy']!.nominal).toBeCloseTo(2500, 9);
		expect(outputs['mean']!.nominal).toBeCloseTo(2000, 9);
	});
	it('from a height: free fall, or towards its steady speed', () => {
		const speed = (more: Inputs) =>
			run({ mass: '8 kg', horizontal: '0 m/s', drop: '100 ± 0 m', ...more }).outputs['speed']!.nominal!;
		expect(speed({})).toBeCloseTo(Math.sqrt(2 * 9.80665 * 100), 9);
		expect(speed({ terminal: '20 ± 0 m/s' })).toBeCloseTo(
			20 * Math.sqrt(-Math.expm1((-2 * 9.80665 * 100) / 400)),
			9
		);
		expect(
			run({ mass: '8 kg', horizontal: '0 m/s', drop: '100 ± 0 m' }).outputs['drop']!.nominal
		).toBeCloseTo(100, 9);
	});
	it('deceleration falls with the way and grows with the square of the speed (properties)', () => {
		const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });
		fc.assert(
			fc.property(between(0.1, 300), between(1e-4, 5), (v, s) => {
				const a = meanDecelerationMS2(v, s);
				expect(meanDecelerationMS2(2 * v, s) / a).toBeCloseTo(4, 9);
				expect(meanDecelerationMS2(v, 2 * s) / a).toBeCloseTo(0.5, 9);
				// It stops after 2 s/v with that deceleration.
				expect(v - a * ((2 * s) / v)).toBeCloseTo(0, 6);
			})
		);
		expect(() => meanDecelerationMS2(1, 0)).toThrow(RangeError);
	});
});

describe('which damage needs more than that', () => {
	const damage = [
		{ name: 'Fin root', energy: '400 J' },
		{ name: 'Rail guide', needs: 'force', force: '90 kN' },
		{ name: 'Tray', needs: 'deceleration', deceleration: '150 g' }
	];
	it('by energy, force or deceleration, each with its share of samples', () => {
		const { statements, outputs, figure } = run({ ...hit, damage });
		const said = statements.join(' ');
		expect(said).toMatch(/Fin root: the impact had enough for it in more than 99 of 100/);
		expect(said).toMatch(/Rail guide: .* in fewer than 1 of 100 samples; look for another cause/);
		expect(outputs['share of Tray']!.nominal).toBeGreaterThan(1);
		expect(figure!.title).toBe('The impact was hardly enough for Rail guide');
		expect(figure!.layers.some((l) => l.kind === 'rows' && l.rows.length === 3)).toBe(true);
		expect(drawFigure(figure!, { width: 320 })).toMatch(
			/>enough in &gt;99\u202f%<.*>enough in &lt;1\u202f%</
		);
	});
	it('without a way to stop, what needs a deceleration is said to be unknown', () => {
		const { crush: _c, penetration: _p, ...bare } = hit;
		const { statements, outputs } = run({ ...bare, damage });
		expect(statements.join(' ')).toMatch(
			/Tray: without crush or depth in the ground the deceleration is not known/
		);
		expect(Object.keys(outputs)).not.toContain('share of Tray');
		expect(outputs['share of Fin root']!.nominal).toBeGreaterThan(4);
	});
	it('a figure for each case', () => {
		const { crush: _c, penetration: _p, ...bare } = hit;
		expect(run(hit).figure!.title).toMatch(/in the mean, and a peak of up to/);
		expect(run(bare).figure!.title).toMatch(/^It hit with about/);
	});
});

describe('as evidence: under main, under drogue, or bare', () => {
	const rates = {
		...hit,
		mainRate: '6 m/s',
		drogueRate: '22 m/s',
		ballisticSpeed: '70 m/s',
		resistance: '9 kN'
	};
	const densities = (observed: Record<string, string>, inputs: Inputs = rates) =>
		Object.fromEntries(run(inputs, { observed, samples: 2000 }).likelihoods!.map((l) => [l.id, l.density]));
	it('a depth of crush tells the speed', () => {
		const d = densities({ depth: '220 mm' });
		expect(d['under-drogue']).toBeGreaterThan(10 * d['under-main']!);
		expect(d['under-drogue']).toBeGreaterThan(10 * d['ballistic']!);
		expect(densities({ depth: '16 ± 4 mm' })['under-main']).toBeGreaterThan(
			5 * densities({ depth: '16 ± 4 mm' })['under-drogue']!
		);
	});
	it('a saturated reading only says at least', () => {
		const d = densities({ peak: '100 ± 2 g', saturated: 'yes' });
		expect(d['under-main']).toBeLessThan(0.02);
		expect(d['under-drogue']).toBeGreaterThan(0.9);
		expect(d['ballistic']).toBeGreaterThan(0.9);
		expect(densities({ peak: '300 g' })['under-drogue']).toBeGreaterThan(
			5 * densities({ peak: '300 g' })['ballistic']!
		);
	});
	it('compares only the rates that are given, or any speed', () => {
		expect(Object.keys(densities({ peak: '300 g' }, hit))).toEqual(['between', 'none-of-these']);
		expect(Object.keys(densities({ peak: '300 g' }, { ...hit, mainRate: '6 m/s' }))).toEqual([
			'under-main',
			'none-of-these'
		]);
	});
	it.each<[Record<string, string>, Inputs, unknown, RegExp]>([
		[{ depth: '30 mm' }, hit, undefined, /give the mean force that crushes it/],
		[
			{ peak: '30 g' },
			{ mass: '8 kg', speed: '9 m/s' },
			undefined,
			/give the crush or the depth in the ground/
		],
		[{ peak: '30 ± 0 g' }, hit, undefined, /no peak is known exactly/],
		[{ depth: '30 ± 0 mm' }, { ...hit, resistance: '9 kN' }, undefined, /no depth is known exactly/],
		[{ peak: '30 g' }, hit, ['ballistic', 'none-of-these'], /give the speed at impact if nothing opened/],
		[
			{ peak: '30 g' },
			hit,
			[{ id: 'between', from: '9 m/s', to: '5 m/s' }, 'none-of-these'],
			/less than the greatest/
		]
	])('refuses %j', (observed, inputs, scenarios, message) => {
		const r = attempt(inputs, { observed, ...(scenarios ? { scenarios } : {}) });
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
});

describe('where not to believe it', () => {
	it.each<[string, Inputs, RegExp]>([
		['mean for peak, saturated recorder', hit, /The mean is not the peak.*end of its scale shows neither/],
		['what crushed behind the sensor', hit, /what crushed behind the sensor did not stop it/],
		['ground penetration left out', exact, /depth that it dug into the ground is not given/],
		[
			'crush left out',
			{ mass: '8 kg', speed: '9 m/s', penetration: '5 cm' },
			/crush of the structure is not given/
		],
		['turning and speed along the ground', hit, /Turning and speed along the ground carry energy too/],
		['fall without air', { mass: '8 kg', drop: '300 m' }, /taken as without air: the speed is an upper bound/]
	])('%s', (_, inputs, message) => {
		expect(warnings(inputs)).toMatch(message);
	});
	it('what is given is not warned of', () => {
		expect(warnings(hit)).not.toMatch(/is not given|without air/);
	});
	it('carries its cautions', () => {
		expect(run(hit).cautions.join(' ')).toMatch(
			/live or damaged until.*not charged to read the log.*safety officer/
		);
	});
});

describe('impossible input is refused with the reason', () => {
	it.each<[Inputs, RegExp]>([
		[{ mass: '8 kg' }, /the speed at the impact, or the height that it fell/],
		[{ ...hit, drop: '3 m' }, /one of the two/],
		[{ ...hit, terminal: '9 m/s' }, /goes with the height that it fell/],
		[{ ...hit, crush: '0 mm' }, /nothing stops over no way at all/],
		[{ ...hit, damage: [{ name: 'Fin' }] }, /Fin: energy that it takes is missing/],
		[
			{
				...hit,
				damage: [
					{ name: 'Fin', energy: '3 J' },
					{ name: 'Fin', energy: '3 J' }
				]
			},
			/two damages are called Fin/
		]
	])('%j', (inputs, message) => {
		const r = attempt(inputs);
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
});
