/**
 * XML from anywhere, read by `saxes`: strictly, with every fault at its line. What a document type declares, entities
 * above all, is refused, and nothing outside the text is ever looked at.
 */
import { SaxesParser } from 'saxes';

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
	const odd = text.indexOf('\uFFFD');
	if (odd >= 0) throw new Fault(lineOf(text, odd), 'this is not UTF-8; save the file as UTF-8');
	if (!/^\uFEFF?\s*</.test(text)) throw new Fault(1, "this is not XML: XML begins with '<'");

	const parser = new SaxesParser();
	const open: XmlElement[] = [];
	let root: XmlElement | undefined;
	let begun = { name: '', line: 1 };
	let closed: XmlElement | undefined;
	let elements = 0;
	let ended = false;
	const fault = (message: string) => new Fault(parser.line, message);
	const say = (words: string) => {
		const here = open.at(-1);
		if (here) here.text += words;
	};
	parser.on('error', ({ message }) => {
		if (!ended) throw fault(inOurWords(message.replace(/^\d+:\d+: /, ''), closed));
		// One that opens a reference takes all that follows for its name.
		const bare = text.search(/&(?![A-Za-z#]\w*;)/);
		if (bare >= 0) throw new Fault(lineOf(text, bare), BARE);
		const here = open.at(-1);
		const inside = here && here.line >= begun.line ? here : begun;
		throw fault(
			`the file ends inside <${inside.name}>, which began in line ${inside.line}; a part of it is missing`
		);
	});
	parser.on('doctype', (declared) => {
		if (declared.includes('['))
			throw fault(
				'this document type declares things of its own (entities perhaps), which are not read; remove it'
			);
	});
	parser.on('opentagstart', ({ name }) => (begun = { name, line: parser.line }));
	parser.on('opentag', ({ name, attributes }) => {
		if (open.length >= MOST.depth)
			throw fault(`elements stand within one another more than ${MOST.depth} deep`);
		if (++elements > MOST.elements)
			throw fault(`there are more than the ${MOST.elements} elements that are read`);
		const element: XmlElement = {
			name,
			attributes: new Map(Object.entries(attributes)),
			children: [],
			text: '',
			line: begun.line
		};
		open.at(-1)?.children.push(element);
		root ??= element;
		open.push(element);
	});
	parser.on('text', say);
	parser.on('cdata', say);
	parser.on('closetag', () => (closed = open.pop()));
	parser.write(text);
	ended = true;
	parser.close();
	if (!root) throw fault('the file holds no element');
	return root;
}

const lineOf = (text: string, at: number) => text.slice(0, at).split('\n').length;

const BARE = "a '&' by itself is written &amp;";

/** What the reader says, where people know it by another name. @param closed the element that it has just closed */
function inOurWords(message: string, closed: XmlElement | undefined): string {
	const attribute = /^duplicate attribute: (.+)\.$/.exec(message)?.[1];
	if (attribute) return `an element has the attribute '${attribute}' twice`;
	if (message === 'unexpected close tag.' && closed)
		return `an element ends here that is not <${closed.name}>, which began in line ${closed.line} and has not ended`;
	if (/entity/.test(message)) return `an entity stands here that is not known; ${BARE}`;
	if (message === 'disallowed character.') return 'a control character stands here, which XML forbids';
	return `this is not well-formed XML: ${message.replace(/\.$/, '')}`;
}
