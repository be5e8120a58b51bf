/*
 * The story's tree weighed by going through all its states: an answer that owes nothing to the tool's own diagram.
 * Noisy-OR with a leak as Pearl 1988 has it (from memory): P(sign) = 1 − (1 − base rate) ∏ (1 − p of what happened).
 */
export const STORY = {
	anomaly: 'The nose cone came away from the bay',
	/** Gates and the two events under each; the pins stand under both. */
	air: 'trapped air pushed the nose off in flight',
	shock: 'the shock of landing pulled the nose off',
	vent: 'vent hole closed by tape',
	pins: 'shear pins too weak',
	main: 'main stayed in the bay',
	unthought: 'Something nobody has thought of',
	start: { vent: 0.1, pins: 0.2, main: 0.3, unthought: 0.05 },
	tape: { says: 'tape over the vent hole', byVent: 0.9, anyway: 0.05, unthought: 0.2 },
	crack: { says: 'crack in the shoulder of the nose cone', byShock: 0.7, anyway: 0.1, unthought: 0.1 }
} as const;

type Name = keyof typeof STORY.start | 'air' | 'shock';
/** Densities of what was measured, in the order of the scenarios: in the air, at impact, anything else. */
export type Densities = readonly [number, number, number];

/** What is known: signs that were looked for, and what the calculation says. The top event did happen. */
export interface Known {
	tape?: boolean;
	crack?: boolean;
	densities?: Densities;
}

/** Probability of each event given that the nose cone came away and all that is known. */
export function weighed({ tape, crack, densities = [1, 1, 1] }: Known): Record<Name, number> {
	const { start } = STORY;
	const sums = { all: 0, vent: 0, pins: 0, main: 0, unthought: 0, air: 0, shock: 0 };
	for (let state = 0; state < 16; state++) {
		const [vent, pins, main, unthought] = [1, 2, 4, 8].map((bit) => (state & bit) > 0);
		const happened = { vent, pins, main, unthought, air: vent && pins, shock: main && pins };
		if (!happened.air && !happened.shock && !unthought) continue;
		let p = densities[happened.air ? 0 : happened.shock ? 1 : 2];
		for (const name of ['vent', 'pins', 'main', 'unthought'] as const)
			p *= happened[name] ? start[name] : 1 - start[name];
		const isTaped =
			1 -
			(1 - STORY.tape.anyway) *
				(vent ? 1 - STORY.tape.byVent : 1) *
				(unthought ? 1 - STORY.tape.unthought : 1);
		const isCracked =
			1 -
			(1 - STORY.crack.anyway) *
				(happened.shock ? 1 - STORY.crack.byShock : 1) *
				(unthought ? 1 - STORY.crack.unthought : 1);
		if (tape !== undefined) p *= tape ? isTaped : 1 - isTaped;
		if (crack !== undefined) p *= crack ? isCracked : 1 - isCracked;
		sums.all += p;
		for (const name of Object.keys(happened) as Name[]) if (happened[name]) sums[name] += p;
	}
	const { all, ...named } = sums;
	return Object.fromEntries(Object.entries(named).map(([name, sum]) => [name, sum / all])) as Record<
		Name,
		number
	>;
}
