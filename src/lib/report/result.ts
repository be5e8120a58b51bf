import * as v from 'valibot';
import type { AnyCalculation, Field } from '$lib/calculations/calculation';
import { calculationById } from '$lib/calculations/registry';
import type { Result } from '$lib/investigation/schema/calculation-result';
import { formatQuantity, formatSi } from '$lib/quantity/format';
import { QuantitySchema } from '$lib/quantity/quantity';

export interface PrintedInput {
	/** As sources name it: 'wind.2.speed', rows counted from 1. */
	path: string;
	label: string;
	value: string;
}

/** Each input of a calculation, rows of a list one by one: 'Wind 2: height', '500 m'. */
export function printedInputs(id: string, inputs: Result['inputs']): PrintedInput[] {
	return leaves(calculationById(id)?.inputs ?? [], inputs, '', '');
}

function leaves(
	fields: AnyCalculation['inputs'],
	values: Readonly<Record<string, unknown>>,
	prefix: string,
	path: string
): PrintedInput[] {
	return Object.entries(values).flatMap(([id, value]): PrintedInput[] => {
		const field = fields.find((f) => f.id === id);
		const label = prefix + (field?.label ?? id);
		if (Array.isArray(value))
			return value.flatMap((row: unknown, i) =>
				leaves(
					rowFields(field),
					(row ?? {}) as Record<string, unknown>,
					`${label} ${i + 1}: `,
					`${path}${id}.${i + 1}.`
				)
			);
		if (value === null || value === undefined) return [];
		return [{ path: path + id, label, value: printed(field, value) }];
	});
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
	const { dimension, unit, nominal, median, low90, high90 } = output;
	const show = (si: number) => formatSi(si, dimension, { unit, figures: 3 });
	return {
		label: output.of ? `${output.label}, ${output.of}` : output.label,
		nominal: nominal === undefined ? '' : show(nominal),
		median: show(median),
		interval: `${show(low90)} to ${show(high90)}`
	};
}
