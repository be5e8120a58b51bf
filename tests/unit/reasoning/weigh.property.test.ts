import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { mostProbableExplanations, parseTree, weigh, type NodeWeight } from '../../../src/lib/reasoning';
import { compileLean } from '../../../src/lib/reasoning/compile';
import { resolve } from '../../../src/lib/reasoning/resolve';
import { Worlds } from '../../../src/lib/reasoning/worlds';
import { bruteForce } from './oracle';
import { randomTree } from './random-tree';

const close = (ours: number | null | undefined, truth: number, what: string) => {
	if (ours === null || ours === undefined || !(Math.abs(ours - truth) <= 1e-9 * Math.max(1, Math.abs(truth))))
		throw new Error(`${what}: ${ours} instead of ${truth}`);
};

describe('the engine agrees with visiting every state', () => {
	it('on 2,500 random trees: every probability, the evidence and every leave-one-out', () => {
		let trees = 0;
		let impossible = 0;
		let withEvidence = 0;
		let withGroups = 0;
		fc.assert(
			fc.property(randomTree, (model) => {
				const parsed = parseTree(JSON.parse(JSON.stringify(model)));
				if (!parsed.ok) throw new Error(parsed.problems.join('; '));
				const truth = bruteForce(model, model.top);
				// In turn: as it is, with variables only for the gates that evidence speaks of, and without a diagram.
				const way = trees++ % 3;
				const tree = resolve(parsed.model);
				const budget = { maxNodes: 1e5, maxSteps: 1e6, siftFrom: 40 };
				const reuse = [undefined, compileLean(tree, budget), new Worlds(tree)][way];
				const ours = weigh(parsed.model, { reuse });
				expect(ours.method).toBe('exact');
				const nodes: Record<string, NodeWeight> = { ...ours.events, ...ours.gates, ...ours.parts };
				if (Object.keys(ours.parts).length > 0) withGroups++;
				for (const [id, p] of Object.entries(truth.prior)) close(nodes[id]?.prior, p, `prior of ${id}`);
				close(ours.probabilityOfTop, truth.pTop, 'P(top)');
				for (const [id, p] of Object.entries(truth.givenTop))
					if (truth.pTop > 0) close(nodes[id]?.givenTop, p, `${id} given top`);
					else expect(nodes[id]?.givenTop).toBeNull();
				if (truth.pAll === 0) {
					impossible++;
					expect(ours.contradiction).not.toBeNull();
					expect(nodes['e0']?.givenAll).toBeNull();
					return;
				}
				expect(ours.contradiction).toBeNull();
				for (const [id, p] of Object.entries(truth.givenAll))
					close(nodes[id]?.givenAll, p, `${id} given all`);
				close(ours.logGiven, Math.log(truth.pGiven), 'ln P(given)');
				close(ours.logEvidence, Math.log(truth.pFindings / truth.pGiven), 'ln P(findings)');
				close(ours.logDensity, Math.log(truth.pAll / truth.pFindings), 'ln density');
				if (ours.contributions.length > 0) withEvidence++;
				const explained = mostProbableExplanations(parsed.model, way === 2 ? { reuse } : {});
				if (!explained.ok) throw new Error(explained.problem);
				// Exclusive events that add up to one leave the oracle a rounding error of 'none of them'.
				const possible = truth.explanations.filter(({ p }) => p > 1e-12 * truth.pAll).length;
				expect(explained.list.length).toBeGreaterThanOrEqual(Math.min(3, possible));
				explained.list.forEach(({ probability, happened }, i) => {
					close(probability, (truth.explanations[i]?.p ?? NaN) / truth.pAll, `explanation ${i}`);
					const state = truth.explanations.find(({ state }) =>
						Object.entries(state).every(([id, value]) => happened.includes(id) === value)
					);
					close(probability, (state?.p ?? NaN) / truth.pAll, `the state of explanation ${i}`);
				});
				for (const { id, kind, together, withoutIt } of ours.contributions) {
					const without = bruteForce(
						{
							...model,
							findings: (model.findings ?? []).map((f) =>
								kind === 'finding' && [id, ...together].includes(f.id) ? { ...f, state: 'notExamined' } : f
							),
							likelihoods: (model.likelihoods ?? []).filter((l) => kind === 'finding' || l.id !== id)
						},
						model.top
					);
					for (const [node, p] of Object.entries(without.givenAll))
						close(withoutIt[node], p, `${node} without ${id}`);
				}
			}),
			{ numRuns: 2500, seed: 20250711 }
		);
		// The trees really tried all kinds.
		expect(impossible).toBeGreaterThan(20);
		expect(withEvidence).toBeGreaterThan(1000);
		expect(withGroups).toBeGreaterThan(150);
	}, 300_000);
});
