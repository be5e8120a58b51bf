import { existsSync } from 'node:fs';
import { describe as group, expect, it } from 'vitest';
import type { Field, LeafField } from '$lib/calculations/calculation';
import { describe } from '$lib/calculations/describe';
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
			const given = [f.default, ...Object.values(f.defaultOf?.texts ?? {}), ...(f.suggestions ?? [])];
			for (const text of given.map((s) => s?.text))
				if (text !== undefined)
					expect(parseQuantity(text, { dimension: f.dimension }), text).toMatchObject({ ok: true });
			if (f.dimension === 'temperature' && f.spread) expect(f.spread.text).toMatch(/^[\d.]+ K$/);
			for (const stated of [f.default, f.spread]) if (stated) expect(stated.origin.length).toBeGreaterThan(3);
		}
		for (const o of c.outputs) expect(() => unitOf(o.unit, o.dimension)).not.toThrow();
	});
	it('takes from other calculations only what these compute, of the same kind', () => {
		for (const f of leaves(c.inputs)) {
			if (f.kind !== 'quantity') continue;
			for (const { calculation, output } of f.fromRuns ?? []) {
				const from = CALCULATIONS.find(({ id }) => id === calculation);
				expect(from?.outputs.find(({ id }) => id === output)?.dimension, f.label).toBe(f.dimension);
			}
		}
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
