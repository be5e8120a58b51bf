import { rules } from './case-rules';
import { dataFolder, StartRefused } from './running';
import { onShutdown } from './shutdown';
import { openLockedStore } from './storage/locked-store';
import type { CaseStore } from './storage/types';

/** One store in a process, also when the development server loads this module anew. */
const KEY = Symbol.for('witness-mark.store');
const shared = globalThis as { [KEY]?: Promise<CaseStore> };

/** The store of this process, opened with its lock at the first call and closed with the server. */
export function openStore(): Promise<CaseStore> {
	return (shared[KEY] ??= open());
}

async function open(): Promise<CaseStore> {
	const opened = await openLockedStore(dataFolder(), {
		rules,
		onWait: (message) => console.error(message),
		about: `the server at process ${process.pid}`
	});
	if (!opened.ok) throw new StartRefused(opened.error.message);
	onShutdown(() => opened.value.close());
	return opened.value;
}
