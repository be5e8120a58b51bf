import type { InformationResult, ObservationValue } from '$lib/reasoning';

/** Where the leading branches would stand after each outcome of a look that nobody has taken yet. */
export interface Predicted {
	outcome: 'there' | 'not there';
	branches: { id: string; p: number }[];
}

type Branches = Readonly<Record<string, number>>;

/** Where the branches stand now, out of where each outcome would leave them: the mean of the two. */
export function standNow({ ifPresent, ifAbsent, probabilityPresent: p }: ObservationValue): Branches {
	const [there, not] = [ifPresent ?? ifAbsent ?? {}, ifAbsent ?? ifPresent ?? {}];
	return Object.fromEntries(Object.keys(there).map((id) => [id, p * there[id]! + (1 - p) * (not[id] ?? 0)]));
}

const ranked = (stand: Branches): string[] => Object.keys(stand).sort((a, b) => stand[b]! - stand[a]!);

/**
 * Both outcomes, each with the branches that lead now and the one that would lead then.
 * @param most  leading branches that are told of
 */
export function predicted(observation: ObservationValue, most = 2): Predicted[] {
	const { ifPresent, ifAbsent } = observation;
	const now = ranked(standNow(observation)).slice(0, most);
	return [['there', ifPresent] as const, ['not there', ifAbsent] as const].flatMap(([outcome, stand]) => {
		if (!stand) return [];
		const leads = ranked(stand)[0];
		const told = leads === undefined || now.includes(leads) ? now : [...now.slice(0, most - 1), leads];
		const branches = told.map((id) => ({ id, p: stand[id] ?? 0 })).sort((a, b) => b.p - a.p);
		return [{ outcome, branches }];
	});
}

/** The look not taken that would bring the leading branch lowest; null where none would lower it by a tenth of its odds. */
export function hurtsMost(told: InformationResult, unlooked: ReadonlySet<string>) {
	let worst: { id: string; branch: string; outcome: 'there' | 'not there'; to: number } | null = null;
	for (const observation of told.observations) {
		if (!unlooked.has(observation.id)) continue;
		const now = standNow(observation);
		const branch = ranked(now)[0];
		for (const [outcome, stand, error = 0] of [
			['there', observation.ifPresent, observation.error?.ifPresent],
			['not there', observation.ifAbsent, observation.error?.ifAbsent]
		] as const) {
			const to = branch === undefined ? undefined : stand?.[branch];
			if (branch === undefined || to === undefined) continue;
			const odds = (p: number) => p / (1 - p);
			// From a sample, beyond what its error alone would show.
			if (to + 3 * error < now[branch]! && odds(to) < 0.9 * odds(now[branch]!) && to < (worst?.to ?? 1))
				worst = { id: observation.id, branch, outcome, to };
		}
	}
	return worst;
}
