import * as v from 'valibot';
import type { Investigation } from '../case';
import { done, refused } from '../outcome';
import { anomaly } from '../schema/anomaly';
import { id, line } from '../schema/common';
import { operation } from './operation';
import { nextNumber, put, removal } from './records';
import { leaf, merged, removeEvents } from './tree-parts';
import { eventsOf } from '../views/tree';

/** [A5] The top event says what failed and in what state, where both are given. */
const topTitle = ({
	subject,
	failedState
}: {
	subject?: string | undefined;
	failedState?: string | undefined;
}) => (subject && failedState ? `${subject}: ${failedState}` : '');

const stated = v.omit(anomaly, ['number', 'top']);

/** Beneath every top event from the first moment on. */
export const RESIDUAL_TITLE = 'Something nobody has thought of';

/** [A1] A stated departure has its top event, an OR gate, and the branch that nobody has thought of. */
const state = operation({
	name: 'anomaly.state',
	label: 'Stated a departure',
	args: v.object({
		id: v.optional(id),
		record: stated,
		/** What failed and when; the statement itself where it is left out. */
		topTitle: v.optional(line, '')
	}),
	apply: (file: Investigation, args, { newId }) => {
		const anomalyId = args.id ?? newId();
		if (file.anomalies[anomalyId]) return refused('An anomaly with this identity is there already.');
		const [top, residual] = [newId(), newId()];
		const gate = { type: 'or' as const, k: null, inputs: [residual], condition: null, complete: false };
		return done([
			put(file, 'anomalies', anomalyId, { ...args.record, number: nextNumber(file.anomalies), top }),
			put(file, 'events', top, {
				...leaf(anomalyId, args.topTitle || topTitle(args.record) || args.record.title, 'intermediate'),
				gate
			}),
			put(file, 'events', residual, leaf(anomalyId, RESIDUAL_TITLE, 'undeveloped', true))
		]);
	}
});

/** [A2] A first impression is sealed: written once, then compared with the end, never made to fit it. */
const change = operation({
	name: 'anomaly.change',
	label: 'Changed the statement of an anomaly',
	args: v.object({ id, record: v.partial(stated) }),
	apply: (file: Investigation, args) => {
		const before = file.anomalies[args.id];
		if (!before) return refused('This anomaly is no longer there.');
		const { firstImpression } = args.record;
		if (
			before.firstImpression !== '' &&
			firstImpression !== undefined &&
			firstImpression !== before.firstImpression
		)
			return refused(
				'The first impression is sealed: it is kept as it was written, to be compared with the end.',
				'firstImpression'
			);
		const after = merged(before, args.record);
		const [top, title] = [file.events[before.top], topTitle(after)];
		const named = title !== '' && title !== topTitle(before) && top;
		return done([
			put(file, 'anomalies', args.id, after),
			...(named ? [put(file, 'events', before.top, { ...top, title })] : [])
		]);
	}
});

/** [A3] An anomaly that changes answer to stays. */
const remove = operation({
	name: 'anomaly.remove',
	label: 'Removed an anomaly',
	args: v.object({ id }),
	apply: (file: Investigation, args) => {
		if (!file.anomalies[args.id]) return refused('This anomaly is no longer there.');
		const answering = Object.values(file.changes).find((c) => c.anomaly === args.id);
		if (answering)
			return refused(
				`Change ${answering.number}, "${answering.title}", answers it. An anomaly stays with it.`
			);
		const own = <T extends { anomaly: string | null }>(records: Readonly<Record<string, T>>) =>
			Object.entries(records).filter(([, record]) => record.anomaly === args.id);
		return done([
			removal(file, 'anomalies', args.id),
			...removeEvents(file, new Set(eventsOf(file, args.id).map(([event]) => event))).filter(
				({ collection }) => collection === 'events'
			),
			...own(file.exclusions).map(([exclusion]) => removal(file, 'exclusions', exclusion)),
			...own(file.findings).map(([finding]) => removal(file, 'findings', finding)),
			...own(file.calculations).map(([calculation, run]) =>
				put(file, 'calculations', calculation, { ...run, anomaly: null, likelihood: null })
			),
			...(file.conclusions[args.id] ? [removal(file, 'conclusions', args.id)] : [])
		]);
	}
});

export const anomalyOps = [state, change, remove];

/** Words with which a cause slips into a statement that should only say what departed. */
const CAUSAL =
	/\b(because(?: of)?|due to|caused by|owing to|as a result of|on account of|thanks to|result(?:ed|ing) from|led to|since the|failure of|fault of|blame[ds]?)\b/i;

/** The cause word in a statement of a departure, or null. A warning, never a refusal. */
export const causeWord = (statement: string): string | null =>
	CAUSAL.exec(statement)?.[1]?.toLowerCase() ?? null;
