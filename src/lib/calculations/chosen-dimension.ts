import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';
import type { AnyCalculation, Field, LeafField } from './calculation';

interface Dimensioned {
	dimension: Dimension;
	unit: string;
	dimensionOf?: string;
	difference?: true;
}

/** A calculation of values of any kind, with the dimension that these inputs choose filled in everywhere. */
export function inChosenDimension(
	c: AnyCalculation,
	inputs: Readonly<Record<string, unknown>>
): AnyCalculation {
	const chosen = (id: string) => {
		const field = c.inputs.find((f) => f.id === id);
		if (field?.kind !== 'choice') throw new Error(`${c.id}: ${id} is no choice`);
		const option = field.options.find((o) => o.id === inputs[id]);
		return (option?.id ?? field.default.text) as Dimension;
	};
	const fill = <T extends Dimensioned>(t: T): T => {
		if (t.dimensionOf === undefined) return t;
		const named = chosen(t.dimensionOf);
		const dimension = t.difference && named === 'temperature' ? 'temperature difference' : named;
		return { ...t, dimension, unit: DIMENSIONS[dimension].metric };
	};
	const leaf = (f: LeafField): LeafField => (f.kind === 'quantity' ? fill(f) : f);
	const field = (f: Field): Field => (f.kind === 'list' ? { ...f, fields: f.fields.map(leaf) } : leaf(f));
	if (!c.outputs.some((o) => o.dimensionOf !== undefined)) return c;
	return {
		...c,
		inputs: c.inputs.map(field),
		outputs: c.outputs.map(fill),
		...(c.evidence ? { evidence: { ...c.evidence, observed: c.evidence.observed.map(field) } } : {})
	};
}
