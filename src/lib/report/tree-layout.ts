import type { TreeEvent } from '$lib/investigation/schema/anomaly';
import { below, inputsOf, isBranch } from '$lib/investigation/views/tree';
import { wrap } from './text-width';

type Events = Readonly<Record<string, TreeEvent>>;

/** One drawn box. A shared event has one home and stands elsewhere as a transfer to it. */
export interface Place {
	/** The event's identity at home; 'parent>event' where it stands again. */
	key: string;
	event: string;
	parent: string | null;
	/** Left upper corner of the box, and its size. */
	x: number;
	y: number;
	width: number;
	height: number;
	lines: string[];
	/** Letter of the transfer, where the event stands in several places. */
	transfer: string | null;
	home: boolean;
	/** Number of events hidden beneath a folded one. */
	folded: number;
	/** How many others could fail with it, from a cause that they share. */
	others: number;
	/** Its causes are listed beneath it, along a spine, instead of side by side. */
	hangs: boolean;
	/** It stands in such a list; the symbol of a leaf is then at the right of its box, so that the list stays short. */
	listed: boolean;
}

export interface Edge {
	from: string;
	to: string;
	points: [number, number][];
}

export interface TreeLayout {
	places: Place[];
	edges: Edge[];
	width: number;
	height: number;
	/** Depth from which causes are listed downward. */
	hangFrom: number;
}

export const BOX = { width: 178, pad: 9, line: 15.5, bar: 17, font: 13, small: 12, row: 15 };
/** What is decided on has a row for its disposition. */
export const isDecidedOn = (event: TreeEvent): boolean =>
	isBranch(event) || event.disposition.state !== 'open';
/** Room for a gate beneath a box, and for the symbol of a leaf. */
export const GATE = { stem: 7, height: 27, width: 26 };
export const LEAF = { stem: 6, size: 18 };
/** Room for the symbol beside what is transferred to. */
const TRANSFER = 12;
const GAP = { side: 18, bus: 34, hang: 12, indent: 36 };
const SPINE = 19;
const MARGIN = 12;

/** What of a tree is drawn, and how. */
interface Drawn {
	/** Gates whose inputs are not shown. */
	folded?: ReadonlySet<string>;
	/** Events that are drawn elsewhere: here they are transfers. */
	away?: ReadonlySet<string>;
	/** What transfer symbols say, by event; left out, letters in the order of the drawing. */
	letters?: ReadonlyMap<string, string>;
	/** By event: how many others share a cause with it (views/common-cause). */
	others?: ReadonlyMap<string, number>;
}

interface Node {
	place: Place;
	depth: number;
	inputs: Node[];
}

/**
 * Places a fault tree: each gate's causes side by side in rows, and from depth `hangFrom` on listed downward along a
 * spine, which is what keeps sixty events readable. Adding an event moves what lies beside it and nothing else.
 * @param hangFrom  0 lists the top's own causes too; left out, the deepest from 1 on at which the tree is no wider than
 *                  `maxWidth`
 */
export function layoutTree(
	events: Events,
	top: string,
	{
		hangFrom,
		maxWidth = Infinity,
		...drawn
	}: Drawn & { hangFrom?: number | undefined; maxWidth?: number } = {}
): TreeLayout {
	if (hangFrom !== undefined) return placed(events, top, drawn, hangFrom);
	const deepest = depthOf(events, top);
	for (let depth = deepest; depth > 1; depth--) {
		const layout = placed(events, top, drawn, depth);
		if (layout.width <= maxWidth) return layout;
	}
	return placed(events, top, drawn, 1);
}

function depthOf(events: Events, top: string): number {
	const depths = new Map<string, number>();
	const walk = (id: string): number => {
		const known = depths.get(id);
		if (known !== undefined) return known;
		const depth = Math.max(0, ...inputsOf(events[id]).map((input) => 1 + walk(input)));
		depths.set(id, depth);
		return depth;
	};
	return Math.max(1, walk(top));
}

