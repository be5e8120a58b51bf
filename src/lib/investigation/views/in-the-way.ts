import type { ConstructionFault } from './construction';

/** Where to go to clear it, and which field of the page takes it. */
export type Where =
	| { view: 'tree'; event: string; field?: ConstructionFault['field'] }
	| { view: 'findings'; finding?: string; field?: 'evidence' }
	| { view: 'conclusion'; event: string; field: 'state' | 'cites' | 'despite' | 'factor' }
	| { view: 'changes' };

/** One thing that stands between an anomaly and its conclusion. */
export interface InTheWay {
	rule: 'branch' | 'construction' | 'finding' | 'conclusion' | 'contradiction' | 'change';
	message: string;
	where: Where;
	/** False: worth doing, but the conclusion does not wait for it. */
	blocks: boolean;
	/** What it has in common with others, and what is its own: for a list that says the first once. */
	alike?: { kind: Alike; name: string };
}

type Alike = 'open' | 'citesNothing' | 'noEvidence' | ConstructionFault['rule'];

/** What several have in common, said once; a rule that is not here says something else of each. */
const TOGETHER: Partial<Record<Alike, (n: number) => string>> = {
	open: (n) => `${n} branches are still open.`,
	citesNothing: (n) => `${n} branches are decided and cite nothing.`,
	noEvidence: (n) => `${n} signs were looked at and cite no evidence.`,
	noWeight: (n) => `${n} events have no starting weight yet; 5 % is assumed for each.`,
	notComplete: (n) => `Of ${n} gates nobody has yet said that their causes are immediate and complete.`,
	noFailedState: (n) => `${n} events name a thing, not what became of it. Say how each failed.`,
	passesThrough: (n) => `${n} gates have one cause only. Is another missing, or are the two the same event?`,
	personIsLast: (n) => `${n} events end at a person. Ask what let it happen and add that below.`
};

/** Things in the way of one kind, said once. */
export interface InTheWayTogether {
	kind: Alike;
	message: string;
	things: readonly InTheWay[];
}

/** The list with several of one kind as one entry, where the first of them stands. */
export function together(list: readonly InTheWay[]): (InTheWay | InTheWayTogether)[] {
	const kinds = new Map<Alike, InTheWay[]>();
	for (const thing of list) {
		const kind = thing.alike?.kind;
		if (kind && TOGETHER[kind]) kinds.set(kind, [...(kinds.get(kind) ?? []), thing]);
	}
	return list.flatMap((thing): (InTheWay | InTheWayTogether)[] => {
		const kind = thing.alike?.kind;
		const things = kind && kinds.get(kind);
		if (!things || things.length < 2) return [thing];
		return thing === things[0] ? [{ kind, message: TOGETHER[kind]!(things.length), things }] : [];
	});
}
