import type { Investigation } from '../case';
import { FAULT_CLASSES, type FaultClass, type Gate, type TreeEvent } from '../schema/anomaly';
import { below, eventsOf, inputsOf, isBranch } from './tree';

/** A rule of tree construction that an event does not keep. Listed while the tree grows; it blocks the conclusion only. */
export interface ConstructionFault {
	rule:
		| 'noFailedState'
		| 'passesThrough'
		| 'notComplete'
		| 'personIsLast'
		| 'noWeight'
		| 'sameTitle'
		| 'miracle'
		| 'componentGate'
		| 'classSkipped'
		| 'nothingBeneathTop'
		| 'topUnsaid'
		| 'stateUnsaid';
	event: string;
	/** The field, or the verb, that clears it. */
	field: 'rename' | 'below' | 'share' | 'weight' | 'complete' | 'statement' | 'faultOf';
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
	miracle: 'rename',
	componentGate: 'below',
	classSkipped: 'below',
	nothingBeneathTop: 'below',
	topUnsaid: 'statement',
	stateUnsaid: 'faultOf'
};

/** Leaves that name a person's slip; what let it happen, or let it through, is the question below. */
const PERSON =
	/\b(operator|human|pilot|user|builder|assembler|person(?:nel|al)?)\b.*\b(error|mistake|slip|fault)\b|\b(forgot(?:ten)?|carelessness|negligence|mistake was made|human factor)\b/i;

/** Titles that count on luck: what works normally is taken to work ('no miracles'). */
const MIRACLE =
	/\b(luck|luckily|by chance|by coincidence|miracul\w*|happens? to (?:jam|stop|block|hold|save|catch)|unexpectedly (?:holds?|stops?|blocks?|jams?|saves?|catches))\b/i;

/**
 * Checks a tree as it grows.
 * Rules after NUREG-0492 chapter V and IEC 61025 (from memory): each event states a failed state; no gate feeds a gate
 * without an event between them; inputs are immediate causes and together complete; no miracles; the state of one part
 * comes from any one of primary, secondary and command faults, that of the system from its immediate causes.
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
		if (MIRACLE.test(event.title))
			say(
				'miracle',
				id,
				`"${event.title}" counts on luck. Take what works as working; if something else had to fail too, add that under an AND.`
			);
		if (isBranch(event) && event.weight === null)
			say('noWeight', id, `"${event.title}" has no starting weight yet; 5 % is assumed.`);
		if (event.gate) gateFaults(id, event, id === top);
	}
	return [...faults, ...unsaid(file, anomaly)];

	function gateFaults(id: string, event: TreeEvent, isTop: boolean) {
		const gate = event.gate!;
		if (event.faultOf === 'component') partFaults(id, event, gate.type);
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

	function partFaults(id: string, event: TreeEvent, type: Gate['type']) {
		if (type !== 'or' && type !== 'inhibit')
			say(
				'componentGate',
				id,
				`"${event.title}" is the state of one part, which any one cause brings about: an OR. If several must come together, it is a state of the system.`
			);
		for (const fault of skippedClasses(file, id))
			say(
				'classSkipped',
				id,
				`Under "${event.title}" no ${FAULT_CLASS_WORDS[fault]} stands. Add one, or say why it is skipped.`
			);
	}
}

export const FAULT_CLASS_WORDS: Record<FaultClass, string> = {
	primary: 'primary fault',
	secondary: 'secondary fault',
	command: 'command fault'
};

/** Classes that nothing beneath the state of a part is of, and that no reason was given to skip. */
export function skippedClasses(file: Investigation, id: string): FaultClass[] {
	const { skipped } = file.events[id]!;
	const there = classesBelow(file, id);
	return FAULT_CLASSES.filter((fault) => !there.has(fault) && !skipped?.[fault]);
}

export const classesBelow = (file: Investigation, id: string): ReadonlySet<FaultClass> =>
	new Set(
		below(file.events, id)
			.filter((one) => one !== id)
			.flatMap((one) => file.events[one]?.faultClass ?? [])
	);

/** [S2] What failed, in what state and within which boundary; and of each gate, the state of what it is. */
function unsaid(file: Investigation, anomaly: string): ConstructionFault[] {
	const { top, subject, failedState, boundary } = file.anomalies[anomaly] ?? { top: '' };
	const gates = eventsOf(file, anomaly).filter(
		([id, { gate, faultOf }]) => id !== top && gate !== null && !faultOf
	);
	return [
		...(file.events[top] && !(subject && failedState && boundary?.length)
			? [
					{
						rule: 'topUnsaid' as const,
						event: top,
						field: FIELDS.topUnsaid,
						message:
							'The top event does not say yet what failed, in what state, and within which boundary. Edit the statement to say it.'
					}
				]
			: []),
		...gates.slice(0, 1).map(([event, { title }]) => ({
			rule: 'stateUnsaid' as const,
			event,
			field: FIELDS.stateUnsaid,
			message: `Of ${gates.length === 1 ? 'one event' : `${gates.length} events`} it is not said whether it is the state of one part or of the system, such as "${title}".`
		}))
	];
}

/** A failed state takes at least a thing and what became of it. */
const namesState = (title: string): boolean =>
	title.split(/\s+/).filter((word) => /\p{L}/u.test(word)).length >= 2;
