import { scaleLinear, type ScaleLinear } from 'd3-scale';
import { formatNumber } from '$lib/quantity/format';
import type { Axis, Figure, Layer, Point } from './figure';

export interface SvgOptions {
	width?: number;
	height?: number;
	/** Prefix of ids, unique on the page. */
	id?: string;
}

const MARGIN = { left: 64, right: 20, top: 14, bottom: 46 };

export const escapeXml = (text: string) => text.replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);
const n = (x: number) => Number(x.toFixed(2)).toString();

interface Frame {
	x: ScaleLinear<number, number>;
	y: ScaleLinear<number, number>;
	left: number;
	right: number;
	top: number;
	bottom: number;
	id: string;
}

/** Draws a figure as one SVG element in the current ink; regions differ by hatching, lines by dashes, all by labels. */
export function figureSvg(
	figure: Figure,
	{ width = 640, height = 420, id = 'figure' }: SvgOptions = {}
): string {
	const frame = frameOf(figure, width, height, id);
	const layers = figure.layers.map((layer) => drawLayer(layer, frame));
	return [
		`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" role="img" aria-labelledby="${id}-title" font-size="12" fill="currentColor" stroke="none">`,
		`<title id="${id}-title">${escapeXml(figure.title)}</title>`,
		`<defs>${hatches(id)}<clipPath id="${id}-clip"><rect x="${frame.left}" y="${frame.top}" width="${frame.right - frame.left}" height="${frame.bottom - frame.top}"/></clipPath></defs>`,
		axes(figure, frame),
		`<g clip-path="url(#${id}-clip)">${layers.map((l) => l.shape).join('')}</g>`,
		labels(
			[...layers].reverse().flatMap((l) => l.labels),
			frame
		),
		'</svg>'
	].join('\n');
}

const HATCH_ANGLES = [45, 135, 90, 0, 20, 110];
function hatches(id: string): string {
	return HATCH_ANGLES.map(
		(angle, i) =>
			`<pattern id="${id}-hatch${i}" width="${6 + i}" height="${6 + i}" patternUnits="userSpaceOnUse" patternTransform="rotate(${angle})"><line x1="0" y1="0" x2="0" y2="${6 + i}" stroke="currentColor" stroke-width="0.8" opacity="0.55"/></pattern>`
	).join('');
}

/** Everything that a layer covers, for the extent of the axes. */
function pointsOf(layer: Layer): Point[] {
	switch (layer.kind) {
		case 'band':
			return layer.x.flatMap((x, i): Point[] => [
				[x, layer.low[i] ?? 0],
				[x, layer.high[i] ?? 0]
			]);
		case 'line':
			return layer.points;
		case 'region':
			return layer.polygons.flat();
		case 'point':
			return [
				[layer.x - (layer.radius ?? 0), layer.y - (layer.radius ?? 0)],
				[layer.x + (layer.radius ?? 0), layer.y + (layer.radius ?? 0)]
			];
		case 'rule':
			return [];
		case 'chain':
			return layer.links.flatMap((l): Point[] => [
				[l.low ?? l.value, 0],
				[l.high ?? l.value, -layer.links.length]
			]);
	}
}

function extent(values: number[], axis: Axis, rules: number[]): [number, number] {
	const all = [...values, ...rules].filter(Number.isFinite);
	const low = axis.min ?? Math.min(...all, Infinity);
	const high = axis.max ?? Math.max(...all, -Infinity);
	if (!(high > low)) return Number.isFinite(low) ? [low - 1, low + 1] : [0, 1];
	const pad = 0.04 * (high - low);
	return [axis.min ?? low - pad, axis.max ?? high + pad];
}

function frameOf(figure: Figure, width: number, height: number, id: string): Frame {
	const points = figure.layers.flatMap(pointsOf);
	const rules = (axis: 'x' | 'y') =>
		figure.layers.flatMap((l) => (l.kind === 'rule' && l.axis === axis ? [l.at] : []));
	const box = {
		left: MARGIN.left,
		right: width - MARGIN.right,
		top: MARGIN.top,
		bottom: height - MARGIN.bottom
	};
	let [x0, x1] = extent(
		points.map((p) => p[0]),
		figure.x,
		rules('x')
	);
	let [y0, y1] = extent(
		points.map((p) => p[1]),
		figure.y,
		rules('y')
	);
	if (figure.equalScale) {
		const perPixel = Math.max((x1 - x0) / (box.right - box.left), (y1 - y0) / (box.bottom - box.top));
		const widen = (a: number, b: number, pixels: number): [number, number] => [
			(a + b) / 2 - (perPixel * pixels) / 2,
			(a + b) / 2 + (perPixel * pixels) / 2
		];
		[x0, x1] = widen(x0, x1, box.right - box.left);
		[y0, y1] = widen(y0, y1, box.bottom - box.top);
	}
	return {
		...box,
		id,
		x: scaleLinear().domain([x0, x1]).range([box.left, box.right]),
		y: scaleLinear().domain([y0, y1]).range([box.bottom, box.top])
	};
}

