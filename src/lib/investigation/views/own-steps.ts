import type { Line } from './versions';

/** A sitting: what was done longer ago is taken back from the history, where one sees what it is. */
const SITTING_HOURS = 12;
/** What begins a file, and what follows from the case by itself. */
const NOT_STEPS: ReadonlySet<string> = new Set(['begin', 'vehicle.begin', 'calculation.follow']);

/**
 * Revisions that this person could take back one after another, oldest first: what they did in this sitting, less what
 * was taken back since, and with what they did again.
 * @param lines  the newest lines of the history, oldest first
 * @param now    ISO 8601
 */
export function ownSteps(lines: readonly Line[], who: string, now: string): number[] {
	const since = Date.parse(now) - SITTING_HOURS * 3_600_000;
	const steps = new Set<number>();
	const undos = new Set<number>();
	for (const { rev, time, who: by, operation, args } of lines) {
		const own = by === who && Date.parse(time) >= since;
		if (operation !== 'undo') {
			if (own && !NOT_STEPS.has(operation)) steps.add(rev);
			continue;
		}
		const taken = (args as { rev?: unknown } | null)?.rev as number;
		undos.add(rev);
		// Taking back what took something back does that again.
		if (!steps.delete(taken) && undos.has(taken) && own) steps.add(rev);
	}
	return [...steps];
}
