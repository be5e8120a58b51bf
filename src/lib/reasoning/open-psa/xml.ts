/**
 * A strict little reader of XML 1.0 for files from anywhere. It knows elements, attributes, text, comments and CDATA,
 * and on purpose no DTD: only the five named references and numbers are replaced, nothing that a file defines for
 * itself, and nothing outside the text is ever looked at (docs/decisions/dependencies.md).
 */

export interface XmlElement {
	name: string;
	attributes: ReadonlyMap<string, string>;
	children: XmlElement[];
	/** Own text, without that of children. */
	text: string;
	/** Where it begins, counted from 1. */
	line: number;
}

/** What is wrong with a file, and in which line. */
export class Fault extends Error {
	constructor(line: number, message: string) {
		super(`line ${line}: ${message}`);
	}
}

/** Characters of a file, elements within elements, and elements in all that are read at most. */
export const MOST = { characters: 20_000_000, depth: 200, elements: 500_000 };

const NAME = '[\\p{L}_:][\\p{L}\\p{N}\\p{M}_:.\\-]*';
const OPEN = new RegExp(`<(${NAME})`, 'yu');
const CLOSE = new RegExp(`</(${NAME})\\s*>`, 'yu');
const ATTRIBUTE = new RegExp(`\\s+(${NAME})\\s*=\\s*(?:"([^"<]*)"|'([^'<]*)')`, 'yu');
const TAG_END = /\s*(\/?)>/y;
const DOCTYPE = /<!DOCTYPE\s[^[\]<>]*>/y;
// eslint-disable-next-line no-control-regex -- these are the characters that XML forbids
const FORBIDDEN = /[\u0000-\u0008\u000B\u000C\u000E-\u001F\uFFFE\uFFFF]/;
const NAMED: Readonly<Record<string, string>> = { lt: '<', gt: '>', amp: '&', quot: '"', apos: "'" };

/**
 * The root element of a text.
 * @throws {Fault} where it is not well-formed, or larger than is read
 */
export function readXml(text: string): XmlElement {
	if (text.length > MOST.characters)
		throw new Fault(
			1,
			`the file is longer than the ${MOST.characters / 1e6} million characters that are read`
		);
	if (text.includes('\uFFFD'))
		throw new Fault(lineOf(text, text.indexOf('\uFFFD')), 'this is not UTF-8; save the file as UTF-8');
	const odd = FORBIDDEN.exec(text);
	if (odd) throw new Fault(lineOf(text, odd.index), 'a control character stands here, which XML forbids');
	if (!/^\uFEFF?\s*</.test(text)) throw new Fault(1, "this is not XML: XML begins with '<'");
	return new Reader(text).root();
}

const lineOf = (text: string, at: number) => text.slice(0, at).split('\n').length;

class Reader {
	readonly #text: string;
	#at: number;
	#line = 1;
	/** First end of a line that is not counted yet. */
	#newline: number;
	#elements = 0;
	#root: XmlElement | undefined;
	readonly #open: XmlElement[] = [];

	constructor(text: string) {
		this.#text = text;
		this.#at = text.startsWith('\uFEFF') ? 1 : 0;
		this.#newline = this.#newlineFrom(0);
	}

	root(): XmlElement {
		while (this.#at < this.#text.length) this.#next();
		const open = this.#open.at(-1);
		if (open)
			throw this.#fault(
				`the file ends inside <${open.name}>, which began in line ${open.line}; a part of it is missing`
			);
		if (!this.#root) throw this.#fault('the file holds no element');
		return this.#root;
	}

	#next() {
		const rest = (opening: string) => this.#text.startsWith(opening, this.#at);
		if (!rest('<')) return this.#words(this.#upTo('<'));
		if (rest('<!--')) return void this.#past('<!--', '-->', 'comment');
		if (rest('<![CDATA[')) return this.#say(this.#past('<![CDATA[', ']]>', 'CDATA section'));
		if (rest('<?')) return void this.#past('<?', '?>', 'processing instruction');
		if (rest('<!DOCTYPE')) return this.#doctype();
		if (rest('</')) return this.#close();
		this.#element();
	}

	#fault(message: string) {
		return new Fault(this.#here(), message);
	}

