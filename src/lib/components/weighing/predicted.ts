import { percent } from '$lib/quantity/percent';
import type { NextLook, OutcomeStand } from '$lib/investigation/views/looks';

/** Branches that an outcome would leave level. */
export interface Level {
	ids: string[];
	/** How many more there are. */
	more: number;
	p: number;
	/** Of the one that leads now: where it stands, if the outcome would move it. */
	from: number | null;
}

/** Where the highest branches would stand after an outcome of a look that nobody has taken yet. */
export interface Predicted {
	outcome: OutcomeStand;
	levels: Level[];
}

/** Where the branches stand now, out of where each outcome would leave them: the mean of all that can come about. */
export function standNow(outcomes: readonly OutcomeStand[]): Record<string, number> {
	const now: Record<string, number> = {};
	const all = outcomes.reduce((sum, { probability, branches }) => sum + (branches ? probability : 0), 0);
	for (const { probability, branches } of outcomes)
		for (const [id, p] of Object.entries(branches ?? {})) now[id] = (now[id] ?? 0) + (probability * p) / all;
	return now;
}

const ranked = (stand: Readonly<Record<string, number>>): string[] =>
	Object.keys(stand).sort((a, b) => stand[b]! - stand[a]!);

/** So many branches are told of, and those level with the last; of one level at most so many by name. */
const TOLD = 3;
const NAMED = 4;
/** A branch this far below the highest says nothing beside it. */
const FAR_BELOW = 0.1;

/** Each outcome with its highest branches in order, those level together, and with the one that leads now. */
export function predicted(outcomes: readonly OutcomeStand[]): Predicted[] {
	const now = standNow(outcomes);
	const [first, second] = ranked(now);
	const leads = first !== undefined && percent(now[first]) !== percent(now[second ?? '']) ? first : null;
	return outcomes.flatMap((outcome) => {
		const stand = outcome.branches;
		if (!stand) return [];
		const from = (id: string) => (id === leads && percent(now[id]) !== percent(stand[id]) ? now[id]! : null);
		const levels: Level[] = [];
		let told = 0;
		for (const id of ranked(stand)) {
			const p = stand[id]!;
			const last = levels.at(-1);
			const isLevel = last !== undefined && percent(last.p) === percent(p);
			if (id !== leads && !isLevel && (told >= TOLD || p < FAR_BELOW * (levels[0]?.p ?? 0))) continue;
			told += 1;
			if (!isLevel || last.from !== null || from(id) !== null)
				levels.push({ ids: [id], more: 0, p, from: from(id) });
			else if (last.ids.length < NAMED) last.ids.push(id);
			else last.more += 1;
		}
		return [{ outcome, levels }];
	});
}

/** The look that would bring the leading branch lowest; null where none would lower it by a tenth of its odds. */
export function hurtsMost(looks: readonly NextLook[]) {
	let worst: { look: NextLook; branch: string; outcome: string; from: number; to: number } | null = null;
	for (const look of looks) {
		const now = standNow(look.outcomes);
		const branch = ranked(now)[0];
		for (const { words, branches, error = 0 } of look.outcomes) {
			const to = branch === undefined ? undefined : branches?.[branch];
			if (branch === undefined || to === undefined) continue;
			const odds = (p: number) => p / (1 - p);
			// From a sample, beyond what its error alone would show.
			if (to + 3 * error < now[branch]! && odds(to) < 0.9 * odds(now[branch]!) && to < (worst?.to ?? 1))
				worst = { look, branch, outcome: words, from: now[branch]!, to };
		}
	}
	return worst;
}
