import { scaleLinear } from 'd3-scale';
import type { Axis, Figure, Layer } from '$lib/calculations/figure';
import { formatNumber } from '$lib/quantity/format';
import {
	escape,
	FONT,
	grid,
	hatch,
	Labels,
	linePath,
	northArrow,
	type Point,
	r,
	ringPath,
	scaleBar
} from './drawing';
import { type Frame, itemsOf, links, type ListLayer, rows, ROWS_HEAD } from './figure-lists';
import { key, lettersOf } from './figure-key';
import { label, linesOf } from './figure-labels';
import { type Palette, THEMED } from './palette';
import { textWidth, wrap } from './text-width';

export interface FigureOptions {
	palette?: Palette;
	/** Pixels; the height follows where none is given. */
	width?: number;
	height?: number;
	/** Prefix of the ids in it, unique on the page. */
	id?: string;
}

const AXIS_SIZE = 12.5;

/**
 * Draws a calculation's figure as one SVG: regions differ by hatching, lines by dashes, and every layer carries its
 * label, so that it reads without colour and without a legend.
 */
export function drawFigure(figure: Figure, options: FigureOptions = {}): string {
	const { width = 720, id = 'figure' } = options;
	const svg = (height: number, words: string, drawn: string) =>
		`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${escape(words)}" font-family="${FONT}">${drawn}</svg>`;
	const [drawn, height] = drawOne(figure, options, width, id);
	if (!figure.below) return svg(height, figure.title, drawn);
	const [under, more] = drawOne(figure.below, options, width, `${id}-below`);
	return svg(
		height + more,
		`${figure.title}. ${figure.below.title}`,
		`${drawn}<g transform="translate(0 ${height})">${under}</g>`
	);
}

/** The picture of one plot, and its height. */
function drawOne(figure: Figure, options: FigureOptions, width: number, id: string): [string, number] {
	const { palette: p = THEMED } = options;
	const list = figure.layers.find((layer) => layer.kind === 'chain' || layer.kind === 'rows');
	const height =
		options.height ??
		(list
			? (list.kind === 'rows' ? 76 + ROWS_HEAD : 76) + 46 * itemsOf(list).length
			: Math.round(Math.max(260, width * (figure.equalScale ? 0.72 : 0.52))));
	const labels = new Labels(width, height, p);
	const canvas = { width, height, labels, p, id };
	if (!figure.equalScale) return [plot(figure, list, canvas), height];
	const [explained, more] = key(figure, height, canvas);
	return [plan(figure, canvas) + explained, height + more];
}

interface Canvas {
	width: number;
	height: number;
	labels: Labels;
	p: Palette;
	id: string;
}

/** A plan of the ground: north up, one metre as long in both directions. */
function plan(figure: Figure, { width, height, labels, p, id }: Canvas): string {
	const points = figure.layers.flatMap(pointsOf);
	const [west, east] = extent(
		points.map(([x]) => x),
		figure.x,
		[]
	);
	const [south, north] = extent(
		points.map(([, y]) => y),
		figure.y,
		[]
	);
	const edge = { top: 70, side: 46, bottom: 58 };
	const metresPerPx = Math.max(
		(east - west) / (width - 2 * edge.side),
		(north - south) / (height - edge.top - edge.bottom)
	);
	const shift = ((edge.top - edge.bottom) / 2) * metresPerPx;
	const view = {
		centre: [(west + east) / 2, (south + north) / 2 + shift] as const,
		metresPerPx,
		width,
		height
	};
	const at = ([x, y]: Point): Point => [
		width / 2 + (x - view.centre[0]) / metresPerPx,
		height / 2 - (y - view.centre[1]) / metresPerPx
	];
	labels.keepFree(0, 0, 76, 76);
	labels.keepFree(0, height - 52, 270, 52);
	const frame = { left: 0, right: width, top: 0, bottom: height, at, labels, p, id };
	return grid(view, at, p) + layers(figure, frame) + northArrow(p) + scaleBar(view, p);
}

