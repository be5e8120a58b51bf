import { describe, expect, it } from 'vitest';
import { landingFootprint, type Footprint } from '$lib/calculations/landing-footprint/landing-footprint';
import { inRegion, regionsOf } from '$lib/calculations/landing-footprint/regions';
import { quantile } from '$lib/probability/distributions';
import { randomStream } from '$lib/probability/generator';
import { runCalculation, type CalculationResult, type Request } from '$lib/calculations/run';
import { readResult } from '$lib/investigation/schema/calculation-result';
import { wind } from './example';

const inputs = {
	apogeeHeight: '1500 m',
	drogueRate: '20 m/s',
	mainRate: '6 m/s',
	mainHeight: '300 m',
	bareRate: '40 to 60 m/s',
	separatedRate: '12 m/s',
	wind
};
function run(request: Partial<Request>): CalculationResult {
	const result = runCalculation(landingFootprint, { samples: 600, inputs, ...request });
	if (!result.ok) throw new Error(`${result.error.path}: ${result.error.message}`);
	return result.value;
}
const refusal = (changed: Record<string, unknown>, observed?: Record<string, unknown>) => {
	const result = runCalculation(landingFootprint, {
		samples: 100,
		inputs: { ...inputs, ...changed },
		...(observed ? { observed } : {})
	});
	return result.ok ? 'accepted' : `${result.error.path}: ${result.error.message}`;
};

describe('footprints', () => {
	it('slower descents land farther downwind and take longer', () => {
		const { outputs } = run({});
		const order = ['No parachute', 'Drogue only', 'As planned', 'Main at apogee'];
		for (const id of ['east', 'descentTime'])
			for (let i = 1; i < order.length; i++)
				expect(outputs[`${id} of ${order[i]}`]!.median).toBeGreaterThan(
					outputs[`${id} of ${order[i - 1]}`]!.median
				);
	});
	it('the plan takes about its two phases: 1200 m at 20 m/s and 300 m at 6 m/s, a little less in the thin air aloft', () => {
		const t = run({ inputs: { ...inputs, groundSpeed: '0 m/s' } }).outputs['descentTime of As planned']!
			.nominal!;
		expect(t).toBeGreaterThan(100);
		expect(t).toBeLessThan(1200 / 20 + 300 / 6 + 2);
	});
	it('leaves out what the inputs do not allow, and says so', () => {
		const { outputs, warnings } = run({ inputs: { apogeeHeight: '1500 m', mainRate: '6 m/s', wind } });
		expect(Object.keys(outputs).filter((k) => k.startsWith('distance'))).toEqual([
			'distance of Main at apogee'
		]);
		expect(warnings.join(' ')).toMatch(
			/Not computed: As planned \(needs “Descent rate under the drogue”\), Drogue only/
		);
	});
	it('weighs where and when together', () => {
		const r = run({ samples: 1500, observed: { east: '600 m', north: '-160 m', descentTime: '75 ± 3 s' } });
		const best = r.likelihoods!.reduce((a, b) => (b.density > a.density ? b : a));
		expect(best.id).toBe('drogue-only');
		expect(r.likelihoods!.at(-1)!.id).toBe('none-of-these');
		expect(r.statements.join(' ')).toMatch(
			/Drogue only: it was found inside the region that holds 50 of 100/
		);
	});
	it('says how far off it lay where the distance alone hides the direction', () => {
		const words = (east: string, north: string) =>
			run({ samples: 1500, observed: { east, north } }).likelihoods!.find((l) => l.id === 'drogue-only')!
				.words;
		// As far from the pad as the middle of the landings, but on the other side of it.
		expect(words('-600 m', '160 m')).toMatch(
			/was measured, as .* in \d+ of 100; it lay 12\d\d.m from the middle of where that would put it, farther than in more than 99 of 100\./
		);
		expect(words('540 m', '-160 m')).toMatch(
			/it lay \d\d(\.\d)?.m from the middle .*, nearer than in \d\d of 100\./
		);
	});
	it('warns of a drogue no faster than the main', () => {
		const warned = (drogueRate: string) => run({ inputs: { ...inputs, drogueRate } }).warnings.join(' ');
		expect(warned('5 m/s')).toMatch(/under the drogue is no faster than under the main.*Check both/);
		expect(warned('20 m/s')).not.toMatch(/no faster/);
	});
	it('speaks of a rate that is too slow in words, with what to do', () => {
		const r = run({ inputs: { ...inputs, separatedRate: '18 ± 30 m/s' }, samples: 4000 });
		const said = r.warnings.join(' ');
		expect(said).toMatch(/left out: a ballistic coefficient of 0\.0\d+ kg\/m² .* a narrower uncertainty/);
		expect(said).not.toMatch(/ballisticKgM2/);
		expect(refusal({ separatedRate: '0.3 m/s' })).toMatch(/sinks at 0.6 m\/s; give a faster rate/);
	});
	it('draws the regions of 50, 90 and 99 of 100 for each descent, the middle one with its name', () => {
		const kept = readResult(run({}));
		const layers = kept!.figure!.layers.filter((l) => l.kind === 'region');
		const planned = layers.filter(({ label }) => label.startsWith('As planned'));
		expect(planned.map(({ label, only }) => [label, only])).toEqual([
			['As planned, 50 %', 'dashed'],
			['As planned, 90 %', undefined],
			['As planned, 99 %', 'dotted']
		]);
	});
	it('carries its cautions: a footprint is no safety distance', () => {
		expect(run({}).cautions.join(' ')).toMatch(/no safety distance.*range officer/);
	});
	it.each<[string, Record<string, unknown>, Record<string, unknown> | undefined, RegExp]>([
		['main above apogee', { mainHeight: '2000 m' }, undefined, /above the apogee/],
		[
			'no rate at all',
			{ drogueRate: '', mainRate: '', bareRate: '', separatedRate: '' },
			undefined,
			/at least one descent rate/
		],
		['no apogee', { apogeeHeight: '' }, undefined, /^apogeeHeight: Apogee above the pad is missing/],
		['half a place', {}, { east: '3 m' }, /belong together/],
		['exact time', {}, { descentTime: '70 ± 0 s' }, /nothing is known exactly/]
	])('refuses %s', (_, changed, observed, message) => {
		expect(refusal(changed, observed)).toMatch(message);
	});
});

