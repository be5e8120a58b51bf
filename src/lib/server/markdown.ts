import { Marked, type Token, type Tokens } from 'marked';
import sanitizeHtml from 'sanitize-html';

/**
 * Markdown that anybody may have written, as HTML that can neither run nor load anything.
 * Three layers: HTML in the text is shown as text, then only listed tags and links survive, then the page's policy.
 * Pictures are never loaded from their address: `![words](E7)` becomes a link to that item, others their words.
 * Headings inside a quotation are set as strong lines, so that a quoted note can't break the outline around it.
 */
export function safeHtml(markdown: string): string {
	return sanitizeHtml(reader.parse(markdown, { async: false }), POLICY);
}

/** Entities that were written as such stay. */
const escape = (text: string) =>
	text.replace(/[<>"']|&(?!(?:#\d{1,7}|#x[\da-f]{1,6}|[a-z]\w{1,31});)/gi, (c) => `&#${c.codePointAt(0)};`);

const SAFE_LINK = /^(https?:\/\/|mailto:|#|\/(?![/\\]))/i;
const EVIDENCE = /^E\d{1,6}$/;
const quotedHeadings = new WeakSet<Token>();

const reader = new Marked({
	gfm: true,
	walkTokens(token) {
		if (token.type === 'blockquote') markHeadings(token);
	},
	renderer: {
		html: ({ text }) => escape(text),
		// The parser itself passes text behind an unclosed <script> through as it is.
		text(token) {
			return 'tokens' in token && token.tokens ? this.parser.parseInline(token.tokens) : escape(token.text);
		},
		image: ({ href, text }) =>
			EVIDENCE.test(href)
				? `<a href="#${href.toLowerCase()}">${escape(text || href)}</a>`
				: escape(`${text || 'a picture'} (not shown: it lies elsewhere)`),
		link({ href, tokens }) {
			const words = this.parser.parseInline(tokens);
			return SAFE_LINK.test(href) ? `<a href="${escape(href)}">${words}</a>` : words;
		},
		table,
		checkbox: ({ checked }) => (checked ? '☑ ' : '☐ '),
		heading(token) {
			const words = this.parser.parseInline(token.tokens);
			return quotedHeadings.has(token)
				? `<p><strong>${words}</strong></p>\n`
				: `<h${token.depth}>${words}</h${token.depth}>\n`;
		}
	}
});

/** Cells know their column, so that a narrow page can stack them; without column titles the first cell is the row's. */
function table(
	this: { parser: { parseInline(tokens: Token[]): string } },
	{ header, rows }: Tokens.Table
): string {
	const titles = header.map(({ tokens }) => this.parser.parseInline(tokens).replace(/<[^>]*>/g, ''));
	const headed = titles.some((title) => title.trim() !== '');
	const align = (cell: Tokens.TableCell) => (cell.align ? ` align="${cell.align}"` : '');
	const head = header.map(
		(cell) => `<th scope="col"${align(cell)}>${this.parser.parseInline(cell.tokens)}</th>`
	);
	const body = rows.map((row) => {
		const cells = row.map((cell, i) => {
			const words = this.parser.parseInline(cell.tokens);
			if (!headed && i === 0) return `<th scope="row">${words}</th>`;
			return `<td${headed ? ` data-label="${titles[i] ?? ''}"` : ''}${align(cell)}>${words}</td>`;
		});
		return `<tr>${cells.join('')}</tr>`;
	});
	return `<table>${headed ? `<thead><tr>${head.join('')}</tr></thead>` : ''}<tbody>${body.join('')}</tbody></table>\n`;
}

function markHeadings(parent: { tokens?: Token[]; items?: Tokens.ListItem[] }): void {
	for (const token of [...(parent.tokens ?? []), ...(parent.items ?? [])]) {
		if (token.type === 'heading') quotedHeadings.add(token);
		markHeadings(token as Tokens.Generic);
	}
}

const POLICY: sanitizeHtml.IOptions = {
	allowedTags: [
		...['h1', 'h2', 'h3', 'h4', 'h5', 'h6', 'p', 'blockquote', 'ul', 'ol', 'li', 'hr', 'br', 'pre'],
		...['em', 'strong', 'del', 'code', 'a', 'table', 'thead', 'tbody', 'tr', 'th', 'td']
	],
	allowedAttributes: {
		a: ['href', 'rel'],
		th: ['align', 'scope'],
		td: ['align', 'data-label'],
		ol: ['start']
	},
	allowedSchemes: ['http', 'https', 'mailto'],
	allowProtocolRelative: false,
	disallowedTagsMode: 'escape',
	transformTags: {
		a: (tagName, { href = '' }) => ({
			tagName,
			attribs: { ...(SAFE_LINK.test(href) ? { href } : {}), rel: 'noopener noreferrer' }
		})
	}
};
