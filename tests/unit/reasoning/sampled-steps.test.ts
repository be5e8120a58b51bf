import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { stepsOf, type TreeModel } from '$lib/reasoning';
import { randomTree } from './random-tree';
import { tangled } from './tangled';

const taken = (model: TreeModel, id: string, options = {}) => {
	const told = stepsOf(model, id, options);
	if (!told.ok) throw new Error(told.problem);
	return told;
};
const NONE = { stands: 0, decibans: 0 };
const isCertain = (p: number) => p < 1e-12 || p > 1 - 1e-12;

describe('How an event got to where it stands, from a sample', () => {
	it('each step lies within its standard errors of the exact one on random trees', () => {
		const z = { stands: [] as number[], decibans: [] as number[] };
		let [certain, refused] = [0, 0];
		fc.assert(
			fc.property(randomTree, fc.nat(99), (model, which) => {
				const nodes = [...model.events, ...(model.gates ?? [])].map(({ id }) => id);
				const id = nodes[which % nodes.length]!;
				const exact = stepsOf(model, id);
				// What is given alone is told of in passing.
				if (!exact.ok || isCertain(exact.prior) || exact.steps.length < 3) return;
				const ours = stepsOf(model, id, { maxNodes: 1, particles: 320 });
				if (!ours.ok) return void refused++;
				const { prior, priorError, steps } = ours;
				if (priorError !== undefined) z.stands.push((prior - exact.prior) / priorError);
				else expect(prior).toBe(exact.prior);
				expect(steps.map((step) => step.id)).toEqual(exact.steps.map((step) => step.id));
				for (const [i, { stands, decibans, error = NONE }] of steps.entries()) {
					const truth = exact.steps[i]!;
					if (isCertain(truth.stands)) {
						certain++;
						expect(stands).toBeCloseTo(truth.stands, 12);
					} else {
						// What moves nothing at all does so exactly.
						if (error.stands === 0) expect(stands).toBeCloseTo(truth.stands, 9);
						else z.stands.push((stands - truth.stands) / error.stands);
						if (error.decibans === 0) expect(decibans).toBeCloseTo(truth.decibans, 9);
						else z.decibans.push((decibans - truth.decibans) / error.decibans);
					}
				}
			}),
			{ numRuns: 90, seed: 7, endOnFailure: true }
		);
		expect(certain).toBeGreaterThan(2);
		expect(refused).toBeLessThan(5);
		for (const deviations of [z.stands, z.decibans]) {
			expect(deviations.length).toBeGreaterThan(30);
			// 1 % of Student's t with 7 degrees of freedom lies beyond 3.5.
			expect(deviations.filter((x) => !(Math.abs(x) < 3.5)).length / deviations.length).toBeLessThan(0.03);
			expect(deviations.filter((x) => Math.abs(x) < 1.2).length / deviations.length).toBeGreaterThan(0.6);
		}
	}, 60_000);

	it('of a tangled tree: what is exact without evidence stays so, and even what is ruled out has its decibans', () => {
		const model: TreeModel = {
			...tangled,
			findings: [
				...(tangled.findings ?? []),
				{ id: 'gone', state: 'absent', links: [{ from: 'c1', p: 0.9999 }] }
			]
		};
		const exact = taken(model, 'c1');
		const ours = taken(model, 'c1', { maxNodes: 700, particles: 400 });
		expect(taken(model, 'c1', { maxNodes: 700, particles: 400 })).toEqual(ours);
		expect(ours.prior).toBe(0.025);
		expect(ours.steps[0]?.stands).toBeCloseTo(exact.steps[0]!.stands, 12);
		expect(ours.steps.map(({ error }) => error !== undefined)).toEqual([
			false,
			...new Array<boolean>(12).fill(true)
		]);
		for (const [i, { stands, decibans, error = NONE }] of ours.steps.entries()) {
			const truth = exact.steps[i]!;
			expect(Math.abs(stands - truth.stands)).toBeLessThan(5 * error.stands + 1e-12);
			expect(Math.abs(decibans - truth.decibans)).toBeLessThan(5 * error.decibans + 1e-9);
			expect(error.decibans).toBeLessThan(0.7);
		}
		const gone = ours.steps.find(({ id }) => id === 'gone')!;
		expect(gone.stands).toBeLessThan(1e-4);
		expect(gone.decibans).toBeCloseTo(-40, 0);
		const sum = ours.steps.reduce((all, { decibans }) => all + decibans, 0);
		const level = (p: number) => 10 * Math.log10(p / (1 - p));
		expect(sum).toBeCloseTo(level(ours.steps.at(-1)!.stands) - level(0.025), 9);
	});

	it('what is given is certain, and evidence that no state allows is refused', () => {
		const given = { TOP: true, c2: true };
		expect(
			taken({ ...tangled, given }, 'c2', { maxNodes: 1, particles: 160 }).steps.map(({ stands }) => stands)
		).toEqual(new Array(12).fill(1));
		const ghost = { id: 'ghost', state: 'present' as const };
		const told = stepsOf({ ...tangled, findings: [ghost] }, 'c1', { maxNodes: 1, particles: 160 });
		expect(told).toMatchObject({ ok: false });
		expect(!told.ok && told.problem).toMatch(/no state of this tree was found/);
	});

	it('too few states to tell: it says so, and from where on', () => {
		const told = stepsOf(tangled, 'c1', { maxNodes: 1, particles: 1, seed: 3 });
		expect(!told.ok && told.problem).toMatch(
			/a sample is too poor: it scatters by more than a factor of two/
		);
	});
});
