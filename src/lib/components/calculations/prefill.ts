import type { AnyCalculation, ListField } from '$lib/calculations/calculation';
import type { Investigation } from '$lib/investigation/case';
import type { StoredCalculation } from '$lib/investigation/schema/calculation';
import { valueOf } from '$lib/investigation/views/case-values';
import { listOffer, offersByRole, offersFor, pieceCells, rowOffers } from '$lib/investigation/views/roles';
import {
	blankDraft,
	blankRow,
	type Cell,
	type Draft,
	draftOf,
	isSet,
	isTaken,
	listedPieces,
	listIsTaken,
	takeOffer
} from './draft';

/** Roles that the case fills at once, because it has only one such value. */
const OBVIOUS = new Set([
	'site elevation',
	'site temperature',
	'site pressure',
	'error of the wind speed',
	'error of the wind direction',
	'apogee height',
	'main deployment height',
	'descent rate under drogue',
	'descent rate under main'
]);

/** A new run with everything that the case says without a choice, and the pieces and the part that were named. */
export function prefilled(
	calculation: AnyCalculation,
	file: Investigation,
	rev: number,
	pieces: readonly string[],
	part: string | null = null
): Draft {
	const draft = blankDraft(calculation);
	const observed = calculation.evidence?.observed ?? [];
	for (const [fields, into] of [
		[calculation.inputs, draft.inputs],
		[observed, draft.observed]
	] as const)
		for (const field of fields) {
			if (field.kind === 'list') {
				fillList(field, into.lists[field.id]!, file, rev, pieces);
				continue;
			}
			if (part && field.role === 'what is sought') into.cells[field.id]!.text = file.parts[part]!.name;
			const [first] = offersByRole(file, field);
			const seen = field.role === 'descent time' && fields === observed;
			if (first && field.role && (seen || OBVIOUS.has(field.role))) takeOffer(into.cells, first, rev);
			// The one piece that was named is the one whose place is looked at.
			const place =
				field.role === 'offset from the pad' && pieces.length === 1
					? offersFor(file, field).find(({ cells }) => cells[field.id]?.id === pieces[0])
					: undefined;
			if (place) takeOffer(into.cells, place, rev);
		}
	for (const field of observed)
		// Which readings are of one thing, only a person knows.
		if (field.kind === 'list' && field.role !== 'readings')
			for (const offer of rowOffers(file, field, listedPieces(calculation, draft)))
				addRow(field, draft.observed.lists[field.id]!, offer.cells, rev);
	return draft;
}

type List = Draft['inputs']['lists'][string];

function fillList(field: ListField, list: List, file: Investigation, rev: number, pieces: readonly string[]) {
	const whole = listOffer(file, field);
	if (whole) takeList(field, list, whole, rev);
	else if (field.role === 'pieces' && pieces.length > 0) {
		list.rows = [];
		for (const id of pieces) addRow(field, list, pieceCells(file, id), rev);
		while (list.rows.length < field.min) list.rows.push(blankRow(field.fields));
	}
}

export function takeList(
	field: ListField,
	list: List,
	{ rows, taken }: NonNullable<ReturnType<typeof listOffer>>,
	rev: number
): void {
	list.rows = rows.map((texts) => {
		const row = blankRow(field.fields);
		for (const [id, text] of Object.entries(texts)) row[id] = { text, taken: null };
		return row;
	});
	list.taken = { ...taken, rev };
}

/** Puts what the case offers into the first blank row, or into a new one. */
export function addRow(
	field: ListField,
	list: List,
	cells: Parameters<typeof takeOffer>[1]['cells'],
	rev: number
): void {
	const blank = (row: List['rows'][number]) =>
		field.fields.every((leaf) => !row[leaf.id]?.taken && !isSet(leaf, row[leaf.id]!));
	const empty = list.rows.find(blank);
	const row = empty ?? blankRow(field.fields);
	takeOffer(row, { label: '', cells }, rev);
	if (!empty) list.rows.push(row);
}

/** A stored run with every input that was taken from the case as the case has it now. */
export function refreshed(
	calculation: AnyCalculation,
	run: StoredCalculation,
	file: Investigation,
	rev: number
): Draft {
	const draft = draftOf(calculation, run);
	const renew = (cell: Cell) => {
		if (!cell.taken || !isTaken(cell) || cell.taken.value === 'title') return;
		const now = valueOf(file, cell.taken);
		if (now) Object.assign(cell, { text: now.text, taken: { ...cell.taken, text: now.text, rev } });
	};
	for (const { cells } of draft.scenarios) Object.values(cells).forEach(renew);
	for (const [fields, into] of [
		[calculation.inputs, draft.inputs],
		[calculation.evidence?.observed ?? [], draft.observed]
	] as const)
		for (const field of fields) {
			if (field.kind !== 'list') {
				renew(into.cells[field.id]!);
				continue;
			}
			const list = into.lists[field.id]!;
			const whole = list.taken && listIsTaken(field, list) ? listOffer(file, field) : null;
			if (whole) takeList(field, list, whole, rev);
			else for (const row of list.rows) Object.values(row).forEach(renew);
		}
	return draft;
}
