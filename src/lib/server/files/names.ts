const MAX_CHARACTERS = 200;
/** Control characters, and those that turn the reading direction or take no room: a name could lie with them. */

const INVISIBLE = /[\p{Cc}\u061c\u200b\u200e\u200f\u2028-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb]/gu;

/** A file's own name as data: the last part of a path, normalised, at most 200 characters, its ending kept. */
export function cleanName(name: string): string {
	const last = name.normalize('NFC').replace(INVISIBLE, '').split(/[/\\]/).pop()!.trim().toWellFormed();
	const characters = [...last];
	if (characters.length === 0 || /^\.+$/.test(last)) return 'unnamed';
	if (characters.length <= MAX_CHARACTERS) return last;
	const ending = /\.[^.]{1,12}$/.exec(last)?.[0] ?? '';
	return characters.slice(0, MAX_CHARACTERS - 1 - [...ending].length).join('') + '…' + ending;
}

/** A title as the name of a file: without the characters of markup and paths, which systems refuse or strip. */
export const nameFromTitle = (title: string): string =>
	title
		.replace(/[<>/\\]+/g, ' ')
		.replace(/\s+(?=[\s,.;:]|$)/g, '')
		.trim() || 'untitled';

/** Header value that makes a browser save a file under its name instead of showing it (RFC 6266, RFC 8187). */
export function asDownload(name: string): string {
	const encoded = encodeURIComponent(cleanName(name)).replace(
		/['()*]/g,
		(c) => `%${c.charCodeAt(0).toString(16).toUpperCase()}`
	);
	return `attachment; filename*=UTF-8''${encoded}`;
}
