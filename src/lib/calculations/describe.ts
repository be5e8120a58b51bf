import { fromSi } from '$lib/quantity/quantity';
import type { AnyCalculation, QuantityField } from './calculation';

/** A calculation's description as plain data: all that a form, a methods page or a script needs. */
export function describe(c: AnyCalculation) {
	const { id, title, question, version, inputs, outputs, sources, docs, cautions = [], evidence } = c;
	return {
		id,
		title,
		question,
		version,
		inputs: inputs.map(plain),
		outputs,
		...(evidence
			? {
					observed: evidence.observed.map(plain),
					scenarios: evidence.scenarios.map((s) => ({
						id: s.id,
						label: s.label,
						help: s.help,
						inputs: s.inputs.map(plain),
						...(s.distribution ? { distribution: s.distribution } : {})
					}))
				}
			: {}),
		cautions,
		sources,
		docs
	};
}
export type Description = ReturnType<typeof describe>;

/** Every field says outright whether it must be given, and its range in its own unit. */
function plain<F extends AnyCalculation['inputs'][number]>(field: F): F & { required: boolean } {
	const required =
		field.kind === 'list' ? field.min > 0 : field.kind === 'quantity' && field.required === true;
	return {
		...field,
		required,
		...(field.kind === 'quantity' && field.range ? { range: inItsUnit(field) } : {}),
		...(field.kind === 'list' ? { fields: field.fields.map(plain) } : {})
	};
}

/** Bounds in the unit that stands beside them. Their twelve digits hide what converting them adds. */
const inItsUnit = ({ range, unit, dimension }: QuantityField) =>
	Object.fromEntries(
		Object.entries(range!).map(([bound, si]) => [bound, Number(fromSi(si, unit, dimension).toPrecision(12))])
	);
