import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { weigh, type NodeWeight, type TreeModel, type Weighing } from '$lib/reasoning';
import { randomTree } from './random-tree';
import { tangled } from './tangled';

/** How many standard errors each sampled number lies from the exact one. */
function deviations(model: TreeModel, maxNodes: number): { z: number[]; method: string } | undefined {
	const exact = weigh(model, { contributions: false });
	if (exact.contradiction) return undefined;
	const sampled = weigh(model, { maxNodes });
	if (sampled.contradiction) return undefined;
	const z: number[] = [];
	const compare = (
		ours: number | null | undefined,
		truth: number | null | undefined,
		error: number | undefined
	) => {
		if (error !== undefined && typeof ours === 'number' && typeof truth === 'number')
			z.push((ours - truth) / error);
	};
	const nodes: Record<string, NodeWeight> = { ...sampled.events, ...sampled.gates };
	for (const [id, { prior, givenTop, givenAll }] of Object.entries({ ...exact.events, ...exact.gates })) {
		const ours = nodes[id];
		compare(ours?.givenAll, givenAll, ours?.standardError);
		compare(ours?.givenTop, givenTop, ours?.givenTopStandardError);
		compare(ours?.prior, prior, ours?.priorStandardError);
	}
	return { z, method: sampled.method };
}

/**
 * How many standard errors each number lies from the exact one with each piece left out. Where the sample with nothing
 * left out lies beyond four, so does this one; that share is the first test's.
 */
function leftOut(exact: Weighing, sampled: Weighing): number[] {
	const [truths, ours] = [exact, sampled].map((w): Record<string, NodeWeight> => ({
		...w.events,
		...w.gates
	}));
	return sampled.contributions.flatMap(({ id, withoutIt, standardError }) => {
		const truth = exact.contributions.find((own) => own.id === id)?.withoutIt ?? {};
		return Object.entries(withoutIt).flatMap(([node, p]) => {
			const own = ours?.[node];
			const off = ((own?.givenAll ?? NaN) - (truths?.[node]?.givenAll ?? NaN)) / (own?.standardError ?? NaN);
			return Math.abs(off) < 4 ? [(p - (truth[node] ?? NaN)) / (standardError?.[node] ?? NaN)] : [];
		});
	});
}

