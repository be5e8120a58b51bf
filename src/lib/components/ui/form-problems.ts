import type { Problem } from '$lib/investigation/outcome';

/** Problems by the form's own field names: the first of each, without the argument that the record travelled in. */
export function formProblems(problems: readonly Problem[]): Record<string, string> {
	const fields: Record<string, string> = {};
	for (const { field, message } of problems) fields[field.replace(/^record\.?/, '')] ??= message;
	return fields;
}
