import * as v from 'valibot';
import { finding, gate, link, treeEvent } from './anomaly';
import { id, line, requiredLine, text } from './common';

/** Events, and signs, in one ready tree. */
const MOST = 100;

/** A ready tree as it is planted; its events go by names of their own until they have identities. */
export const readyTree = v.object({
	/** What goes into the top event's note, where that is empty. */
	note: text,
	/** Directly under the event beneath which it is planted. */
	causes: v.pipe(v.array(id), v.minLength(1, 'The tree has no causes.')),
	events: v.pipe(
		v.array(
			v.object({
				name: id,
				...v.pick(treeEvent, ['title', 'note', 'weight']).entries,
				/** What the weight rests on; common practice where it is left out. */
				...v.partial(v.pick(treeEvent, ['weightBasis', 'weightNote', 'faultOf', 'faultClass'])).entries,
				kind: v.picklist(['intermediate', 'basic', 'undeveloped', 'house', 'conditioning']),
				gate: v.nullable(
					v.object({
						...v.pick(gate, ['type', 'k', 'inputs']).entries,
						/** For 'inhibit'. */
						condition: v.optional(v.nullable(id), null)
					})
				)
			})
		),
		v.maxLength(MOST, `At most ${MOST} events can be planted at once.`)
	),
	findings: v.pipe(
		v.array(
			v.object({
				...v.pick(finding, ['statement', 'baseRate', 'destructive', 'note', 'costPractice']).entries,
				costMinutes: v.optional(finding.entries.costMinutes, null),
				links: v.array(
					v.object({ ...v.pick(link, ['event', 'p']).entries, negated: v.optional(v.boolean(), false) })
				)
			})
		),
		v.maxLength(MOST, `At most ${MOST} signs can be planted at once.`)
	)
});
export type ReadyTree = v.InferOutput<typeof readyTree>;

/** A tree or branch that somebody keeps for the next time; it stays with its vehicle and is offered to all. */
export const ownTree = v.object({
	title: requiredLine('Name it as you will look for it, such as "Main deploys late".'),
	/** When to take it. */
	takeIt: line,
	/** Which anomaly of which investigation it was kept from. */
	from: line,
	tree: readyTree,
	at: v.string()
});
export type OwnTree = v.InferOutput<typeof ownTree>;