	/** Line of the present place; counted on from the last call. */
	#here(): number {
		while (this.#newline < this.#at) {
			this.#line++;
			this.#newline = this.#newlineFrom(this.#newline + 1);
		}
		return this.#line;
	}

	#newlineFrom(at: number): number {
		const found = this.#text.indexOf('\n', at);
		return found === -1 ? Infinity : found;
	}

	#match(pattern: RegExp): RegExpExecArray | null {
		pattern.lastIndex = this.#at;
		const found = pattern.exec(this.#text);
		if (found) this.#at = pattern.lastIndex;
		return found;
	}

	#upTo(end: string): string {
		const found = this.#text.indexOf(end, this.#at);
		const words = this.#text.slice(this.#at, found === -1 ? undefined : found);
		this.#at += words.length;
		return words;
	}

	#past(begin: string, end: string, what: string): string {
		const to = this.#text.indexOf(end, this.#at + begin.length);
		if (to === -1) throw this.#fault(`the file ends inside a ${what}; a part of it is missing`);
		const within = this.#text.slice(this.#at + begin.length, to);
		this.#at = to + end.length;
		return within;
	}

	/** A document type may be named; what one declares, entities above all, is not read. */
	#doctype() {
		if (this.#root || !this.#match(DOCTYPE))
			throw this.#fault(
				'this document type declares things of its own (entities perhaps), which are not read; remove it'
			);
	}

	#words(raw: string) {
		if (raw.includes(']]>')) throw this.#fault("']]>' stands in the text");
		this.#say(this.#replaced(raw));
	}

	#say(words: string) {
		const open = this.#open.at(-1);
		if (open) open.text += words;
		else if (words.trim() !== '')
			throw this.#fault(`'${words.trim().slice(0, 30)}' stands outside of any element`);
	}

	#replaced(raw: string): string {
		return raw.replace(/&([^;&\s]{0,40};)?/g, (_, reference: string | undefined) => {
			const name = reference?.slice(0, -1) ?? '';
			const number = /^#(?:x([0-9a-fA-F]{1,6})|([0-9]{1,7}))$/.exec(name);
			const code = number && parseInt(number[1] ?? number[2]!, number[1] ? 16 : 10);
			const plain = code !== null && code <= 0x10ffff ? String.fromCodePoint(code) : NAMED[name];
			if (plain === undefined || FORBIDDEN.test(plain))
				throw this.#fault(
					reference
						? `'&${reference}' is an entity that is not known here`
						: "a '&' by itself is written &amp;"
				);
			return plain;
		});
	}

	#element() {
		const line = this.#here();
		const name = this.#match(OPEN)?.[1];
		if (name === undefined) throw this.#fault("a '<' by itself is written &lt;");
		const attributes = new Map<string, string>();
		for (let found = this.#match(ATTRIBUTE); found; found = this.#match(ATTRIBUTE)) {
			const [, key = '', double, single] = found;
			if (attributes.has(key)) throw this.#fault(`<${name}> has the attribute '${key}' twice`);
			attributes.set(key, this.#replaced((double ?? single ?? '').replace(/\s/g, ' ')));
		}
		const end = this.#match(TAG_END);
		if (!end) throw this.#unread(name, `the attributes of <${name}> can't be read`);
		if (this.#open.length >= MOST.depth)
			throw this.#fault(`elements stand within one another more than ${MOST.depth} deep`);
		if (++this.#elements > MOST.elements)
			throw this.#fault(`there are more than the ${MOST.elements} elements that are read`);
		const element: XmlElement = { name, attributes, children: [], text: '', line };
		const parent = this.#open.at(-1);
		if (parent) parent.children.push(element);
		else if (this.#root) throw this.#fault(`<${name}> stands after the end of <${this.#root.name}>`);
		else this.#root = element;
		if (end[1] === '') this.#open.push(element);
	}

	#close() {
		const name = this.#match(CLOSE)?.[1];
		const open = this.#open.at(-1);
		if (name === undefined) throw this.#unread(open?.name ?? '/', "the end of an element can't be read");
		if (name !== open?.name)
			throw this.#fault(
				`</${name}> ends ${open ? `<${open.name}>, which began in line ${open.line}` : 'nothing that began'}`
			);
		this.#open.pop();
	}

	/** A tag that can't be read, for the reason given or because the file ends in it. */
	#unread(name: string, message: string) {
		const cut = !this.#text.includes('>', this.#at);
		return this.#fault(cut ? `the file ends inside <${name}>; a part of it is missing` : message);
	}
}
