import type { Change, ConflictRecord, HistoryLine, Records, Result } from './types';
import { recordOf, sameValue } from './values';

/**
 * The changes that take one line back, newest record first; refused with both versions where a record is no
 * longer as that line left it. A baseline line (a repair) cannot be undone.
 */
export function inverseOf(line: HistoryLine, present: Records): Result<Change[], ConflictRecord[]> {
	const moved = line.changes.filter((c) => !sameValue(recordOf(present, c.collection, c.id), c.after));
	if (moved.length > 0 || line.baseline) {
		const records = (line.baseline ? line.changes : moved).map(({ collection, id, after }) => ({
			collection,
			id,
			base: after,
			present: recordOf(present, collection, id)
		}));
		return { ok: false, error: records };
	}
	const changes = line.changes.map(({ collection, id, before, after }) => ({
		collection,
		id,
		before: after,
		after: before
	}));
	return { ok: true, value: changes.reverse() };
}
