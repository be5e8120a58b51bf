import { chanceOfScatter, combine } from '$lib/probability/combine';
import { densityOfCase, type Suspects } from '$lib/probability/suspect-readings';
import type { Evidence, Observation, ScenarioKind } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { OBSERVED, type Inputs } from './inputs';
import { readingsOf, suspectsOf, type Reading } from './readings';

const MOST = OBSERVED[0].max;
const ALL_RIGHT = 'all-right';
const wrongId = (i: number) => `reading-${i + 1}-wrong`;
/** The observations of this calculation are its readings. */
export const asReadings = (observations: readonly Observation[]) => observations as readonly Reading[];

/** 'as often as 62 of 100' */
export function outOf100(p: number): string {
	if (p < 1e-4) return 'fewer than 1 of 10\u202F000';
	const shown = Number((100 * p).toPrecision(2));
	return `${shown} of 100`;
}

/** How well those that are right agree, in words. */
function agreement(s: Suspects, right: number): string {
	const members = s.values.flatMap((_, i) => (right & (1 << i) ? [i] : []));
	if (members.length < 2) return 'one reading is left, and nothing to compare it with.';
	const together = combine(
		members.map((i) => s.values[i]!),
		members.map((i) => members.map((j) => s.covariance[i]![j]!))
	);
	return `the ${members.length} ${members.length === s.values.length ? '' : 'others '}would scatter this much or more in ${outOf100(chanceOfScatter(together))} such sets.`;
}

const everyone = (n: number) => (1 << n) - 1;

/** Which readings are right under a scenario, as a mask; undefined for the rest. */
function rightIn(id: string, n: number): number | undefined {
	if (id === ALL_RIGHT) return everyone(n);
	const wrong = /^reading-(\d+)-wrong$/.exec(id);
	return wrong ? everyone(n) & ~(1 << (Number(wrong[1]) - 1)) : undefined;
}

/** Share of every density in which all errors are three times as large: no uncertainty stated too small decides alone. */
const FLOOR = 0.02;
const WIDER = 3;
function densityOf(s: Suspects, right: number): number {
	const wide = { ...s, covariance: s.covariance.map((row) => row.map((c) => WIDER ** 2 * c)) };
	return (1 - FLOOR) * densityOfCase(s, right).density + FLOOR * densityOfCase(wide, right).density;
}

const definite = (id: string) => (x: Inputs, observations: readonly Observation[]) => {
	const s = suspectsOf(x, asReadings(observations));
	const right = rightIn(id, observations.length)!;
	return { density: densityOf(s, right), words: agreement(s, right) };
};

/** Everything that no other scenario of the list covers, each case by its prior. */
function rest(x: Inputs, observations: readonly Observation[], others: readonly string[]) {
	const s = suspectsOf(x, asReadings(observations));
	const n = observations.length;
	const covered = new Set(others.map((id) => rightIn(id, n)));
	let [sum, weight] = [0, 0];
	for (let right = 0; right <= everyone(n); right++) {
		if (covered.has(right)) continue;
		const prior = s.wrong.reduce((p, wrong, i) => p * (right & (1 << i) ? 1 - wrong : wrong), 1);
		sum += prior * densityOf(s, right);
		weight += prior;
	}
	return {
		density: sum / weight,
		words: 'any other set of readings is wrong, each set by the probabilities stated for its readings.'
	};
}

const wrongReading = (i: number): ScenarioKind<Inputs> => ({
	id: wrongId(i),
	label: `Reading ${i + 1} is wrong`,
	help: `Reading ${i + 1} shows anything in the range, and all the others are right.`,
	inputs: [],
	describe: (_, __, observations) => `${asReadings(observations)[i]?.label ?? `Reading ${i + 1}`} is wrong`,
	check: (_, __, observations) =>
		i < observations.length ? undefined : `there are only ${observations.length} readings`,
	exact: definite(wrongId(i))
});

export const evidence: Evidence<Inputs> = {
	required: true,
	observed: OBSERVED,
	observations: (values, x, sd) => readingsOf(values, x, sd),
	trials: 'sets of readings',
	scenarios: [
		...Array.from({ length: MOST }, (_, i) => wrongReading(i)),
		{
			id: ALL_RIGHT,
			label: 'All are right',
			help: 'They differ by their uncertainties alone.',
			inputs: [],
			exact: definite(ALL_RIGHT)
		},
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Every other set of wrong readings, two or more at once.',
			inputs: [],
			distribution:
				'The quantity, and each wrong reading by itself, lies anywhere in the stated range, equally probable. In every density 2 % stand for errors three times as large as stated.',
			exact: rest
		}
	],
	defaultScenarios: (_, observations) => [
		...observations.map((__, i) => ({ id: wrongId(i) })),
		{ id: ALL_RIGHT },
		{ id: NONE_OF_THESE }
	]
};
