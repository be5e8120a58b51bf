import type { Investigation } from '$lib/investigation/case';
import { othersOf } from '$lib/investigation/views/common-cause';
import { eventsOf } from '$lib/investigation/views/tree';
import { escape, FONT, r } from './drawing';
import { type Palette, PRINTED } from './palette';
import { drawEdges, drawPlaces, drawTree, type EventWeights } from './tree-drawing';
import { BOX, layoutTree, type TreeLayout } from './tree-layout';
import { cutTree, type Piece } from './tree-pieces';

/** Width and height of a sheet held upright, in millimetres. */
export const PAPERS = { A4: [210, 297], A3: [297, 420], Letter: [215.9, 279.4] } as const;
export interface Paper {
	size: keyof typeof PAPERS;
	across: boolean;
}

/** Left free at each edge of the paper, for the words above and beneath the drawing, and between pieces; millimetres. */
const EDGE = 12;
const HEAD = 11;
const FOOT = 8;
const GAP = 4;
/** Millimetres for one unit of the drawing: as on a screen at most; at least so that type of 13 units has 8 points. */
const LARGEST = 0.2646;
const READABLE = 0.2172;
/** What is cut takes the largest of these that needs no more sheets than the least. */
const SCALES = [LARGEST, 0.24, READABLE];
const MM_PER_POINT = 0.3528;
/** Width of bold letters on average, as a part of their size; and room for the number of the sheet, millimetres. */
const WIDE = 0.54;
const BESIDE = 26;

export interface TreeSheets {
	/** One SVG for each sheet, as large as the area. */
	sheets: string[];
	/** Size of the type as printed. */
	points: number;
	/** It is cut at gates into pieces that transfer symbols join. */
	cut: boolean;
	/** Small type can't be read: several sheets can. */
	readable: boolean;
}

/** What is printed on, in millimetres. */
interface Area {
	width: number;
	height: number;
}

/** Part of the paper that is printed on, in millimetres. */
export function printed({ size, across }: Paper): Area {
	const [short, long] = PAPERS[size];
	const [width, height] = across ? [long, short] : [short, long];
	return { width: width - 2 * EDGE, height: height - 2 * EDGE };
}

/** A piece, and where it stands on which sheet; millimetres. */
interface Put {
	piece: Piece;
	sheet: number;
	x: number;
	y: number;
}

/**
 * A fault tree on paper: on one sheet as large as it fits, or on as many as it takes to be read, cut at gates and joined
 * by numbered transfer symbols (IEC 61025; NUREG-0492). What stands in several places has a letter.
 */
