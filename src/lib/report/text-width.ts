/** Widths of letters as parts of the type size, near enough for wrapping a title; measured on no one font. */
function widthOf(letter: string): number {
	if (/[iljtf.,:;'’!|()[\] ]/.test(letter)) return 0.3;
	if (/[mwMW—%@]/.test(letter)) return 0.86;
	if (/[A-Z0-9]/.test(letter)) return 0.64;
	// Wide scripts fill the square.
	return letter > '\u2e80' ? 1 : 0.54;
}

export const textWidth = (text: string, size: number): number =>
	[...text].reduce((sum, letter) => sum + widthOf(letter), 0) * size;

/**
 * Breaks a title into lines.
 * @param width      room for a line, in the unit of `size`
 * @param lessFirst  by how much the first line is shorter
 * @param most       lines at most; what does not fit ends in an ellipsis
 */
export function wrap(text: string, width: number, size: number, lessFirst: number, most: number): string[] {
	const lines: string[] = [];
	let line = '';
	const room = () => width - (lines.length === 0 ? lessFirst : 0);
	const fits = (text: string) => textWidth(text, size) <= room();
	for (const word of text.split(' ').flatMap((word) => pieces(word, width - lessFirst, size))) {
		const longer = line === '' ? word : `${line} ${word}`;
		if (line === '' || fits(longer)) line = longer;
		else {
			lines.push(line);
			line = word;
		}
	}
	lines.push(line);
	if (lines.length <= most) return lines;
	let last = lines[most - 1]!;
	while (last !== '' && textWidth(`${last}…`, size) > width) last = last.slice(0, -1);
	return [...lines.slice(0, most - 1), `${last.trimEnd()}…`];
}

/** A word longer than a line, cut. */
function pieces(word: string, width: number, size: number): string[] {
	if (textWidth(word, size) <= width) return [word];
	const cut: string[] = [''];
	for (const letter of word) {
		if (textWidth(cut.at(-1)! + letter, size) > width) cut.push('');
		cut[cut.length - 1] += letter;
	}
	return cut;
}
