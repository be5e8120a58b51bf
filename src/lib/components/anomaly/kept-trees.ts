import type { ReadyTree } from '$lib/investigation/schema/ready-tree';

/** What the server offers to start from, beside the common trees. */
export interface OfferedTree {
	title: string;
	takeIt: string;
	tree: ReadyTree;
}
export interface KeptTrees {
	vehicle: { id: string; name: string } | null;
	own: OfferedTree[];
	earlier: OfferedTree[];
}

/** Read anew each time: another page may have kept one meanwhile. Null where the tool does not answer. */
export async function readKeptTrees(investigation: string): Promise<KeptTrees | null> {
	try {
		const answer = await fetch(`/investigations/${investigation}/trees`);
		return answer.ok ? ((await answer.json()) as KeptTrees) : null;
	} catch {
		return null;
	}
}

export const counts = ({ events, findings }: ReadyTree): string =>
	`${events.length} ${events.length === 1 ? 'event' : 'events'}, ${findings.length} ${findings.length === 1 ? 'sign' : 'signs'}`;
