import type { Investigation } from '$lib/investigation/case';
import { type Firm, firmness } from '$lib/investigation/views/firm';
import { type SharedCause, sharedCauses } from '$lib/investigation/views/shared-causes';
import { combinationsOf, type Combinations } from '$lib/investigation/views/together';
import { named } from '$lib/investigation/views/tree-words';
import { toTreeModel, withResidualLinks } from '$lib/investigation/views/tree-model';
import { checkTree, minimalCutSets, weigh, type Weighing } from '$lib/reasoning';

/** Everything that the report says of a tree in numbers. */
export interface Weighed {
	weighing: Weighing;
	/** Links assumed from the branch that nobody has thought of, by finding. */
	assumedLinks: Readonly<Record<string, number>>;
	/** By common-cause group. */
	shared: Readonly<Record<string, SharedCause>>;
	/** Null where they can't be listed. */
	cutSets: Combinations | null;
	/** What would change the answer. */
	firm: Firm;
}

/** How many combinations the report lists. */
const CUT_SETS = 12;

/** Weighs each anomaly's tree; one that can't be weighed is left out, and the report says that it is not weighed. */
export function weighForReport(file: Investigation): Record<string, Weighed> {
	return Object.fromEntries(
		Object.keys(file.anomalies).flatMap((anomaly) => {
			const asked = toTreeModel(file, anomaly);
			const { model, residualLinks } = withResidualLinks(asked);
			if (checkTree(model).length > 0) return [];
			const weighing = weigh(model, { contributions: false });
			const cutSets = minimalCutSets(model, { list: CUT_SETS });
			const reuse = weighing.compiled;
			const weighed: Weighed = {
				weighing: { ...weighing, warnings: weighing.warnings.map((warning) => named(warning, model)) },
				shared: sharedCauses(model, { reuse }),
				assumedLinks: residualLinks,
				cutSets: combinationsOf(model, cutSets, reuse ? { reuse } : null),
				firm: firmness(asked, model, reuse)
			};
			return [[anomaly, weighed]];
		})
	);
}
