import katex from 'katex';
import { safeHtml } from './markdown';

/** Pages of docs/methods, bundled at build, by name. */
const PAGES = import.meta.glob<string>('/docs/methods/*.md', {
	query: '?raw',
	import: 'default',
	eager: true
});

/** Figures that stand beside them, made by our own scripts. */
const FIGURES = import.meta.glob<string>('/docs/methods/*.svg', {
	query: '?raw',
	import: 'default',
	eager: true
});

export interface Method {
	name: string;
	title: string;
	/** First paragraph under the title, as text. */
	about: string;
}

const nameOf = (path: string) => path.replace(/^.*\/|\.md$/g, '');
const titleOf = (markdown: string) => /^# (.+)$/m.exec(markdown)?.[1]?.trim() ?? '';

/** The question under 'What it answers', or the first paragraph. */
function aboutOf(markdown: string): string {
	const body = markdown.replace(/^# .+$/m, '').trim();
	const asked = /^## What it answers\s+([\s\S]+?)(?:\n\s*\n|\n#|$)/m.exec(body)?.[1];
	const text = asked ?? body.split(/\n\s*\n/).find((block) => !block.startsWith('#')) ?? '';
	return text
		.replace(/\s+/g, ' ')
		.replace(/\*\*|`/g, '')
		.trim();
}

/** All methods by title. */
export const methods = (): Method[] =>
	Object.entries(PAGES)
		.map(([path, markdown]) => ({
			name: nameOf(path),
			title: titleOf(markdown) || nameOf(path),
			about: aboutOf(markdown)
		}))
		.sort((a, b) => a.title.localeCompare(b.title));

/** One method's page as HTML, its title apart; null where there is none of that name. */
export function methodPage(name: string): { title: string; html: string } | null {
	const markdown = Object.entries(PAGES).find(([path]) => nameOf(path) === name)?.[1];
	if (markdown === undefined) return null;
	const html = withMath(markdown.replace(/^# .+\n?/m, '').replace(FIGURE, '\uE002$1\uE003'));
	return { title: titleOf(markdown) || name, html: html.replace(FENCED_FIGURE, drawn) };
}

/** A figure on a line of its own, fenced while the text is read, as formulas are. */
const FIGURE = /^!\[[^\]]*\]\(([\w-]+)\.svg\)$/gm;
const FENCED_FIGURE = /<p>\uE002([\w-]+)\uE003<\/p>/g;
const drawn = (_: string, name: string) =>
	`<figure class="scroll-x" role="group" aria-label="Figure" tabindex="0">${FIGURES[`/docs/methods/${name}.svg`] ?? ''}</figure>`;

/** Fences a formula while the text around it is read as Markdown; no page of ours holds these two characters. */
const [OPEN, CLOSE] = ['\uE000', '\uE001'];
/** A dollar that opens a formula has no space behind it, one that closes has none before it: '5 $' is a price. */
const CODE_OR_MATH =
	/(```[\s\S]*?```|`[^`\n]*`)|\$\$([\s\S]+?)\$\$|\$(?=\S)((?:[^$\n\\]|\\.|\n(?!\s*\n))+?)(?<=\S)\$(?!\d)/g;

/** Markdown with TeX between dollars, as HTML with MathML: browsers set it themselves, no style is needed. */
export function withMath(markdown: string): string {
	const formulas: string[] = [];
	const fenced = markdown.replace(
		CODE_OR_MATH,
		(whole, code: string | undefined, block: string | undefined, line: string | undefined) => {
			if (code !== undefined) return whole;
			formulas.push(mathml(block ?? line ?? '', block !== undefined));
			return `${OPEN}${formulas.length - 1}${CLOSE}`;
		}
	);
	return movable(sitesLinks(safeHtml(fenced))).replace(
		/\uE000(\d+)\uE001/g,
		(_, i: string) => formulas[Number(i)] ?? ''
	);
}

function mathml(tex: string, displayMode: boolean): string {
	const math = katex.renderToString(tex, { displayMode, output: 'mathml', trust: false, throwOnError: true });
	// A long formula moves sideways on a narrow page, by keyboard too.
	return displayMode
		? `<span class="formula" role="group" aria-label="Formula" tabindex="0">${math}</span>`
		: math;
}

/** What is wider than a narrow page moves inside its own box, by keyboard too. */
const movable = (html: string) =>
	html
		.replace(/<table>/g, '<div class="scroll-x" role="group" aria-label="Table" tabindex="0"><table>')
		.replace(/<\/table>/g, '</table></div>')
		.replace(/<pre>/g, '<pre class="scroll-x" role="group" aria-label="Code" tabindex="0">');

/** Pages name one another as files; here they are addresses. */
const sitesLinks = (html: string) =>
	html.replace(/href="(?:\.\/)?([\w-]+)\.md(#[\w-]*)?"/g, 'href="/methods/$1$2"');
