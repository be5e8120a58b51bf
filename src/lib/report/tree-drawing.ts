import type { Investigation } from '$lib/investigation/case';
import type { DispositionState, TreeEvent } from '$lib/investigation/schema/anomaly';
import { othersOf } from '$lib/investigation/views/common-cause';
import { DISPOSITION_WORDS, dispositionPath } from '$lib/investigation/views/disposition';
import { eventsOf } from '$lib/investigation/views/tree';
import { alongLine } from '$lib/investigation/views/weight-line';
import { percent } from '$lib/quantity/percent';
import { escape, FONT, r } from './drawing';
import { type Palette, PRINTED, THEMED } from './palette';
import { gateShape, leafShape } from './tree-symbols';
import {
	BOX,
	type Edge,
	GATE,
	isDecidedOn,
	LEAF,
	layoutTree,
	type Place,
	type TreeLayout
} from './tree-layout';

/** The three numbers of an event; null where it was not weighed. */
export interface EventWeights {
	prior: number | null;
	givenTop: number | null;
	givenAll: number | null;
}

export interface DrawingOptions {
	palette?: Palette;
	/** Event that is chosen. */
	chosen?: string | null;
	/** Events that light up: a cut set, or the most probable explanation. */
	lit?: ReadonlySet<string>;
	/** The tree's top event, where not only that is drawn; by default what is drawn first. */
	top?: string;
}

/**
 * The picture of one event at the origin: its box with title, disposition, whether it fails with
 * others, and weight bar, and beneath it the symbol of
 * its kind or gate (IEC 61025; shapes from memory). Screen, report, print and export all compose this one.
 */
export function eventPicture(
	event: TreeEvent,
	weights: EventWeights | undefined,
	place: Pick<
		Place,
		'width' | 'height' | 'lines' | 'transfer' | 'home' | 'folded' | 'hangs' | 'listed' | 'others'
	>,
	{
		palette = THEMED,
		chosen = false,
		lit = false,
		top = false
	}: { palette?: Palette; chosen?: boolean; lit?: boolean; top?: boolean } = {}
): string {
	const { width: w, height: h } = place;
	const out = event.disposition.state.startsWith('ruledOut') || event.disposition.state === 'notApplicable';
	const ink = out ? palette.ink2 : palette.ink;
	const frame = [
		`<rect width="${w}" height="${r(h)}" rx="3" fill="${lit ? palette.wash : palette.sheet}"`,
		`stroke="${chosen ? palette.mark : lit ? palette.ink : ink}" stroke-width="${chosen ? 2.6 : lit || top ? 2.2 : 1.3}"`,
		event.residual || !place.home ? 'stroke-dasharray="5 3"/>' : '/>'
	].join(' ');
	// What lights up has a double frame: shape as well as colour.
	const lamp = lit
		? `<rect x="-3.5" y="-3.5" width="${w + 7}" height="${r(h + 7)}" rx="5" fill="none" stroke="${palette.ink}" stroke-width="1.4"/>`
		: '';
	const words = place.lines
		.map(
			(line, i) =>
				`<text x="${BOX.pad}" y="${r(BOX.pad + 10 + i * BOX.line)}" font-size="${BOX.font}" fill="${ink}">${escape(line)}</text>`
		)
		.join('');
	return `<title>${escape(spoken(event, weights, place.others) + (lit ? ', lit up' : ''))}</title>${lamp}${frame}${words}${decided(event, place, palette)}${top ? given(h, palette) : bar(event, weights, w, h, palette)}${symbol(event, place, palette)}`;
}

/** What the picture says, in words. */
function spoken(event: TreeEvent, weights: EventWeights | undefined, others: number): string {
	const now = weights?.givenAll;
	return [
		event.title,
		now == null ? '' : `${percent(now)} given everything`,
		isDecidedOn(event) ? DISPOSITION_WORDS[event.disposition.state] : '',
		others > 0 ? failsWith(others) : ''
	]
		.filter(Boolean)
		.join(', ');
}

