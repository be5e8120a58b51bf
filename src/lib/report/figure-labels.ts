import type { Layer } from '$lib/calculations/figure';
import type { Point } from './drawing';
import type { Frame } from './figure-lists';
import { textWidth } from './text-width';

/** The label of a layer among all of the figure, where nothing stands yet. */
export function label(layer: Layer, f: Frame, all: readonly Layer[]): string {
	/** Rings of the regions that this layer is not. */
	const others =
		layer.kind === 'region'
			? all.flatMap((one) =>
					one.kind === 'region' && one !== layer && !one.only
						? [one.polygons.map((ring) => ring.map(f.at))]
						: []
				)
			: [];
	const put = (point: Point | undefined, gap: number, bold = false) =>
		point && layer.label ? f.labels.put(point, [{ text: layer.label, bold }], gap) : '';
	switch (layer.kind) {
		case 'band': {
			// On the upper edge, above the highest that it reaches under the words.
			const edge = layer.x.map((x, i) => f.at([x, layer.high[i] ?? NaN]));
			const words = textWidth(layer.label, 12);
			const from = Math.min(edge[Math.round(edge.length * 0.72)]?.[0] ?? NaN, f.right - words - 6);
			const under = edge.filter(([x]) => x > from - 6 && x < from + words + 6).map(([, y]) => y);
			const above = under.length === 0 ? '' : put(inside([from - 8, Math.min(...under) - 10], f), 8);
			return above || put(edge[Math.round(edge.length * 0.72)], 8);
		}
		case 'line': {
			const i = Math.round((layer.points.length - 1) * 0.86);
			const [here, before] = [layer.points[i], layer.points[Math.max(0, i - 1)]];
			if (!here || !before) return '';
			// Beside a rising line there is room below it, beside a falling one above.
			const [x, y] = inside(f.at(here), f);
			return put([x + 4, y + (here[1] >= before[1] ? 13 : -13)], 0);
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
			for (const point of rim.length === 0 ? [] : [...places, ...ends]) {
				const drawn = put(point, 6);
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
	return f.labels.putAt(line, corners, clear) || f.labels.putAt(line, corners, () => true);
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