describe('regions from samples', () => {
	const random = randomStream(5, 'regions');
	const normal = (mean: number, sd: number) =>
		Float64Array.from({ length: 4000 }, () => quantile({ kind: 'normal', mean, sd }, random()));
	const [east, north] = [normal(300, 80), normal(-100, 30)];
	const regions = regionsOf(east, north);
	it('hold about the share they state, the wider around the narrower', () => {
		for (const region of regions) {
			const share = east.filter((e, i) => inRegion(region, e, north[i]!)).length / east.length;
			expect(Math.abs(share - region.level)).toBeLessThan(0.03);
		}
		const [inner, outer] = [regions[0]!, regions[2]!];
		expect(inner.rings.flat().every(([e, n]) => inRegion(outer, e, n))).toBe(true);
	});
	it('enclose the area of the exact ellipse within a tenth', () => {
		const area = (ring: [number, number][]) =>
			ring.reduce(
				(a, [x, y], i) => a + (x * ring[(i + 1) % ring.length]![1] - ring[(i + 1) % ring.length]![0] * y) / 2,
				0
			);
		const ninety = regions[1]!.rings.reduce((a, r) => a + area(r), 0);
		expect(Math.abs(Math.abs(ninety) / (Math.PI * 80 * 30 * -2 * Math.log(0.1)) - 1)).toBeLessThan(0.12);
	});
	it('come with every run, per scenario, as closed rings', () => {
		const r = run({});
		expect(r.figure!.layers.filter((l) => l.kind === 'region')).toHaveLength(18);
		const prints = r.series as Footprint[];
		expect(prints.map((p) => p.id)).toEqual([
			'as-planned',
			'drogue-only',
			'main-at-apogee',
			'no-parachute',
			'separated',
			'tangled'
		]);
		for (const ring of prints[0]!.regions[1]!.rings) expect(ring[0]).toEqual(ring.at(-1));
	});
});
