import type { Evidence, ScenarioKind } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import { groundOf, nameOf } from './ground';
import { INPUTS, OBSERVED, type Inputs } from './inputs';

const MOST = INPUTS.find((field) => field.id === 'segments')!.max;
const idOf = (i: number) => `segment-${i + 1}`;

const inSegment = (i: number): ScenarioKind<Inputs> => ({
	id: idOf(i),
	label: `It lies in segment ${i + 1}`,
	help: `Hidden or in sight, anywhere in segment ${i + 1}.`,
	inputs: [],
	describe: (_, x) => `It lies in ${nameOf(x, i)}`,
	check: (_, x) => (i < x.segments.length ? undefined : `there are only ${x.segments.length} segments`),
	predict: (x) => [1 - groundOf(x).searched[i]!]
});

/** That nothing was found, as evidence of where it lies. */
export const evidence: Evidence<Inputs> = {
	observed: OBSERVED,
	trials: 'such searches',
	observations(values, x) {
		if (values['outcome'] !== 'nothing') return [];
		return x.searches.length
			? [{ kind: 'outcome', label: 'nothing would be found', among: 2 }]
			: 'no search is listed that could have found something';
	},
	scenarios: [
		...Array.from({ length: MOST }, (_, i) => inSegment(i)),
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'It lies where nobody has searched.',
			inputs: [],
			distribution: 'Elsewhere nothing can have been found.',
			predict: () => [1]
		}
	],
	defaultScenarios: (x) => [...x.segments.map((_, i) => ({ id: idOf(i) })), { id: NONE_OF_THESE }]
};
