import * as v from 'valibot';
import {
	type Change,
	INVESTIGATION,
	type Investigation,
	type InvestigationCollection,
	VEHICLE
} from './case';
import { problemsOf } from './operations/operation';
import { referencesOf } from './references';

const schemasOf = (kind: FileKind): Readonly<Record<string, v.GenericSchema>> =>
	kind === 'investigations' ? INVESTIGATION : VEHICLE;

/** The two kinds of file; also the names of their folders. */
export type FileKind = 'investigations' | 'vehicles';

/**
 * Faults of the changed records: each must fit its schema, and what it names must be there.
 * Costs what the change costs, not what the case holds.
 * @param after  collections by name, with the changes already in
 */
export function checkChanges(
	kind: FileKind,
	changes: readonly Pick<Change, 'collection' | 'id' | 'after'>[],
	after: Readonly<Record<string, Readonly<Record<string, unknown>>>>
): string[] {
	return changes.flatMap(({ collection, id, after: record }) =>
		record === null ? [] : checkRecord(kind, collection, id, record, after)
	);
}

/** Faults of a whole file, on opening and on import: the changed records are all of them. */
export function checkWhole(
	kind: FileKind,
	file: Readonly<Record<string, Readonly<Record<string, unknown>>>>
): string[] {
	return Object.entries(file).flatMap(([collection, records]) =>
		Object.entries(records).flatMap(([id, record]) => checkRecord(kind, collection, id, record, file))
	);
}

function checkRecord(
	kind: FileKind,
	collection: string,
	id: string,
	record: unknown,
	file: Readonly<Record<string, Readonly<Record<string, unknown>>>>
): string[] {
	const schema = schemasOf(kind)[collection];
	if (!schema) return [`"${collection}" is not a collection of this kind of file.`];
	const read = v.safeParse(schema, record);
	if (!read.success)
		return problemsOf(read.issues).map(
			({ field, message }) => `${collection}/${id}${field && `, ${field}`}: ${message}`
		);
	if (kind !== 'investigations') return [];
	return referencesOf(collection as InvestigationCollection, record)
		.filter((reference) => !file[reference.collection]?.[reference.id])
		.map((missing) => `${collection}/${id} names ${missing.collection}/${missing.id}, which is not there.`);
}

/** SHA-256 of the files that these changes bring in. */
export function filesNamed(changes: readonly Pick<Change, 'collection' | 'after'>[]): string[] {
	return changes.flatMap(({ collection, after }) =>
		collection === 'attachments' && after !== null
			? [(after as Investigation['attachments'][string]).sha256]
			: []
	);
}
