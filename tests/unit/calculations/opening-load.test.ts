import { describe, expect, it } from 'vitest';
import { openingLoad } from '$lib/calculations/opening-load/opening-load';
import { runCalculation, type Request } from '$lib/calculations/run';
import { drawFigure } from '$lib/report/figure-drawing';

const main = { mass: '10 kg', diameter: '3 m', speed: '20 m/s' };
const exact = {
	mass: '10 ± 0 kg',
	diameter: '3 ± 0 m',
	speed: '20 ± 0 m/s',
	dragCoefficient: '0.75',
	overshoot: '1.7',
	fill: '8',
	growth: '2',
	dive: '90 °'
};
const attempt = (inputs: Record<string, string>, rest: Partial<Request> = {}) =>
	runCalculation(openingLoad, { inputs, samples: 600, ...rest });
function run(...given: Parameters<typeof attempt>) {
	const r = attempt(...given);
	if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
	return r.value;
}
const warnings = (inputs: Record<string, string>) =>
	run(inputs)
		.warnings.join(' ')
		.replace(/\u202f/g, ' ');

describe('the load', () => {
	it('of the hand-worked main: 327 N by the closed form, 2208 N with Cx alone, 314.8 N and a share of Cx with gravity', () => {
		const { outputs } = run(exact);
		expect(Math.abs(outputs['closedForm']!.nominal! / 327.1 - 1)).toBeLessThan(1e-3);
		expect(Math.abs(outputs['infiniteMass']!.nominal! / 2208 - 1)).toBeLessThan(1e-3);
		expect(Math.abs(outputs['load']!.nominal! / (314.8 * 1.35) - 1)).toBeLessThan(1e-3);
		expect(outputs['load']!.low90).toBeGreaterThan(314.8);
		expect(outputs['load']!.high90).toBeLessThan(314.8 * 1.7);
	});
	it('of a drogue it is that of the closed form with all of Cx, but for gravity: 378.7 N times 1.7', () => {
		const { outputs } = run({
			...exact,
			diameter: '0.6 ± 0 m',
			speed: '60 ± 0 m/s',
			siteElevation: '2064 m'
		});
		expect(Math.abs(outputs['load']!.nominal! / (378.7 * 1.7) - 1)).toBeLessThan(2e-3);
	});
	it('at the top of a flat arc there is no speed downward, and that is fine', () => {
		expect(run({ ...exact, dive: '0 °' }).outputs['load']!.nominal).toBeGreaterThan(192);
	});
	it('grows with the speed, shrinks with a longer filling, is more in thin air for the same dynamic pressure', () => {
		const load = (more: Record<string, string>) => run({ ...exact, ...more }).outputs['load']!.nominal!;
		expect(load({ speed: '40 ± 0 m/s' })).toBeGreaterThan(2 * load({}));
		expect(load({ fillingTime: '3 s' })).toBeLessThan(load({ fillingTime: '1 s' }));
		const thin = run({ ...exact, height: '10 km', speed: `${20 * Math.sqrt(1.225 / 0.41351)} ± 0 m/s` });
		const low = run(exact);
		expect(thin.outputs['closedForm']!.nominal! / low.outputs['closedForm']!.nominal!).toBeCloseTo(2.06, 1);
	});
	it('each type brings its own coefficients, and says whence', () => {
		expect(run({ ...main, type: 'cross' }).notes.join(' ')).toMatch(
			/Opening force coefficient Cx: 1\.15 .* \(cross; Knacke.*from memory/
		);
		expect(run({ ...main, type: 'conical' }).notes.join(' ')).toMatch(
			/no value known, that of a flat circular/
		);
	});
	it('the figure says whether the weakest link bears it', () => {
		const title = (strength: string) => run({ ...main, strength }).figure!.title;
		expect(title('100 N')).toMatch(/more than the weakest link bears/);
		expect(title('400 N')).toMatch(/about what the weakest link bears/);
		expect(title('4000 N')).toMatch(/less than the weakest link bears/);
		const svg = drawFigure(run({ ...main, strength: '1500 N' }).figure!);
		// Rule and curve differ in their dashes, and the curve's name does not stand on the rule.
		const rule = Number(/<path d="M[\d.]+ ([\d.]+)H[^>]*stroke-dasharray="9 4"/.exec(svg)![1]);
		expect(svg).toMatch(/stroke-dasharray="2 4"/);
		const name = Number(/y="([\d.]+)"[^>]*>Cx alone, as for infinite mass</.exec(svg)![1]);
		expect(svg).toMatch(/>finite mass, no to full over-inflation</);
		expect(rule < name - 11 || rule > name + 3).toBe(true);
		expect(run({ ...main, strength: '400 N' }).outputs['overStrength']!.nominal).toBeGreaterThan(0.5);
	});
});

describe('as evidence: the peak that was recorded', () => {
	const densities = (observed: Record<string, string>) =>
		run(main, {
			observed,
			scenarios: ['as-given', { id: 'other-speed', from: '40 m/s', to: '70 m/s' }, 'none-of-these'],
			samples: 1500
		}).likelihoods!.map((l) => l.density) as [number, number, number];
	it('a high one speaks for a faster opening, a low one for the speed as given', () => {
		const [given, fast, none] = densities({ peak: '20 ± 2 g' });
		expect(fast).toBeGreaterThan(5 * given);
		expect(fast).toBeGreaterThan(none);
		const low = densities({ peak: '4.4 ± 0.5 g' });
		expect(low[0]).toBeGreaterThan(10 * low[1]);
	});
	it('a saturated one weighs by what lies beyond it', () => {
		const [given, fast] = densities({ peak: '10 ± 0.5 g', saturated: 'yes' });
		expect(given).toBeLessThan(0.05);
		expect(fast).toBeGreaterThan(0.9);
	});
	it('refuses a peak known exactly, and speeds the wrong way round', () => {
		const exactPeak = attempt(main, { observed: { peak: '10 ± 0 g' } });
		expect(exactPeak.ok ? '' : exactPeak.error.message).toMatch(/no peak is known exactly/);
		const turned = attempt(main, {
			observed: { peak: '9 g' },
			scenarios: [{ id: 'other-speed', from: '9 m/s', to: '5 m/s' }, 'none-of-these']
		});
		expect(turned.ok ? '' : turned.error.message).toMatch(/must be less than the greatest/);
	});
});

describe('what the trade gets wrong is a warning, or cannot be entered', () => {
	it.each<[string, Record<string, string>, RegExp]>([
		[
			'infinite-mass factor on a main',
			exact,
			/would say 2208 N, 5\.2 times as much: it holds for drogues.*"shock factor"/
		],
		['gravity left out at low speed', exact, /would give 192 N instead of 315 N, 39 % low/],
		[
			'Cx and X1 together where it peaks early',
			exact,
			/peak comes at \d+ % of the filling time.*none gives 315 N, all of it 535 N\. The closed form, 327 N, .*leaves out gravity.*no bound/
		],
		['filling distance', main, /filling distances scatter by 30 % and more/],
		[
			'drag coefficient on the projected area',
			{ ...main, dragCoefficient: '1.671' },
			/1\.67 is one on the open mouth.*2\.2 times wrong/
		],
		['no formula for it', main, /No formula covers line dump, tangles, melted or burnt cloth.*gliding/],
		[
			'slower than it sinks',
			{ ...main, speed: '4 m/s' },
			/slower than the 5\.\d+ m\/s at which it sinks.*weight of 98\.1 N/
		],
		['too fast for its data', { ...main, speed: '250 m/s' }, /Above about 200 m\/s/],
		['snatch', main, /snatch of the lines .* is another load/]
	])('%s', (_, inputs, message) => {
		expect(warnings(inputs)).toMatch(message);
	});
	it('calls the closed form safe only where it is the greater and gravity matters little', () => {
		expect(warnings(exact)).not.toMatch(/safe side/);
		const slow = warnings({ ...exact, speed: '2 ± 0 m/s' });
		expect(slow).not.toMatch(/safe side|up to 40 %/);
		expect(slow).toMatch(/would give 1\.92 N instead of 142 N, 99 % low/);
		expect(slow).toMatch(/comes from what it falls meanwhile, and ends as the weight of 98\.1 N/);
		const flat = warnings({ ...exact, speed: '40 ± 0 m/s', dive: '0 °' });
		expect(flat).toMatch(/peak comes at \d+ %.*its \d+ N is on the safe side/);
	});
	it('a drogue, which it is right for, is not warned of', () => {
		const said = warnings({ ...exact, diameter: '0.6 m', speed: '60 m/s', fillingTime: '0.08 s' });
		expect(said).not.toMatch(/as for infinite mass|without gravity|peak comes at|scatter/);
	});
	it('a filling formula of feet cannot be fed metres: the filling distance is in diameters', () => {
		const r = attempt({ ...main, fill: '8 ft' });
		expect(r.ok ? '' : r.error.message).toMatch(/"8 ft" is a length; a plain number/);
	});
});

describe('impossible input is refused with the reason', () => {
	it.each<[Record<string, string>, RegExp]>([
		[{ ...main, mass: '0 kg' }, /must be more than 0/],
		[{ ...main, diameter: '' }, /Nominal diameter of the canopy is missing/],
		[{ ...main, speed: '900 m/s' }, /beyond what this calculation is made for/],
		[{ ...main, overshoot: '0.5' }, /must be at least 1/],
		[{ ...main, type: 'kite' }, /"kite" is not one of flat-circular/]
	])('%j', (inputs, message) => {
		const r = attempt(inputs);
		expect(r.ok ? 'accepted' : r.error.message).toMatch(message);
	});
});