function axes(figure: Figure, f: Frame): string {
	const ticks = (scale: ScaleLinear<number, number>) => {
		const values = scale.ticks(6);
		const step = (values[1] ?? 1) - (values[0] ?? 0);
		const decimals = Math.max(0, -Math.floor(Math.log10(step || 1) + 1e-9));
		return values.map((v) => [v, formatNumber(v, decimals)] as const);
	};
	const title = ({ label, unit }: Axis) => escapeXml(unit === '1' ? label : `${label}, ${unit}`);
	const xs = ticks(f.x).map(
		([v, text]) =>
			`<line x1="${n(f.x(v))}" x2="${n(f.x(v))}" y1="${f.bottom}" y2="${f.bottom + 5}" stroke="currentColor"/><text x="${n(f.x(v))}" y="${f.bottom + 19}" text-anchor="middle">${text}</text>`
	);
	// The rows of a chain are names, not numbers.
	const named = figure.layers.some((l) => l.kind === 'chain');
	const ys = (named ? [] : ticks(f.y)).map(
		([v, text]) =>
			`<line x1="${f.left}" x2="${f.right}" y1="${n(f.y(v))}" y2="${n(f.y(v))}" stroke="currentColor" opacity="0.12"/><text x="${f.left - 8}" y="${n(f.y(v) + 4)}" text-anchor="end">${text}</text>`
	);
	const middle = (f.top + f.bottom) / 2;
	return [
		...xs,
		...ys,
		`<path d="M${f.left} ${f.top}V${f.bottom}H${f.right}" fill="none" stroke="currentColor"/>`,
		`<text x="${(f.left + f.right) / 2}" y="${f.bottom + 38}" text-anchor="middle">${title(figure.x)}</text>`,
		`<text transform="translate(14 ${middle}) rotate(-90)" text-anchor="middle">${title(figure.y)}</text>`,
		figure.equalScale
			? `<g transform="translate(${f.right - 14} ${f.top + 34})"><path d="M0 0V-26M-5 -18L0 -28L5 -18" fill="none" stroke="currentColor"/><text y="13" text-anchor="middle">N</text></g>`
			: ''
	].join('');
}

interface Drawn {
	shape: string;
	labels: { x: number; y: number; text: string; end?: boolean }[];
}

