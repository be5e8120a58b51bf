import * as v from 'valibot';
import type { AnyCalculation, Field } from '$lib/calculations/calculation';
import type { Figure } from '$lib/calculations/figure';
import { calculationById } from '$lib/calculations/registry';
import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';
import { formatQuantity, formatSi } from '$lib/quantity/format';
import { QuantitySchema } from '$lib/quantity/quantity';

const axis = v.object({
	label: v.string(),
	unit: v.string(),
	min: v.optional(v.number()),
	max: v.optional(v.number())
});
const label = v.string();
const numbers = v.array(v.number());
const points = v.array(v.tuple([v.number(), v.number()]));
const figure = v.object({
	title: v.string(),
	x: axis,
	y: axis,
	layers: v.array(
		v.variant('kind', [
			v.object({ kind: v.literal('band'), label, x: numbers, low: numbers, high: numbers }),
			v.object({ kind: v.literal('line'), label, points, dashed: v.optional(v.boolean()) }),
			v.object({
				kind: v.literal('region'),
				label,
				polygons: v.array(points),
				hatch: v.number(),
				strong: v.optional(v.boolean())
			}),
			v.object({
				kind: v.literal('point'),
				label,
				x: v.number(),
				y: v.number(),
				radius: v.optional(v.number())
			}),
			v.object({
				kind: v.literal('rule'),
				label,
				at: v.number(),
				axis: v.picklist(['x', 'y']),
				halfWidth: v.optional(v.number())
			})
		])
	),
	equalScale: v.optional(v.boolean())
});

/** The figure of a stored result, or null where there is none that can be drawn. */
export function readFigure(result: unknown): Figure | null {
	const read = v.safeParse(v.object({ figure }), result);
	return read.success ? (read.output.figure as Figure) : null;
}

const texts = v.optional(v.array(v.string()), []);
const finite = v.pipe(v.number(), v.finite());

/** What the report prints of a stored result. It is checked on reading: an older version may have kept another form. */
const stored = v.object({
	title: v.string(),
	version: v.number(),
	inputs: v.optional(v.record(v.string(), v.unknown()), {}),
	outputs: v.optional(
		v.record(
			v.string(),
			v.object({
				label: v.string(),
				of: v.optional(v.string()),
				dimension: v.picklist(Object.keys(DIMENSIONS) as Dimension[]),
				unit: v.string(),
				nominal: v.optional(finite),
				median: finite,
				low90: finite,
				high90: finite
			})
		),
		{}
	),
	likelihoods: v.optional(
		v.array(v.object({ label: v.string(), density: finite, standardError: finite, words: v.string() })),
		[]
	),
	statements: texts,
	warnings: texts,
	notes: texts,
	sources: v.optional(v.array(v.object({ text: v.string(), basis: v.string() })), [])
});
export type StoredResult = v.InferOutput<typeof stored>;

/** The stored result, or null where it can't be read. */
export function readResult(result: unknown): StoredResult | null {
	const read = v.safeParse(stored, result);
	return read.success ? read.output : null;
}

export interface PrintedInput {
	/** As sources name it: 'wind.2.speed', rows counted from 1. */
	path: string;
	label: string;
	value: string;
}

/** Each input of a calculation, rows of a list one by one: 'Wind 2: height', '500 m'. */
export function printedInputs(id: string, inputs: StoredResult['inputs']): PrintedInput[] {
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
export function printedOutput(output: StoredResult['outputs'][string]) {
	const { dimension, unit, nominal, median, low90, high90 } = output;
	const show = (si: number) => formatSi(si, dimension, { unit, figures: 3 });
	return {
		label: output.of ? `${output.label}, ${output.of}` : output.label,
		nominal: nominal === undefined ? '' : show(nominal),
		median: show(median),
		interval: `${show(low90)} to ${show(high90)}`
	};
}
