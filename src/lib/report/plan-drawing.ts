import {
	bearingText,
	distanceText,
	type Plan,
	type PlanItem,
	type PlanRegion
} from '$lib/investigation/views/plan';
import {
	escape,
	FONT,
	grid,
	hatch,
	type LabelLine,
	Labels,
	northArrow,
	type PlanView,
	type Point,
	R95,
	r,
	ringPath,
	scaleBar
} from './drawing';
import { type Palette, THEMED } from './palette';
import { textWidth } from './text-width';

export interface PlanOptions {
	palette?: Palette;
	/** Items that are chosen, in order; the first two are joined by a line. */
	chosen?: readonly string[];
	/** Colour of what is not known to be safe. */
	caution?: string;
	/** Screen only: each item can be pressed. */
	pressable?: boolean;
}

/** Room at the edges for wind, north and scale. */
const EDGE = { top: 92, side: 56, bottom: 64 };

/** The view in which everything of the plan can be seen. */
export function wholeView(plan: Plan, width: number, height: number): PlanView {
	const points: Point[] = [
		[0, 0],
		...plan.items.flatMap(({ eastM, northM, sigmaM }): Point[] => {
			const reach = (sigmaM ?? 0) * R95;
			return [
				[eastM - reach, northM - reach],
				[eastM + reach, northM + reach]
			];
		}),
		...plan.regions.flatMap((region) => region.levels.flatMap(({ polygons }) => polygons.flat()))
	];
	const east = points.map(([e]) => e);
	const north = points.map(([, n]) => n);
	const [west, right] = [Math.min(...east), Math.max(...east)];
	const [south, top] = [Math.min(...north), Math.max(...north)];
	const across = Math.max(120, width - 2 * EDGE.side - 120);
	const down = Math.max(120, height - EDGE.top - EDGE.bottom);
	// A lone pad is shown with 100 m of ground around it.
	const metresPerPx = Math.max((right - west) / across, (top - south) / down, 100 / across);
	const shift = ((EDGE.top - EDGE.bottom) / 2) * metresPerPx;
	return { centre: [(west + right) / 2, (south + top) / 2 + shift], metresPerPx, width, height };
}

