import { type ScoredAnomaly, scoredAnomalies } from '$lib/investigation/views/scored';
import { investigationOf } from './case-rules';
import { EXAMPLE_ID } from './example';
import { openStore } from './open-store';

/** What was stated and turned out in one investigation, or why it can't be read. */
export interface ScoredInvestigation {
	id: string;
	title: string;
	anomalies: ScoredAnomaly[];
	problem?: string;
}

/** Investigations of which something is known to be true, and those that can't be read; the invented example is none. */
export async function scoredInvestigations(): Promise<ScoredInvestigation[]> {
	const store = await openStore();
	const scored: ScoredInvestigation[] = [];
	for (const { id: folder, summary, problem } of await store.list('investigations')) {
		const id = folder.split('/')[1]!;
		if (id === EXAMPLE_ID) continue;
		const title = typeof summary['title'] === 'string' && summary['title'] !== '' ? summary['title'] : id;
		const opened = await store.open(folder);
		if (!opened.ok) scored.push({ id, title, anomalies: [], problem: problem ?? opened.error.message });
		else {
			const anomalies = scoredAnomalies(investigationOf(opened.value.state));
			if (anomalies.length > 0) scored.push({ id, title, anomalies });
		}
	}
	return scored.sort((a, b) => a.title.localeCompare(b.title));
}
