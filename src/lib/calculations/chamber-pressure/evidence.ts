import { grainAt } from '$lib/physics/grain';
import type { Evidence, Observation, QuantityField, ScenarioKind } from '../calculation';
import { NONE_OF_THESE } from '../likelihood';
import type { Inputs } from './inputs';
import { burn, grainsOf, type Fault } from './motor';
import { OBSERVED } from './observed';

const WHAT = {
	peak: { label: 'the greatest pressure', dimension: 'pressure', unit: 'MPa' },
	burnTime: { label: 'the burn time', dimension: 'time', unit: 's' },
	throatAfter: { label: 'the throat afterwards', dimension: 'length', unit: 'mm' }
} as const;

type Predicted = Record<keyof typeof WHAT, number>;
const inOrder = (observations: readonly Observation[], p: Predicted) =>
	observations.map((o) =>
		o.kind !== 'scalar'
			? NaN
			: o.dimension === 'pressure'
				? p.peak
				: o.dimension === 'time'
					? p.burnTime
					: p.throatAfter
	);

function fire(x: Inputs, fault: Fault, observations: readonly Observation[], firstArea = 0) {
	const b = burn(x, fault, firstArea);
	return inOrder(observations, { peak: b.peakPa, burnTime: b.burnTimeS, throatAfter: b.throatAfterM });
}

const firstArea = (x: Inputs) => grainsOf(x).reduce((sum, g) => sum + g.count * grainAt(g, 0).burningM2, 0);

/** A fault of unknown size: every share between two is equally probable. */
function shareOf(
	words: { id: string; label: string; help: string; what: string },
	[least, most]: readonly [number, number],
	max: number,
	predict: (x: Inputs, share: number, observations: readonly Observation[]) => number[]
): ScenarioKind<Inputs> {
	const input = (id: string, label: string): QuantityField => ({
		kind: 'quantity',
		id,
		label,
		dimension: 'ratio',
		unit: '1',
		range: { min: 0, max }
	});
	return {
		id: words.id,
		label: words.label,
		help: words.help,
		inputs: [input('from', `Least ${words.what}`), input('to', `Greatest ${words.what}`)],
		distribution: `Every ${words.what} between the two (${least} to ${most} unless given) is equally probable.`,
		check: ({ from = least, to = most }) =>
			to > from ? undefined : `the least ${words.what} must be less than the greatest`,
		predict: (x, { from = least, to = most }, observations, random) =>
			predict(x, from + (to - from) * random(), observations)
	};
}

export const evidence: Evidence<Inputs> = {
	trials: 'firings',
	observed: OBSERVED,
	observations(values, _, sd) {
		const out: Observation[] = [];
		for (const id of ['peak', 'burnTime', 'throatAfter'] as const) {
			const observed = values[id] as number | undefined;
			if (observed === undefined) continue;
			if (!(sd(id) > 0)) return 'nothing is measured exactly: give its uncertainty, such as 3.1 ± 0.1 MPa';
			const limit = id === 'peak' && values['peakIs'] === 'at least';
			out.push({
				kind: 'scalar',
				...WHAT[id],
				observed,
				sd: sd(id),
				...(limit ? { beyond: 'above' } : {})
			});
		}
		return out;
	},
	scenarios: [
		{
			id: 'as-designed',
			label: 'As the inputs say',
			help: 'The grains, throat and growth typed above, with their spreads.',
			inputs: [],
			predict: (x, _, observations) => fire(x, {}, observations)
		},
		shareOf(
			{
				id: 'throat-eroded',
				label: 'Throat eroded',
				help: 'The throat’s diameter grew evenly with the web burnt.',
				what: 'growth of the diameter as a share of it'
			},
			[0.02, 0.4],
			3,
			(x, throatGrows, observations) => fire(x, { throatGrows }, observations)
		),
		shareOf(
			{
				id: 'more-burning-area',
				label: 'Cracked, porous or unbonded grain',
				help: 'Faces burned from ignition on that should not have. It can’t tell a crack from a lost bond.',
				what: 'added area as a share of the first burning area'
			},
			[0.05, 1],
			20,
			(x, added, observations) => fire(x, { added }, observations, firstArea(x))
		),
		shareOf(
			{
				id: 'throat-blocked',
				label: 'Throat partly blocked',
				help: 'By a piece of grain, liner or igniter, for the whole burn.',
				what: 'blocked share of the throat’s area'
			},
			[0.05, 0.6],
			0.95,
			(x, blocked, observations) => fire(x, { blocked }, observations)
		),
		{
			id: NONE_OF_THESE,
			label: 'None of these',
			help: 'Anything else, over a broad range.',
			inputs: [],
			distribution:
				'By ratio equally probable: a pressure of 0.1 to 100 MPa, a burn time of 0.02 to 60 s, a throat of half to three times its diameter.',
			predict: (x, _, observations, random) =>
				inOrder(observations, {
					peak: 1e5 * 1000 ** random(),
					burnTime: 0.02 * 3000 ** random(),
					throatAfter: (x.throat / 2) * 6 ** random()
				})
		}
	],
	defaultScenarios: () =>
		['as-designed', 'throat-eroded', 'more-burning-area', 'throat-blocked', NONE_OF_THESE].map((id) => ({
			id
		}))
};