/** A plot with axes, or a list of things along the x axis. */
function plot(figure: Figure, list: ListLayer | undefined, { width, height, labels, p, id }: Canvas): string {
	const points = figure.layers.flatMap(pointsOf);
	const xs = extent(
		points.map(([x]) => x),
		figure.x,
		rulesOf(figure, 'x')
	);
	const ys = extent(
		points.map(([, y]) => y),
		figure.y,
		rulesOf(figure, 'y')
	);
	const y = scaleLinear().domain(ys);
	const yTicks = list ? [] : ticks(y.ticks(Math.max(3, Math.round(height / 70))));
	const left = list
		? Math.min(
				width * 0.42,
				44 +
					Math.max(
						...itemsOf(list).flatMap(({ label, note = '' }) => [textWidth(label, 14), textWidth(note, 12)])
					)
			)
		: // Plots one below the other line up.
			Math.max(60, 18 + Math.max(...yTicks.map(([, text]) => textWidth(text, AXIS_SIZE))));
	const top = list ? 20 : 38;
	const right = width - 18;
	const title = wrap(titleOf(figure.x), right - 6, AXIS_SIZE, 0, 3);
	const bottom = height - 48 - TITLE_LINE * (title.length - 1);
	const x = scaleLinear().domain(xs).range([left, right]);
	const xTicks = ticks(x.ticks(Math.max(3, Math.round(width / 110))));
	y.range([bottom, top]);
	const frame: Frame = { left, right, top, bottom, at: ([px, py]) => [x(px), y(py)], labels, p, id };
	// Labels stay within the frame.
	labels.keepFree(0, 0, left, height);
	labels.keepFree(0, bottom - 2, width, height);
	labels.keepFree(0, 0, width, top - 2);
	const lines =
		yTicks.map(([v]) => `M${r(left)} ${r(y(v))}H${r(right)}`).join('') +
		(list ? xTicks.map(([v]) => `M${r(x(v))} ${r(top)}V${r(bottom)}`).join('') : '');
	const text = (words: string, tx: number, ty: number, anchor: string, colour = p.ink2) =>
		`<text x="${r(tx)}" y="${r(ty)}" text-anchor="${anchor}" font-size="${AXIS_SIZE}" fill="${colour}">${escape(words)}</text>`;
	return [
		`<path d="${lines}" stroke="${p.rule}" stroke-width=".5" opacity=".7" fill="none"/>`,
		list?.kind === 'chain' ? links(list, frame) : '',
		layers(figure, frame),
		list?.kind === 'rows' ? rows(list, frame) : '',
		`<path d="M${r(left)} ${r(bottom)}H${r(right)}${xTicks.map(([v]) => `M${r(x(v))} ${r(bottom)}v5`).join('')}${list ? '' : `M${r(left)} ${r(bottom)}V${r(top)}${yTicks.map(([v]) => `M${r(left)} ${r(y(v))}h-5`).join('')}`}" stroke="${p.ink}" stroke-width="1.2" fill="none"/>`,
		...xTicks.map(([v, words]) => text(words, x(v), bottom + 20, 'middle', p.ink)),
		...yTicks.map(([v, words]) => text(words, left - 9, y(v) + 4, 'end', p.ink)),
		...title.map((line, i) => text(line, right, height - 8 - TITLE_LINE * (title.length - 1 - i), 'end')),
		list ? '' : text(titleOf(figure.y), 2, 18, 'start')
	].join('');
}

const titleOf = ({ label, unit }: Axis) => (unit === '1' ? label : `${label}, ${unit}`);

const TITLE_LINE = 16;

/** Round values with the words that stand at them. */
function ticks(values: readonly number[]): (readonly [number, string])[] {
	const step = (values[1] ?? 1) - (values[0] ?? 0);
	const decimals = Math.max(0, -Math.floor(Math.log10(step || 1) + 1e-9));
	return values.map((value) => [value, formatNumber(value, decimals)] as const);
}

/** Everything that a layer covers, for the extent of the axes. */
function pointsOf(layer: Layer): Point[] {
	switch (layer.kind) {
		case 'band':
			return layer.x.flatMap((x, i): Point[] => [
				[x, layer.low[i] ?? NaN],
				[x, layer.high[i] ?? NaN]
			]);
		case 'line':
			return layer.points;
		case 'region':
			return layer.polygons.flat();
		case 'point': {
			const reach = layer.radius ?? 0;
			return [
				[layer.x - reach, layer.y - reach],
				[layer.x + reach, layer.y + reach]
			];
		}
		case 'chain':
		case 'rows':
			return itemsOf(layer).flatMap(
				({ value, low = value, high = value, before = value, unknown }, i): Point[] =>
					unknown
						? []
						: [
								[Math.min(low, before), i],
								[Math.max(high, before), i]
							]
			);
		case 'rule':
			return [];
	}
}

const rulesOf = ({ layers }: Figure, axis: 'x' | 'y') =>
	layers.flatMap((layer) => (layer.kind === 'rule' && layer.axis === axis ? [layer.at] : []));

function extent(values: readonly number[], axis: Axis, rules: readonly number[]): [number, number] {
	let [low, high] = [axis.min ?? Infinity, axis.max ?? -Infinity];
	for (const value of [...values, ...rules]) {
		if (!Number.isFinite(value)) continue;
		if (axis.min === undefined) low = Math.min(low, value);
		if (axis.max === undefined) high = Math.max(high, value);
	}
	if (!(high > low)) return Number.isFinite(low) ? [low - 1, low + 1] : [0, 1];
	const pad = 0.05 * (high - low);
	return [axis.min ?? low - pad, axis.max ?? high + pad];
}

