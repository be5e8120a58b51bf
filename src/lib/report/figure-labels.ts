import type { Layer } from '$lib/calculations/figure';
import type { Point } from './drawing';
import type { Frame } from './figure-lists';

/** Every line that a layer draws, in the picture's coordinates. */
export function linesOf(layer: Layer, f: Frame): Point[][] {
	switch (layer.kind) {
		case 'line':
			return [layer.points.map(f.at)];
		case 'band':
			return [layer.low, layer.high].map((edge) => layer.x.map((x, i) => f.at([x, edge[i] ?? 0])));
		case 'region':
			return layer.only ? [] : layer.polygons.map((ring) => ring.map(f.at));
		case 'rule': {
			const [x, y] = f.at([layer.at, layer.at]);
			return layer.axis === 'x'
				? [
						[
							[x, f.top],
							[x, f.bottom]
						]
					]
				: [
						[
							[f.left, y],
							[f.right, y]
						]
					];
		}
		default:
			return [];
	}
}

/** The label of a layer among all of the figure, where nothing stands yet; the letter of a region that has one. */
export function label(layer: Layer, f: Frame, all: readonly Layer[], letter?: string): string {
	/** Rings of the regions that this layer is not. */
	const others =
		layer.kind === 'region'
			? all.flatMap((one) =>
					one.kind === 'region' && one !== layer && !one.only
						? [one.polygons.map((ring) => ring.map(f.at))]
						: []
				)
			: [];
	const text = letter ?? layer.label;
	const put = (point: Point, gap: number, bold: boolean, only?: 'clear') =>
		text ? f.labels.put(point, [{ text, bold }], gap, only) : '';
	switch (layer.kind) {
		case 'band': {
			// Within it where it is thick enough, else along its upper edge.
			const edge = (ys: readonly number[]) => layer.x.map((x, i) => f.at([x, ys[i] ?? NaN]));
			const [high, low] = [edge(layer.high), edge(layer.low)];
			const corners = (w: number, h: number) => {
				const over = ALONG.map((share) => {
					const x = along(high, share)[0] - w / 2;
					return { x, upper: reach(high, x, w), lower: reach(low, x, w) };
				});
				return [
					...over.flatMap(({ x, upper: [, top], lower: [bottom] }): Point[] =>
						bottom - top > h + 4 ? [[x, (top + bottom - h) / 2]] : []
					),
					...over.map(({ x, upper: [top] }): Point => [x, top - h - 5])
				];
			};
			return beside(layer.label, high, corners, f);
		}
		case 'line': {
			const points = layer.points.map(f.at);
			const corners = (w: number, h: number) =>
				ALONG.flatMap((share): Point[] => {
					const [x, y] = along(points, share);
					const [top, bottom] = reach(points, x - w / 2, w);
					return [
						[x - w / 2, top - h - 4],
						[x - w / 2, bottom + 4],
						[x + 8, y - h / 2],
						[x - 8 - w, y - h / 2]
					];
				});
			return beside(layer.label, points, corners, f);
		}
		case 'region': {
			if (layer.only) return '';
			const rim = layer.polygons.flat().map(f.at);
			const far = (further: (a: Point, b: Point) => boolean) =>
				rim.reduce((best, point) => (further(point, best) ? point : best), rim[0]!);
			const ends = [
				far((a, b) => a[1] > b[1]),
				far((a, b) => a[0] > b[0]),
				far((a, b) => a[0] < b[0]),
				far((a, b) => a[1] < b[1])
			];
			// A name inside another region would be taken for that one's.
			const alone = (point: Point) => !others.some((rings) => rings.some((ring) => isInside(point, ring)));
			const along = rim.filter((_, i) => i % Math.max(1, Math.floor(rim.length / 24)) === 0);
			const places = [...ends, ...along].filter(alone);
			for (const only of ['clear', undefined] as const)
				for (const point of rim.length === 0 ? [] : [...places, ...ends]) {
					const drawn = put(point, 6, letter !== undefined, only);
					if (drawn) return drawn;
				}
			return '';
		}
		case 'point':
			return put(f.at([layer.x, layer.y]), 9, true);
		case 'rule':
			return besideRule(
				layer,
				all.filter((one) => one.kind === 'rule'),
				f
			);
		case 'chain':
		case 'rows':
			return '';
	}
}

/** Where along a curve a label is tried, best first; not where several set out from one point. */
const ALONG = [0.86, 0.72, 0.6, 0.48, 0.36, 0.94];

