import * as v from 'valibot';
import { type Change, INVESTIGATION, type Investigation, type InvestigationCollection } from '../case';
import { done, refused } from '../outcome';
import { id } from '../schema/common';
import { operation } from './operation';

type RecordIn<C extends InvestigationCollection> = Investigation[C][string];

/** The change that puts a record in place, whether or not one stood there. */
export function put<C extends InvestigationCollection>(
	file: Investigation,
	collection: C,
	recordId: string,
	after: RecordIn<C>
): Change {
	return { collection, id: recordId, before: file[collection][recordId] ?? null, after };
}

export function removal(file: Investigation, collection: InvestigationCollection, recordId: string): Change {
	return { collection, id: recordId, before: file[collection][recordId] ?? null, after: null };
}

export const nextNumber = (records: Readonly<Record<string, { number: number }>>): number =>
	1 + Object.values(records).reduce((most, record) => Math.max(most, record.number), 0);

/**
 * The three plain operations on a collection without rules of its own: add, change, remove.
 * `noun` is how the history speaks of a record: 'an expected value'.
 * `inUse` names what still refers to a record, in words, and so stops its removal.
 * `fault` is a rule that a record must keep beside its schema: a refusal, or null.
 */
export function recordOperations<C extends InvestigationCollection>(
	collection: C,
	prefix: string,
	noun: string,
	inUse: (file: Investigation, recordId: string) => string | null = () => null,
	fault: (
		file: Investigation,
		recordId: string,
		record: RecordIn<C>
	) => ReturnType<typeof refused> | null = () => null
) {
	const schema = INVESTIGATION[collection] as unknown as v.GenericSchema<unknown, RecordIn<C>>;
	return [
		operation<Investigation, v.GenericSchema<unknown, { id?: string | undefined; record: RecordIn<C> }>>({
			name: `${prefix}.add`,
			label: `Added ${noun}`,
			args: v.object({ id: v.optional(id), record: schema }),
			apply: (file, args, { newId }) => {
				const recordId = args.id ?? newId();
				if (file[collection][recordId]) return refused('A record with this identity is there already.');
				return fault(file, recordId, args.record) ?? done([put(file, collection, recordId, args.record)]);
			}
		}),
		operation<Investigation, v.GenericSchema<unknown, { id: string; record: RecordIn<C> }>>({
			name: `${prefix}.change`,
			label: `Changed ${noun}`,
			args: v.object({ id, record: schema }),
			apply: (file, args) =>
				file[collection][args.id]
					? (fault(file, args.id, args.record) ?? done([put(file, collection, args.id, args.record)]))
					: refused('This is no longer there; somebody removed it meanwhile.')
		}),
		operation({
			name: `${prefix}.remove`,
			label: `Removed ${noun}`,
			args: v.object({ id }),
			apply: (file: Investigation, args) => {
				if (!file[collection][args.id]) return refused('This is no longer there.');
				const use = inUse(file, args.id);
				return use ? refused(use) : done([removal(file, collection, args.id)]);
			}
		})
	];
}

/** A singleton is written whole; there is nothing to add or remove. */
export function singletonOperation<C extends 'about' | 'site' | 'weather'>(
	collection: C,
	name: string,
	label: string
) {
	const schema = INVESTIGATION[collection] as unknown as v.GenericSchema<unknown, RecordIn<C>>;
	return operation<Investigation, v.GenericSchema<unknown, { record: RecordIn<C> }>>({
		name,
		label,
		args: v.object({ record: schema }),
		apply: (file, args) => done([put(file, collection, 'main', args.record)])
	});
}
