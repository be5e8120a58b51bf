import { inputsOf } from '$lib/investigation/views/tree';
import { BOX, layoutTree, type Place, type TreeLayout } from '$lib/report/tree-layout';

/** Where the drawing lies in its frame: screen = drawing × zoom + (x, y), in pixels. */
export interface View {
	x: number;
	y: number;
	zoom: number;
}
interface Size {
	width: number;
	height: number;
}

/** A drawing opens with its titles at least this high (px); fitted whole, smaller than the second can't be read. */
const OPENS_AT = 11.1;
const LEAST = 6;
export const READABLE_ZOOM = OPENS_AT / BOX.font;
const LEAST_ZOOM = LEAST / BOX.font;
/** Further out than this the words beside the signs are too small to read. */
export const FAR_ZOOM = 8.5 / BOX.small;
const AROUND = 16;

/** As large as is readable: all of it where there is room, else the event `at` in the middle, without empty room beside. */
export function opening(layout: Size & Pick<TreeLayout, 'places'>, frame: Size, at: string): View {
	const zoom = Math.min(1, Math.max(READABLE_ZOOM, frame.width / layout.width));
	const place = layout.places.find(({ event, home }) => event === at && home) ?? layout.places[0];
	const along = (frame: number, size: number, middle: number) =>
		size * zoom <= frame
			? (frame - size * zoom) / 2
			: Math.min(0, Math.max(frame - size * zoom, frame / 2 - middle * zoom));
	const x = along(frame.width, layout.width, place ? place.x + place.width / 2 : 0);
	const low = place ? (place.y + place.height) * zoom + AROUND : 0;
	return { x, y: low <= frame.height ? 0 : along(frame.height, layout.height, place!.y), zoom };
}

/** The whole drawing in the frame. */
export function fitting(layout: Size, frame: Size): View {
	const zoom = Math.min(1.25, frame.width / layout.width, frame.height / layout.height);
	return { x: (frame.width - layout.width * zoom) / 2, y: 0, zoom };
}

/** Height of titles at this size, where they are then too small to read; else null. */
export const tooSmall = (zoom: number): number | null =>
	zoom >= LEAST_ZOOM ? null : Math.round(zoom * BOX.font);

type Events = Parameters<typeof layoutTree>[0];
type Drawn = NonNullable<Parameters<typeof layoutTree>[2]>;

/** The depth from which causes are listed so that the whole drawing is largest in this frame. */
export function bestDepth(events: Events, top: string, frame: Size, drawn: Drawn = {}): number {
	let best = { depth: 1, zoom: 0 };
	for (let depth = layoutTree(events, top, drawn).hangFrom; depth >= 0; depth--) {
		const { zoom } = fitting(layoutTree(events, top, { ...drawn, hangFrom: depth }), frame);
		if (zoom > best.zoom) best = { depth, zoom };
	}
	return best.depth;
}

/** The branches to fold so that the whole drawing can be read: the deepest ones that are enough, by levels. */
export function foldsToFit(events: Events, top: string, frame: Size, drawn: Drawn = {}): ReadonlySet<string> {
	const levels: string[][] = [];
	const met = new Set([top]);
	for (let level = [top]; level.length > 0;) {
		levels.push(level.filter((id) => events[id]?.gate));
		level = level.flatMap((id) => inputsOf(events[id])).filter((id) => !met.has(id) && met.add(id));
	}
	for (let depth = levels.length - 1; depth > 1; depth--) {
		const folded = new Set(levels.slice(depth).flat());
		const own = { ...drawn, folded };
		const hangFrom = bestDepth(events, top, frame, own);
		if (tooSmall(fitting(layoutTree(events, top, { ...own, hangFrom }), frame).zoom) === null) return folded;
	}
	return new Set(levels[1] ?? []);
}

/**
 * How far the drawing is to be moved after the layout changed, so that most of it stays where it was on the screen;
 * where as much moved one way as another, the chosen event stays.
 */
export function staying(
	before: readonly Place[],
	after: readonly Place[],
	chosen: string
): { dx: number; dy: number } {
	const was = new Map(before.map((place) => [place.key, place]));
	const moves = new Map<string, { dx: number; dy: number; count: number }>();
	for (const place of after) {
		const old = was.get(place.key);
		if (!old) continue;
		const [dx, dy] = [Math.round(old.x - place.x), Math.round(old.y - place.y)];
		const move = moves.get(`${dx} ${dy}`) ?? { dx, dy, count: 0 };
		move.count += place.event === chosen ? 1.5 : 1;
		moves.set(`${dx} ${dy}`, move);
	}
	const most = [...moves.values()].reduce((a, b) => (b.count > a.count ? b : a), { dx: 0, dy: 0, count: 0 });
	return { dx: most.dx, dy: most.dy };
}

export type Side = 'left' | 'right' | 'up' | 'down';

/** So much of a box may be cut off before it counts as not to be seen, px. */
const CUT = 10;

/** How many boxes lie beyond each edge of the frame, whole or in part. */
export function beyond(places: readonly Place[], { x, y, zoom }: View, frame: Size): Record<Side, number> {
	const count = { left: 0, right: 0, up: 0, down: 0 };
	for (const place of places) {
		const [left, up] = [place.x * zoom + x, place.y * zoom + y];
		if (left < -CUT) count.left++;
		else if (left + place.width * zoom > frame.width + CUT) count.right++;
		else if (up < -CUT) count.up++;
		else if (up + place.height * zoom > frame.height + CUT) count.down++;
	}
	return count;
}