/** Where a curve has got to after so much of its points. */
function along(points: readonly Point[], share: number): Point {
	const i = Math.min(points.length - 2, Math.floor(share * (points.length - 1)));
	const [from, to] = [points[i], points[i + 1]];
	if (!from || !to) return points[0] ?? [NaN, NaN];
	const part = share * (points.length - 1) - i;
	return [from[0] + part * (to[0] - from[0]), from[1] + part * (to[1] - from[1])];
}

/** The highest and the lowest that a curve comes over the width of some words. */
function reach(points: readonly Point[], x: number, w: number): [top: number, bottom: number] {
	const [from, to] = [x - 3, x + w + 3];
	const ys = points.flatMap(([px, py], i) => {
		const inside = px >= from && px <= to ? [py] : [];
		const [bx, by] = points[i - 1] ?? [px, py];
		const crossed = [from, to].filter((at) => (bx - at) * (px - at) < 0);
		return [...inside, ...crossed.map((at) => by + ((py - by) * (at - bx)) / (px - bx))];
	});
	return ys.length === 0 ? [NaN, NaN] : [Math.min(...ys), Math.max(...ys)];
}

/** At the first corner where it crosses no line, else further off with a lead to the curve, else where it is free. */
function beside(
	text: string,
	curve: readonly Point[],
	corners: (w: number, h: number) => Point[],
	f: Frame
): string {
	if (!text) return '';
	const there = (w: number, h: number) => corners(w, h).filter((corner) => corner.every(Number.isFinite));
	const clear = f.labels.putAt({ text }, there, (...box) => f.labels.isClear(...box));
	if (clear) return clear;
	for (const share of ALONG) {
		const led = f.labels.put(along(curve, share), [{ text }], 9, 'clear');
		if (led) return led;
	}
	return f.labels.putAt({ text }, there, () => true);
}

type Rule = Extract<Layer, { kind: 'rule' }>;

/** Along the rule on either side of it; clear of the other rules where it can, so that nobody takes it for theirs. */
function besideRule(layer: Rule, rules: readonly Rule[], f: Frame): string {
	if (!layer.label) return '';
	const position = ({ axis, at }: Rule) =>
		inside(f.at(axis === 'y' ? [0, at] : [at, 0]), f)[axis === 'y' ? 1 : 0];
	const own = position(layer);
	const beside = rules
		.filter((other) => other !== layer && other.axis === layer.axis)
		.map((o) => position(o) - own);
	const nearest = beside.reduce((a, b) => (Math.abs(b) < Math.abs(a) ? b : a), Infinity);
	// Above, or to the right, unless the next rule is near on that side.
	const crowded = Math.abs(nearest) < 60 && (layer.axis === 'y' ? nearest < 0 : nearest > 0);
	const outer = (sides: Point[]) => (crowded ? sides.toReversed() : sides);
	const shares = [0, 0.5, 1, 0.25, 0.75];
	const corners = (w: number, h: number): Point[] =>
		layer.axis === 'y'
			? shares.flatMap((s): Point[] => {
					const x = f.left + 8 + s * (f.right - f.left - w - 16);
					return outer([
						[x, own - 4 - h],
						[x, own + 4]
					]);
				})
			: shares.flatMap((s): Point[] => {
					const y = f.top + 4 + s * (f.bottom - f.top - h - 8);
					return outer([
						[own + 6, y],
						[own - 6 - w, y]
					]);
				});
	const clear = (x: number, y: number, w: number, h: number) =>
		rules.every((other) => {
			const [from, size] = other.axis === 'y' ? [y, h] : [x, w];
			const at = position(other);
			return other === layer || at < from - 5 || at > from + size + 5;
		});
	const line = { text: layer.label, bold: true };
	return (
		f.labels.putAt(line, corners, (...box) => clear(...box) && f.labels.isClear(...box)) ||
		f.labels.putAt(line, corners, clear) ||
		f.labels.putAt(line, corners, () => true)
	);
}

/** Even-odd rule. */
function isInside([x, y]: Point, ring: readonly Point[]): boolean {
	let is = false;
	for (const [i, [x1, y1]] of ring.entries()) {
		const [x0, y0] = ring.at(i - 1)!;
		if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) is = !is;
	}
	return is;
}

const inside = ([x, y]: Point, f: Frame): Point => [
	Math.min(f.right, Math.max(f.left, x)),
	Math.min(f.bottom, Math.max(f.top, y))
];