/** Shapes lowest first, then the labels: rules and points before regions, which can be labelled in more places. */
function layers(figure: Figure, f: Frame): string {
	const clip = `${f.id}-clip`;
	const shapes = figure.layers.map((layer, i) => shape(layer, i, f)).join('');
	for (const layer of figure.layers)
		if (layer.kind === 'point') {
			const [x, y] = f.at([layer.x, layer.y]);
			f.labels.keepFree(x - 7, y - 7, 14, 14);
		}
	// What names one curve stands on no other.
	for (const path of figure.layers.flatMap((layer) => linesOf(layer, f))) f.labels.avoid(path);
	const letters = lettersOf(figure);
	const words = (['point', 'rule', 'line', 'band', 'region'] as const).flatMap((kind) =>
		figure.layers
			.filter((layer) => layer.kind === kind)
			.map((layer) => label(layer, f, figure.layers, letters.get(layer)))
	);
	return `<defs><clipPath id="${clip}"><rect x="${r(f.left)}" y="${r(f.top)}" width="${r(f.right - f.left)}" height="${r(f.bottom - f.top)}"/></clipPath></defs><g clip-path="url(#${clip})">${shapes}</g>${words.join('')}`;
}

function shape(layer: Layer, index: number, f: Frame): string {
	const { at, p, id } = f;
	switch (layer.kind) {
		case 'band': {
			const edge = (ys: readonly number[]) => layer.x.map((x, i) => at([x, ys[i] ?? 0]));
			const [low, high] = [edge(layer.low), edge(layer.high)];
			return `<path d="${ringPath([...low, ...high.toReversed()])}" fill="${p.ink2}" opacity=".16"/><path d="${linePath(low)}${linePath(high)}" fill="none" stroke="${p.ink2}" stroke-width="1"/>`;
		}
		case 'line':
			return `<path d="${linePath(layer.points.map(at))}" fill="none" stroke="${p.ink}" stroke-width="2" stroke-linejoin="round"${layer.dashed ? ' stroke-dasharray="2 4"' : ''}/>`;
		case 'region': {
			const pattern = `${id}-hatch-${index}`;
			const d = layer.polygons.map((ring) => ringPath(ring.map(at))).join('');
			const fill = layer.strong ? `url(#${pattern})` : 'none';
			return `<defs>${layer.strong ? hatch(pattern, layer.hatch, p) : ''}</defs><path d="${d}" fill="${fill}" fill-rule="evenodd" stroke="${p.ink2}" stroke-width="${layer.strong ? 1.6 : 1}"${layer.strong ? '' : ` stroke-dasharray="${layer.only === 'dotted' ? '1.5 4' : '5 4'}"`}/>`;
		}
		case 'point': {
			const [x, y] = at([layer.x, layer.y]);
			const reach = Math.abs(at([layer.x + (layer.radius ?? 0), layer.y])[0] - x);
			const circle =
				reach > 6
					? `<circle cx="${r(x)}" cy="${r(y)}" r="${r(reach)}" fill="none" stroke="${p.ink2}" stroke-width="1.2" stroke-dasharray="3 3"/>`
					: '';
			return `${circle}<circle cx="${r(x)}" cy="${r(y)}" r="4.5" fill="${p.ink}" stroke="${p.sheet}" stroke-width="1.5"/>`;
		}
		case 'rule': {
			const across = layer.axis === 'y';
			const [a, b, m] = [-1, 1, 0].map((side) => {
				const value = layer.at + side * (layer.halfWidth ?? 0);
				return at(across ? [0, value] : [value, 0])[across ? 1 : 0];
			}) as [number, number, number];
			const [from, size] = [Math.min(a, b), Math.abs(a - b)];
			const box = across
				? `x="${r(f.left)}" width="${r(f.right - f.left)}" y="${r(from)}" height="${r(size)}"`
				: `y="${r(f.top)}" height="${r(f.bottom - f.top)}" x="${r(from)}" width="${r(size)}"`;
			const line = across ? `M${r(f.left)} ${r(m)}H${r(f.right)}` : `M${r(m)} ${r(f.top)}V${r(f.bottom)}`;
			return `${size > 1 ? `<rect ${box} fill="${p.ink}" opacity=".14"/>` : ''}<path d="${line}" stroke="${p.ink}" stroke-width="2" stroke-dasharray="9 4" fill="none"/>`;
		}
		case 'chain':
		case 'rows':
			return '';
	}
}
