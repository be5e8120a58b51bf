import { existsSync } from 'node:fs';
import { describe as group, expect, it } from 'vitest';
import type { Field, LeafField } from '$lib/calculations/calculation';
import { describe } from '$lib/calculations/describe';
import type { Figure } from '$lib/calculations/figure';
import { figureCsv, figureSvg } from '$lib/calculations/figure-svg';
import { landingFootprint } from '$lib/calculations/landing-footprint/landing-footprint';
import { NONE_OF_THESE } from '$lib/calculations/likelihood';
import { CALCULATIONS } from '$lib/calculations/registry';
import { runCalculation, runCalculationAsync } from '$lib/calculations/run';
import { parseQuantity } from '$lib/quantity/parse';
import { unitOf } from '$lib/quantity/units';
import { wind } from './example';

const leaves = (fields: readonly Field[]): LeafField[] =>
	fields.flatMap((f) => (f.kind === 'list' ? f.fields : [f]));

group.each(CALCULATIONS.map((c) => [c.id, c] as const))('%s as every calculation', (_, c) => {
	it('has units, defaults and suggestions that read as what they should be', () => {
		const fields = [
			...leaves(c.inputs),
			...leaves(c.evidence?.observed ?? []),
			...(c.evidence?.scenarios.flatMap((s) => s.inputs) ?? [])
		];
		for (const f of fields) {
			if (f.kind !== 'quantity') continue;
			expect(() => unitOf(f.unit, f.dimension)).not.toThrow();
			for (const text of [f.default?.text, ...(f.suggestions ?? []).map((s) => s.text)])
				if (text !== undefined)
					expect(parseQuantity(text, { dimension: f.dimension }), text).toMatchObject({ ok: true });
			for (const stated of [f.default, f.spread]) if (stated) expect(stated.origin.length).toBeGreaterThan(3);
		}
		for (const o of c.outputs) expect(() => unitOf(o.unit, o.dimension)).not.toThrow();
	});
	it('names its fields once, ends its scenarios with none of these, has sources and a methods page', () => {
		const ids = c.inputs.map((f) => f.id);
		expect(new Set(ids).size).toBe(ids.length);
		if (c.evidence) expect(c.evidence.scenarios.at(-1)!.id).toBe(NONE_OF_THESE);
		expect(c.sources.length).toBeGreaterThan(0);
		expect(existsSync(`docs/${c.docs}`)).toBe(true);
	});
	it('can be described as plain data', () => {
		const d = describe(c);
		expect(JSON.parse(JSON.stringify(d))).toEqual(d);
	});
});

const request = { inputs: { apogeeHeight: '900 m', mainRate: '6 m/s', wind }, samples: 500 };

group('a watched run', () => {
	it('gives the same result as a run in one go, and reports rising progress', async () => {
		const seen: number[] = [];
		const watched = await runCalculationAsync(landingFootprint, request, { onProgress: (p) => seen.push(p) });
		expect(watched).toEqual(runCalculation(landingFootprint, request));
		expect(seen.length).toBeGreaterThan(3);
		expect(seen.every((p, i) => p > 0 && p < 1 && (i === 0 || p >= seen[i - 1]!))).toBe(true);
	});
	it('stops when it is cancelled', async () => {
		const stop = new AbortController();
		const outcome = await runCalculationAsync(landingFootprint, request, {
			onProgress: () => stop.abort(),
			signal: stop.signal
		});
		expect(outcome).toEqual({ ok: false, error: { path: '', message: 'cancelled' } });
	});
});

group('figures', () => {
	const figure: Figure = {
		title: 'A <title> & more',
		x: { label: 'Height', unit: 'm', min: 0 },
		y: { label: 'Distance', unit: 'm' },
		layers: [
			{ kind: 'band', label: 'band', x: [0, 10], low: [0, 1], high: [1, 5] },
			{
				kind: 'line',
				label: 'median, of all',
				points: [
					[0, 0.5],
					[10, 3]
				],
				dashed: true
			},
			{
				kind: 'region',
				label: 'region',
				polygons: [
					[
						[1, 1],
						[2, 1],
						[2, 2],
						[1, 1]
					]
				],
				hatch: 7,
				strong: true
			},
			{ kind: 'point', label: 'pad', x: 0, y: 0, radius: 1 },
			{ kind: 'rule', label: 'measured', axis: 'y', at: 2, halfWidth: 0.2 },
			{ kind: 'rule', label: 'seen', axis: 'x', at: 4 }
		]
	};
	it('every layer is drawn and labelled, text is escaped, ids carry the prefix', () => {
		const svg = figureSvg(figure, { id: 'f1' });
		for (const label of ['band', 'median, of all', 'region', 'pad', 'measured', 'seen', 'Height, m'])
			expect(svg).toContain(`>${label}<`);
		expect(svg).not.toContain('<title>A <');
		expect(svg).not.toMatch(/NaN|undefined|Infinity/);
		expect([...svg.matchAll(/ id="([^"]+)"/g)].every((m) => m[1]!.startsWith('f1-'))).toBe(true);
	});
	it('the table has every number, its unit, and quotes what needs it', () => {
		const csv = figureCsv(figure);
		expect(csv.split('\n')[0]).toBe('layer,part,Height (m),Distance (m)');
		expect(csv).toContain('band,high,10,5\n');
		expect(csv).toContain('"median, of all",,10,3\n');
		expect(csv).toContain('measured,,,2\n');
	});
	it('a chain names every link, marks the weakest, and lists its interval', () => {
		const links = [
			{ label: 'eye bolt', value: 3.1, low: 2.4, high: 3.9 },
			{ label: 'bulkhead', value: 0.8 }
		];
		const chain: Figure = {
			...figure,
			x: { label: 'Margin', unit: '1' },
			layers: [{ kind: 'chain', label: 'path', links }]
		};
		const svg = figureSvg(chain);
		expect(svg).toContain('>eye bolt<');
		expect(svg).toContain('>bulkhead (weakest)<');
		expect(svg).not.toMatch(/NaN|undefined|Infinity/);
		expect(figureCsv(chain)).toContain('eye bolt,low,2.4,\n');
	});
	it('an empty or a flat figure still has axes', () => {
		expect(figureSvg({ ...figure, layers: [] })).not.toMatch(/NaN|Infinity/);
		expect(
			figureSvg({ ...figure, layers: [{ kind: 'point', label: 'one', x: 3, y: 3 }], equalScale: true })
		).not.toMatch(/NaN|Infinity/);
	});
});
