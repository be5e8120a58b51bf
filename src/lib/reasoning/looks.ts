/** What may be told of observations that have not been made. */
import type { FindingState } from './model';
import type { Resolved } from './resolve';

/** Joint states of more branches than this are not told apart. */
export const MAX_BRANCHES = 10;
/** A joint state so improbable, relative to the rest, moves nothing. */
export const NEGLIGIBLE = 1e-13;
export interface ObservationValue {
	/** The finding that has not been examined. */
	id: string;
	/** Expected information about the branches' joint state, bits: mutual information (Lindley 1956). */
	bits: number;
	probabilityPresent: number;
	/** Probability that afterwards one branch stands above 90 % and all others below 10 %. */
	probabilitySettles: number;
	/** By branch, given each outcome; null when the outcome is impossible. */
	ifPresent: Record<string, number> | null;
	ifAbsent: Record<string, number> | null;
	/** Where it was sampled. */
	error?: {
		/** Standard errors; of the branches the largest after that outcome. */
		bits: number;
		probabilityPresent: number;
		ifPresent: number;
		ifAbsent: number;
		/** `probabilitySettles`, of the outcomes that do within two standard errors, and of those that may. */
		settles: [number, number];
	};
}

export interface InformationResult {
	/** Whose joint state it is about: the inputs of the top gate, or the leading one of more than ten. */
	about: string[];
	/** In words, where it is about the leading branch only. */
	note: string | null;
	/** Uncertainty before: entropy of the joint state, bits. */
	entropy: number;
	/** Its standard error, where it was sampled. */
	entropyError?: number;
	/** Most informative first. */
	observations: ObservationValue[];
}

export interface Outcomes {
	/** The finding; of several that are one observation the first that was looked at, else the first. */
	id: string;
	state: FindingState;
	/** Given everything but this observation. */
	probabilityPresent: number;
	/** Probability of the event if the sign is there, and if it is not; null where that cannot be. */
	ifPresent: number | null;
	ifAbsent: number | null;
	/** Standard errors, where it was sampled; there null may also be what the sample says too little of. */
	error?: { probabilityPresent: number; ifPresent: number; ifAbsent: number };
}

export const onlyLeading = (branches: number, leading: string) =>
	`there are ${branches} branches: this is about the leading one, '${leading}', only`;

/** Findings not examined whose sign nobody has seen directly either. */
export function unmade({ observations }: Resolved) {
	return observations.flatMap(({ reports }, observation) => {
		if (reports.some(({ state, origin }) => state !== 'notExamined' && origin < 0)) return [];
		return reports
			.filter(({ state }) => state === 'notExamined')
			.map(({ id, origin }) => ({ id, observation, origin }));
	});
}
