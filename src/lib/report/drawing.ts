import type { Palette } from './palette';
import { textWidth } from './text-width';

/** What every drawing shares: numbers, words, hatches, labels that give way to one another, and the parts of a plan. */
export type Point = readonly [number, number];

export const FONT = "'Atkinson Hyperlegible Next Variable','Atkinson Hyperlegible Next',system-ui,sans-serif";

/** A coordinate in tenths of a pixel. */
export const r = (x: number): number => Math.round(x * 10) / 10;

export const escape = (text: string): string =>
	text.replace(/[&<>"]/g, (c) => ({ '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;' })[c]!);

/** Radius that holds 95 of 100 of a circular normal distribution, in standard deviations of one axis. */
export const R95 = Math.sqrt(-2 * Math.log(0.05));

export const linePath = (points: readonly Point[]): string =>
	points.length === 0 ? '' : 'M' + points.map(([x, y]) => `${r(x)} ${r(y)}`).join('L');
export const ringPath = (points: readonly Point[]): string => `${linePath(points)}Z`;

/** 1, 2 or 5 times a power of ten, the largest not above `limit`. */
export function roundStep(limit: number): number {
	const power = 10 ** Math.floor(Math.log10(limit));
	return ([5, 2, 1].find((m) => m * power <= limit) ?? 1) * power;
}

/** What part of the ground is drawn, and how large. */
export interface PlanView {
	/** Middle of the picture, metres east and north of the pad. */
	centre: readonly [number, number];
	metresPerPx: number;
	width: number;
	height: number;
}

/** A square grid of round distances over the ground. */
export function grid(view: PlanView, at: (p: Point) => Point, p: Palette): string {
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

export function hatch(id: string, index: number, p: Palette): string {
	const dots = index % HATCHES.length === 1;
	return `<pattern id="${id}" width="12" height="12" patternUnits="userSpaceOnUse"><path d="${HATCHES[index % HATCHES.length]}" stroke="${p.ink2}" stroke-width="${dots ? 2 : 0.8}" stroke-linecap="round" fill="none" opacity=".5"/></pattern>`;
}

export const northArrow = (p: Palette) =>
	`<g transform="translate(36 28)" stroke="${p.ink}" stroke-width="1.6" fill="none"><path d="M0 44V0M-7 11 0 0 7 11"/><text x="0" y="-8" text-anchor="middle" stroke="none" font-size="13" font-weight="700" fill="${p.ink}">N</text></g>`;

export function scaleBar(view: PlanView, p: Palette): string {
	const length = roundStep(view.metresPerPx * Math.min(220, view.width * 0.4));
	const px = length / view.metresPerPx;
	const [x, y] = [32, view.height - 24];
	const tick = (share: number) => `M${r(x + px * share)} ${y - 5}v10`;
	const text = (share: number, words: string, anchor = 'middle') =>
		`<text x="${r(x + px * share)}" y="${y - 10}" text-anchor="${anchor}" font-size="12" fill="${p.ink}">${words}</text>`;
	// All three in the unit that stands at the end.
	const [factor, unit] = length < 1000 ? [1, 'm'] : [1000, 'km'];
	const number = (metres: number) => String(Number((metres / factor).toPrecision(3)));
	return `<path d="M${x} ${y}h${r(px)}${tick(0)}${tick(0.5)}${tick(1)}" stroke="${p.ink}" stroke-width="1.5" fill="none"/>${text(0, '0')}${text(0.5, number(length / 2))}${text(1, `${number(length)} ${unit}`)}`;
}

const LABEL = { size: 13, note: 12, line: 16 };
export interface LabelLine {
	text: string;
	bold?: boolean;
	colour?: string;
}

interface Box {
	x: number;
	y: number;
	w: number;
	h: number;
}

/** Puts labels beside their points where nothing stands yet; where there is no room near, further out with a lead. */
export class Labels {
	readonly #taken: Box[] = [];
	readonly #avoided: Box[] = [];

	constructor(
		private readonly width: number,
		private readonly height: number,
		private readonly palette: Palette
	) {}

	keepFree(x: number, y: number, w: number, h: number) {
		this.#taken.push({ x, y, w, h });
	}

	/** Where no label stands while there is room elsewhere: a line that the words would cross. */
	avoid(path: readonly Point[]) {
		path.slice(1).forEach(([x, y], i) => {
			const [fromX, fromY] = path[i]!;
			const n = Math.max(1, Math.ceil(Math.hypot(x - fromX, y - fromY) / 6));
			for (let k = 0; k <= n; k++)
				this.#avoided.push({
					x: fromX + ((x - fromX) * k) / n - 1,
					y: fromY + ((y - fromY) * k) / n - 1,
					w: 2,
					h: 2
				});
		});
	}

	/** Whether these words would cross nothing that is avoided. */
	isClear(x: number, y: number, w: number, h: number): boolean {
		return clear(this.#avoided, x, y, w, h);
	}

	/** @param only  'clear': nowhere rather than across what is avoided */
	put([x, y]: Point, lines: readonly LabelLine[], gap: number, only?: 'clear'): string {
		const [w, h] = this.#sizeOf(lines);
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
		const open = spots.filter(([sx, sy]) => this.#isFree(sx, sy, w, h));
		const free = open.find(([sx, sy]) => this.isClear(sx, sy, w, h)) ?? (only ? undefined : open[0]);
		// Out of sight, or no room anywhere: left out; the list beside the plan has it.
		if (!free) return '';
		const [sx, sy, far] = free;
		const lead =
			far > 1
				? `<path d="M${r(x)} ${r(y)}L${r(Math.min(Math.max(x, sx), sx + w))} ${r(Math.min(Math.max(y, sy), sy + h))}" stroke="${this.palette.ink2}" stroke-width=".8" fill="none"/>`
				: '';
		return lead + this.#draw(sx, sy, lines);
	}

	/** At the first of these corners (upper left, for its width and height) where it is free and `fits`; else nowhere. */
	putAt(
		line: LabelLine,
		corners: (w: number, h: number) => readonly Point[],
		fits: (x: number, y: number, w: number, h: number) => boolean
	): string {
		const [w, h] = this.#sizeOf([line]);
		const free = corners(w, h).find(([x, y]) => this.#isFree(x, y, w, h) && fits(x, y, w, h));
		return free ? this.#draw(...free, [line]) : '';
	}

	#sizeOf(lines: readonly LabelLine[]): [w: number, h: number] {
		const widths = lines.map(({ text, bold }) => textWidth(text, LABEL.size) * (bold ? 1.06 : 0.96));
		return [Math.max(...widths), lines.length * LABEL.line];
	}

	#draw(sx: number, sy: number, lines: readonly LabelLine[]): string {
		this.keepFree(sx, sy, ...this.#sizeOf(lines));
		return lines
			.map(
				({ text, bold, colour }, i) =>
					`<text x="${r(sx)}" y="${r(sy + LABEL.line * (i + 0.78))}" font-size="${bold ? LABEL.size : LABEL.note}" font-weight="${bold ? 700 : 400}" fill="${colour ?? (bold ? this.palette.ink : this.palette.ink2)}" stroke="${this.palette.sheet}" stroke-width="3.5" stroke-linejoin="round" paint-order="stroke">${escape(text)}</text>`
			)
			.join('');
	}

	#isFree(x: number, y: number, w: number, h: number): boolean {
		if (x < 4 || y < 4 || x + w > this.width - 4 || y + h > this.height - 4) return false;
		return clear(this.#taken, x, y, w, h);
	}
}

const clear = (boxes: readonly Box[], x: number, y: number, w: number, h: number) =>
	boxes.every((t) => x + w < t.x || t.x + t.w < x || y + h < t.y || t.y + t.h < y);
