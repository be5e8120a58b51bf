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
		.flatMap(({ id, state, ifPresent, ifAbsent, probabilityPresent }): Damaging[] => {
			const present = ifPresent ?? Infinity;
			const absent = ifAbsent ?? Infinity;
			const bad = present < absent ? 'present' : 'absent';
			const to = Math.min(present, absent);
			const other = Math.max(present, absent);
			const otherwise = Number.isFinite(other) ? other : now;
			if (!(decibans(otherwise, to) >= NOTICED)) return [];
			return [
				{
					id,
					bad,
					to,
					otherwise,
					probability: bad === 'present' ? probabilityPresent : 1 - probabilityPresent,
					looked: state === 'notExamined' ? null : state
				}
			];
		})
		.sort((a, b) => a.to - b.to);
}
