/** One step of the way that an event took from its starting weight to where it stands. */
import type { Piece } from './contradiction';
import type { FindingState } from './model';
import type { Resolved } from './resolve';

export interface Step {
	/** The finding or the calculated likelihood that became known; null for what is given, the top event. */
	id: string | null;
	/** Other findings that are the same observation and became known with it. */
	together: string[];
	state?: FindingState;
	/** Probability of the event once this and all before it are known. */
	stands: number;
	/** The step in decibans of its odds. All steps add up to the way from the starting weight to the last standing. */
	decibans: number;
	/** Standard errors of both, where they were sampled: not where the tree without evidence says them exactly. */
	error?: { stands: number; decibans: number };
}

export interface Steps {
	prior: number;
	/** Its standard error, where it was sampled. */
	priorError?: number;
	/** What is given first, then the findings, then the calculations, each in the order of the model. */
	steps: Step[];
}

/** What became known: a piece of evidence, or what is given. */
export function knowing(
	{ observations }: Resolved,
	piece: Piece | undefined
): Pick<Step, 'id' | 'together' | 'state'> {
	const [first, ...others] = (observations[piece?.observation ?? -1]?.reports ?? []).filter(
		({ state }) => state !== 'notExamined'
	);
	return {
		id: piece?.id ?? null,
		together: others.map(({ id }) => id),
		...(first ? { state: first.state } : {})
	};
}
