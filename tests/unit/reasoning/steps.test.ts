import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contributionsTo, outcomesFor, parseTree, stepsOf, weigh, type TreeModel } from '$lib/reasoning';
import { bruteForce } from './oracle';
import { randomTree } from './random-tree';

const read = (typed: object): TreeModel => {
	const parsed = parseTree(typed);
	if (!parsed.ok) throw new Error(parsed.problems.join('; '));
	return parsed.model;
};
const taken = (model: TreeModel, id: string) => {
	const made = stepsOf(model, id);
	if (!made.ok) throw new Error(made.problem);
	return made;
};
/** The example of `docs/methods/weighing.md`, with a second sign of A that is absent. */
const two = {
	events: [
		{ id: 'A', p: 0.3 },
		{ id: 'B', p: 0.2 }
	],
	gates: [{ id: 'T', type: 'or', inputs: ['A', 'B'] }],
	findings: [
		{
			id: 'sign',
			state: 'present',
			links: [
				{ from: 'A', p: 0.5 },
				{ from: 'B', p: 0.9 }
			]
		},
		{ id: 'trace', state: 'absent', links: [{ from: 'A', p: 0.6 }] },
		{ id: 'burn', state: 'notExamined', baseRate: 0.1, links: [{ from: 'A', p: 0.5 }] }
	]
};
const inDecibans = (p: number) => 10 * Math.log10(p / (1 - p));

