/** One line of the history as far as it concerns one record. */
export interface Version {
	rev: number;
	/** ISO 8601, UTC. */
	time: string;
	who: string;
	/** Name of the operation. */
	operation: string;
	/** Why, where the operation asked. */
	reason: string;
	/** The record as it stood after the line; null where it was taken away. */
	record: Readonly<Record<string, unknown>> | null;
	/** Fields that the line changed, with what stood there before. Empty on the first line. */
	changed: { field: string; before: unknown; after: unknown }[];
}

/** A line of the history, as far as reading it goes. */
export interface Line {
	rev: number;
	time: string;
	who: string;
	operation: string;
	args: unknown;
	changes: readonly { collection: string; id: string; before: unknown; after: unknown }[];
}

/** Every version of one record, oldest first, from the lines of the history. */
export function versionsOf(lines: readonly Line[], collection: string, id: string): Version[] {
	return lines.flatMap(({ rev, time, who, operation, args, changes }) => {
		const change = changes.find((c) => c.collection === collection && c.id === id);
		if (!change) return [];
		const before = change.before as Version['record'];
		const record = change.after as Version['record'];
		const reason = (args as { reason?: unknown } | null)?.reason;
		return [
			{
				rev,
				time,
				who,
				operation,
				reason: typeof reason === 'string' ? reason.trim() : '',
				record,
				changed: before && record ? difference(before, record) : []
			}
		];
	});
}

function difference(
	before: Readonly<Record<string, unknown>>,
	after: Readonly<Record<string, unknown>>
): Version['changed'] {
	const fields = [...new Set([...Object.keys(before), ...Object.keys(after)])];
	return fields
		.filter((field) => JSON.stringify(before[field]) !== JSON.stringify(after[field]))
		.map((field) => ({ field, before: before[field], after: after[field] }));
}
