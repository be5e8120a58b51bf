import type { Figure } from '$lib/calculations/figure';
import { csv } from './csv';

/**
 * The numbers behind a figure as CSV, one row per point: layer, its part, x and y with their units in the head. A plot
 * below it follows after an empty line, with a head of its own.
 */
export function figureCsv({ x, y, layers, below }: Figure): string {
	const rows = layers.flatMap((layer): (string | number)[][] => {
		const { label } = layer;
		switch (layer.kind) {
			case 'band':
				return layer.x.flatMap((at, i) => [
					[label, 'low', at, layer.low[i] ?? ''],
					[label, 'high', at, layer.high[i] ?? '']
				]);
			case 'line':
				return layer.points.map(([px, py]) => [label, '', px, py]);
			case 'region':
				return layer.polygons.flatMap((ring, i) => ring.map(([px, py]) => [label, `ring ${i + 1}`, px, py]));
			case 'point':
				return [
					[label, '', layer.x, layer.y],
					...(layer.radius === undefined ? [] : [[label, 'radius', layer.radius, layer.radius]])
				];
			case 'rule': {
				const { at, halfWidth: half = 0 } = layer;
				const parts: [string, number][] =
					half > 0
						? [
								['', at],
								['low', at - half],
								['high', at + half]
							]
						: [['', at]];
				return parts.map(([part, value]) =>
					layer.axis === 'x' ? [label, part, value, ''] : [label, part, '', value]
				);
			}
			case 'rows':
				return layer.rows.flatMap(({ label: row, value, ...others }) => [
					[label, row, value, ''],
					...(['low', 'high', 'before'] as const).flatMap((part) =>
						others[part] === undefined ? [] : [[label, `${row}, ${part}`, others[part], '']]
					)
				]);
			case 'chain':
				return layer.links.flatMap(({ label: link, value, low, high, unknown }) => [
					[label, link, unknown ? 'not known' : value, ''],
					...(low === undefined || high === undefined
						? []
						: [
								[label, `${link}, low`, low, ''],
								[label, `${link}, high`, high, '']
							])
				]);
		}
	});
	const head = ['layer', 'part', `${x.label} (${x.unit})`, `${y.label} (${y.unit})`];
	const own = csv([head, ...rows]);
	return below ? `${own}\n${figureCsv(below)}` : own;
}
