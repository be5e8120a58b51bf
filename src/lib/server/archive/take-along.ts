import { join } from 'node:path';
import { openInvestigation } from '../cases';
import { openStore } from '../open-store';
import { dataFolder } from '../running';
import { no, ok, type Answer } from '../storage/types';
import { exportArchive } from './export';
import { importArchive, type Imported } from './import';

/** A whole investigation as a zip, with the vehicle it is about, so that clearances go along. */
export async function exportInvestigation(
	id: string
): Answer<{ title: string; content: AsyncIterable<Uint8Array> }> {
	const opened = await openInvestigation(id);
	if (!opened.ok) return no(opened.refusal);
	const store = await openStore();
	const { about, attachments } = opened.file;
	const vehicle = about['main']?.vehicle;
	const folders = [`investigations/${id}`];
	if (vehicle && (await store.open(`vehicles/${vehicle}`)).ok) folders.push(`vehicles/${vehicle}`);
	const names = new Map(Object.values(attachments).map(({ sha256, name }) => [sha256, name]));
	const made = await exportArchive(store, folders, {
		now: new Date(),
		nameOf: (sha256) => names.get(sha256)
	});
	return made.ok ? ok({ title: about['main']?.title ?? id, content: made.value }) : made;
}

/** Takes an archive in; it lies beside the data while it is checked, where there is room for what it becomes. */
export const takeArchive = async (content: AsyncIterable<Uint8Array>): Answer<Imported> =>
	importArchive(await openStore(), content, { scratch: join(dataFolder(), 'import') });
