import { percents } from '$lib/quantity/percent';
import type { Investigation } from '../case';
import type { Conclusion, TreeEvent } from '../schema/anomaly';
import { constructionFaults } from './construction';
import { restsOnCorrected } from './corrected';
import { asksWhy, DISPOSITION_WORDS } from './disposition';
import type { InTheWay } from './in-the-way';
import { listed } from './leading';
import { speaksFor } from './speaks-for';
import { eventsOf, isBranch } from './tree';

/** What the weighing adds to the rules that the case alone can check. */
export interface Weighed {
	/** Probability given everything, by event; absent where it is not known. */
	givenAll: Readonly<Record<string, number>>;
	contradiction: string | null;
}

/** [S9] Existence, influence and importance of a contributing factor, asked apart. */
const FACTOR = [
	['existed', 'that it was there'],
	['influenced', 'that it changed what happened'],
	['matters', 'that it matters for the next flight']
] as const;
const factorLacks = ({ causeType, disposition, factor }: TreeEvent): string[] =>
	causeType !== 'contributing' || !HELD.has(disposition.state)
		? []
		: FACTOR.flatMap(([field, words]) => (factor?.[field] ? [] : [words]));
const HELD: ReadonlySet<string> = new Set(['likely', 'contributed', 'established']);

/** What nobody has thought of has no evidence of its own, and what does not apply needs none. */
export const needsCitation = ({ residual }: TreeEvent, state: TreeEvent['disposition']['state']): boolean =>
	!residual && state !== 'open' && state !== 'notApplicable';

/**
 * Everything that stands in the way of concluding an anomaly, in the order in which one would clear it.
 * [S1] no branch is open; [S2] the tree keeps the rules of construction; [S3] what was looked at cites evidence;
 * [S8] what was decided cites something; [S9] a contributing factor is shown to have been there, to have mattered and to
 * matter again; [S10] what is established has something that speaks for it; [S4] nothing was decided against what it weighs without a word on why; [S5] no contradiction stands;
 * [S12] nothing rests on evidence that was corrected since.
 */
export function standsInTheWay(file: Investigation, anomaly: string, weighed?: Weighed): InTheWay[] {
	const list: InTheWay[] = [];
	if (weighed?.contradiction)
		list.push({
			rule: 'contradiction',
			message: weighed.contradiction,
			where: { view: 'findings' },
			blocks: true
		});
	for (const fault of constructionFaults(file, anomaly))
		list.push({
			rule: 'construction',
			message: fault.message,
			where: { view: 'tree', event: fault.event, field: fault.field },
			blocks: true,
			alike: { kind: fault.rule, name: file.events[fault.event]!.title }
		});
	for (const [id, event] of eventsOf(file, anomaly)) {
		if (!isBranch(event)) continue;
		const where = (field: 'state' | 'cites' | 'despite' | 'factor') =>
			({ view: 'conclusion', event: id, field }) as const;
		if (event.disposition.state === 'open')
			list.push({
				rule: 'branch',
				message: `"${event.title}" is still open.`,
				where: where('state'),
				blocks: true,
				alike: { kind: 'open', name: event.title }
			});
		else if (needsCitation(event, event.disposition.state) && event.disposition.cites.length === 0)
			list.push({
				rule: 'branch',
				message: `"${event.title}" is called ${DISPOSITION_WORDS[event.disposition.state]} and cites nothing.`,
				where: where('cites'),
				blocks: true,
				alike: { kind: 'citesNothing', name: event.title }
			});
		const lacks = factorLacks(event);
		if (lacks.length > 0)
			list.push({
				rule: 'branch',
				message: `"${event.title}" is called a contributing factor; it is not shown yet ${listed(lacks)}.`,
				where: where('factor'),
				blocks: true
			});
		const weight = weighed?.givenAll[id];
		const { state, cites, despite, weightThen } = event.disposition;
		if (state === 'established' && cites.length > 0 && !speaksFor(file, id, cites))
			list.push({
				rule: 'branch',
				message: `"${event.title}" is called established, and nothing cited speaks for it. Cite a sign that is there and linked to it, a calculation that it fits or the result of a test, or decide anew.`,
				where: where('cites'),
				blocks: true
			});
		if (weight !== undefined && asksWhy(event.disposition, weight)) {
			const [now, then] = percents([weight, despite ? weightThen : null]);
			list.push({
				rule: 'branch',
				message: `"${event.title}" is called ${DISPOSITION_WORDS[state]}, but the evidence gives it ${now}${then === '–' ? '' : `, and gave it ${then} when the reason was given`}. Say why, or decide anew.`,
				where: where('despite'),
				blocks: true
			});
		}
	}
	for (const [id, finding] of Object.entries(file.findings)) {
		if (finding.anomaly !== anomaly || finding.state === 'notExamined' || finding.evidence.length > 0)
			continue;
		list.push({
			rule: 'finding',
			message: `F${finding.number} ("${finding.statement}") is called ${finding.state} and cites no evidence.`,
			where: { view: 'findings', finding: id, field: 'evidence' },
			blocks: true,
			alike: { kind: 'noEvidence', name: `F${finding.number}` }
		});
	}
	return [...list, ...restsOnCorrected(file, anomaly)];
}

/** What a written conclusion still lacks, by field. [S6] says which endings need what. */
export function conclusionLacks(
	file: Investigation,
	anomaly: string,
	conclusion: Pick<
		Conclusion,
		'state' | 'statement' | 'confidence' | 'confidenceReason' | 'counterArgument' | 'nextTest' | 'tripwires'
	>
): { field: string; message: string }[] {
	if (conclusion.state === 'open') return [];
	const lacks: { field: string; message: string }[] = [];
	const need = (field: keyof typeof conclusion, message: string) => {
		if (!conclusion[field]) lacks.push({ field, message });
	};
	const held = eventsOf(file, anomaly).map(([, event]) => event.disposition.state);
	if (conclusion.state === 'established' && !held.includes('established'))
		lacks.push({ field: 'state', message: 'No branch is established. Dispose of the branches first.' });
	if (
		conclusion.state === 'probableCause' &&
		!held.some((state) => state === 'likely' || state === 'contributed' || state === 'established')
	)
		lacks.push({ field: 'state', message: 'No branch is likely, contributed or established yet.' });
	need('statement', 'Write the conclusion.');
	need('confidence', 'Say how good the basis is.');
	need('confidenceReason', 'Say why the basis is as good as that.');
	need('counterArgument', 'Write the strongest argument against it.');
	if (conclusion.state === 'undetermined') need('nextTest', 'Name the test that would settle it.');
	need('tripwires', 'Say what would reopen it.');
	return lacks;
}

/** What follows a conclusion: a change, or the reason why there is none. */
export function changeFollows(file: Investigation, anomaly: string): InTheWay[] {
	const conclusion = file.conclusions[anomaly];
	const raised = Object.values(file.changes).some((c) => c.anomaly === anomaly && c.state !== 'rejected');
	if (!conclusion || conclusion.state === 'open' || conclusion.noChangeReason || raised) return [];
	return [
		{
			rule: 'change',
			message: 'No change follows from this conclusion yet. Raise one, or say why none does.',
			where: { view: 'changes' },
			blocks: false
		}
	];
}
