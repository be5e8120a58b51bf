/**
 * Writing Markdown from a case. Text that people typed is always escaped (one line) or set as a quotation (many
 * lines, Markdown kept), so that it can't change the outline around it.
 */

/** Two private-use characters fence what the page puts in after sanitising; no text of a person can hold them. */
const OPEN = '\uE000';
const CLOSE = '\uE001';
export const INSERT = /(<p>)?\uE000([\w:.-]+)\uE001(<\/p>)?/g;
const PRIVATE_USE = /[\uE000-\uF8FF]/g;

/** A place that the page fills: 'figure:plan', 'picture:<id>'. */
export const insert = (name: string) => `${OPEN}${name}${CLOSE}`;
/** A place that links can name. */
export const anchor = (name: string) => insert(`at:${name}`);

/** Thin spaces between number and unit stay. */
const flat = (text: string) =>
	text
		.replace(PRIVATE_USE, '')
		.replace(/[\t\n\r\f ]+/g, ' ')
		.trim();

/** One line of somebody's text, all of it literal. */
export const literal = (text: string): string => flat(text).replace(/[\\`*_{}[\]<>#+\-.!|~&:@^$=]/g, '\\$&');

/** Somebody's longer text as a quotation; its Markdown is kept, its fences and headings end with it. */
export const quote = (text: string): string =>
	text
		.replace(PRIVATE_USE, '')
		.split(/\r?\n/)
		.map((row) => `> ${row}`)
		.join('\n');

/** Columns that begin with '>' are numbers and stand at the right. */
export function table(head: readonly string[], rows: readonly (readonly string[])[]): string {
	const line = (cells: readonly string[]) => `| ${cells.map((cell) => cell || ' ').join(' | ')} |`;
	return [
		line(head.map((cell) => cell.replace(/^>/, ''))),
		`|${head.map((cell) => (cell.startsWith('>') ? '---:' : '---')).join('|')}|`,
		...rows.map(line)
	].join('\n');
}

/** Facts as a two-column list; rows without a value are left out. */
export const facts = (
	rows: readonly (readonly [label: string, value: string | null | undefined])[]
): string =>
	table(
		['', ''],
		rows.flatMap(([label, value]) => (value ? [[label, value]] : []))
	);

/** Blocks with a blank line between them; what is empty leaves no gap. */
export const blocks = (...parts: readonly (string | false | null | undefined)[]): string =>
	parts.filter((part) => typeof part === 'string' && part !== '').join('\n\n');

export const list = (items: readonly string[]): string => items.map((item) => `- ${item}`).join('\n');

/** Markdown as plain words, for where a line has room for no more. */
export const plainWords = (markdown: string): string =>
	markdown
		.replace(/!?\[([^\]]*)\]\([^)]*\)/g, '$1')
		.replace(/(^|[^\p{L}\p{N}])(\*{1,3}|_{1,3}|`{1,3}|~~)(?=\S)([^\n]*?\S)\2(?![\p{L}\p{N}])/gu, '$1$3')
		.replace(/^\s*(#{1,6}|>|[-*+]|\d+[.)])\s+/gm, '');

/** 'a', 'a and b', 'a, b and c'. */
export const sentenceList = (items: readonly string[]): string =>
	items.length < 2 ? items.join('') : `${items.slice(0, -1).join(', ')} and ${items.at(-1)}`;

export const count = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
