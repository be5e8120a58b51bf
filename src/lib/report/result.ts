import * as v from 'valibot';
import type { AnyCalculation, Field } from '$lib/calculations/calculation';
import { calculationById } from '$lib/calculations/registry';
import type { Result } from '$lib/investigation/schema/calculation-result';
import { figuresOf, told } from '$lib/calculations/told';
import { formatQuantity } from '$lib/quantity/format';
import { QuantitySchema } from '$lib/quantity/quantity';

export interface PrintedInput {
	/** As sources name it. */
	path: string;
	label: string;
	value: string;
}

/** Rows of one input, such as the wind by height. */
export interface PrintedRows {
	path: string;
	label: string;
	head: string[];
	rows: string[][];
}

/** Each input of a calculation; lists apart, as tables. */
export function printedInputs(
	id: string,
	inputs: Result['inputs']
): { single: PrintedInput[]; lists: PrintedRows[] } {
	const fields = calculationById(id)?.inputs ?? [];
	const single: PrintedInput[] = [];
	const lists: PrintedRows[] = [];
	for (const [path, value] of Object.entries(inputs)) {
		if (value === null || value === undefined) continue;
		const field = fields.find((f) => f.id === path);
		const label = field?.label ?? path;
		if (!Array.isArray(value)) single.push({ path, label, value: printed(field, value) });
		else if (value.length > 0)
			lists.push({ path, label, ...printedRows(rowFields(field), value as Record<string, unknown>[]) });
	}
	return { single, lists };
}

/** Columns that no row fills are left out. */
function printedRows(fields: AnyCalculation['inputs'], rows: readonly Record<string, unknown>[]) {
	const filled = (id: string) => rows.some((row) => row[id] !== null && row[id] !== undefined);
	const columns = [...new Set(rows.flatMap((row) => Object.keys(row)))].filter(filled);
	const fieldOf = (id: string) => fields.find((f) => f.id === id);
	return {
		head: columns.map((id) => fieldOf(id)?.label ?? id),
		rows: rows.map((row) => columns.map((id) => (row[id] == null ? '' : printed(fieldOf(id), row[id]))))
	};
}

const rowFields = (field: Field | undefined) => (field?.kind === 'list' ? field.fields : []);

function printed(field: Field | undefined, value: unknown): string {
	const quantity = v.safeParse(QuantitySchema, value);
	if (quantity.success) return formatQuantity(quantity.output, 'ratio');
	if (field?.kind === 'choice') return field.options.find((o) => o.id === value)?.label ?? String(value);
	return typeof value === 'string' ? value : JSON.stringify(value);
}

/** An output in its own unit: stated value, median, and the interval that holds 90 of 100 samples. */
export function printedOutput(output: Result['outputs'][string]) {
	const { nominal, median } = output;
	const numbers = { ...output, nominal: nominal ?? median };
	const { value, range } = figuresOf(numbers);
	return {
		label: output.of ? `${output.label}, ${output.of}` : output.label,
		nominal: nominal === undefined ? '' : value(nominal),
		median: value(median),
		interval: range,
		/** For a sentence. */
		told: told(numbers)
	};
}
