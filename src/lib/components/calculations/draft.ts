import * as v from 'valibot';
import type {
	AnyCalculation,
	Field,
	LeafField,
	ListField,
	QuantityField
} from '$lib/calculations/calculation';
import type { Request } from '$lib/calculations/run';
import { DEFAULT_SAMPLES } from '$lib/calculations/run';
import { formatQuantity } from '$lib/quantity/format';
import { QuantitySchema } from '$lib/quantity/quantity';
import type { InputSource, StoredCalculation } from '$lib/investigation/schema/calculation';
import { rowsText } from '$lib/investigation/views/case-values';
import type { ListedPiece, Offer, Taken } from '$lib/investigation/views/roles';

/** A value taken from the case, with the revision at which it was read. */
export type TakenAt = Taken & { rev: number };

/** One field as it stands in the form: what is typed, and where it was taken from. */
export interface Cell {
	text: string;
	taken: TakenAt | null;
}
export type Row = Record<string, Cell>;
export interface ListDraft {
	rows: Row[];
	/** Where the whole list was taken from. */
	taken: TakenAt | null;
}
export interface FieldsDraft {
	cells: Record<string, Cell>;
	lists: Record<string, ListDraft>;
}
export interface ScenarioDraft {
	id: string;
	cells: Row;
}

/** A scenario as a result compares it. */
export interface ComparedScenario {
	id: string;
	label: string;
	/** Its free quantities as they were read. */
	parameters: Readonly<Record<string, unknown>>;
}

/** Everything that a person can set on one run. */
export interface Draft {
	inputs: FieldsDraft;
	observed: FieldsDraft;
	/** In order, ending with none of these; [] compares the usual ones. */
	scenarios: ScenarioDraft[];
	/** Nothing is measured yet. */
	planned: boolean;
	seed: number;
	samples: number;
}

const blank = (): Cell => ({ text: '', taken: null });
const startOf = (field: LeafField): Cell =>
	field.kind === 'choice' ? { text: field.default.text, taken: null } : blank();

export const blankRow = (fields: readonly LeafField[]): Row =>
	Object.fromEntries(fields.map((field) => [field.id, startOf(field)]));

function blankFields(fields: readonly Field[]): FieldsDraft {
	const draft: FieldsDraft = { cells: {}, lists: {} };
	for (const field of fields)
		if (field.kind === 'list')
			draft.lists[field.id] = {
				rows: Array.from({ length: field.min }, () => blankRow(field.fields)),
				taken: null
			};
		else draft.cells[field.id] = startOf(field);
	return draft;
}

export const blankDraft = ({ inputs, evidence }: AnyCalculation): Draft => ({
	inputs: blankFields(inputs),
	observed: blankFields(evidence?.observed ?? []),
	scenarios: [],
	planned: false,
	seed: 1,
	samples: DEFAULT_SAMPLES
});

/** A compared scenario as a form shows it: its limits typed out. */
export function comparedDraft(
	{ id, parameters }: ComparedScenario,
	kind: { inputs: readonly QuantityField[] } | undefined
): ScenarioDraft {
	const cells = blankRow(kind?.inputs ?? []);
	for (const { id: input, dimension } of kind?.inputs ?? []) {
		const read = v.safeParse(QuantitySchema, parameters[input]);
		if (!read.success) continue;
		const { text, unit: as } = read.output;
		cells[input] = {
			text: text.trim() || formatQuantity(read.output, dimension, { unit: as }),
			taken: null
		};
	}
	return { id, cells };
}

/** Puts an offer of the case into a row or into the fields of a form. */
export function takeOffer(into: Row, { cells }: Offer, rev: number): void {
	for (const [field, taken] of Object.entries(cells))
		if (into[field]) into[field] = { text: taken.text, taken: { ...taken, rev } };
}

/** True where something was typed, or another option than the usual one chosen. */
export const isSet = (field: LeafField, { text }: Cell) =>
	field.kind === 'choice' ? text !== field.default.text : text.trim() !== '';

function rowValues(fields: readonly LeafField[], row: Row): Record<string, string> {
	return Object.fromEntries(
		fields.flatMap((field) => {
			const cell = row[field.id];
			return cell && isSet(field, cell) ? [[field.id, cell.text]] : [];
		})
	);
}

/** What is typed, by field; what is left blank is left out. */
function valuesOf(fields: readonly Field[], draft: FieldsDraft): Record<string, unknown> {
	const leaves = fields.filter((field) => field.kind !== 'list');
	const values: Record<string, unknown> = rowValues(leaves, draft.cells);
	for (const field of fields) {
		if (field.kind !== 'list') continue;
		const rows = (draft.lists[field.id]?.rows ?? []).map((row) => rowValues(field.fields, row));
		const given = rows.filter((row) => Object.keys(row).length > 0);
		// A blank row between others keeps its place, so that a message finds its row.
		if (given.length > 0) values[field.id] = rows;
	}
	return values;
}

/** What the calculation is asked, as plain data. */
export function requestOf({ inputs, evidence }: AnyCalculation, draft: Draft): Request {
	const observed = valuesOf(evidence?.observed ?? [], draft.observed);
	const compares = Object.keys(observed).length > 0;
	return {
		inputs: valuesOf(inputs, draft.inputs),
		...(compares ? { observed } : {}),
		...(compares && draft.scenarios.length > 0
			? {
					scenarios: draft.scenarios.map(({ id, cells }) => ({
						id,
						...rowValues(evidence?.scenarios.find((s) => s.id === id)?.inputs ?? [], cells)
					}))
				}
			: {}),
		...(draft.planned ? { planned: true } : {}),
		seed: draft.seed,
		samples: draft.samples
	};
}

