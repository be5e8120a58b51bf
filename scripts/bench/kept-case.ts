/** Cases kept in a store of their own, as the server keeps them. */
import type { Investigation } from '$lib/investigation/case';
import { asChanges } from '$lib/investigation/start';
import { rules } from '$lib/server/case-rules';
import { openLockedStore } from '$lib/server/storage/locked-store';
import type { CaseStore, Change as StoredChange } from '$lib/server/storage/types';

export const who = 'Maren Holt';

export async function openBenchStore(folder: string): Promise<CaseStore> {
	const opened = await openLockedStore(folder, { rules });
	if (!opened.ok) throw new Error(opened.error.message);
	return opened.value;
}

/** Keeps a whole case, in steps that stay below the limit of one command. */
export async function keepCase(store: CaseStore, name: string, file: Investigation): Promise<number> {
	const changes = asChanges(file) as StoredChange[];
	const id = `investigations/${name}`;
	let rev = 0;
	for (let at = 0; at < changes.length; at += 500) {
		const part = changes.slice(at, at + 500);
		const command = { who, operation: 'made for the benchmark', args: null };
		const kept =
			at === 0
				? await store.create(id, command, part)
				: await store.commit(id, { ...command, baseRev: rev }, { changes: part });
		if (!kept.ok) throw new Error(kept.error.message);
		rev = kept.value.rev;
	}
	return rev;
}
