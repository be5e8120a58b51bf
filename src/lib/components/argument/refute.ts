import { decibans, type Outcomes } from '$lib/reasoning';

/** The outcome of an observation that would hurt an event most. */
export interface Damaging {
	id: string;
	bad: 'present' | 'absent';
	/** Where the event stands after it, and after the other outcome. */
	to: number;
	otherwise: number;
	probability: number;
	/** What was found; null where nobody looked. */
	looked: 'present' | 'absent' | null;
	/** Standard errors, where it was sampled. */
	error?: { to: number; otherwise: number; probability: number };
}

/** An outcome that changes the odds by less, in decibans, refutes nothing. */
const NOTICED = 1;

/**
 * Observations by how low their worse outcome would bring an event, the most damaging first. One that counts against
 * it already is among them.
 * @param now  where the event stands
 */
export function mostDamaging(outcomes: readonly Outcomes[], now: number): Damaging[] {
	return outcomes
		.flatMap(({ id, state, ifPresent, ifAbsent, probabilityPresent, error }): Damaging[] => {
			const present = ifPresent ?? Infinity;
			const absent = ifAbsent ?? Infinity;
			const bad = present < absent ? 'present' : 'absent';
			const to = Math.min(present, absent);
			const other = Math.max(present, absent);
			const otherwise = Number.isFinite(other) ? other : now;
			if (!(decibans(otherwise, to) >= NOTICED)) return [];
			const [own, others] = error
				? bad === 'present'
					? [error.ifPresent, error.ifAbsent]
					: [error.ifAbsent, error.ifPresent]
				: [0, 0];
			// What may as well be the scatter of a sample refutes nothing.
			if (otherwise - to < 2 * Math.hypot(own, others)) return [];
			return [
				{
					id,
					bad,
					to,
					otherwise,
					probability: bad === 'present' ? probabilityPresent : 1 - probabilityPresent,
					looked: state === 'notExamined' ? null : state,
					...(error ? { error: { to: own, otherwise: others, probability: error.probabilityPresent } } : {})
				}
			];
		})
		.sort((a, b) => a.to - b.to);
}