const rowTexts = (fields: readonly LeafField[], row: Row): Record<string, string> =>
	Object.fromEntries(fields.map(({ id }) => [id, row[id]?.text ?? '']));

/** True while the list is still as the case had it. */
export const listIsTaken = (field: ListField, { rows, taken }: ListDraft): boolean =>
	taken !== null && rowsText(rows.map((row) => rowTexts(field.fields, row))) === taken.text;

/** True while the field still says what the case said. */
export const isTaken = ({ text, taken }: Cell): boolean => taken !== null && text === taken.text;

/** Where each input came from, for those that still stand as they were taken. */
export function sourcesOf(calculation: AnyCalculation, draft: Draft): InputSource[] {
	const { inputs, evidence } = calculation;
	const compared = requestOf(calculation, draft).scenarios === undefined ? [] : draft.scenarios;
	return [
		...sourcesIn(inputs, draft.inputs, ''),
		...sourcesIn(evidence?.observed ?? [], draft.observed, 'observed.'),
		...compared.flatMap(({ id, cells }, i) =>
			sourcesIn(
				evidence?.scenarios.find((kind) => kind.id === id)?.inputs ?? [],
				{ cells, lists: {} },
				`scenarios.${i + 1}.`
			)
		)
	];
}

function sourcesIn(fields: readonly Field[], draft: FieldsDraft, prefix: string): InputSource[] {
	const source = (input: string, { collection, id, value, text, rev }: TakenAt): InputSource => ({
		input: prefix + input,
		collection,
		id,
		value,
		text,
		rev
	});
	const ofRow = (leaves: readonly LeafField[], row: Row, path: string) =>
		leaves.flatMap(({ id }) => {
			const cell = row[id];
			return cell?.taken && isTaken(cell) ? [source(path + id, cell.taken)] : [];
		});
	return fields.flatMap((field) => {
		if (field.kind !== 'list') return ofRow([field], draft.cells, '');
		const list = draft.lists[field.id];
		if (!list) return [];
		if (list.taken && listIsTaken(field, list)) return [source(field.id, list.taken)];
		return list.rows.flatMap((row, i) => ofRow(field.fields, row, `${field.id}.${i + 1}.`));
	});
}

/** A stored run as a draft, to change and to compute again. */
export function draftOf(calculation: AnyCalculation, run: StoredCalculation): Draft {
	const taken = new Map(
		run.sources.map(({ input, ...from }) => [input, { ...from, collection: from.collection } as TakenAt])
	);
	const draft = blankDraft(calculation);
	fill(calculation.inputs, run.inputs, draft.inputs, '', taken);
	fill(calculation.evidence?.observed ?? [], run.observed, draft.observed, 'observed.', taken);
	draft.scenarios = run.scenarios.flatMap(({ id, ...given }, i) => {
		const kind = calculation.evidence?.scenarios.find((s) => s.id === id);
		return kind ? [{ id: kind.id, cells: filledRow(kind.inputs, given, `scenarios.${i + 1}.`, taken) }] : [];
	});
	return { ...draft, planned: run.planned === true, seed: run.seed, samples: run.samples };
}

type Given = Readonly<Record<string, unknown>>;

function filledRow(
	fields: readonly LeafField[],
	given: Given,
	path: string,
	taken: ReadonlyMap<string, TakenAt>
): Row {
	const row = blankRow(fields);
	for (const { id } of fields) {
		const value = given[id];
		if (typeof value === 'string') row[id] = { text: value, taken: taken.get(path + id) ?? null };
	}
	return row;
}

function fill(
	fields: readonly Field[],
	given: Given,
	into: FieldsDraft,
	prefix: string,
	taken: ReadonlyMap<string, TakenAt>
): void {
	for (const field of fields) {
		const path = prefix + field.id;
		if (field.kind !== 'list') {
			Object.assign(into.cells, filledRow([field], given, prefix, taken));
			continue;
		}
		const rows = given[field.id];
		if (Array.isArray(rows))
			into.lists[field.id] = {
				rows: rows.map((row, i) => filledRow(field.fields, (row ?? {}) as Given, `${path}.${i + 1}.`, taken)),
				taken: taken.get(path) ?? null
			};
	}
}

/** What the rows of a list are called in answers: by their name, else by their number. */
export function rowNames({ inputs }: AnyCalculation, draft: Draft, list: string): string[] {
	const field = inputs.find(({ id }) => id === list);
	if (field?.kind !== 'list') return [];
	return (draft.inputs.lists[list]?.rows ?? []).map(
		({ name }, i) => name?.text.trim() || `${field.item} ${i + 1}`
	);
}

/** The pieces in the form, and which items of evidence they are. */
export function listedPieces({ inputs }: AnyCalculation, draft: Draft): ListedPiece[] {
	const list = inputs.find((field) => field.kind === 'list' && field.role === 'pieces');
	return (list ? (draft.inputs.lists[list.id]?.rows ?? []) : []).map(({ name }, i) => ({
		name: name?.text.trim() || `piece ${i + 1}`,
		evidence: name?.taken?.collection === 'evidence' ? name.taken.id : null
	}));
}
