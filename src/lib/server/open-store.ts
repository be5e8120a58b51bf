import { rules } from './case-rules';
import { onShutdown } from './shutdown';
import { dataFolder } from './running';
import { FileStore } from './storage/file-store';
import type { CaseStore } from './storage/types';

let opening: Promise<CaseStore> | undefined;

/** The one store of this process, opened at the first need and closed with the server. */
export function openStore(): Promise<CaseStore> {
	opening ??= open();
	return opening;
}

async function open(): Promise<CaseStore> {
	const store = await FileStore.open(dataFolder(), { rules });
	onShutdown(() => store.close());
	return store;
}
