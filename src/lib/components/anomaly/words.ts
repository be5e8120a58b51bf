import type { CommonCause } from '$lib/investigation/schema/common-cause';
import type {
	Conclusion,
	Disposition,
	EventKind,
	Finding,
	Gate,
	GateType,
	TreeEvent
} from '$lib/investigation/schema/anomaly';
import type { Alone } from '$lib/investigation/views/alone';
import type { Stage } from '$lib/investigation/views/scored';
import { roundedProbability } from '$lib/quantity/percent';
import { HOW_OFTEN } from '$lib/reasoning';

export { HOW_OFTEN };

/** Names of gates and kinds as IEC 61025 has them, with what each means. */
export const GATE_WORDS: Record<GateType, { name: string; means: string }> = {
	or: { name: 'OR', means: 'any of these is enough' },
	and: { name: 'AND', means: 'all of these together' },
	atLeast: { name: 'k of n', means: 'at least k of these' },
	xor: { name: 'exclusive OR', means: 'one of the two, not both' },
	inhibit: { name: 'inhibit', means: 'this, if the condition holds' },
	priorityAnd: { name: 'priority AND', means: 'all, in this order; weighed as a plain AND, its upper bound' },
	not: { name: 'NOT', means: 'this did not happen' }
};

/** A gate in words, with the k that it has: '2 of 3: at least 2 of these'. */
export const gateName = ({ type, k, inputs }: Pick<Gate, 'type' | 'k' | 'inputs'>): string =>
	type === 'atLeast' ? `${k} of ${inputs.length}` : GATE_WORDS[type].name;
export const gateSaid = (gate: Pick<Gate, 'type' | 'k' | 'inputs'>): string =>
	`${gateName(gate)}: ${gate.type === 'atLeast' ? `at least ${gate.k} of these` : GATE_WORDS[gate.type].means}`;

export const KIND_WORDS: Record<EventKind, { name: string; means: string }> = {
	intermediate: { name: 'Intermediate event', means: 'has causes beneath it' },
	basic: { name: 'Basic event', means: 'needs no further development' },
	undeveloped: { name: 'Undeveloped event', means: 'not taken further, for want of knowledge or need' },
	house: { name: 'House event', means: 'switched on or off: a phase or a configuration' },
	conditioning: { name: 'Conditioning event', means: 'the condition of an inhibit gate' }
};

export const FINDING_STATES: Record<Finding['state'], string> = {
	present: 'present',
	absent: 'absent',
	notExamined: 'not examined'
};

export const CONCLUSION_WORDS: Record<Conclusion['state'], string> = {
	open: 'open',
	probableCause: 'probable cause',
	established: 'established',
	undetermined: 'undetermined'
};

export const DISPOSITION_CHOICES: readonly { value: Disposition['state']; label: string }[] = [
	{ value: 'open', label: 'Open' },
	{ value: 'ruledOutByEvidence', label: 'Ruled out by evidence' },
	{ value: 'ruledOutByCalculation', label: 'Ruled out by calculation' },
	{ value: 'unlikely', label: 'Unlikely' },
	{ value: 'likely', label: 'Likely' },
	{ value: 'contributed', label: 'Contributed' },
	{ value: 'established', label: 'Established' },
	{ value: 'notApplicable', label: 'Not applicable' }
];

export const CAUSE_TYPE_WORDS: Record<NonNullable<TreeEvent['causeType']>, string> = {
	proximate: 'proximate',
	intermediate: 'intermediate',
	root: 'root',
	contributing: 'contributing factor'
};

/** The three numbers that are held against what turned out. */
export const STAGE_WORDS: Record<Stage, string> = {
	impression: 'first impression',
	start: 'at the start',
	end: 'at the end'
};

export const BASIS_WORDS: Record<TreeEvent['weightBasis'], string> = {
	guess: 'a guess',
	commonPractice: 'common practice, no source',
	ownHistory: 'our own flights',
	test: 'a test',
	published: 'published data'
};

/** The word of the scale of frequencies that stands nearest in its odds. */
export function oftenWords(p: number): string {
	if (p <= 0) return 'never';
	const logOdds = (q: number) => Math.log(q / (1 - q));
	const far = (q: number) => Math.abs(logOdds(q) - logOdds(Math.min(p, 1 - 1e-9)));
	return HOW_OFTEN.reduce((best, step) => (far(step.p) < far(best.p) ? step : best)).words;
}

export const minutes = (n: number): string => (n < 90 ? `${n} min` : `${Number((n / 60).toPrecision(2))} h`);

/** How a cause that similar parts share strikes them. */
export const SHARING_WORDS: Record<CommonCause['model'], { name: string; means: string }> = {
	beta: { name: 'it takes all of them', means: 'each fails by itself, or all at once (beta factor)' },
	multiLetter: {
		name: 'it takes two, three … of them, step by step',
		means: 'of those that hit some, how many hit one more (multi-letter)'
	},
	alpha: {
		name: 'shares of how many it takes',
		means: 'of all failures, how many hit one, two, three … (alpha factors); they add up to 100 %'
	}
};

/** What is asked for each factor of a group. */
export function factorQuestions(model: CommonCause['model'], n: number): string[] {
	const all = n < 3 ? 'both' : `all ${n}`;
	if (model === 'beta')
		return [
			n < 3
				? 'When one of them fails, how often does this take both?'
				: 'When one of them fails, how often does this take all of them?'
		];
	if (model === 'multiLetter')
		return Array.from({ length: n - 1 }, (_, i) =>
			i === 0
				? 'When one of them fails, how often does a second with it?'
				: `When ${i + 1} fail together, how often does ${i + 2 === n ? 'the last' : 'one more'} with them?`
		);
	return Array.from({ length: n }, (_, i) =>
		i === 0
			? 'Of all failures, those of one alone'
			: `Of all failures, those of ${i + 1 === n ? all : `exactly ${i + 1}`} together`
	);
}

/** How often an event by itself shows a sign: '13 %', '3.3 % to 13 %' where it depends on how the event comes about. */
export function aloneWords({ least, most }: Alone): string {
	const [from, to] = [roundedProbability(least), roundedProbability(most)];
	return from === to ? from : `${from} to ${to}`;
}
