import { findIn, type Found } from '$lib/investigation/views/find';
import { investigationOf } from './case-rules';
import { openStore } from './open-store';

/** What was found in one investigation, or why it can't be read. */
export interface FoundIn {
	id: string;
	title: string;
	found: Found[];
	problem?: string;
}

/** Looks for words in every investigation; one that can't be read is in the list with the reason. */
export async function search(words: string): Promise<FoundIn[]> {
	if (words.trim() === '') return [];
	const store = await openStore();
	const all: FoundIn[] = [];
	for (const { id: folder, summary, problem } of await store.list('investigations')) {
		const id = folder.split('/')[1]!;
		const title = typeof summary['title'] === 'string' && summary['title'] !== '' ? summary['title'] : id;
		const opened = await store.open(folder);
		if (!opened.ok) all.push({ id, title, found: [], problem: problem ?? opened.error.message });
		else {
			const found = findIn(investigationOf(opened.value.state), words);
			if (found.length > 0) all.push({ id, title, found });
		}
	}
	return all;
}
