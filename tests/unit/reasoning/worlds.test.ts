import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
	information,
	jointProbability,
	mostProbableExplanations,
	nearContradiction,
	outcomesFor,
	robustness,
	stepsOf,
	togetherGivenAll,
	weigh,
	type TreeModel
} from '../../../src/lib/reasoning';
import { resolve } from '../../../src/lib/reasoning/resolve';
import { Worlds } from '../../../src/lib/reasoning/worlds';
import { randomTree } from './random-tree';

/** Numbers to 1e-9, all else the same; decibans, formed from numbers that are compared, are rounding near certainty. */
function expectAlike(ours: unknown, theirs: unknown, path = ''): void {
	if (typeof ours === 'number' && typeof theirs === 'number') {
		if (path.endsWith('.decibans')) return;
		if (ours === theirs || Math.abs(ours - theirs) <= 1e-9 * Math.max(1, Math.abs(theirs))) return;
		throw new Error(`${path}: ${ours} instead of ${theirs}`);
	}
	if (typeof ours === 'object' && typeof theirs === 'object' && ours !== null && theirs !== null) {
		expect(Object.keys(ours), path).toEqual(Object.keys(theirs));
		for (const [key, value] of Object.entries(ours))
			expectAlike(value, (theirs as Record<string, unknown>)[key], `${path}.${key}`);
	} else expect(ours, path).toEqual(theirs);
}

/** Observations that tell as much as one another come in any order. */
const byId = (told: ReturnType<typeof information>) =>
	told.ok ? { ...told, observations: told.observations.toSorted((a, b) => a.id.localeCompare(b.id)) } : told;

/** Twelve causes, fifty findings each of which could come of any four, three people who report most of them. */
const muchEvidence: TreeModel = {
	top: 'TOP',
	events: Array.from({ length: 12 }, (_, i) => ({ id: `c${i}`, p: 0.03 + 0.01 * i })),
	gates: [{ id: 'TOP', type: 'or', inputs: Array.from({ length: 12 }, (_, i) => `c${i}`) }],
	origins: [0, 1, 2].map((i) => ({ id: `o${i}`, reliability: 0.7 + 0.1 * i, saysAnyway: 0.4 })),
	findings: Array.from({ length: 50 }, (_, j) => ({
		id: `f${j}`,
		state: j % 3 === 0 ? ('absent' as const) : j === 49 ? ('notExamined' as const) : ('present' as const),
		baseRate: 0.02 + 0.01 * (j % 5),
		links: [...new Set([j % 12, (5 * j + 3) % 12, (7 * j + 1) % 12, (j * j + 4) % 12])].map((c) => ({
			from: `c${c}`,
			p: 0.2 + 0.1 * ((j + c) % 7)
		})),
		...(j % 4 === 3 ? {} : { origin: `o${j % 4}` })
	})),
	likelihoods: [
		{
			id: 'where it lay',
			scenarios: [
				{ event: 'c0', density: 0.4, standardError: 0.1 },
				{ event: 'c5', density: 0.9 },
				{ otherwise: true, density: 0.2 }
			]
		}
	]
};

/** By hand: all states of twelve causes and of who is genuine, written apart from the engine. */
function bruteLog(model: TreeModel) {
	const findings = model.findings ?? [];
	const logs: { bits: number; log: number }[] = [];
	for (let bits = 1; bits < 4096; bits++)
		for (let genuine = 0; genuine < 8; genuine++) {
			const isTrue = (id: string) => ((bits >> Number(id.slice(1))) & 1) === 1;
			let log = 0;
			for (const { id, p = 0 } of model.events) log += Math.log(isTrue(id) ? p : 1 - p);
			(model.origins ?? []).forEach(({ id, reliability, saysAnyway }, i) => {
				if ((genuine >> i) & 1) log += Math.log(reliability);
				else {
					const said = findings
						.filter((f) => f.origin === id && f.state !== 'notExamined')
						.map((f) => f.state);
					if (said.includes('present') && said.includes('absent')) log = -Infinity;
					log += Math.log((1 - reliability) * (said.includes('present') ? saysAnyway : 1 - saysAnyway));
				}
			});
			for (const { state, baseRate = 0, links = [], origin } of findings) {
				if (state === 'notExamined' || (origin && !((genuine >> Number(origin.slice(1))) & 1))) continue;
				let none = 1 - baseRate;
				for (const { from, p } of links) if (isTrue(from as string)) none *= 1 - p;
				log += Math.log(state === 'present' ? 1 - none : none);
			}
			for (const { scenarios } of model.likelihoods ?? [])
				log += Math.log(
					scenarios.find(({ event }) => event === undefined || isTrue(event as string))?.density ?? 0
				);
			if (log > -Infinity) logs.push({ bits, log });
		}
	const most = logs.reduce((top, { log }) => Math.max(top, log), -Infinity);
	const weighed = logs.map(({ bits, log }) => ({ bits, w: Math.exp(log - most) }));
	const total = weighed.reduce((sum, { w }) => sum + w, 0);
	return {
		log: most + Math.log(total),
		p: model.events.map(
			(_, i) => weighed.reduce((sum, { bits, w }) => sum + ((bits >> i) & 1) * w, 0) / total
		)
	};
}

