import { type Change, FORMAT_VERSION } from './case';

type Collections = Readonly<Record<string, Readonly<Record<string, unknown>>>>;

/** Brings a file from version `from` to `from + 1`, as changed records; the file before it stays in the history. */
export interface Migration {
	from: number;
	why: string;
	apply: (file: Collections) => Change[];
}

/** One for each step that FORMAT_VERSION has taken. */
export const MIGRATIONS: readonly Migration[] = [];

/**
 * What it takes to bring a file to the present format.
 * @returns changes (none when it is there already), or the words for a file that a newer tool has written
 */
export function upgrade(
	file: Collections,
	migrations = MIGRATIONS,
	present = FORMAT_VERSION
): { changes: Change[] } | { tooNew: string } {
	const version = versionOf(file);
	if (version > present)
		return {
			tooNew: `This file has format ${version}; this Witness Mark reads up to format ${present}. Open it with the newer version that wrote it.`
		};
	const changed = new Map<string, Change>();
	let at = file;
	for (let from = version; from < present; from++) {
		const step = migrations.find((m) => m.from === from);
		if (!step) throw new Error(`no migration from format ${from}`);
		const changes = [
			...step.apply(at),
			{
				collection: 'format',
				id: 'main',
				before: at['format']?.['main'] ?? null,
				after: { version: from + 1 }
			}
		];
		at = withChanges(at, changes);
		for (const change of changes) {
			const key = `${change.collection}/${change.id}`;
			changed.set(key, { ...change, before: changed.get(key)?.before ?? change.before });
		}
	}
	return { changes: [...changed.values()] };
}

function versionOf(file: Collections): number {
	const { version } = (file['format']?.['main'] ?? {}) as { version?: unknown };
	return typeof version === 'number' ? version : 1;
}

function withChanges(file: Collections, changes: readonly Change[]): Collections {
	const next: Record<string, Record<string, unknown>> = {};
	for (const [name, records] of Object.entries(file)) next[name] = { ...records };
	for (const { collection, id, after } of changes) {
		const records = (next[collection] ??= {});
		if (after === null) delete records[id];
		else records[id] = after;
	}
	return next;
}
