import {
	bearingText,
	distanceText,
	type Plan,
	type PlanItem,
	type PlanRegion
} from '$lib/investigation/views/plan';
import { textWidth } from './text-width';
import { type Palette, THEMED } from './tree-drawing';

/** What part of the ground is drawn, and how large. */
export interface PlanView {
	/** Middle of the picture, metres east and north of the pad. */
	centre: readonly [number, number];
	metresPerPx: number;
	width: number;
	height: number;
}

export interface PlanOptions {
	palette?: Palette;
	/** Items that are chosen, in order; the first two are joined by a line. */
	chosen?: readonly string[];
	/** Colour of what is not known to be safe. */
	caution?: string;
	/** Screen only: each item can be pressed. */
	pressable?: boolean;
}

type Point = readonly [number, number];
/** Room at the edges for wind, north and scale. */
const EDGE = { top: 92, side: 56, bottom: 64 };
const LABEL = { size: 13, note: 12, line: 16 };
/** Radius that holds 95 of 100 of a circular normal distribution. */
const R95 = Math.sqrt(-2 * Math.log(0.05));

const r = (x: number) => Math.round(x * 10) / 10;
const escape = (text: string) =>
	text.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!);

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

/** 1, 2 or 5 times a power of ten, the largest not above `limit`. */
export function roundStep(limit: number): number {
	const power = 10 ** Math.floor(Math.log10(limit));
	return ([5, 2, 1].find((m) => m * power <= limit) ?? 1) * power;
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
		windArrow(plan, p),
		scaleBar(view, p)
	];
	return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="${options.pressable ? 'group' : 'img'}" aria-label="Plan of the ground, north up, ${plan.items.length} items" font-family="'Atkinson Hyperlegible Next Variable','Atkinson Hyperlegible Next',system-ui,sans-serif">${parts.join('')}</svg>`;
}

function grid(view: PlanView, at: (p: Point) => Point, p: Palette): string {
	const step = roundStep(view.metresPerPx * 160);
	const [halfW, halfH] = [(view.width / 2) * view.metresPerPx, (view.height / 2) * view.metresPerPx];
	let d = '';
	for (let e = Math.ceil((view.centre[0] - halfW) / step) * step; e <= view.centre[0] + halfW; e += step)
		d += `M${r(at([e, 0])[0])} 0V${view.height}`;
	for (let n = Math.ceil((view.centre[1] - halfH) / step) * step; n <= view.centre[1] + halfH; n += step)
		d += `M0 ${r(at([0, n])[1])}H${view.width}`;
	return `<path d="${d}" stroke="${p.rule}" stroke-width=".5" opacity=".55" fill="none"/>`;
}

/** Hatchings that differ in direction and kind, so that regions can be told apart without colour. */
const HATCHES = [
	'M-1 7 7-1M-1 14 14-1M6 14 14 6',
	'M2 2h.1M8 8h.1',
	'M-1-1 13 13M-1 11 1 13M11-1 13 1',
	'M0 3H12M0 9H12',
	'M3 0V12M9 0V12',
	'M0 6H12M6 0V12'
];

function hatch(index: number, p: Palette): string {
	const dots = index % HATCHES.length === 1;
	return `<pattern id="hatch-${index}" width="12" height="12" patternUnits="userSpaceOnUse"><path d="${HATCHES[index % HATCHES.length]}" stroke="${p.ink2}" stroke-width="${dots ? 2 : 0.8}" stroke-linecap="round" fill="none" opacity=".5"/></pattern>`;
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
				const d = polygons
					.map((ring) => 'M' + ring.map((point) => at(point).map(r).join(' ')).join('L') + 'Z')
					.join('');
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
			return `<defs>${hatch(i, p)}</defs>${rings.join('')}${label}`;
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
	return labels.put(at([item.eastM, item.northM]), lines, item.kind === 'photo' ? 8 : 11);
}

function padMark([x, y]: Point, { launchedDeg }: Plan, p: Palette): string {
	const launch =
		launchedDeg === null
			? ''
			: `<path d="M0-18V-44M-4-38 0-44 4-38" transform="rotate(${r(launchedDeg)})" stroke="${p.ink2}" stroke-width="1.3" fill="none"/>`;
	return `<g transform="translate(${r(x)} ${r(y)})">${launch}<path d="M0-15 7 4H-7Z" fill="${p.ink}"/></g>`;
}

const northArrow = (p: Palette) =>
	`<g transform="translate(36 28)" stroke="${p.ink}" stroke-width="1.6" fill="none"><path d="M0 44V0M-7 11 0 0 7 11"/><text x="0" y="-8" text-anchor="middle" stroke="none" font-size="13" font-weight="700" fill="${p.ink}">N</text></g>`;

/** The arrow points where the wind goes; the words say where it comes from. */
function windArrow({ wind }: Plan, p: Palette): string {
	const [ground] = wind;
	if (!ground) return `<text x="66" y="34" font-size="12" fill="${p.ink2}">no wind recorded</text>`;
	const top = wind.at(-1)!;
	const speed = (w: typeof ground) => `${r(w.speedMS)} m/s`;
	const aloft =
		top === ground ? '' : `, ${speed(top)} from ${bearingText(top.fromDeg)} at ${distanceText(top.heightM)}`;
	return `<g transform="translate(84 48)"><path d="M0 17V-17M-6-8 0-17 6-8" transform="rotate(${r(ground.fromDeg + 180)})" stroke="${p.ink2}" stroke-width="1.5" fill="none"/></g><text x="110" y="44" font-size="12.5" fill="${p.ink2}">wind from ${bearingText(ground.fromDeg)} true</text><text x="110" y="60" font-size="12.5" fill="${p.ink2}">${speed(ground)} at ${distanceText(Math.max(0, ground.heightM))}${aloft}</text>`;
}

function scaleBar(view: PlanView, p: Palette): string {
	const length = roundStep(view.metresPerPx * Math.min(220, view.width * 0.4));
	const px = length / view.metresPerPx;
	const [x, y] = [32, view.height - 24];
	const tick = (share: number) => `M${r(x + px * share)} ${y - 5}v10`;
	const text = (share: number, words: string, anchor = 'middle') =>
		`<text x="${r(x + px * share)}" y="${y - 10}" text-anchor="${anchor}" font-size="12" fill="${p.ink}">${words}</text>`;
	return `<path d="M${x} ${y}h${r(px)}${tick(0)}${tick(0.5)}${tick(1)}" stroke="${p.ink}" stroke-width="1.5" fill="none"/>${text(0, '0')}${text(0.5, distanceText(length / 2).replace(/ k?m$/, ''))}${text(1, distanceText(length))}`;
}

interface LabelLine {
	text: string;
	bold?: boolean;
	colour?: string;
}

/** Puts labels beside their points where nothing stands yet; where there is no room near, further out with a lead. */
class Labels {
	readonly #taken: { x: number; y: number; w: number; h: number }[] = [];

	constructor(
		private readonly width: number,
		private readonly height: number,
		private readonly palette: Palette
	) {
		this.keepFree(0, 0, 300, 76);
		this.keepFree(0, height - 52, 270, 52);
	}

	keepFree(x: number, y: number, w: number, h: number) {
		this.#taken.push({ x, y, w, h });
	}

	put([x, y]: Point, lines: readonly LabelLine[], gap: number): string {
		const w = Math.max(...lines.map(({ text, bold }) => textWidth(text, LABEL.size) * (bold ? 1.06 : 0.96)));
		const h = lines.length * LABEL.line;
		const spots = [1, 2.6, 5, 9].flatMap((far): [number, number, number][] => {
			const g = gap * far;
			return [
				[x + g, y - h / 2, far],
				[x - g - w, y - h / 2, far],
				[x - w / 2, y + g, far],
				[x - w / 2, y - g - h, far],
				[x + g, y + g * 0.6, far],
				[x + g, y - g * 0.6 - h, far],
				[x - g - w, y + g * 0.6, far],
				[x - g - w, y - g * 0.6 - h, far]
			];
		});
		const free = spots.find(([sx, sy]) => this.#isFree(sx, sy, w, h));
		// Out of sight, or no room anywhere: left out; the list beside the plan has it.
		if (!free) return '';
		const [sx, sy, far] = free;
		this.keepFree(sx, sy, w, h);
		const text = lines
			.map(
				({ text, bold, colour }, i) =>
					`<text x="${r(sx)}" y="${r(sy + LABEL.line * (i + 0.78))}" font-size="${bold ? LABEL.size : LABEL.note}" font-weight="${bold ? 700 : 400}" fill="${colour ?? (bold ? this.palette.ink : this.palette.ink2)}" stroke="${this.palette.sheet}" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke">${escape(text)}</text>`
			)
			.join('');
		const lead =
			far > 1
				? `<path d="M${r(x)} ${r(y)}L${r(Math.min(Math.max(x, sx), sx + w))} ${r(Math.min(Math.max(y, sy), sy + h))}" stroke="${this.palette.ink2}" stroke-width=".8" fill="none"/>`
				: '';
		return lead + text;
	}

	#isFree(x: number, y: number, w: number, h: number): boolean {
		if (x < 4 || y < 4 || x + w > this.width - 4 || y + h > this.height - 4) return false;
		return this.#taken.every((t) => x + w < t.x || t.x + t.w < x || y + h < t.y || t.y + t.h < y);
	}
}