describe('a small tree with much evidence is never sampled', () => {
	for (const mixed of [true, false])
		it(`twelve events, fifty findings, three origins that ${mixed ? 'say both' : 'agree with themselves'}: exact`, () => {
			const model: TreeModel = mixed
				? muchEvidence
				: {
						...muchEvidence,
						findings: (muchEvidence.findings ?? []).map((f) =>
							f.origin && f.state === 'absent' ? { ...f, state: 'present' } : f
						)
					};
			const ours = weigh(model);
			expect(ours.method).toBe('exact');
			const truth = bruteLog(model);
			expect((ours.logGiven ?? NaN) + (ours.logEvidence ?? NaN) + (ours.logDensity ?? NaN)).toBeCloseTo(
				truth.log,
				9
			);
			truth.p.forEach((p, i) => expect(ours.events[`c${i}`]?.givenAll).toBeCloseTo(p, 10));
			for (const { id, kind, withoutIt } of ours.contributions.filter((_, i) => i % 16 === 0 || i > 48)) {
				const less = bruteLog({
					...model,
					findings: (model.findings ?? []).filter((f) => f.id !== id),
					likelihoods: kind === 'likelihood' ? [] : (model.likelihoods ?? [])
				});
				less.p.forEach((p, i) => expect(withoutIt[`c${i}`]).toBeCloseTo(p, 10));
			}
			expect(ours.contributions).toHaveLength(50);
			expect(ours.events['c0']?.interval).toBeDefined();
			const { compiled: reuse } = ours;
			for (const answer of [
				information(model, { reuse }),
				robustness(model, { reuse }),
				nearContradiction(model, { reuse }),
				mostProbableExplanations(model, { reuse }),
				stepsOf(model, 'c3', { reuse }),
				outcomesFor(model, 'c3', { reuse })
			])
				expect(answer.ok).toBe(true);
		}, 60_000);

	it('every question has the answer that the diagram gives (random trees)', () => {
		let asked = 0;
		fc.assert(
			fc.property(randomTree, (model) => {
				const reuse = new Worlds(resolve(model));
				const { compiled, nodes: _, ...theirs } = weigh(model);
				const { compiled: same, nodes: __, ...ours } = weigh(model, { reuse });
				expect(same).toBe(reuse);
				expect(compiled).not.toBe(reuse);
				expectAlike(ours, theirs);
				if (theirs.contradiction) return;
				asked++;
				const id = model.gates?.at(-1)?.id ?? 'e0';
				const both = { e0: true, e1: false };
				const ways = [{ reuse }, {}].map((options) => ({
					information: byId(information(model, options)),
					joint: jointProbability(model, both, options),
					together: togetherGivenAll(model, [['e0', 'e1'], ['!e0']], options),
					near: nearContradiction(model, options),
					steps: stepsOf(model, id, options),
					outcomes: outcomesFor(model, id, options)
				}));
				// What lies on the edge of 'almost impossible' falls on either side by rounding.
				if (ways.some(({ near }) => near.ok && near.near && Math.abs(near.near.ratio - 0.001) < 1e-9)) return;
				expectAlike(ways[0], ways[1]);
			}),
			{ numRuns: 400, seed: 20250714 }
		);
		expect(asked).toBeGreaterThan(200);
	}, 120_000);
});
