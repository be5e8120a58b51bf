import type { FileKind } from '$lib/investigation/check';
import { type Version, versionsOf } from '$lib/investigation/views/versions';
import { openStore } from './open-store';
import type { Refusal, Result } from './storage/types';

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