function placed(events: Events, top: string, drawn: Drawn, hangFrom: number): TreeLayout {
	const places: Place[] = [];
	const root = grow(events, top, drawn, hangFrom, places);
	if (!root) return { places: [], edges: [], width: 0, height: 0, hangFrom };
	letter(places, drawn.letters);

	const rowHeights: number[] = [];
	const measure = (node: Node) => {
		rowHeights[node.depth] = Math.max(rowHeights[node.depth] ?? 0, node.place.height);
		if (!node.place.hangs) node.inputs.forEach(measure);
	};
	measure(root);
	const rowTops = [MARGIN];
	rowHeights.forEach((height, depth) => {
		rowTops[depth + 1] = rowTops[depth]! + height + GATE.stem + GATE.height + GAP.bus;
	});

	spread(root, rowTops);
	const left = Math.min(...places.map(({ x }) => x));
	for (const place of places) place.x += MARGIN - left;
	const edges: Edge[] = [];
	connect(root, edges);
	const beside = (p: Place) =>
		p.listed ? LEAF.stem + LEAF.size : p.home && p.transfer !== null ? TRANSFER : 0;
	const right = (p: Place) => p.x + p.width + beside(p);
	const bottom = (p: Place) => p.y + p.height + LEAF.stem + LEAF.size;
	return {
		places,
		edges,
		width: Math.max(...places.map(right)) + MARGIN,
		height: Math.max(...places.map(bottom)) + MARGIN,
		hangFrom
	};
}

function grow(
	events: Events,
	top: string,
	{ folded = new Set(), away = new Set(), others = new Map() }: Drawn,
	hangFrom: number,
	places: Place[]
): Node | null {
	const homes = new Set<string>();
	const make = (id: string, parent: Place | null, depth: number): Node | null => {
		const event = events[id];
		if (!event) return null;
		const home = !homes.has(id) && !away.has(id);
		if (home) homes.add(id);
		const lines = wrap(event.title, BOX.width - 2 * BOX.pad, BOX.font, 0, 3);
		const together = others.get(id) ?? 0;
		const rows = Number(isDecidedOn(event)) + Number(together > 0);
		const isFolded = folded.has(id) && event.gate !== null;
		const place: Place = {
			key: home || !parent ? id : `${parent.key}>${id}`,
			event: id,
			parent: parent?.key ?? null,
			x: 0,
			y: 0,
			width: BOX.width,
			height: 2 * BOX.pad - 2 + lines.length * BOX.line + rows * BOX.row + BOX.bar,
			lines,
			transfer: null,
			home,
			folded: isFolded && home ? below(events, id).length - 1 : 0,
			others: together,
			hangs: depth >= hangFrom && home && !isFolded && event.gate !== null,
			listed: parent?.hangs ?? false
		};
		places.push(place);
		const open = home && !isFolded ? inputsOf(event) : [];
		const inputs = open.flatMap((input) => make(input, place, depth + 1) ?? []);
		return { place, depth, inputs };
	};
	return make(top, null, 0);
}

/** Letters A, B, … for what stands in several places, in the order of the drawing. */
function letter(places: readonly Place[], given?: ReadonlyMap<string, string>) {
	if (given) {
		for (const place of places) place.transfer = given.get(place.event) ?? null;
		return;
	}
	const again = new Set(places.filter(({ home }) => !home).map(({ event }) => event));
	const letters = new Map<string, string>();
	for (const place of places) {
		if (!again.has(place.event)) continue;
		if (!letters.has(place.event)) {
			const n = letters.size;
			letters.set(
				place.event,
				(n >= 26 ? String.fromCharCode(64 + Math.floor(n / 26)) : '') + String.fromCharCode(65 + (n % 26))
			);
		}
		place.transfer = letters.get(place.event)!;
	}
}

/** How far a subtree reaches left and right of its box's centre, row by row; the last row holds for all below. */
interface Contour {
	left: number[];
	right: number[];
}