/** Short, for the box of an event; by what it was ruled out stands in the margin. */
const WORDS: Record<DispositionState, string> = {
	...DISPOSITION_WORDS,
	ruledOutByEvidence: 'ruled out',
	ruledOutByCalculation: 'ruled out'
};

const failsWith = (others: number) => `fails with ${others} other${others === 1 ? '' : 's'}`;

/**
 * Beneath the title: the sign of what was decided with its word, and whether a cause that it shares takes others with it.
 * From afar the page shows the sign alone (classes of these groups).
 */
function decided(
	event: TreeEvent,
	{ lines, others }: Pick<Place, 'lines' | 'others'>,
	{ ink2 }: Palette
): string {
	let y = BOX.pad + 9 + lines.length * BOX.line;
	const row = (text: string, x: number) =>
		`<text class="word" x="${x}" y="${r(y)}" font-size="${BOX.small}" fill="${ink2}">${text}</text>`;
	let drawn = '';
	if (isDecidedOn(event)) {
		const { state } = event.disposition;
		const figure = dispositionPath(state);
		drawn = [
			`<g transform="translate(${BOX.pad + 5.5} ${r(y - 4)})"><g class="sign"><g transform="scale(.82)">`,
			`<circle r="6.4" fill="none" stroke="${ink2}" stroke-width="1.5"/>`,
			figure.fill ? `<path d="${figure.fill}" fill="${ink2}"/>` : '',
			figure.stroke ? `<path d="${figure.stroke}" fill="none" stroke="${ink2}" stroke-width="1.7"/>` : '',
			`</g></g></g>${row(WORDS[state], BOX.pad + 16)}`
		].join('');
		y += BOX.row;
	}
	return others > 0 ? drawn + row(failsWith(others), BOX.pad) : drawn;
}

/** The top event did happen; all else is weighed given that. */
const given = (h: number, { ink2 }: Palette): string =>
	`<text x="${BOX.pad}" y="${r(h - BOX.pad + 1)}" font-size="11.5" fill="${ink2}">it did: all below is given that</text>`;

/** Log-odds line: tick where it started, ring given the top event alone, dot given everything. */
function bar(event: TreeEvent, weights: EventWeights | undefined, w: number, h: number, p: Palette): string {
	const y = r(h - BOX.pad - 3);
	const from = BOX.pad + 3;
	const to = w - BOX.pad - 60;
	const at = (probability: number) => r(from + alongLine(probability) * (to - from));
	const says = (text: string) =>
		`<text x="${w - BOX.pad}" y="${r(y + 4.5)}" text-anchor="end" font-size="${BOX.font}" font-weight="700" fill="${p.ink}">${text}</text>`;
	if (event.kind === 'house') return says(event.on ? 'on' : 'off');
	const line = `<path d="M${from - 3} ${y}H${to + 3}" stroke="${p.rule}" stroke-width="2.5" stroke-linecap="round"/>`;
	const { prior, givenTop, givenAll } = weights ?? { prior: null, givenTop: null, givenAll: null };
	const tick =
		prior === null ? '' : `<path d="M${at(prior)} ${y - 5}v10" stroke="${p.ink2}" stroke-width="1.2"/>`;
	if (givenAll === null) return line + tick + says('–');
	const ring =
		givenTop === null
			? ''
			: `<path d="M${at(givenTop)} ${y}H${at(givenAll)}" stroke="${p.mark}" stroke-width="3.2"/><circle cx="${at(givenTop)}" cy="${y}" r="3.1" fill="${p.sheet}" stroke="${p.mark}" stroke-width="1.5"/>`;
	return `${line}${tick}${ring}<circle cx="${at(givenAll)}" cy="${y}" r="3.7" fill="${p.mark}"/>${says(percent(givenAll).replace('<', '&lt;').replace('>', '&gt;'))}`;
}

