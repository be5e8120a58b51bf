/** The boundary: anything in, a checked tree out. */
import * as v from 'valibot';
import { checkTree } from './check';
import { treeSchema, type TreeModel } from './model';

export type TreeResult = { ok: true; model: TreeModel } | { ok: false; problems: string[] };

/** Anything in, a checked tree or the list of its faults out, each in words that a person can act on. */
export function parseTree(input: unknown): TreeResult {
	const parsed = v.safeParse(treeSchema, input);
	if (!parsed.success)
		return { ok: false, problems: few(parsed.issues.map((issue) => describe(issue, input))) };
	const problems = checkTree(parsed.output);
	return problems.length > 0 ? { ok: false, problems: few(problems) } : { ok: true, model: parsed.output };
}

/** Nobody reads more at once. */
const MOST_PROBLEMS = 50;
const few = (problems: readonly string[]): string[] =>
	problems.length > MOST_PROBLEMS
		? [...problems.slice(0, MOST_PROBLEMS), `and ${problems.length - MOST_PROBLEMS} more`]
		: [...problems];

function describe(issue: v.BaseIssue<unknown>, input: unknown): string {
	const path = issue.path ?? [];
	const where = path
		.map((step, i) =>
			typeof step.key === 'number' ? `[${step.key}]` : `${i > 0 ? '.' : ''}${String(step.key)}`
		)
		.join('');
	const named = nameOf(path, input);
	const place = where === '' ? 'the tree' : named === undefined ? where : `${where} ('${cut(named)}')`;
	return `${place}: ${wording(issue)}`;
}

function wording(issue: v.BaseIssue<unknown>): string {
	const last = issue.path?.at(-1);
	if (issue.type === 'strict_object' && issue.expected === 'never')
		return `unknown field '${String(last?.key)}'; docs/methods/weighing.md lists the fields`;
	if (issue.received === 'undefined') return 'is missing';
	if (issue.type === 'array')
		return `must be a list [ … ], not ${shown(issue.input)}; an entry is an object with its own "id"`;
	// Messages of our own say what is wrong; the library's own begin with 'Invalid'.
	const said = issue.message.startsWith('Invalid')
		? `expected ${issue.expected ?? issue.type}`
		: issue.message;
	return `${said}, not ${shown(issue.input)}`;
}

function shown(value: unknown): string {
	const written = typeof value === 'number' ? String(value) : (JSON.stringify(value) ?? String(value));
	return cut(written);
}

const cut = (text: string) => (text.length > 60 ? `${text.slice(0, 57)}…` : text);

/** The id of the innermost list entry on the path, so that a person need not count entries. */
function nameOf(path: readonly { key?: unknown; value?: unknown }[], input: unknown): string | undefined {
	let name: string | undefined;
	let value: unknown = input;
	for (const { key } of path) {
		if (typeof value !== 'object' || value === null) break;
		value = (value as Record<PropertyKey, unknown>)[key as PropertyKey];
		const own = (value as { id?: unknown } | null | undefined)?.id;
		if (typeof own === 'string') name = own;
	}
	return name;
}
