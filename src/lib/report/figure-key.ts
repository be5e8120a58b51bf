import type { Figure, Layer } from '$lib/calculations/figure';
import { escape } from './drawing';
import type { Palette } from './palette';

/** From so many regions on their names no longer fit beside them. */
const MOST_NAMED = 2;

/** Letters for regions of which there are too many to write their names beside them. */
export function lettersOf(figure: Figure): Map<Layer, string> {
	const regions = figure.layers.filter((layer) => layer.kind === 'region' && !layer.only);
	return new Map(
		regions.length > MOST_NAMED ? regions.map((layer, i) => [layer, String.fromCharCode(65 + i)]) : []
	);
}

const KEY_ROW = 24;
const KEY_COLUMN = 230;

/** What the letters stand for, each with its hatching, from `top` on; and how high that is. */
export function key(
	figure: Figure,
	top: number,
	{ width, p, id }: { width: number; p: Palette; id: string }
): [string, number] {
	const letters = [...lettersOf(figure)];
	if (letters.length === 0) return ['', 0];
	const columns = Math.max(1, Math.floor((width - 16) / KEY_COLUMN));
	const rows = Math.ceil(letters.length / columns);
	const drawn = letters.map(([layer, letter], i) => {
		const x = 16 + (i % columns) * KEY_COLUMN;
		const y = top + 8 + KEY_ROW * Math.floor(i / columns);
		const hatching = `url(#${id}-hatch-${figure.layers.indexOf(layer)})`;
		return `<rect x="${x}" y="${y}" width="26" height="16" fill="${hatching}" stroke="${p.ink2}" stroke-width="1.6"/><text x="${x + 36}" y="${y + 13}" font-size="13" fill="${p.ink}"><tspan font-weight="700">${letter}</tspan>  ${escape(layer.label)}</text>`;
	});
	return [drawn.join(''), 8 + KEY_ROW * rows];
}
