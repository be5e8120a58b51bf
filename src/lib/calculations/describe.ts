import type { AnyCalculation } from './calculation';

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

/** Every field says outright whether it must be given. */
function plain<F extends AnyCalculation['inputs'][number]>(field: F): F & { required: boolean } {
	const required =
		field.kind === 'list' ? field.min > 0 : field.kind === 'quantity' && field.required === true;
	return { ...field, required, ...(field.kind === 'list' ? { fields: field.fields.map(plain) } : {}) };
}
