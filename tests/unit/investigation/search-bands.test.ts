import { beforeEach, describe, expect, it } from 'vitest';
import type { ListField } from '$lib/calculations/calculation';
import { calculationById } from '$lib/calculations/registry';
import { runCalculation } from '$lib/calculations/run';
import { inRegion, type Region } from '$lib/calculations/landing-footprint/regions';
import { changedSources } from '$lib/investigation/views/changed-sources';
import { rowOffers } from '$lib/investigation/views/roles';
import { bandsOf, searchBands } from '$lib/investigation/views/search-bands';
import { CalculationCase } from './calculation-case';

const footprint = calculationById('landing-footprint')!;
const search = calculationById('search')!;
const segments = search.inputs.find(({ id }) => id === 'segments') as ListField;
const wind = [
	{ height: '0 m', speed: '4 m/s', from: '240°' },
	{ height: '1500 m', speed: '10 m/s', from: '260°' }
];
const asked = (drogueRate: string) => {
	const inputs = { apogeeHeight: '1200 m', drogueRate, wind };
	const result = runCalculation(footprint, { inputs, samples: 600 });
	if (!result.ok) throw new Error(result.error.message);
	return { inputs, observed: {}, scenarios: [], seed: 1, samples: 600, sources: [], result: result.value };
};

let c: CalculationCase;
let run: string;
beforeEach(() => {
	c = new CalculationCase();
	const named = { calculation: 'landing-footprint', title: 'Where it came down', anomaly: 'a1', note: '' };
	run = c.do('calculation.add', { ...named, ...asked('20 m/s') });
});
const replaceFigure = (polygons: [number, number][][][]) => {
	const kept = c.file.calculations[run]!;
	const layers = polygons.map((rings, i) => ({
		kind: 'region',
		label: `Drogue only, ${[50, 90][i]} %`,
		polygons: rings,
		hatch: 0
	}));
	const result = { ...(kept.result as object), figure: { layers } };
	c.put('calculations', run, { ...kept, result });
};
const square = (half: number): [number, number][] => [
	[-half, -half],
	[half, -half],
	[half, half],
	[-half, half]
];

describe('ground to search from a kept landing footprint', () => {
	it('is what lies between two levels, less the holes (hand-worked)', () => {
		replaceFigure([[square(50)], [square(100), square(20).toReversed()]]);
		const bands = bandsOf(c.file, run);
		expect(bands.map(({ name }) => name)).toEqual(['Drogue only, within 50 %', 'Drogue only, 50 to 90 %']);
		expect(bands.map(({ areaM2 }) => areaM2)).toEqual([10_000, 40_000 - 1_600 - 10_000]);
		expect(bands[0]!.weight).toBeCloseTo(0.5, 12);
		expect(bands[1]!.weight).toBeCloseTo(0.4, 12);
	});
	it('has the area that counting points of a grid gives', () => {
		const [first] = bandsOf(c.file, run);
		const { layers } = (c.file.calculations[run]!.result as { figure: { layers: { label: string; polygons: Region['rings'] }[] } }).figure; // prettier-ignore
		const rings = layers.find(({ label }) => label === first!.name.replace('within ', ''))!.polygons;
		const step = 5;
		let inside = 0;
		for (let e = -3000; e < 3000; e += step)
			for (let n = -3000; n < 3000; n += step) if (inRegion({ level: 0.5, rings }, e, n)) inside++;
		expect((inside * step ** 2) / first!.areaM2).toBeCloseTo(1, 1);
		expect(searchBands(c.file).every(({ areaM2, weight }) => areaM2 > 0 && weight > 0)).toBe(true);
	});
	it('fills segments of a search, which can be computed once the sweep width stands beside', () => {
		const rows = rowOffers(c.file, segments, []).map(({ cells }) =>
			Object.fromEntries(Object.entries(cells).map(([id, { text }]) => [id, text]))
		);
		expect(rows.slice(0, 3).map((row) => row['weight'])).toEqual(['50 %', '40 %', '9 %']);
		const ofOne = rows.filter(({ name }) => name?.startsWith('Drogue only'));
		const r = runCalculation(search, {
			samples: 200,
			inputs: { segments: ofOne.map((row) => ({ ...row, width: '20 m' })), elsewhere: '1 %' }
		});
		if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
		expect(r.value.outputs[`after of ${ofOne[0]!['name']!}`]!.nominal).toBeCloseTo(0.5, 2);
		expect(r.value.statements[0]).toMatch(/^Search Drogue only, within 50 % next/);
	});
	it('lies where the run knows it to lie, so that a bearing weighs it', () => {
		replaceFigure([[square(50)], [square(100)]]);
		const rows = rowOffers(c.file, segments, []).map(({ cells }) =>
			Object.fromEntries(Object.entries(cells).map(([id, { text }]) => [id, text]))
		);
		const places = rows.map(({ ground }) => ground!.split(', ').map((pair) => pair.split(' ').map(Number)));
		for (const [i, of] of places.entries()) {
			expect(of.length).toBeGreaterThanOrEqual(24);
			for (const [east = 0, north = 0] of of) {
				const far = Math.max(Math.abs(east), Math.abs(north));
				expect(far < 50).toBe(i === 0);
				expect(far).toBeLessThan(100);
			}
		}
		// From 300 m west of the pad, pointing past it in the north by 75 m: only the ring reaches so far.
		const inputs = {
			segments: rows.map((row) => ({ ...row, width: '20 m' })),
			bearings: [{ bearing: '76 °', within: '2°', standAway: '300 m', standToward: '270°' }]
		};
		const r = runCalculation(search, { samples: 100, inputs });
		if (!r.ok) throw new Error(`${r.error.path}: ${r.error.message}`);
		const moved = (name: string) =>
			r.value.outputs[`after of ${name}`]!.nominal! / r.value.outputs[`stated of ${name}`]!.nominal!;
		expect(moved('Drogue only, 50 to 90 %')).toBeGreaterThan(2 * moved('Drogue only, within 50 %'));
		expect(r.value.warnings.join(' ')).not.toMatch(/say nothing of/);
	});
	it('says when the run gives other ground now, and nothing of other runs', () => {
		const { cells } = rowOffers(c.file, segments, [])[0]!;
		const sources = Object.entries(cells).map(([id, cell]) => ({
			...cell,
			input: `segments.1.${id}`,
			rev: 1
		}));
		expect(changedSources(c.file, sources)).toEqual([]);
		c.do('calculation.rerun', { id: run, ...asked('10 m/s') });
		expect(changedSources(c.file, sources)[0]!.words).toMatch(
			/^The ground ".*within 50 %" of K1 has changed since this was computed: it was .* ha and is .* ha now\.$/
		);
		expect(bandsOf(c.file, 'nope')).toEqual([]);
	});
});
