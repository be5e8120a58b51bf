import { percents } from '$lib/quantity/percent';
import { escape, FONT, hatch, r } from './drawing';
import { type Palette, THEMED } from './palette';
import { inTenths, level, stepError, type StepRow } from './steps-rows';
import { wrap } from './text-width';

const SIZE = { label: 14, note: 12, line: 17, noteLine: 15, bar: 10, numbers: 86 };
/** From here on the words stand beside the bars, else above them. */
const WIDE = 560;
const TICKS = [0.0001, 0.001, 0.01, 0.1, 0.5, 0.9, 0.99, 0.999, 0.9999];

interface Options {
	width?: number;
	palette?: Palette;
	/** Prefix of the ids in it, unique on the page. */
	id?: string;
}

/**
 * The way from the starting weight to where an event stands, one piece of evidence below the other on one log-odds line.
 * For and against differ in direction, arrow head, sign and filling, so that it reads without colour.
 * @param rows  from `stepRows`: the start first
 */
export function drawSteps(
	rows: readonly StepRow[],
	{ width = 720, palette: p = THEMED, id = 'steps' }: Options = {}
): string {
	const wide = width >= WIDE;
	const [left, right] = [wide ? width * 0.44 : 14, width - SIZE.numbers - (wide ? 90 : 14)];
	const room = (wide ? left - 24 : width - SIZE.numbers - 12) - 4;
	const levels = rows.map((row) => row.level).filter(Number.isFinite);
	const [low, high] = [Math.min(...levels, 0) - 20, Math.max(...levels, 0) + 20];
	/** What is certain stands at the edge. */
	const x = (at: number) =>
		left + ((Math.min(high, Math.max(low, at)) - low) / (high - low)) * (right - left);
	const halo = `stroke="${p.sheet}" stroke-width="4" stroke-linejoin="round" paint-order="stroke"`;
	const text = (words: string, tx: number, ty: number, size = SIZE.label, more = '', colour = p.ink) =>
		`<text x="${r(tx)}" y="${r(ty)}" font-size="${size}" fill="${colour}" ${more}>${escape(words)}</text>`;
	const end = 'text-anchor="end"';
	const stepAt = wide ? right + 84 : width - 4;

	let top = 22;
	const places = rows.map((row) => {
		const words = wrap(row.label, room, SIZE.label, 0, 3);
		const left = row.alone === null ? '' : `; left out alone ${inTenths(row.alone)} dB`;
		const error = row.error ? `;${stepError(row)} dB` : '';
		const notes = wrap(row.note + error + left, room, SIZE.note, 0, 2);
		const height = words.length * SIZE.line + notes.length * SIZE.noteLine;
		const bar = wide ? top + 10 + height / 2 - SIZE.bar / 2 : top + 14 + height;
		const place = { row, words, notes, top, bar, bottom: (wide ? top + height : bar + SIZE.bar) + 18 };
		top = place.bottom;
		return place;
	});
	const stands = percents(rows.map((row) => row.stands));
	const middle = (bar: number) => bar + SIZE.bar / 2;
	const drawn = places.map(({ row, words, notes, top: from, bar }, i) => {
		const notesFrom = from + SIZE.line * words.length + 21;
		const number = wide ? middle(bar) + 5 : from + 22;
		return [
			...words.map((line, k) => text(line, 0, from + SIZE.line * k + 22, SIZE.label, halo)),
			...notes.map((line, k) => text(line, 0, notesFrom + SIZE.noteLine * k, SIZE.note, halo, p.ink2)),
			row.step === null
				? ''
				: text(`${inTenths(row.step)} dB`, stepAt, number, SIZE.label, `${end} font-weight="700"`),
			text(stands[i]!, width - 4, middle(bar) + 5, SIZE.label, end),
			mark(i, rows.length, x(places[Math.max(0, i - 1)]!.row.level), x(row.level), bar, p, id)
		].join('');
	});
	/** From each standing down to where the next step begins. */
	const steady = places
		.slice(1)
		.map(({ bar }, i) => {
			const [at, before] = [r(x(rows[i]!.level)), places[i]!];
			// Where words stand above the bar the line makes way for them.
			const gap = wide ? '' : `V${r(before.bottom)}M${at} ${r(bar - 8)}`;
			return `M${at} ${r(middle(before.bar))}${gap}V${r(middle(bar))}`;
		})
		.join('');
	const ticks = TICKS.map((q) => ({
		at: level(q),
		words: `${Number((100 * q).toPrecision(4))}\u202F%`
	})).filter(({ at }) => at > low && at < high);
	// Where there is little room, every second.
	const shown = ticks.filter((tick, i) => i % Math.ceil((ticks.length * 52) / (right - left)) === 0);
	const axis = top + 6;
	const height = axis + 44;
	const said = `From ${stands[0] ?? '–'} to ${stands.at(-1) ?? '–'} in ${rows.length - 1} steps; the table below says the same.`;
	const path = (d: string, more: string) => `<path d="${d}" fill="none" ${more}/>`;
	return [
		`<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${r(height)}" width="${width}" height="${r(height)}" role="img" aria-label="${escape(said)}" font-family="${FONT}">`,
		`<defs>${hatch(`${id}-against`, 0, { ...p, ink2: p.against })}</defs>`,
		text(wide ? 'step' : 'step, stands', stepAt, 12, SIZE.note, end, p.ink2),
		wide ? text('stands', width - 4, 12, SIZE.note, end, p.ink2) : '',
		path(
			places.map(({ bottom }) => `M0 ${r(bottom)}H${width}`).join(''),
			`stroke="${p.rule}" stroke-width=".5"`
		),
		path(
			ticks.map(({ at }) => `M${r(x(at))} 22V${r(axis)}`).join(''),
			`stroke="${p.rule}" stroke-width=".6" stroke-dasharray="2 4"`
		),
		path(steady, `stroke="${p.ink2}" stroke-width="1"`),
		...drawn,
		path(
			`M${r(left)} ${r(axis)}H${r(right)}${ticks.map(({ at }) => `M${r(x(at))} ${r(axis)}v5`).join('')}`,
			`stroke="${p.ink}" stroke-width="1.2"`
		),
		...shown.map(({ at, words }) => text(words, x(at), axis + 19, SIZE.note, 'text-anchor="middle"')),
		text('probability; 10 dB are a factor of 10 in the odds', width - 4, axis + 38, SIZE.note, end, p.ink2),
		'</svg>'
	].join('');
}