/** Tidy placement by contours: subtrees as near as they can, a parent midway over its causes. */
function spread(root: Node, rowTops: readonly number[]) {
	const offsets = new Map<Node, number>();
	const half = BOX.width / 2;

	const outline = (node: Node): Contour => {
		node.place.y = rowTops[node.depth] ?? 0;
		if (node.place.hangs && node.inputs.length > 0) {
			const right = hang(node);
			return { left: [half], right: [right - half] };
		}
		if (node.inputs.length === 0) return { left: [half, -Infinity], right: [half, -Infinity] };
		const shapes = node.inputs.map(outline);
		const at = [0];
		const merged: Contour = { left: [...shapes[0]!.left], right: [...shapes[0]!.right] };
		for (let i = 1; i < shapes.length; i++) {
			const shape = shapes[i]!;
			const rows = Math.max(merged.right.length, shape.left.length);
			let shift = 0;
			for (let row = 0; row < rows; row++)
				shift = Math.max(shift, reach(merged.right, row) + reach(shape.left, row) + GAP.side);
			at.push(shift);
			const most = Math.max(merged.right.length, shape.right.length);
			const rightNow: number[] = [];
			const leftNow: number[] = [];
			for (let row = 0; row < most; row++) {
				rightNow.push(Math.max(reach(merged.right, row), reach(shape.right, row) + shift));
				leftNow.push(Math.max(reach(merged.left, row), reach(shape.left, row) - shift));
			}
			merged.right = rightNow;
			merged.left = leftNow;
		}
		const middle = at.at(-1)! / 2;
		node.inputs.forEach((input, i) => offsets.set(input, at[i]! - middle));
		return {
			left: [half, ...merged.left.map((x) => x + middle)],
			right: [half, ...merged.right.map((x) => x - middle)]
		};
	};

	const settle = (node: Node, centre: number) => {
		const dx = centre - half - node.place.x;
		if (node.place.hangs) shiftAll(node, dx);
		else {
			node.place.x = centre - half;
			for (const input of node.inputs) settle(input, centre + (offsets.get(input) ?? 0));
		}
	};
	outline(root);
	settle(root, 0);
}

const reach = (rows: readonly number[], row: number): number =>
	rows[Math.min(row, rows.length - 1)] ?? -Infinity;

function shiftAll(node: Node, dx: number) {
	node.place.x += dx;
	for (const input of node.inputs) shiftAll(input, dx);
}

/** Lists a node's causes beneath it, from x = 0 at its own left edge; answers how far right they reach. */
function hang(node: Node): number {
	let bottom = node.place.y + node.place.height;
	let right = BOX.width + LEAF.stem + LEAF.size;
	const list = (parent: Node) => {
		if (parent.inputs.length > 0) bottom += GATE.stem + GATE.height;
		for (const input of parent.inputs) {
			input.place.x = parent.place.x + GAP.indent;
			input.place.y = bottom + GAP.hang;
			bottom = input.place.y + input.place.height;
			right = Math.max(right, input.place.x + BOX.width + LEAF.stem + LEAF.size);
			list(input);
		}
	};
	node.place.x = 0;
	list(node);
	return right;
}

/** Centre of the symbol beneath a box. */
export const stemX = (place: Place): number => (place.hangs ? place.x + SPINE : place.x + place.width / 2);

function connect(node: Node, edges: Edge[]) {
	const { place } = node;
	const x = stemX(place);
	const from = place.y + place.height + GATE.stem + GATE.height;
	for (const input of node.inputs) {
		const to = input.place;
		const middle = to.x + to.width / 2;
		const bus = to.y - GAP.bus / 2;
		const points: [number, number][] = place.hangs
			? [
					[x, from],
					[x, to.y + to.height / 2],
					[to.x, to.y + to.height / 2]
				]
			: [
					[x, from],
					[x, bus],
					[middle, bus],
					[middle, to.y]
				];
		edges.push({ from: place.key, to: to.key, points });
		connect(input, edges);
	}
}