function drawLayer(layer: Layer, f: Frame): Drawn {
	const at = ([x, y]: Point) => `${n(f.x(x))} ${n(f.y(y))}`;
	const path = (points: readonly Point[]) => points.map((p, i) => `${i ? 'L' : 'M'}${at(p)}`).join('');
	switch (layer.kind) {
		case 'band': {
			const upper = layer.x.map((x, i): Point => [x, layer.high[i] ?? 0]);
			const lower = layer.x.map((x, i): Point => [x, layer.low[i] ?? 0]).reverse();
			const k = Math.floor(layer.x.length * 0.62);
			const [lx, top] = upper[k] ?? [0, 0];
			return {
				shape: `<path d="${path([...upper, ...lower])}Z" opacity="0.12"/><path d="${path(upper)}" fill="none" stroke="currentColor" stroke-width="0.8"/><path d="${path(lower)}" fill="none" stroke="currentColor" stroke-width="0.8"/>`,
				labels: [{ x: f.x(lx), y: f.y(top) - 6, text: layer.label, end: true }]
			};
		}
		case 'line': {
			const [x, y] = layer.points.at(-1) ?? [0, 0];
			return {
				shape: `<path d="${path(layer.points)}" fill="none" stroke="currentColor" stroke-width="1.8"${layer.dashed ? ' stroke-dasharray="6 4"' : ''}/>`,
				labels: [{ x: f.x(x) - 4, y: f.y(y) - 6, text: layer.label, end: true }]
			};
		}
		case 'region': {
			const d = layer.polygons.map((ring) => `${path(ring)}Z`).join('');
			const highest = layer.polygons.flat().reduce<Point>((a, p) => (p[1] > a[1] ? p : a), [0, -Infinity]);
			return {
				shape: `<path d="${d}" fill="${layer.strong ? `url(#${f.id}-hatch${layer.hatch % HATCH_ANGLES.length})` : 'none'}" fill-rule="evenodd" stroke="currentColor"${layer.strong ? '' : ' stroke-dasharray="2 3"'}/>`,
				labels: layer.label && d ? [{ x: f.x(highest[0]), y: f.y(highest[1]) - 5, text: layer.label }] : []
			};
		}
		case 'point': {
			const [cx, cy] = [f.x(layer.x), f.y(layer.y)];
			const r = Math.abs(f.x(layer.x + (layer.radius ?? 0)) - cx);
			const circle =
				r > 4
					? `<circle cx="${n(cx)}" cy="${n(cy)}" r="${n(r)}" fill="none" stroke="currentColor" stroke-dasharray="3 3"/>`
					: '';
			return {
				shape: `<circle cx="${n(cx)}" cy="${n(cy)}" r="4"/>${circle}`,
				labels: [{ x: cx + 8, y: cy + 4, text: layer.label }]
			};
		}
		case 'rule': {
			const along = layer.axis === 'y';
			const scale = along ? f.y : f.x;
			const p = scale(layer.at);
			const half = Math.abs(scale(layer.at + (layer.halfWidth ?? 0)) - p);
			const line = along
				? `x1="${f.left}" x2="${f.right}" y1="${n(p)}" y2="${n(p)}"`
				: `y1="${f.top}" y2="${f.bottom}" x1="${n(p)}" x2="${n(p)}"`;
			const strip = along
				? `<rect x="${f.left}" width="${f.right - f.left}" y="${n(p - half)}" height="${n(2 * half)}" opacity="0.2"/>`
				: `<rect y="${f.top}" height="${f.bottom - f.top}" x="${n(p - half)}" width="${n(2 * half)}" opacity="0.2"/>`;
			return {
				shape: `${half > 0.5 ? strip : ''}<line ${line} stroke="currentColor" stroke-width="1.5" stroke-dasharray="8 3"/>`,
				labels: [
					along
						? { x: f.right - 4, y: p - 5, text: layer.label, end: true }
						: { x: p + 5, y: f.top + 12, text: layer.label }
				]
			};
		}
		case 'chain':
			return drawChain(layer, f);
	}
}

/** Links one below the other, joined at the left: a dot at the value, a bar over its interval, the weakest thicker. */
function drawChain({ links }: Extract<Layer, { kind: 'chain' }>, f: Frame): Drawn {
	const least = Math.min(...links.map((l) => l.value));
	const rows = links.map((l, i) => {
		const y = f.y(-(i + 0.5));
		const weakest = l.value === least;
		const bar =
			l.low === undefined || l.high === undefined
				? ''
				: `<line x1="${n(f.x(l.low))}" x2="${n(f.x(l.high))}" y1="${n(y)}" y2="${n(y)}" stroke="currentColor" stroke-width="${weakest ? 4 : 2}" opacity="0.5"/>`;
		return {
			shape: `${bar}<circle cx="${n(f.x(l.value))}" cy="${n(y)}" r="${weakest ? 6 : 4}"/>`,
			label: { x: f.left + 8, y: y - 8, text: weakest ? `${l.label} (weakest)` : l.label }
		};
	});
	const [top, bottom] = [f.y(-0.5), f.y(0.5 - links.length)];
	const spine = `<line x1="${f.left + 3}" x2="${f.left + 3}" y1="${n(top)}" y2="${n(bottom)}" stroke="currentColor" stroke-width="2"/>`;
	return { shape: spine + rows.map((r) => r.shape).join(''), labels: rows.map((r) => r.label) };
}

/** Labels, the topmost layer's first, moved apart downward where they would cover each other. */
function labels(wanted: Drawn['labels'], f: Frame): string {
	const placed: { x: number; y: number }[] = [];
	return wanted
		.map(({ x, y, text, end }) => {
			const px = Math.min(
				f.right - (end ? 0 : 6.2 * text.length),
				Math.max(f.left + (end ? 6.2 * text.length : 4), x)
			);
			let py = Math.min(f.bottom - 4, Math.max(f.top + 11, y));
			while (placed.some((p) => Math.abs(p.x - px) < 90 && Math.abs(p.y - py) < 13) && py < f.bottom - 14)
				py += 13;
			placed.push({ x: px, y: py });
			return `<text x="${n(px)}" y="${n(py)}"${end ? ' text-anchor="end"' : ''} paint-order="stroke" stroke="var(--sheet, #fdfcf9)" stroke-width="3">${escapeXml(text)}</text>`;
		})
		.join('');
}

/** The numbers behind a figure, one row per point: layer, its part, x and y with their units in the head. */
export function figureCsv({ x, y, layers }: Figure): string {
	const cell = (text: string) => (/[",\n;]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text);
	const head = ['layer', 'part', `${x.label} (${x.unit})`, `${y.label} (${y.unit})`];
	const rows = layers.flatMap((l): (string | number)[][] => {
		switch (l.kind) {
			case 'band':
				return l.x.flatMap((at, i) => [
					[l.label, 'low', at, l.low[i] ?? ''],
					[l.label, 'high', at, l.high[i] ?? '']
				]);
			case 'line':
				return l.points.map(([px, py]) => [l.label, '', px, py]);
			case 'region':
				return l.polygons.flatMap((ring, r) => ring.map(([px, py]) => [l.label, `ring ${r + 1}`, px, py]));
			case 'point':
				return [[l.label, '', l.x, l.y]];
			case 'rule':
				return [l.axis === 'x' ? [l.label, '', l.at, ''] : [l.label, '', '', l.at]];
			case 'chain':
				return l.links.flatMap((link) => [
					[link.label, 'value', link.value, ''],
					...(link.low === undefined ? [] : [[link.label, 'low', link.low, '']]),
					...(link.high === undefined ? [] : [[link.label, 'high', link.high, '']])
				]);
		}
	});
	return [head, ...rows].map((row) => row.map((c) => cell(String(c))).join(',')).join('\n') + '\n';
}