/** Tick for the start, ring for what is given, bars with an arrow head for the evidence, and a dot where it stands now. */
function mark(i: number, count: number, from: number, to: number, y: number, p: Palette, id: string): string {
	const isFor = to >= from;
	const length = Math.abs(to - from);
	const middle = r(y + SIZE.bar / 2);
	const bar = `x="${r(Math.min(from, to))}" y="${r(y)}" width="${r(length)}" height="${SIZE.bar}"`;
	const moved =
		length < 0.5
			? ''
			: isFor
				? `<rect ${bar} fill="${p.for}"/><path d="M${r(to - 5)} ${r(y - 3)}l6 8-6 8" fill="none" stroke="${p.for}" stroke-width="2"/>`
				: `<rect ${bar} fill="url(#${id}-against)" stroke="${p.against}" stroke-width="1.2"/><path d="M${r(to + 5)} ${r(y - 3)}l-6 8 6 8" fill="none" stroke="${p.against}" stroke-width="2"/>`;
	return [
		i === 0 ? `<path d="M${r(to)} ${r(y - 3)}v16" stroke="${p.ink}" stroke-width="2"/>` : '',
		moved,
		i === 1
			? `<circle cx="${r(to)}" cy="${middle}" r="5" fill="${p.sheet}" stroke="${p.mark}" stroke-width="2"/>`
			: '',
		i === count - 1 ? `<circle cx="${r(to)}" cy="${middle}" r="6" fill="${p.mark}"/>` : ''
	].join('');
}