export function treeSheets(
	file: Investigation,
	anomaly: string,
	weights: Readonly<Record<string, EventWeights>>,
	{ area, several, palette = PRINTED }: { area: Area; several: boolean; palette?: Palette }
): TreeSheets {
	const events = Object.fromEntries(eventsOf(file, anomaly));
	const top = file.anomalies[anomaly]?.top ?? '';
	const { width, height } = area;
	const room = { width, height: height - HEAD - FOOT };
	const others = othersOf(file, anomaly);
	const whole = fitted(events, top, room, others);
	const one = !several || whole.scale >= READABLE;
	const { scale, puts } = one
		? {
				scale: whole.scale,
				puts: pack(
					[{ root: top, events, away: new Set(), layout: whole.layout, part: null }],
					whole.scale,
					room
				)
			}
		: cutToRead(events, top, room, others);
	const letters = one ? null : lettersOf(puts.map(({ piece }) => piece));
	const count = sheetsOf(puts);
	const title = `Fault tree ${file.anomalies[anomaly] ? `A${file.anomalies[anomaly].number}` : ''}: ${file.anomalies[anomaly]?.title ?? ''}`;
	const sheets = Array.from({ length: count }, (_, sheet) => {
		const own = puts.filter((put) => put.sheet === sheet);
		const drawn = own.map(({ piece, x, y }) => {
			const layout = letters ? lettered(piece, letters, others) : piece.layout;
			const boxes = drawPlaces(events, layout, weights, { palette, top }).map(
				({ transform, picture }) => `<g transform="${transform}">${picture}</g>`
			);
			const words = letters ? aboutPiece(piece, puts) : '';
			const note = words
				? `<text x="12" y="8" font-size="11" fill="${palette.ink2}">${escape(words)}</text>`
				: '';
			return `<g transform="translate(${r(x)} ${r(y + HEAD)}) scale(${scale})">${note}${drawEdges(layout, palette)}${boxes.join('')}</g>`;
		});
		const line = (text: string, y: number, { size = 3, bold = false, end = false } = {}) =>
			`<text x="${end ? r(width) : 0}" y="${r(y)}" font-size="${size}"${bold ? ' font-weight="700"' : ''}${end ? ' text-anchor="end"' : ''} fill="${bold ? palette.ink : palette.ink2}">${escape(text)}</text>`;
		const size = title.length * 4 * WIDE > width - BESIDE ? 3 : 4;
		return [
			`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${r(width)} ${r(height)}" width="${r(width)}mm" height="${r(height)}mm" role="img" aria-label="${escape(`${title}, sheet ${sheet + 1} of ${count}`)}" font-family="${FONT}">`,
			line(shortened(title, (width - BESIDE) / (size * WIDE)), 5, { size, bold: true }),
			line(`sheet ${sheet + 1} of ${count}`, 5, { end: true }),
			`<path d="M0 7.5H${r(width)}" stroke="${palette.rule}" stroke-width=".25"/>`,
			...drawn,
			letters ? line(transfersOf(own, letters, puts, sheet), height - 1.5) : '',
			'</svg>'
		].join('');
	});
	const points = (BOX.font * scale) / MM_PER_POINT;
	return { sheets, points, cut: !one, readable: scale >= READABLE };
}

/** A page of the report less what stands around a figure. */
const IN_REPORT: Area = { width: 180, height: 228 };

/** The figures of a tree in the report: one drawing where that can be read in print, else sheets. */
export function treeFigures(
	file: Investigation,
	anomaly: string,
	weights: Readonly<Record<string, EventWeights>>,
	palette: Palette
): string[] {
	const { sheets } = treeSheets(file, anomaly, weights, { area: IN_REPORT, several: true, palette });
	return sheets.length > 1 ? sheets : [drawTree(file, anomaly, weights, { palette })];
}

/** The whole tree as large as it can be: the depth from which its causes are listed is the one that fits best. */
function fitted(events: Piece['events'], top: string, room: Area, others: ReadonlyMap<string, number>) {
	let best: { layout: TreeLayout; scale: number } | null = null;
	for (let hangFrom = layoutTree(events, top).hangFrom; hangFrom >= 0; hangFrom--) {
		const layout = layoutTree(events, top, { hangFrom, others });
		const scale = Math.min(LARGEST, room.width / layout.width, room.height / layout.height);
		if (!best || scale > best.scale) best = { layout, scale };
	}
	return best ?? { layout: layoutTree(events, top), scale: LARGEST };
}

/** A tree in pieces that can be read, on the fewest sheets, as large as these have room for. */
function cutToRead(events: Piece['events'], top: string, room: Area, others: ReadonlyMap<string, number>) {
	const cut = (scale: number) => {
		const area = { width: room.width / scale, height: room.height / scale };
		return { scale, puts: pack(cutTree(events, top, area, others), scale, room) };
	};
	const all = SCALES.map(cut);
	const least = Math.min(...all.map(({ puts }) => sheetsOf(puts)));
	return all.find(({ puts }) => sheetsOf(puts) === least)!;
}

const sheetsOf = (puts: readonly Put[]): number => (puts.at(-1)?.sheet ?? 0) + 1;

