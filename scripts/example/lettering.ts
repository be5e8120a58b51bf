/**
 * Drafting letters as strokes, so that the pictures are the same on a machine with other fonts. Each glyph is a list of
 * polylines; a point is two digits, x 0 to 4 and y 0 (cap height) to 6 (baseline).
 */
const GLYPHS: Readonly<Record<string, string>> = {
	A: '06,20,46 14,34',
	B: '00,06,36,45,44,33,03 33,42,41,30,00',
	C: '41,30,10,01,05,16,36,45',
	D: '00,06,26,45,41,20,00',
	E: '40,00,06,46 03,33',
	F: '40,00,06 03,33',
	G: '41,30,10,01,05,16,36,45,43,23',
	H: '00,06 40,46 03,43',
	I: '20,26',
	J: '40,45,36,16,05',
	K: '00,06 40,03,46',
	L: '00,06,46',
	M: '06,00,23,40,46',
	N: '06,00,46,40',
	O: '10,01,05,16,36,45,41,30,10',
	P: '06,00,30,41,42,33,03',
	Q: '10,01,05,16,36,45,41,30,10 24,46',
	R: '06,00,30,41,42,33,03 23,46',
	S: '41,30,10,01,02,13,33,44,45,36,16,05',
	T: '00,40 20,26',
	U: '00,05,16,36,45,40',
	V: '00,26,40',
	W: '00,16,23,36,40',
	X: '00,46 40,06',
	Y: '00,23,40 23,26',
	Z: '00,40,06,46',
	'0': '10,01,05,16,36,45,41,30,10',
	'1': '11,20,26',
	'2': '01,10,30,41,42,06,46',
	'3': '01,10,30,41,42,33,44,45,36,16,05 13,33',
	'4': '36,30,04,44',
	'5': '40,00,03,33,44,45,36,16,05',
	'6': '41,30,10,01,05,16,36,45,44,33,03',
	'7': '00,40,16',
	'8': '10,01,02,13,33,44,45,36,16,05,04,13 33,42,41,30,10',
	'9': '43,13,02,01,10,30,41,45,36,16,05',
	'.': '15,16,26,25,15',
	',': '25,26,17',
	':': '21,22 24,25',
	'-': '13,33',
	'/': '06,40',
	'(': '30,21,25,36',
	')': '10,21,25,16'
};
const ADVANCE = 5.6;

/** Text as an SVG path from a baseline point; `size` is the height of a capital, px. */
export function lettering(text: string, x: number, y: number, size: number, ink = '#1d2630'): string {
	const unit = size / 6;
	const strokes = [...text.toUpperCase()].flatMap((letter, i) =>
		(GLYPHS[letter] ?? '').split(' ').flatMap((stroke) =>
			stroke === ''
				? []
				: [
						'M' +
							stroke
								.split(',')
								.map(
									(p) =>
										`${(x + (i * ADVANCE + Number(p[0])) * unit).toFixed(1)} ${(y + (Number(p[1]) - 6) * unit).toFixed(1)}`
								)
								.join('L')
					]
		)
	);
	return `<path d="${strokes.join('')}" fill="none" stroke="${ink}" stroke-width="${(size / 8).toFixed(1)}" stroke-linecap="round" stroke-linejoin="round"/>`;
}

export const widthOf = (text: string, size: number) => (text.length * ADVANCE * size) / 6;
