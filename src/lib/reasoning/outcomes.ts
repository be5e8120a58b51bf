/** What a finding makes of an event one way and the other, all else being as it is: what would refute a cause, and did anyone look? */
import { afterEvidence, exactFor } from './exact';
import type { Outcomes } from './looks';
import type { TreeModel } from './model';

import { resolve } from './resolve';
import { sampledOutcomes } from './sampled-outcomes';
import { statesFor } from './weigh';
import type { Refusable, WeighOptions } from './weighing';
import type { Changes } from './weights';

/** An outcome so improbable is taken for one that cannot be: what is left of it is rounding. */
const NEGLIGIBLE = 1e-13;

/**
 * Each observation in turn taken either way: one that was made as it was found and as it was not, one that was not made
 * as its origin would report it.
 * @throws RangeError for an id that is neither an event nor a gate
 */
export function outcomesFor(
	model: TreeModel,
	id: string,
	options: WeighOptions = {}
): Refusable<{ outcomes: Outcomes[] }> {
	const tree = resolve(model);
	const node = tree.index.get(id);
	if (node === undefined) throw new RangeError(`there is no event or gate '${id}'`);
	const exact = exactFor(tree, options);
	if (!exact) return sampledOutcomes(statesFor(tree, options), node);
	const after = afterEvidence(exact, tree, [node]);
	/** Weight of the states left by the changes, and of those among them in which the event is true. */
	const weigh = (changes: Changes): Pair => {
		const all = Math.exp(after.log(tree, changes) - scale);
		return all > 0 ? [all, all * (after.probabilities()[0] as number)] : [0, 0];
	};
	const scale = after.log(tree);
	if (scale === -Infinity) return { ok: false, problem: 'the evidence is impossible under this tree' };
	const asFound = weigh({});
	const outcomes = tree.observations.map(({ reports }, observation): Outcomes => {
		const looked = reports.find(({ state }) => state !== 'notExamined');
		const { id: finding, state, origin } = looked ?? reports[0]!;
		const all = looked ? weigh({ withoutObservation: (o) => o === observation }) : asFound;
		const one = looked ? asFound : reportedAbsent(observation, origin, weigh);
		const other: Pair = [Math.max(0, all[0] - one[0]), Math.max(0, all[1] - one[1])];
		const [present, absent] = looked?.state === 'present' ? [one, other] : [other, one];
		const given = ([some, own]: Pair) => (some > NEGLIGIBLE * all[0] ? Math.min(1, own / some) : null);
		return {
			id: finding,
			state,
			probabilityPresent: present[0] / all[0],
			ifPresent: given(present),
			ifAbsent: given(absent)
		};
	});
	return { ok: true, outcomes };
}

type Pair = [all: number, own: number];

/** (Genuine AND no sign) OR (NOT genuine AND NOT says-anyway); without an origin just no sign. */
function reportedAbsent(observation: number, origin: number, weigh: (changes: Changes) => Pair): Pair {
	if (origin < 0) return weigh({ alsoAbsent: observation });
	const genuine = weigh({ alsoAbsent: observation, origin: { origin, genuine: true } });
	const not = weigh({ origin: { origin, genuine: false, says: false } });
	return [genuine[0] + not[0], genuine[1] + not[1]];
}
