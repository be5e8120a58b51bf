import * as v from 'valibot';
import type { Figure } from '$lib/calculations/figure';
import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';

const finite = v.pipe(v.number(), v.finite());
const texts = v.optional(v.array(v.string()), []);
const point = v.tuple([finite, finite]);
const axis = v.object({
	label: v.string(),
	unit: v.string(),
	min: v.optional(finite),
	max: v.optional(finite)
});

const plot = v.object({
	title: v.string(),
	x: axis,
	y: axis,
	equalScale: v.optional(v.boolean()),
	layers: v.array(
		v.variant('kind', [
			v.object({
				kind: v.literal('band'),
				label: v.string(),
				x: v.array(finite),
				low: v.array(finite),
				high: v.array(finite)
			}),
			v.object({
				kind: v.literal('line'),
				label: v.string(),
				points: v.array(point),
				dashed: v.optional(v.boolean())
			}),
			v.object({
				kind: v.literal('region'),
				label: v.string(),
				polygons: v.array(v.array(point)),
				hatch: finite,
				strong: v.optional(v.boolean()),
				only: v.optional(v.picklist(['dashed', 'dotted']))
			}),
			v.object({
				kind: v.literal('point'),
				label: v.string(),
				x: finite,
				y: finite,
				radius: v.optional(finite)
			}),
			v.object({
				kind: v.literal('rule'),
				label: v.string(),
				at: finite,
				axis: v.picklist(['x', 'y']),
				halfWidth: v.optional(finite)
			}),
			v.object({
				kind: v.literal('chain'),
				label: v.string(),
				links: v.array(
					v.object({
						label: v.string(),
						unknown: v.optional(v.literal(true)),
						note: v.optional(v.string()),
						value: finite,
						low: v.optional(finite),
						high: v.optional(finite)
					})
				)
			}),
			v.object({
				kind: v.literal('rows'),
				label: v.string(),
				rows: v.array(
					v.object({
						label: v.string(),
						unknown: v.optional(v.literal(true)),
						note: v.optional(v.string()),
						value: finite,
						low: v.optional(finite),
						high: v.optional(finite),
						before: v.optional(finite)
					})
				)
			})
		])
	)
});

const figure = v.object({ ...plot.entries, below: v.optional(plot) });

const output = v.object({
	label: v.string(),
	of: v.optional(v.string()),
	dimension: v.picklist(Object.keys(DIMENSIONS) as Dimension[]),
	unit: v.string(),
	nominal: v.optional(finite),
	median: finite,
	low90: finite,
	high90: finite
});

const sensitivity = v.object({
	output: v.string(),
	of: v.optional(v.string()),
	ranked: v.array(v.object({ path: v.string(), label: v.string(), correlation: finite }))
});

const scenario = v.object({
	id: v.string(),
	label: v.string(),
	parameters: v.optional(v.record(v.string(), v.unknown()), {}),
	density: v.pipe(finite, v.minValue(0)),
	standardError: v.pipe(finite, v.minValue(0)),
	words: v.string(),
	distribution: v.optional(v.string())
});

/** What pages, tree and report need of a result. It is checked on reading: an older version may have kept another form. */
const result = v.object({
	calculation: v.optional(v.string(), ''),
	title: v.string(),
	version: v.number(),
	inputs: v.optional(v.record(v.string(), v.unknown()), {}),
	outputs: v.optional(v.record(v.string(), output), {}),
	sensitivity: v.optional(v.array(sensitivity), []),
	likelihoods: v.optional(v.array(scenario), []),
	/** Of a planned run: what might be measured, by the scenario under which it was drawn. */
	expected: v.optional(
		v.array(v.object({ from: v.pipe(v.number(), v.integer(), v.minValue(0)), likelihood: v.array(finite) }))
	),
	statements: texts,
	warnings: texts,
	notes: texts,
	cautions: texts,
	sources: v.optional(v.array(v.object({ text: v.string(), basis: v.string() })), []),
	figure: v.optional(
		v.pipe(
			figure,
			v.transform((read) => read as Figure)
		)
	)
});
export type Result = v.InferOutput<typeof result>;

/** A stored result, or null where it can't be read. */
export function readResult(stored: unknown): Result | null {
	const read = v.safeParse(result, stored);
	return read.success ? read.output : null;
}