/** Pieces in rows from the top on, in their order; each row stands in the middle. */
function pack(pieces: readonly Piece[], scale: number, room: Area): Put[] {
	let [sheet, x, y, row] = [0, 0, 0, 0];
	const puts = pieces.map((piece) => {
		const [w, h] = [piece.layout.width * scale, piece.layout.height * scale];
		if (x > 0 && x + w > room.width + 1e-6) [x, y, row] = [0, y + row + GAP, 0];
		if (y > 0 && y + h > room.height + 1e-6) [sheet, x, y, row] = [sheet + 1, 0, 0, 0];
		const put = { piece, sheet, x, y };
		x += w + GAP;
		row = Math.max(row, h);
		return put;
	});
	return puts.map((put) => {
		const beside = puts.filter((other) => other.sheet === put.sheet && other.y === put.y).at(-1)!;
		const left = (room.width - beside.x - beside.piece.layout.width * scale) / 2;
		return { ...put, x: put.x + Math.max(0, left) };
	});
}

/** What each transfer symbol says: a number for a branch that was cut out, a letter for what else stands twice. */
function lettersOf(pieces: readonly Piece[]): Map<string, string> {
	const names = new Map<string, string>();
	pieces.slice(1).forEach(({ root }) => {
		if (root !== pieces[0]?.root && !names.has(root)) names.set(root, String(names.size + 1));
	});
	const met = new Set<string>();
	let letters = 0;
	for (const { layout } of pieces)
		for (const { event } of layout.places) {
			if (met.has(event) && !names.has(event)) names.set(event, letterOf(letters++));
			met.add(event);
		}
	// The root of a piece is met where it is cut out and where it is drawn; only what is cut out has a number.
	names.delete(pieces[0]?.root ?? '');
	return names;
}

const letterOf = (n: number): string =>
	(n >= 26 ? letterOf(Math.floor(n / 26) - 1) : '') + String.fromCharCode(65 + (n % 26));

const lettered = (
	{ events, root, away, layout }: Piece,
	letters: ReadonlyMap<string, string>,
	others: ReadonlyMap<string, number>
): TreeLayout => layoutTree(events, root, { away, letters, others, hangFrom: layout.hangFrom });

/** Which inputs of its gate a piece shows, and where it belongs. */
function aboutPiece(piece: Piece, puts: readonly Put[]): string {
	const users = puts.filter(
		({ piece: other }) =>
			other !== piece && other.layout.places.some((p) => p.event === piece.root && p.parent !== null)
	);
	const others = puts.filter(({ piece: other }) => other !== piece && other.root === piece.root);
	const said = (numbers: readonly number[]) => {
		const distinct = [...new Set(numbers.map((n) => n + 1))];
		return `${distinct.length === 1 ? 'sheet' : 'sheets'} ${distinct.join(', ')}`;
	};
	return [
		users.length > 0 ? `belongs to ${said(users.map(({ sheet }) => sheet))}` : '',
		piece.part
			? `causes ${piece.part.from + 1} to ${piece.part.to} of ${piece.part.of}; the others on ${said(others.map(({ sheet }) => sheet))}`
			: ''
	]
		.filter(Boolean)
		.join('; ');
}

/** Where the transfers of a sheet lead. */
function transfersOf(
	own: readonly Put[],
	letters: ReadonlyMap<string, string>,
	puts: readonly Put[],
	sheet: number
): string {
	const home = new Map(
		[...puts]
			.reverse()
			.flatMap((put) =>
				put.piece.layout.places.filter((p) => p.home).map((p) => [p.event, put.sheet] as const)
			)
	);
	const away = own.flatMap(({ piece }) => piece.layout.places.filter((p) => !p.home).map((p) => p.event));
	const leads = [...new Set(away)].flatMap((event) => {
		const name = letters.get(event);
		const at = home.get(event);
		return name === undefined || at === undefined
			? []
			: [`${name} ${at === sheet ? 'here' : `on sheet ${at + 1}`}`];
	});
	return leads.length === 0 ? '' : `Transfers: ${leads.join(', ')}.`;
}

const shortened = (text: string, most: number) =>
	text.length > most ? `${text.slice(0, Math.floor(most) - 1)}…` : text;
