import type { Layer, Row } from '$lib/calculations/figure';
import { escape, type Labels, type Point, r } from './drawing';
import type { Palette } from './palette';
import { wrap } from './text-width';

/** The part of the picture in which the layers lie, and how their coordinates get there. */
export interface Frame {
	left: number;
	right: number;
	top: number;
	bottom: number;
	at: (p: Point) => Point;
	labels: Labels;
	p: Palette;
	id: string;
}

export type ListLayer = Extract<Layer, { kind: 'chain' | 'rows' }>;

/** What stands one below the other. */
export const itemsOf = (list: ListLayer): Row[] => (list.kind === 'chain' ? list.links : list.rows);

/** Words that fit into a width; what is cut off stands in the table beside every figure. */
const fitted = (words: string, size: number, room: number) => wrap(words, room, size, 0, 1)[0] ?? '';

/** The links of a load path from the top down, joined; the weakest drawn filled and named. */
export function links(
	{ links: list }: Extract<Layer, { kind: 'chain' }>,
	{ left, top, bottom, at, labels, p }: Frame
): string {
	const row = (bottom - top) / list.length;
	const weakest = list.reduce(
		(least, link, i) => (!link.unknown && link.value < (list[least]?.value ?? Infinity) ? i : least),
		-1
	);
	return list
		.map(({ label: words, note, value, low, high, unknown }, i) => {
			const y = top + row * (i + 0.5);
			const x = at([value, 0])[0];
			const is = i === weakest;
			const interval = whisker(low, high, y, at, p);
			const link = `<rect x="6" y="${r(y - row * 0.34)}" width="${r(left - 18)}" height="${r(row * 0.68)}" rx="${r(row * 0.34)}" fill="none" stroke="${p.ink}" stroke-width="${is ? 3 : 1.2}"${unknown ? ' stroke-dasharray="4 3"' : ''}/>`;
			const joint =
				i === 0
					? ''
					: `<path d="M${r(left / 2 - 3)} ${r(y - row * 0.66)}v${r(row * 0.32)}" stroke="${p.ink}" stroke-width="1.6"/>`;
			if (!unknown) labels.keepFree(x - 7, y - 7, 14, 14);
			const text = (line: string, dy: number, size: number, weight: string) =>
				`<text x="${r(left / 2 - 3)}" y="${r(y + dy)}" text-anchor="middle" font-size="${size}"${weight} fill="${p.ink}">${escape(fitted(line, size + 1, left - 30))}</text>`;
			const name = text(words, note === undefined ? 4.5 : -2, 13, is ? ' font-weight="700"' : '');
			const below = note === undefined ? '' : text(note, 11, 11, '');
			if (unknown)
				return `${joint}${link}${name}${below}<text x="${r(left + 12)}" y="${r(y + 4.5)}" font-size="13" fill="${p.ink2}">not known</text>`;
			return `${joint}${link}${name}${below}${interval}<circle cx="${r(x)}" cy="${r(y)}" r="5" fill="${p.ink}"/>${is ? labels.put([x, y], [{ text: 'weakest link', bold: true }], 10) : ''}`;
		})
		.join('');
}

/** An interval along the x axis, with feet. */
function whisker(
	low: number | undefined,
	high: number | undefined,
	y: number,
	at: Frame['at'],
	p: Palette
): string {
	if (low === undefined || high === undefined) return '';
	const [a, b] = [at([low, 0])[0], at([high, 0])[0]];
	return `<path d="M${r(a)} ${r(y)}H${r(b)}m0-5v10M${r(a)} ${r(y - 5)}v10" stroke="${p.ink2}" stroke-width="1.4" fill="none"/>`;
}

/** Room above the first row for the labels of rules. */
export const ROWS_HEAD = 18;

/** A dot for each row, the interval around it, and a ring where it stood before. */
export function rows(
	{ rows: list }: Extract<Layer, { kind: 'rows' }>,
	{ left, top, bottom, at, p }: Frame
): string {
	const height = (bottom - top - ROWS_HEAD) / list.length;
	return list
		.map(({ label: words, note, value, low, high, before }, i) => {
			const y = top + ROWS_HEAD + height * (i + 0.5);
			const x = at([value, 0])[0];
			const text = (line: string, dy: number, size: number, colour: string) =>
				`<text x="${r(left - 14)}" y="${r(y + dy)}" text-anchor="end" font-size="${size}" fill="${colour}">${escape(fitted(line, size + 1, left - 20))}</text>`;
			const was = before === undefined ? undefined : at([before, 0])[0];
			const moved =
				was === undefined
					? ''
					: `<path d="M${r(was)} ${r(y)}H${r(x)}" stroke="${p.ink}" stroke-width="2"/><circle cx="${r(was)}" cy="${r(y)}" r="5" fill="${p.sheet}" stroke="${p.ink}" stroke-width="1.6"/>`;
			return `${text(words, note === undefined ? 4.5 : -2, 13, p.ink)}${note === undefined ? '' : text(note, 13, 12, p.ink2)}${whisker(low, high, y, at, p)}${moved}<circle cx="${r(x)}" cy="${r(y)}" r="5" fill="${p.ink}"/>`;
		})
		.join('');
}
