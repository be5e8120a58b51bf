/** One part of a pasted list, as it is sent. */
export interface PastedPart {
	name: string;
	mass: string;
	uses: string;
	group: string;
}

/**
 * A parts list as people keep it: one part a line, then mass, uses and group, parted by semicolon or tab. Blank lines
 * and lines that begin with # are left out.
 */
export function readPartsText(text: string): PastedPart[] {
	return text
		.split(/\r\n|\r|\n/)
		.map((line) => line.trim())
		.filter((line) => line !== '' && !line.startsWith('#'))
		.map((line) => {
			const [name = '', mass = '', uses = '', group = ''] = line.split(/[;\t]/).map((cell) => cell.trim());
			return { name, mass, uses, group };
		});
}

export const newPart = (part: Partial<PastedPart> = {}) => ({
	name: '',
	vehiclePart: null,
	group: '',
	description: '',
	mass: '',
	uses: '',
	outcome: null,
	next: null,
	note: '',
	...part
});
