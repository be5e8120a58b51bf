import type { Investigation } from '$lib/investigation/case';
import { isBranch } from '$lib/investigation/views/tree';
import { type SharedCause, sharedCauses } from '$lib/investigation/views/shared-causes';
import { named } from '$lib/investigation/views/tree-words';
import { toTreeModel, withResidualLinks } from '$lib/investigation/views/tree-model';
import {
	checkTree,
	type CutSets,
	minimalCutSets,
	type TreeModel,
	weigh,
	type Weighing,
	withWeight
} from '$lib/reasoning';

/** Everything that the report says of a tree in numbers. */
export interface Weighed {
	weighing: Weighing;
	/** Links assumed from the branch that nobody has thought of, by finding. */
	assumedLinks: Readonly<Record<string, number>>;
	/** By common-cause group. */
	shared: Readonly<Record<string, SharedCause>>;
	/** Null where they can't be listed. */
	cutSets: CutSets | null;
	/** Where the leading cause would stand from other starting weights. */
	robust: Robust | null;
}

export interface Robust {
	event: string;
	now: number;
	/** Starting odds ten times lower, and ten times higher. */
	lower: number;
	higher: number;
}

/** How many combinations the report lists. */
const CUT_SETS = 12;

/** Weighs each anomaly's tree; one that can't be weighed is left out, and the report says that it is not weighed. */
export function weighForReport(file: Investigation): Record<string, Weighed> {
	return Object.fromEntries(
		Object.keys(file.anomalies).flatMap((anomaly) => {
			const { model, residualLinks } = withResidualLinks(toTreeModel(file, anomaly));
			if (checkTree(model).length > 0) return [];
			const weighing = weigh(model, { contributions: false });
			const cutSets = minimalCutSets(model, { list: CUT_SETS });
			const weighed: Weighed = {
				weighing: { ...weighing, warnings: weighing.warnings.map((warning) => named(warning, model)) },
				shared: sharedCauses(model, { reuse: weighing.compiled }),
				assumedLinks: residualLinks,
				cutSets: cutSets.ok ? cutSets : null,
				robust: robustOf(file, anomaly, model, weighing)
			};
			return [[anomaly, weighed]];
		})
	);
}

/** The cause that leads, and where it would stand had one started it elsewhere. */
function robustOf(file: Investigation, anomaly: string, model: TreeModel, weighing: Weighing): Robust | null {
	const [leader] = Object.entries(file.events)
		.filter(([, event]) => event.anomaly === anomaly && isBranch(event) && !event.residual)
		.map(([event]) => ({ event, now: weighing.events[event]?.givenAll ?? 0 }))
		.sort((a, b) => b.now - a.now);
	const p = leader && weighing.events[leader.event]?.prior;
	const excluded = model.exclusive?.some((events) => leader !== undefined && events.includes(leader.event));
	if (!leader || !p || p === 1 || excluded) return null;
	const from = (factor: number) => {
		const odds = (factor * p) / (1 - p);
		const { events: weights } = weigh(withWeight(model, leader.event, odds / (1 + odds)), {
			contributions: false,
			reuse: weighing.compiled
		});
		return weights[leader.event]?.givenAll ?? null;
	};
	const [lower, higher] = [from(0.1), from(10)];
	return lower === null || higher === null ? null : { ...leader, lower, higher };
}
