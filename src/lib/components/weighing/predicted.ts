import type { NextLook, OutcomeStand } from '$lib/investigation/views/looks';

/** Where the leading branches would stand after an outcome of a look that nobody has taken yet. */
export interface Predicted {
	outcome: OutcomeStand;
	branches: { id: string; p: number }[];
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

/**
 * Each outcome, with the branches that lead now and the one that would lead then.
 * @param most  leading branches that are told of
 */
export function predicted(outcomes: readonly OutcomeStand[], most = 2): Predicted[] {
	const now = ranked(standNow(outcomes)).slice(0, most);
	return outcomes.flatMap((outcome) => {
		const stand = outcome.branches;
		if (!stand) return [];
		const leads = ranked(stand)[0];
		const told = leads === undefined || now.includes(leads) ? now : [...now.slice(0, most - 1), leads];
		const branches = told.map((id) => ({ id, p: stand[id] ?? 0 })).sort((a, b) => b.p - a.p);
		return [{ outcome, branches }];
	});
}

/** The look that would bring the leading branch lowest; null where none would lower it by a tenth of its odds. */
export function hurtsMost(looks: readonly NextLook[]) {
	let worst: { look: NextLook; branch: string; outcome: string; to: number } | null = null;
	for (const look of looks) {
		const now = standNow(look.outcomes);
		const branch = ranked(now)[0];
		for (const { words, branches, error = 0 } of look.outcomes) {
			const to = branch === undefined ? undefined : branches?.[branch];
			if (branch === undefined || to === undefined) continue;
			const odds = (p: number) => p / (1 - p);
			// From a sample, beyond what its error alone would show.
			if (to + 3 * error < now[branch]! && odds(to) < 0.9 * odds(now[branch]!) && to < (worst?.to ?? 1))
				worst = { look, branch, outcome: words, to };
		}
	}
	return worst;
}