describe('how an event got to where it stands', () => {
	it('hand-worked: the start, given the top event, then each finding in its order', () => {
		const { prior, steps } = taken(read(two), 'A');
		expect(prior).toBe(0.3);
		expect(steps.map(({ id }) => id)).toEqual([null, 'sign', 'trace']);
		// Given "A or B": .30 of .44. With the sign: A alone .24 * .5, both .06 * .95, B alone .14 * .9.
		const stands = [0.3 / 0.44, 0.177 / 0.303, (0.4 * 0.177) / (0.4 * 0.177 + 0.126)];
		steps.forEach((step, i) => {
			expect(step.stands).toBeCloseTo(stands[i]!, 14);
			expect(step.decibans).toBeCloseTo(inDecibans(stands[i]!) - inDecibans([0.3, ...stands][i]!), 11);
		});
		// The trace multiplies the weight of each state with A by .4: 10 log10 .4 = -3.98 decibans.
		expect(steps[2]?.decibans).toBeCloseTo(-3.979_400_087, 8);
	});

	it('hand-worked: what each finding would make of it either way, and how probable that is', () => {
		const made = outcomesFor(read(two), 'A');
		if (!made.ok) throw new Error(made.problem);
		const [sign, trace, burn] = made.outcomes;
		expect(made.outcomes.map(({ id, state }) => [id, state])).toEqual([
			['sign', 'present'],
			['trace', 'absent'],
			['burn', 'notExamined']
		]);
		// Without the sign: A alone .24 * .4, both .06 * .4, B alone .14; no sign: times .5, .05, .1.
		const none = [0.096 * 0.5, 0.024 * 0.05, 0.14 * 0.1];
		expect(sign?.ifAbsent).toBeCloseTo((none[0]! + none[1]!) / (none[0]! + none[1]! + none[2]!), 13);
		expect(sign?.probabilityPresent).toBeCloseTo(1 - (none[0]! + none[1]! + none[2]!) / 0.26, 13);
		// The trace comes from A alone: seen, it would settle it.
		expect(trace?.ifPresent).toBeCloseTo(1, 13);
		// Burn: .9 * .5 = .45 absent with A, .9 without; A stands at .0708 of .1968.
		expect(burn?.ifAbsent).toBeCloseTo((0.0708 * 0.45) / (0.0708 * 0.45 + 0.126 * 0.9), 13);
		expect(burn?.ifPresent).toBeCloseTo((0.0708 * 0.55) / (0.0708 * 0.55 + 0.126 * 0.1), 13);
	});

	it('the order changes the steps and never their sum; the last step is what leaving it out says', () => {
		// A sign of B that is absent leaves less of B for the other sign to speak for.
		const wear = { id: 'wear', state: 'absent', links: [{ from: 'B', p: 0.6 }] };
		const findings = [two.findings[0]!, wear];
		const forward = taken(read({ ...two, findings }), 'A');
		const back = taken(read({ ...two, findings: findings.toReversed() }), 'A');
		const sum = ({ steps }: typeof back) => steps.reduce((all, { decibans }) => all + decibans, 0);
		expect(back.steps.map(({ id }) => id)).toEqual([null, 'wear', 'sign']);
		expect(sum(back)).toBeCloseTo(sum(forward), 11);
		const sign = (made: typeof back) => made.steps.find(({ id }) => id === 'sign')!.decibans;
		expect(Math.abs(sign(back) - sign(forward))).toBeGreaterThan(0.1);
		const alone = contributionsTo(weigh(read({ ...two, findings })), 'A');
		expect(forward.steps.at(-1)?.decibans).toBeCloseTo(alone.find(({ id }) => id === 'wear')!.decibans, 11);
		expect(back.steps.at(-1)?.decibans).toBeCloseTo(alone.find(({ id }) => id === 'sign')!.decibans, 11);
	});

	it('refuses evidence that cannot be, and an event that is not there', () => {
		const seen = { id: 'seen', state: 'present', links: [{ from: 'B', p: 0.5 }] };
		const clash = read({ ...two, findings: [seen], given: { T: true, B: false } });
		expect(stepsOf(clash, 'A')).toMatchObject({ ok: false });
		expect(outcomesFor(clash, 'A')).toMatchObject({ ok: false });
		expect(() => stepsOf(read(two), 'C')).toThrow(RangeError);
	});

	it('agrees with visiting every state on 250 random trees, step by step and outcome by outcome', () => {
		let steps = 0;
		let outcomes = 0;
		fc.assert(
			fc.property(randomTree, fc.nat(99), (model, which) => {
				const truth = bruteForce(model, model.top);
				if (truth.pAll === 0) return;
				const nodes = [...model.events, ...(model.gates ?? [])].map(({ id }) => id);
				const id = nodes[which % nodes.length]!;
				const made = taken(read(JSON.parse(JSON.stringify(model)) as object), id);
				const findings = model.findings ?? [];
				const known = new Set<string>();
				let stands = truth.prior[id]!;
				expect(made.prior).toBeCloseTo(stands, 9);
				for (const step of made.steps) {
					for (const piece of [step.id, ...step.together]) if (piece !== null) known.add(piece);
					stands = bruteForce(
						{
							...model,
							findings: findings.map((f) => (known.has(f.id) ? f : { ...f, state: 'notExamined' })),
							likelihoods: (model.likelihoods ?? []).filter((l) => known.has(l.id))
						},
						model.top
					).givenAll[id]!;
					expect(step.stands).toBeCloseTo(stands, 9);
					steps++;
				}
				expect(stands).toBeCloseTo(truth.givenAll[id]!, 9);

				const looked = outcomesFor(read(JSON.parse(JSON.stringify(model)) as object), id);
				if (!looked.ok) throw new Error(looked.problem);
				for (const { id: finding, ifPresent, ifAbsent, probabilityPresent } of looked.outcomes) {
					// Of several words for one observation only one would be turned round here.
					const own = findings.find((f) => f.id === finding);
					if (own?.sameAs !== undefined || findings.some((f) => f.sameAs === finding)) continue;
					const as = (state: 'present' | 'absent') =>
						bruteForce(
							{ ...model, findings: findings.map((f) => (f.id === finding ? { ...f, state } : f)) },
							model.top
						);
					const [there, not] = [as('present'), as('absent')];
					expect(probabilityPresent).toBeCloseTo(there.pAll / (there.pAll + not.pAll), 9);
					if (there.pAll > 1e-9 * not.pAll) expect(ifPresent).toBeCloseTo(there.givenAll[id]!, 6);
					if (not.pAll > 1e-9 * there.pAll) expect(ifAbsent).toBeCloseTo(not.givenAll[id]!, 9);
					outcomes++;
				}
			}),
			{ numRuns: 250, seed: 20260101 }
		);
		expect(steps).toBeGreaterThan(400);
		expect(outcomes).toBeGreaterThan(200);
	}, 120_000);
});