describe('Sampling, where no diagram fits', () => {
	it('lies within its own standard errors of the exact answer', () => {
		const z: number[] = [];
		fc.assert(
			fc.property(randomTree, (model) => {
				// Nothing fits into eight nodes, not even the tree without its evidence.
				const found = deviations(model, 1);
				if (found?.method === 'sampled') z.push(...found.z);
			}),
			{ numRuns: 60, seed: 7 }
		);
		expect(z.length).toBeGreaterThan(400);
		// With eight populations the deviations follow Student's t with 7 degrees of freedom: 0.5 % beyond 4.
		expect(z.filter((x) => Math.abs(x) > 4).length / z.length).toBeLessThan(0.02);
		expect(z.filter((x) => Math.abs(x) < 1.2).length / z.length).toBeGreaterThan(0.6);
	}, 120_000);

	it('keeps exact what is exact without the evidence, and says what it did', () => {
		const exact = weigh(tangled);
		const sampled = weigh(tangled, { maxNodes: 700 });
		expect(exact.method).toBe('exact');
		expect(sampled.method).toBe('sampled');
		expect(sampled.nodes).toBe(0);
		expect(sampled.warnings.join()).toMatch(
			/too large for an exact answer: it was sampled \(800 states, seed 1\)/
		);
		expect(sampled.probabilityOfTop).toBeCloseTo(exact.probabilityOfTop ?? NaN, 13);
		expect(sampled.gates['Y']?.givenTop).toBeCloseTo(exact.gates['Y']?.givenTop ?? NaN, 13);
		expect(sampled.gates['Y']).not.toHaveProperty('priorStandardError');
		expect(sampled.effectiveSampleSize).toBeGreaterThan(500);
		const total = (w: typeof exact) => (w.logEvidence ?? NaN) + (w.logDensity ?? NaN);
		const error = sampled.logStandardError ?? NaN;
		expect(error).toBeLessThan(0.3);
		expect(Math.abs(total(sampled) - total(exact))).toBeLessThan(5 * error);
		for (const [id, { givenAll }] of Object.entries(exact.events)) {
			const ours = sampled.events[id];
			expect(Math.abs((ours?.givenAll ?? NaN) - (givenAll ?? NaN))).toBeLessThan(
				6 * (ours?.standardError ?? NaN)
			);
			expect(ours?.standardError).toBeGreaterThan(0);
			expect(ours?.standardError).toBeLessThan(0.03);
		}
	});
	it('tells what each piece did, within its own standard errors, from the same sample', () => {
		const exact = weigh(tangled);
		const sampled = weigh(tangled, { maxNodes: 700 });
		// What f3 says no other report of its origin says: it alone shows that the origin is genuine.
		expect(sampled.contributions.map(({ id }) => id)).toEqual(
			exact.contributions.map(({ id }) => id).filter((id) => id !== 'f3')
		);
		expect(sampled.warnings.join()).toContain("what 'f3' did can't be told from this sample");
		const z = leftOut(exact, sampled);
		expect(z.length).toBeGreaterThan(250);
		expect(z.filter((x) => !(Math.abs(x) < 4)).length / z.length).toBeLessThan(0.02);
		// It tells: what a piece did stands out of the error of leaving it out.
		const moved = sampled.contributions.flatMap(({ withoutIt, standardError }) =>
			Object.keys(sampled.events).filter(
				(id) =>
					Math.abs((withoutIt[id] ?? NaN) - (sampled.events[id]?.givenAll ?? NaN)) >
					4 * (standardError?.[id] ?? NaN)
			)
		);
		expect(moved.length).toBeGreaterThan(20);
	});
	it('what a piece did on random trees too, and never where it rules states out', () => {
		const z: number[] = [];
		let untold = 0;
		fc.assert(
			fc.property(randomTree, (model) => {
				const exact = weigh(model);
				const sampled = weigh(model, { maxNodes: 1 });
				if (exact.contradiction || sampled.contradiction || sampled.method === 'exact') return;
				untold += exact.contributions.length - sampled.contributions.length;
				z.push(...leftOut(exact, sampled));
				if (exact.contributions.length > sampled.contributions.length)
					expect(sampled.warnings.join()).toContain("can't be told from this sample");
			}),
			{ numRuns: 60, seed: 7 }
		);
		expect(z.length).toBeGreaterThan(300);
		expect(untold).toBeGreaterThan(10);
		expect(z.filter((x) => !(Math.abs(x) < 4)).length / z.length).toBeLessThan(0.02);
	}, 120_000);
	it('gives the same digits on every run, and others for another seed', () => {
		const run = (seed: number) => weigh(tangled, { maxNodes: 700, seed, particles: 160 });
		expect(run(5)).toEqual(run(5));
		expect(run(6).events['c1']?.givenAll).not.toBe(run(5).events['c1']?.givenAll);
	});
	it('calls nothing certain that all states merely happen to show', () => {
		const rare: TreeModel = {
			top: 'TOP',
			events: ['A', 'B', 'C', 'D'].map((id, i) => ({ id, p: [0.5, 1e-5, 1, 0.4][i]! })),
			gates: [
				{ id: 'TOP', type: 'or', inputs: ['A', 'B'] },
				{ id: 'SURE', type: 'or', inputs: ['C'] }
			],
			findings: [{ id: 'sign', state: 'present', baseRate: 0.5, links: [{ from: 'D', p: 0.1 }] }]
		};
		const { method, events, gates, contributions } = weigh(rare, { maxNodes: 1, particles: 160 });
		expect(method).toBe('sampled');
		const inside = [events['A'], events['B']].map((node) => node?.givenAll ?? NaN);
		for (const p of [...inside, contributions[0]?.withoutIt['B'] ?? NaN]) {
			expect(p).toBeGreaterThan(0);
			expect(p).toBeLessThan(1);
		}
		expect([gates['TOP'], events['C']].map((node) => node?.givenAll)).toEqual([1, 1]);
	});
	it('says that nothing was found when nothing is possible', () => {
		const impossible = {
			...tangled,
			findings: [...(tangled.findings ?? []), { id: 'ghost', state: 'present' as const }]
		};
		const sampled = weigh(impossible, { maxNodes: 700, particles: 160 });
		expect(sampled.contradiction?.message).toMatch(/no state of this tree was found/);
		expect(sampled.events['c1']?.givenAll).toBeNull();
	});
});
