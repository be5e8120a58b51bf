/**
 * What each finding makes of an event one way and the other, read from a sample given everything. With r, one over what
 * an observation makes of a state, the mean of r over the sample is the weight of all states without the observation over
 * that with it. So as found it has the probability 1 / mean(r), the event as found its own mean, and otherwise
 * (mean(r · event) - mean(event)) / (mean(r) - 1).
 */
import type { Outcomes } from './looks';
import { absenceOf } from './sampled-information';
import { allowsAll } from './weigh-sampled';
import { LEAST_KEPT, LEAST_SAMPLES, UNSEEN, type SampledStates } from './sampled-states';
import type { Refusable } from './weighing';

export function sampledOutcomes(states: SampledStates, node: number): Refusable<{ outcomes: Outcomes[] }> {
	const { tree, all } = states;
	if (!(all.log > -Infinity))
		return { ok: false, problem: 'no state of this tree was found that allows all of the evidence' };
	const outcomes = tree.observations.flatMap(({ reports }, observation): Outcomes[] => {
		const looked = reports.find(({ state }) => state !== 'notExamined');
		const { id, state, origin } = looked ?? reports[0]!;
		const piece = { id, observation, likelihood: -1 };
		if (looked && !allowsAll(tree, piece)) return [];
		const absent = looked ? undefined : absenceOf(tree, observation, origin);
		/** By state: its weight without the observation, and the part of that in which it is as found, or absent. */
		const means = states.read(7, (chain, sums) => {
			const whole = looked ? Math.exp(-chain.logOfPiece(piece)) : 1;
			const one = absent ? absent(chain) : 1;
			const own = chain.slots[node] as number;
			[whole, whole * own, one, one * own, whole ** 2, one ** 2, (whole - one) ** 2].forEach(
				(x, i) => (sums[i] = (sums[i] as number) + x)
			);
		});
		const of = ([whole = 0, wholeOwn = 0, one = 0, oneOwn = 0]: Float64Array) => {
			const [other, otherOwn] = [whole - one, wholeOwn - oneOwn];
			return [one / whole, oneOwn / one, otherOwn / other].map((p) => Math.min(1, Math.max(0, p)));
		};
		const [whole = 0, , one = 0, , squared = 0, oneSquared = 0, otherSquared = 0] = means.all;
		const samples = all.effectiveSampleSize;
		const kept = whole ** 2 / squared;
		if (!(kept >= LEAST_KEPT && kept * samples >= LEAST_SAMPLES)) return [];
		const { value, error } = means.tell(of);
		/** Independent samples that speak of an outcome (Kish). */
		const counted = [(samples * one ** 2) / oneSquared, (samples * (whole - one) ** 2) / otherSquared];
		const told = (i: 0 | 1) => ((counted[i] as number) >= LEAST_SAMPLES ? (value[i + 1] as number) : null);
		const errors = [0, 1].map((i) => Math.hypot(error[i + 1] as number, UNSEEN / (counted[i] as number)));
		const oneIsPresent = looked?.state === 'present';
		const [present, not] = oneIsPresent ? ([0, 1] as const) : ([1, 0] as const);
		return [
			{
				id,
				state,
				probabilityPresent: oneIsPresent ? (value[0] as number) : 1 - (value[0] as number),
				ifPresent: told(present),
				ifAbsent: told(not),
				error: {
					probabilityPresent: Math.hypot(error[0] as number, UNSEEN / samples),
					ifPresent: errors[present] as number,
					ifAbsent: errors[not] as number
				}
			}
		];
	});
	return { ok: true, outcomes };
}