/** The ground from above, north up, as one SVG. */
export function drawPlan(plan: Plan, view: PlanView, options: PlanOptions = {}): string {
	const p = options.palette ?? THEMED;
	const { width, height } = view;
	const at = ([east, north]: Point): Point => [
		width / 2 + (east - view.centre[0]) / view.metresPerPx,
		height / 2 - (north - view.centre[1]) / view.metresPerPx
	];
	const labels = new Labels(width, height, p);
	labels.keepFree(0, 0, 300, 84);
	labels.keepFree(0, height - 52, 270, 52);
	const pad = at([0, 0]);
	labels.keepFree(pad[0] - 9, pad[1] - 18, 18, 22);
	for (const item of plan.items) {
		const [x, y] = at([item.eastM, item.northM]);
		labels.keepFree(x - 8, y - 8, 16, 16);
	}
	const parts = [
		grid(view, at, p),
		regions(plan.regions, at, view, labels, p),
		bearings(plan, at, p),
		joined(plan, options.chosen ?? [], at, p),
		...plan.items.map((item) => drawItem(item, at, view, options, p)),
		padMark(pad, plan, p),
		...plan.items.map((item) => itemLabel(item, at, labels, options)),
		labels.put(pad, [{ text: 'Pad', bold: true }], 10),
		northArrow(p),
		windArrow(plan, width, p),
		scaleBar(view, p)
	];
	return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="${options.pressable ? 'group' : 'img'}" aria-label="Plan of the ground, north up, ${plan.items.length} items" font-family="${FONT}">${parts.join('')}</svg>`;
}

function regions(
	list: readonly PlanRegion[],
	at: (p: Point) => Point,
	view: PlanView,
	labels: Labels,
	p: Palette
): string {
	return list
		.map((region, i) => {
			const rings = region.levels.map(({ level, polygons }) => {
				const d = polygons.map((ring) => ringPath(ring.map(at))).join('');
				const shown = level > 0.85 && level < 0.95;
				return `<path d="${d}" fill="${shown ? `url(#hatch-${i})` : 'none'}" fill-rule="evenodd" stroke="${p.ink2}" stroke-width="${shown ? 1.6 : 1}"${shown ? '' : ` stroke-dasharray="${level < 0.6 ? '5 4' : '1.5 4'}"`}/>`;
			});
			const widest = region.levels.find(({ level }) => level > 0.85) ?? region.levels.at(-1);
			const low = widest?.polygons
				.flat()
				.reduce<Point | null>((best, q) => (best && best[1] <= q[1] ? best : q), null);
			const label = low
				? labels.put(at(low), [{ text: `${region.label}, ${Math.round(widest!.level * 100)} %` }], 6)
				: '';
			return `<defs>${hatch(`hatch-${i}`, i, p)}</defs>${rings.join('')}${label}`;
		})
		.join('');
}

/** Dashed lines along which a distance and bearing were taken. */
function bearings(plan: Plan, at: (p: Point) => Point, p: Palette): string {
	const byId = new Map(plan.items.map((item) => [item.id, item]));
	return plan.items
		.map((item) => {
			if (item.measuredFrom === null) return '';
			const from = item.measuredFrom === 'pad' ? { eastM: 0, northM: 0 } : byId.get(item.measuredFrom);
			if (!from) return '';
			const [a, b] = [at([from.eastM, from.northM]), at([item.eastM, item.northM])];
			return `<path d="M${a.map(r).join(' ')}L${b.map(r).join(' ')}" stroke="${p.ink2}" stroke-width="1.1" stroke-dasharray="7 5" fill="none"/>`;
		})
		.join('');
}

function joined(plan: Plan, chosen: readonly string[], at: (p: Point) => Point, p: Palette): string {
	const place = (id: string | undefined): Point | null => {
		if (id === 'pad') return at([0, 0]);
		const item = plan.items.find((i) => i.id === id);
		return item ? at([item.eastM, item.northM]) : null;
	};
	const [a, b] = [place(chosen[0]), place(chosen[1])];
	return a && b
		? `<path d="M${a.map(r).join(' ')}L${b.map(r).join(' ')}" stroke="${p.mark}" stroke-width="2" fill="none"/>`
		: '';
}

function drawItem(
	item: PlanItem,
	at: (p: Point) => Point,
	view: PlanView,
	options: PlanOptions,
	p: Palette
): string {
	const [x, y] = at([item.eastM, item.northM]);
	const chosen = options.chosen?.includes(item.id) ?? false;
	const colour = chosen ? p.mark : p.ink;
	const radius = item.sigmaM === null ? 0 : (item.sigmaM * R95) / view.metresPerPx;
	const circle =
		radius > 7
			? `<circle r="${r(radius)}" fill="none" stroke="${p.ink2}" stroke-width="1" opacity=".75"/>`
			: '';
	const shape = {
		piece: `<rect x="-5.5" y="-5.5" width="11" height="11" fill="${colour}"/>`,
		photo: `<circle r="4.6" fill="${p.sheet}" stroke="${colour}" stroke-width="2"/>`,
		other: `<path d="M0-6 6 0 0 6-6 0Z" fill="${p.sheet}" stroke="${colour}" stroke-width="1.8"/>`
	}[item.kind];
	const warning =
		item.notSafe.length > 0
			? `<path d="M0-15 13 8H-13Z" fill="none" stroke="${options.caution ?? 'var(--caution-bar)'}" stroke-width="2.4" stroke-linejoin="round"/>`
			: '';
	const press = options.pressable
		? ` data-item="${escape(item.id)}" tabindex="0" role="button" aria-pressed="${chosen}" aria-label="${escape(spoken(item))}"`
		: '';
	return `<g transform="translate(${r(x)} ${r(y)})"${press}>${options.pressable ? '<circle r="16" fill="transparent"/>' : ''}${circle}${warning}${shape}</g>`;
}

const spoken = (item: PlanItem) =>
	`${item.mark} ${item.title}, ${distanceText(item.distanceM)} from the pad at ${bearingText(item.bearingDeg)}${item.notSafe.length > 0 ? ', not known safe' : ''}`;

function itemLabel(
	item: PlanItem,
	at: (p: Point) => Point,
	labels: Labels,
	{ caution }: PlanOptions
): string {
	const lines: LabelLine[] = [
		{ text: `${item.mark.slice(1)} ${item.title}`, bold: true },
		{ text: `${distanceText(item.distanceM)} from the pad, ${bearingText(item.bearingDeg)}` }
	];
	if (item.notSafe.length > 0)
		lines.push({
			text: `not known safe: ${item.notSafe.join(', ')}`,
			colour: caution ?? 'var(--caution-ink)',
			bold: true
		});
	const gap = item.kind === 'photo' ? 8 : 11;
	const place = at([item.eastM, item.northM]);
	return labels.put(place, lines, gap) || labels.put(place, [{ text: item.mark.slice(1), bold: true }], gap);
}

function padMark([x, y]: Point, { launchedDeg }: Plan, p: Palette): string {
	const launch =
		launchedDeg === null
			? ''
			: `<path d="M0-18V-44M-4-38 0-44 4-38" transform="rotate(${r(launchedDeg)})" stroke="${p.ink2}" stroke-width="1.3" fill="none"/>`;
	return `<g transform="translate(${r(x)} ${r(y)})">${launch}<path d="M0-15 7 4H-7Z" fill="${p.ink}"/></g>`;
}

/** The arrow points where the wind goes; the words say where it comes from, aloft on a line of its own where it is narrow. */
function windArrow({ wind }: Plan, width: number, p: Palette): string {
	const [ground] = wind;
	if (!ground) return `<text x="66" y="34" font-size="12" fill="${p.ink2}">no wind recorded</text>`;
	const top = wind.at(-1)!;
	const speed = (w: typeof ground) => `${r(w.speedMS)} m/s`;
	const low = `${speed(ground)} at ${distanceText(Math.max(0, ground.heightM))}`;
	const aloft = `${speed(top)} from ${bearingText(top.fromDeg)} at ${distanceText(top.heightM)}`;
	const both = `${low}, ${aloft}`;
	const told = top === ground ? [low] : 110 + textWidth(both, 12.5) < width ? [both] : [low, aloft];
	const lines = [`wind from ${bearingText(ground.fromDeg)} true`, ...told].map(
		(words, i) => `<text x="110" y="${44 + 16 * i}" font-size="12.5" fill="${p.ink2}">${words}</text>`
	);
	return `<g transform="translate(84 48)"><path d="M0 17V-17M-6-8 0-17 6-8" transform="rotate(${r(ground.fromDeg + 180)})" stroke="${p.ink2}" stroke-width="1.5" fill="none"/></g>${lines.join('')}`;
}