function symbol(event: TreeEvent, place: Parameters<typeof eventPicture>[2], p: Palette): string {
	const { width: w, height: h } = place;
	const pen = `fill="${p.sheet}" stroke="${p.ink}" stroke-width="1.3"`;
	const label = (text: string, x: number, y: number) =>
		`<text x="${r(x)}" y="${r(y)}" text-anchor="middle" font-size="11" font-weight="700" fill="${p.ink}">${escape(text)}</text>`;
	const transfer = (x: number, y: number) =>
		`<path d="M${r(x)} ${r(y)}l9 17h-18z" ${pen}/>${label(place.transfer!, x, y + 14.5)}`;
	if (event.gate && place.home && !place.folded) {
		const x = place.hangs ? 19 : w / 2;
		const shape = gateShape(event.gate, event.gate.inputs.length);
		const home = place.transfer ? transfer(w + 12, h / 2 - 9) : '';
		return `<g transform="translate(${x} ${r(h + GATE.stem)})"><path d="M0 ${-GATE.stem}V0" stroke="${p.ink}" stroke-width="1.3"/><path d="${shape.outline}" ${pen}/>${shape.inner ? `<path d="${shape.inner}" fill="none" stroke="${p.ink}" stroke-width="1.3"/>` : ''}${shape.text ? label(shape.text, 0, 18) : ''}</g>${home}`;
	}
	const [x, y, stem] = place.listed
		? [w + LEAF.stem + LEAF.size / 2, h / 2, `M${w} ${r(h / 2)}h${LEAF.stem}`]
		: [w / 2, h + LEAF.stem + LEAF.size / 2, `M${w / 2} ${r(h)}v${LEAF.stem}`];
	const line = `<path d="${stem}" stroke="${p.ink}" stroke-width="1.3"/>`;
	if (place.folded) return line + label(`+${place.folded}`, x, y + 4);
	if (place.transfer) return line + transfer(x, y - 9);
	return `${line}<path transform="translate(${r(x)} ${r(y)})" d="${leafShape(event.kind)}" ${pen}/>`;
}

const path = ({ points }: Edge): string =>
	points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${r(x)} ${r(y)}`).join('');

/** The lines that join the events. */
export const drawEdges = ({ edges }: TreeLayout, { rule }: Palette = THEMED): string =>
	`<path d="${edges.map(path).join('')}" fill="none" stroke="${rule}" stroke-width="1.3"/>`;

/** The picture of each place, at the origin, and where it belongs. */
export function drawPlaces(
	events: Readonly<Record<string, TreeEvent>>,
	{ places }: TreeLayout,
	weights: Readonly<Record<string, EventWeights>>,
	{ palette = THEMED, chosen = null, lit = new Set(), top }: DrawingOptions = {}
): { key: string; transform: string; picture: string }[] {
	return places.map((place) => ({
		key: place.key,
		transform: `translate(${r(place.x)} ${r(place.y)})`,
		picture: eventPicture(events[place.event]!, weights[place.event], place, {
			palette,
			chosen: place.event === chosen,
			lit: lit.has(place.event),
			top: place.parent === null && (top === undefined || place.event === top)
		})
	}));
}

/**
 * A whole fault tree as one SVG that stands alone: for the report, print and export.
 * @param weights  by event; {} draws the tree unweighed
 */
export function drawTree(
	file: Investigation,
	anomaly: string,
	weights: Readonly<Record<string, EventWeights>>,
	{ maxWidth = 1050, palette = PRINTED, ...options }: DrawingOptions & { maxWidth?: number } = {}
): string {
	const events = Object.fromEntries(eventsOf(file, anomaly));
	const layout = layoutTree(events, file.anomalies[anomaly]?.top ?? '', {
		maxWidth,
		others: othersOf(file, anomaly)
	});
	const title = escape(`Fault tree: ${file.anomalies[anomaly]?.title ?? ''}`);
	const [width, height] = [Math.ceil(layout.width), Math.ceil(layout.height)];
	const boxes = drawPlaces(events, layout, weights, { palette, ...options }).map(
		({ transform, picture }) => `<g transform="${transform}">${picture}</g>`
	);
	return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-label="${title}" font-family="${FONT}">${drawEdges(layout, palette)}${boxes.join('')}</svg>`;
}
