import type { OpenInvestigation } from '../case/open-case.svelte';
import { typedText } from '../ui/quantity-text';
import { FIELDS } from './fields';
import {
	type MomentDraft,
	momentDraft,
	momentSent,
	type PositionDraft,
	positionDraft,
	positionSent
} from './place-and-time';
import type { Investigation } from '$lib/investigation/case';
import type { Problem } from '$lib/investigation/outcome';
import type { Evidence, EvidenceKind } from '$lib/investigation/schema/evidence';
import type { Quantity } from '$lib/quantity/quantity';

/** An item as it stands in a form: everything as typed, so that nothing is lost when it is refused. */
export interface ItemDraft {
	kind: EvidenceKind;
	title: string;
	description: string;
	by: string;
	state: Evidence['state'];
	/** '' until somebody says: what was seen and what was inferred are not told apart by a default. */
	basis: NonNullable<Evidence['basis']> | '';
	/** '' until somebody says, of a test: nothing vouches for one that is only planned. */
	trust: NonNullable<Evidence['trust']> | '';
	trustReason: string;
	attachments: string[];
	parts: string[];
	position: PositionDraft;
	at: MomentDraft;
	/** Fields of the kind, by name. */
	own: Record<string, string>;
	/** Named values of a reading. */
	values: { label: string; value: string }[];
	pieceType: string;
	/** The found piece in a photo; '' for none. */
	shows: string;
	/** The change that a test is to prove; '' for none. */
	proves: string;
}

export function newDraft(kind: EvidenceKind, by: string, file: Investigation): ItemDraft {
	return {
		kind,
		title: '',
		description: '',
		by,
		// A test is done, not found.
		state: kind === 'test' ? 'notKnown' : 'asFound',
		basis: kind === 'statement' ? 'reported' : '',
		trust: kind === 'statement' ? 'moderate' : kind === 'test' ? '' : 'high',
		trustReason: '',
		attachments: [],
		parts: [],
		position: positionDraft(null),
		at: momentDraft(null, file),
		own: Object.fromEntries(FIELDS[kind].map((f) => [f.name, f.as === 'choice' ? f.first : ''])),
		values: [],
		pieceType: '',
		shows: '',
		proves: ''
	};
}

export function draftOf(item: Evidence, file: Investigation): ItemDraft {
	const stored = item as unknown as Record<string, unknown>;
	const own = FIELDS[item.kind].map((field) => {
		const value = stored[field.name];
		const typed =
			field.as === 'quantity'
				? typedText((value as Quantity | null | undefined) ?? null)
				: typeof value === 'string' || typeof value === 'number'
					? String(value)
					: '';
		return [field.name, typed] as const;
	});
	return {
		...newDraft(item.kind, item.by, file),
		title: item.title,
		description: item.description,
		state: item.state,
		basis: item.basis ?? '',
		trust: item.trust ?? '',
		trustReason: item.trustReason,
		attachments: [...item.attachments],
		parts: [...item.parts],
		position: positionDraft(item.position),
		at: momentDraft(item.at, file),
		own: Object.fromEntries(own),
		values:
			item.kind === 'reading'
				? item.values.map(({ label, value }) => ({ label, value: typedText(value) }))
				: [],
		pieceType: item.kind === 'piece' ? item.pieceType : '',
		shows: item.kind === 'photo' ? (item.shows ?? '') : '',
		proves: item.kind === 'test' ? (item.proves ?? '') : ''
	};
}

/** A test without a result: who, when and how far to trust it are asked for with the result. */
export const isPlanned = ({ kind, own }: ItemDraft): boolean =>
	kind === 'test' && `${own['result'] ?? ''}${own['value'] ?? ''}`.trim() === '';

/** The record to send; adds the clock that the draft names first, where it is not listed yet. */
export async function recordOf(
	draft: ItemDraft,
	inv: OpenInvestigation
): Promise<{ ok: true; record: Record<string, unknown> } | { ok: false; problems: Problem[] }> {
	const when = await momentSent(draft.at, inv);
	if (!when.ok) return when;
	const { own, values, pieceType, shows, proves, position, at: _, ...common } = draft;
	const record: Record<string, unknown> = {
		...common,
		...own,
		at: when.at,
		position: positionSent(position, inv.file)
	};
	if (draft.kind === 'reading')
		record['values'] = values.filter((row) => row.label.trim() !== '' || row.value.trim() !== '');
	if (draft.kind === 'piece') record['pieceType'] = pieceType;
	if (draft.kind === 'photo') record['shows'] = shows || null;
	if (draft.kind === 'test' && proves) record['proves'] = proves;
	if (draft.kind === 'test' && own['value']?.trim() === '') record['value'] = null;
	// Nothing is known of a test before it is made.
	if (isPlanned(draft))
		Object.assign(record, { by: '', at: null, basis: null, trust: null, trustReason: '' });
	if (draft.kind === 'test' && own['costMinutes']?.trim() === '') delete record['costMinutes'];
	return { ok: true, record };
}
