import type { FileKind } from '$lib/investigation/check';
import type { Investigation, VehicleFile } from '$lib/investigation/case';
import { type Entry, entryOf, hasWords, isAbout, type Subject } from '$lib/investigation/views/history';
import { recordName } from '$lib/investigation/views/record-names';
import { type Version, versionsOf } from '$lib/investigation/views/versions';
import { filled } from './case-rules';
import { openStore } from './open-store';
import type { HistoryLine, Records, Refusal, Result } from './storage/types';
import { inverseOf } from './storage/undo';

/** Every version of one record, oldest first, with who, when and why. */
export async function recordHistory(
	kind: FileKind,
	id: string,
	collection: string,
	recordId: string
): Promise<Result<Version[], Refusal>> {
	const lines = await (await openStore()).history(`${kind}/${id}`);
	return lines.ok ? { ok: true, value: versionsOf(lines.value, collection, recordId) } : lines;
}

/** Lines on one page of the history. */
export const LINES_A_PAGE = 200;

export interface HistoryPage {
	/** Newest first. */
	entries: (Entry & { canUndo: boolean })[];
	page: number;
	pages: number;
	/** The record that it is about, in words, or null for all. */
	record: string | null;
}

/** What is asked of the history; nothing asks for all. */
export interface Asked {
	record?: string | null;
	about?: Subject | null;
	words?: string;
}

/**
 * One page of the history in words, newest first.
 * @param page  from 1; what lies outside is the nearest page there is
 * @param asked  only the lines that touched a record ('collection/id') or are of a subject, or in which these words stand
 */
export async function historyPage(
	kind: FileKind,
	id: string,
	page: number,
	{ record = null, about = null, words = '' }: Asked = {}
): Promise<Result<HistoryPage, Refusal>> {
	const store = await openStore();
	const opened = await store.open(`${kind}/${id}`);
	if (!opened.ok) return opened;
	const { rev, state } = opened.value;
	const [collection = '', recordId = ''] = record?.split('/') ?? [];
	let lines: HistoryLine[];
	let count = rev;
	const at = (total: number) => {
		const pages = Math.max(1, Math.ceil(total / LINES_A_PAGE));
		return { pages, page: Math.min(pages, Math.max(1, Math.trunc(page) || 1)) };
	};
	const file = filled(kind, state) as unknown as Investigation | VehicleFile;
	if (record === null && about === null && words === '') {
		// Revisions run without gaps, so that a page is read without the rest.
		const last = rev - (at(count).page - 1) * LINES_A_PAGE;
		const read = await store.history(`${kind}/${id}`, Math.max(1, last - LINES_A_PAGE + 1), last);
		if (!read.ok) return read;
		lines = read.value.toReversed();
	} else {
		const read = await store.history(`${kind}/${id}`);
		if (!read.ok) return read;
		const own = read.value
			.filter(
				(line) =>
					(record === null || line.changes.some((c) => c.collection === collection && c.id === recordId)) &&
					(about === null || isAbout(line, about)) &&
					(words === '' || hasWords(entryOf(line, file), words))
			)
			.toReversed();
		count = own.length;
		const first = (at(count).page - 1) * LINES_A_PAGE;
		lines = own.slice(first, first + LINES_A_PAGE);
	}
	return {
		ok: true,
		value: {
			...at(count),
			record: record === null ? null : nameOf(lines, collection, recordId, state, file),
			entries: lines.map((line) => ({
				...entryOf(line, file),
				// The first line is the file itself.
				canUndo: line.rev > 1 && inverseOf(line, state).ok
			}))
		}
	};
}

function nameOf(
	lines: readonly HistoryLine[],
	collection: string,
	id: string,
	state: Records,
	file: Investigation | VehicleFile
): string {
	const change = lines[0]?.changes.find((c) => c.collection === collection && c.id === id);
	const record = state[collection]?.[id] ?? change?.after ?? change?.before;
	return record ? recordName(collection, record, id, file) : 'a record that is not there';
}
