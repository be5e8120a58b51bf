import type { Investigation } from '../case';
import type { TreeEvent } from '../schema/anomaly';
import { eventsOf, inputsOf, isBranch } from './tree';

/** A rule of tree construction that an event does not keep. Listed while the tree grows; it blocks the conclusion only. */
export interface ConstructionFault {
	rule:
		| 'noFailedState'
		| 'passesThrough'
		| 'notComplete'
		| 'personIsLast'
		| 'noWeight'
		| 'sameTitle'
		| 'nothingBeneathTop';
	event: string;
	/** The field, or the verb, that clears it. */
	field: 'rename' | 'below' | 'share' | 'weight' | 'complete';
	/** What is missing and what to do, one sentence. */
	message: string;
}

const FIELDS: Record<ConstructionFault['rule'], ConstructionFault['field']> = {
	noFailedState: 'rename',
	passesThrough: 'below',
	notComplete: 'complete',
	personIsLast: 'below',
	noWeight: 'weight',
	sameTitle: 'share',
	nothingBeneathTop: 'below'
};

/** Leaves that name a person's slip; what let it happen, or let it through, is the question below. */
const PERSON =
	/\b(operator|human|pilot|user|builder|assembler|person(?:nel|al)?)\b.*\b(error|mistake|slip|fault)\b|\b(forgot(?:ten)?|carelessness|negligence|mistake was made|human factor)\b/i;

/**
 * Checks a tree as it grows.
 * Rules after NUREG-0492 chapter V and IEC 61025 (from memory): each event states a failed state; no gate feeds a gate
 * without an event between them; inputs are immediate causes and together complete.
 */
export function constructionFaults(file: Investigation, anomaly: string): ConstructionFault[] {
	const faults: ConstructionFault[] = [];
	const events = eventsOf(file, anomaly);
	const top = file.anomalies[anomaly]?.top;
	const titles = new Map<string, string>();
	const say = (rule: ConstructionFault['rule'], event: string, message: string) =>
		void faults.push({ rule, event, field: FIELDS[rule], message });

	for (const [id, event] of events) {
		const key = event.title
			.toLowerCase()
			.replace(/[^\p{L}\p{N}]+/gu, ' ')
			.trim();
		const twin = titles.get(key);
		if (twin !== undefined)
			say('sameTitle', id, `"${event.title}" stands in the tree twice. If it is the same event, share it.`);
		titles.set(key, id);
		if (!event.residual && id !== top && !namesState(event.title))
			say('noFailedState', id, `"${event.title}" names a thing, not what became of it. Say how it failed.`);
		if (isBranch(event) && PERSON.test(event.title))
			say(
				'personIsLast',
				id,
				`"${event.title}" ends at a person. Ask what let it happen and add that below.`
			);
		if (isBranch(event) && event.weight === null)
			say('noWeight', id, `"${event.title}" has no starting weight yet; 5 % is assumed.`);
		if (event.gate) gateFaults(id, event, id === top);
	}
	return faults;

	function gateFaults(id: string, event: TreeEvent, isTop: boolean) {
		const gate = event.gate!;
		const named = inputsOf(event).filter((input) => !file.events[input]?.residual);
		if (isTop && named.length === 0) {
			say('nothingBeneathTop', id, 'Nothing stands beneath the top event yet. Add its immediate causes.');
			return;
		}
		const inputs = gate.type === 'not' ? 2 : inputsOf(event).length;
		if (inputs === 1)
			say(
				'passesThrough',
				id,
				`"${event.title}" has one cause only. Is another missing, or are the two the same event?`
			);
		if (!gate.complete)
			say(
				'notComplete',
				id,
				`Nobody has yet said that the causes under "${event.title}" are immediate and complete.`
			);
	}
}

/** A failed state takes at least a thing and what became of it. */
const namesState = (title: string): boolean =>
	title.split(/\s+/).filter((word) => /\p{L}/u.test(word)).length >= 2;
