/** Bytes a text never holds; tab, line feed, form feed and carriage return it may. */
// eslint-disable-next-line no-control-regex
const BINARY = /[\0-\x08\x0e-\x1a\x1c-\x1f]/;

/** A file's content as text: UTF-8, UTF-16 with its mark, or else Windows-1252; null where it is no text. */
export function asText(bytes: Uint8Array): string | null {
	const utf16 = bytes[0] === 0xff && bytes[1] === 0xfe ? 'utf-16le' : 'utf-16be';
	const marked = utf16 === 'utf-16le' || (bytes[0] === 0xfe && bytes[1] === 0xff);
	const text = decode(bytes, marked ? utf16 : 'utf-8') ?? decode(bytes, 'windows-1252');
	return text === null || BINARY.test(text) || text.startsWith('%PDF-') ? null : text;
}

function decode(bytes: Uint8Array, encoding: string): string | null {
	try {
		return new TextDecoder(encoding, { fatal: true }).decode(bytes);
	} catch {
		return null;
	}
}
