import { shownQuantity } from '../ui/quantity-text';
import { minutes } from '../anomaly/words';
import { choiceWords, commonWords, FIELDS } from './fields';
import { momentWords, positionWords } from './words';
import type { Investigation } from '$lib/investigation/case';
import { hasResult } from '$lib/investigation/views/predictions';
import type { Evidence } from '$lib/investigation/schema/evidence';
import type { Moment, Position } from '$lib/investigation/schema/places-and-times';
import type { Quantity } from '$lib/quantity/quantity';

export interface Fact {
	field: string;
	label: string;
	value: string;
	/** Several lines, shown as written. */
	long: boolean;
}

const LABELS: Record<string, string> = {
	title: 'What it is',
	description: 'Notes',
	by: 'By',
	at: 'When',
	position: 'Where',
	state: 'State',
	basis: 'This is',
	trust: 'Trust',
	trustReason: 'Why no more trust',
	attachments: 'Files',
	parts: 'Parts',
	withdrawn: 'Withdrawn',
	values: 'Values',
	shows: 'Found piece in it',
	proves: 'Change that it is to prove',
	pieceType: 'Tumbling piece of the table'
};

/** Label of a field of an item, for facts and for what changed. */
export const labelOf = (kind: Evidence['kind'], field: string) =>
	FIELDS[kind].find((f) => f.name === field)?.label ?? LABELS[field] ?? field;

/** A stored value of an item, in words; '' where nothing is said. */
export function valueWords(
	kind: Evidence['kind'],
	field: string,
	value: unknown,
	file: Investigation
): string {
	if (value === null || value === undefined || value === '') return '';
	const own = FIELDS[kind].find((f) => f.name === field);
	if (own?.as === 'choice') return choiceWords(own, value);
	if (own?.as === 'quantity') return shownQuantity(value as Quantity);
	switch (field) {
		case 'costMinutes':
			return minutes(value as number);
		case 'detection':
			return `${Math.round((value as number) * 1000) / 10}\u202F%`;
		case 'at':
			return momentWords(value as Moment, file);
		case 'position':
			return positionWords(value as Position, file);
		case 'state':
		case 'basis':
		case 'trust':
			return commonWords({ state: 'asFound', basis: 'observed', trust: 'high', [field]: value } as Evidence)[
				field
			];
		case 'shows': {
			const piece = file.evidence[value as string];
			return piece ? `E${piece.number} ${piece.title}` : '';
		}
		case 'attachments':
			return (value as string[]).map((id) => file.attachments[id]?.name ?? id).join(', ');
		case 'parts':
			return (value as string[]).map((id) => file.parts[id]?.name ?? id).join(', ');
		case 'values':
			return (value as { label: string; value: Quantity }[])
				.map((row) => `${row.label}: ${shownQuantity(row.value)}`)
				.join('\n');
		case 'withdrawn':
			return (value as { reason: string }).reason;
		default:
			return typeof value === 'string' || typeof value === 'number' ? String(value) : '';
	}
}

const ELSEWHERE = new Set(['kind', 'number', 'title', 'attachments', 'withdrawn', 'parts']);

/** Of a test, what is known once it was made. */
const OF_RESULT = new Set(['by', 'at', 'state', 'basis', 'trust', 'trustReason']);

/** What the sheet shows of an item: what the kind asks first, then place, time, and how far it can be trusted. */
export function factsOf(item: Evidence, file: Investigation): Fact[] {
	const order = [
		...FIELDS[item.kind].map((f) => f.name),
		'values',
		'position',
		'at',
		'by',
		'state',
		'basis',
		'trust',
		'trustReason',
		'description'
	];
	const stored = item as unknown as Record<string, unknown>;
	const planned = item.kind === 'test' && !hasResult(item);
	return order
		.filter((field) => field in stored && !ELSEWHERE.has(field) && !(planned && OF_RESULT.has(field)))
		.map((field) => {
			const value = valueWords(item.kind, field, stored[field], file);
			return {
				field,
				label: labelOf(item.kind, field),
				value,
				long: value.length > 90 || value.includes('\n')
			};
		})
		.filter((fact) => fact.value !== '');
}
