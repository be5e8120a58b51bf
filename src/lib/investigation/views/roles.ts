import type { LeafField, ListField, QuantityField, Role } from '$lib/calculations/calculation';
import { takes } from '$lib/calculations/inputs';
import type { Dimension } from '$lib/quantity/dimensions';
import type { Investigation } from '../case';
import { readResult } from '../schema/calculation-result';
import type { Expectation } from '../schema/record';
import { searchBands } from './search-bands';
import { fits, PEAK_LOAD, type Ref, rowsText, temperatureRows, valueOf, windRows } from './case-values';

/** A value of the case in a field: where it is from and what it was when it was taken. */
export interface Taken extends Ref {
	text: string;
}

/** Something of the case that can be taken into a form: one or several fields at once, by their ids. */
export interface Offer {
	label: string;
	cells: Readonly<Record<string, Taken>>;
}

const ref = (collection: Ref['collection'], id: string, value: string): Ref => ({ collection, id, value });

/** A reference read, or null where the case has no such value. */
function take(file: Investigation, from: Ref): Taken | null {
	const value = valueOf(file, from);
	return value && { ...from, text: value.text };
}

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1);

/** One offer for one field. */
function offer(file: Investigation, field: string, from: Ref): Offer[] {
	const value = valueOf(file, from);
	return value
		? [{ label: `${capital(value.words)}: ${value.text}`, cells: { [field]: { ...from, text: value.text } } }]
		: [];
}

const items = (file: Investigation) =>
	Object.entries(file.evidence)
		.filter(([, item]) => !item.withdrawn)
		.sort(([, a], [, b]) => a.number - b.number);
const pieces = (file: Investigation) => items(file).filter(([, item]) => item.kind === 'piece');

const EXPECTED: Partial<Record<Role, Expectation['what']>> = {
	'apogee height': 'apogee',
	'main deployment height': 'mainHeight',
	'burn time': 'burnTime',
	'descent rate under drogue': 'drogueRate',
	'descent rate under main': 'mainRate'
};

const SINGLE: Partial<Record<Role, Ref>> = {
	'site elevation': ref('site', 'main', 'elevation'),
	'site temperature': ref('weather', 'main', 'temperature'),
	'site pressure': ref('weather', 'main', 'pressure'),
	'error of the wind speed': ref('weather', 'main', 'speedSpread'),
	'error of the wind direction': ref('weather', 'main', 'directionSpread')
};

/** What the field's role asks for, best first. */
export function offersByRole(file: Investigation, field: LeafField): Offer[] {
	const { role, id } = field;
	if (role === undefined) return [];
	const single = SINGLE[role];
	if (single) return offer(file, id, single);
	const expected = EXPECTED[role];
	if (expected)
		return Object.entries(file.expected)
			.filter(([, { what }]) => what === expected)
			.flatMap(([from]) => offer(file, id, ref('expected', from, 'value')));
	switch (role) {
		case 'mass of a piece':
		case 'mass of the vehicle':
			return [
				...pieces(file).flatMap(([from]) => offer(file, id, ref('evidence', from, 'mass'))),
				...Object.keys(file.parts).flatMap((from) => offer(file, id, ref('parts', from, 'mass')))
			];
		case 'ballistic coefficient of a piece':
			return pieces(file).flatMap(([from]) => [
				...offer(file, id, ref('evidence', from, 'ballisticCoefficient')),
				...offer(file, id, ref('evidence', from, 'typical'))
			]);
		case 'offset from the pad':
			return pieces(file).flatMap(([from, item]) => {
				const cells = offsetCells(file, from, 'pad');
				return cells ? [{ label: `Where E${item.number} ${item.title} lay`, cells }] : [];
			});
		case 'peak load':
			return peaks(file).flatMap((run) => offer(file, id, ref('calculations', run, 'peak')));
		case 'least peak load':
		case 'greatest peak load':
			// Both ends belong together, whichever is asked first.
			return peaks(file).flatMap((run): Offer[] => {
				const from = take(file, ref('calculations', run, 'peak:low'));
				const to = take(file, ref('calculations', run, 'peak:high'));
				const label = valueOf(file, ref('calculations', run, 'peak'))?.words;
				return from && to && label
					? [{ label: `${capital(label)}, in 90 of 100: ${from.text} to ${to.text}`, cells: { from, to } }]
					: [];
			});
		case 'descent time':
			return descents(file).flatMap((from) => offer(file, id, from));
		default:
			return [];
	}
}

/** East and north of a piece from the pad or from another piece. */
function offsetCells(file: Investigation, id: string, from: string): Offer['cells'] | null {
	const east = take(file, ref('evidence', id, `east:${from}`));
	const north = take(file, ref('evidence', id, `north:${from}`));
	return east && north && { east, north };
}

/** Kept runs that give a peak load, in order. */
const peaks = (file: Investigation): string[] =>
	Object.entries(file.calculations)
		.filter(([, run]) => run.calculation in PEAK_LOAD)
		.sort(([, a], [, b]) => a.number - b.number)
		.map(([run]) => run);

/** Pairs of the timeline from an apogee to a landing, told by their words. */
function descents(file: Investigation): Ref[] {
	const named = (words: RegExp) =>
		Object.keys(file.timeline).filter((id) => words.test(file.timeline[id]!.what));
	const landings = named(/\b(land|touch(ed)? ?down|hit|impact|on the ground|came down)/i);
	return named(/\b(apogee|highest point|peak)\b/i).flatMap((from) =>
		landings.filter((to) => to !== from).map((to) => ref('timeline', to, `since:${from}`))
	);
}

/** Kept runs of a calculation with this output, or with it for each of several members: references, in order. */
function outputsOf(file: Investigation, field: QuantityField): Ref[] {
	return (field.fromRuns ?? []).flatMap(({ calculation, output }) =>
		Object.entries(file.calculations)
			.filter(([, run]) => run.calculation === calculation)
			.sort(([, a], [, b]) => a.number - b.number)
			.flatMap(([id, run]) =>
				Object.keys(readResult(run.result)?.outputs ?? {})
					.filter((key) => key === output || key.startsWith(`${output} of `))
					.map((key) => ref('calculations', id, `output:${key}`))
			)
	);
}

/**
 * What the case can fill a field with: first what its role asks for, then what kept runs computed for it, then every
 * measured value of its kind that it takes.
 */
export function offersFor(file: Investigation, field: LeafField): Offer[] {
	const asked = offersByRole(file, field);
	if (field.kind !== 'quantity') return asked;
	const first = [...asked, ...outputsOf(file, field).flatMap((from) => offer(file, field.id, from))];
	// A count of tones is no pressure exponent: numbers without a unit are offered by their role alone.
	if (field.dimension === 'ratio') return first;
	const taken = new Set(first.map(({ cells }) => keyOf(cells[field.id])));
	return [
		...first,
		...measured(file, field.dimension)
			.filter((from) => !taken.has(keyOf(from)))
			.flatMap((from) => offer(file, field.id, from))
			// An apogee is no thickness of a fin.
			.filter(({ cells }) => takes(field, cells[field.id]!.text))
	];
}

/** Every value of this kind that was read, measured or tested. */
function measured(file: Investigation, dimension: Dimension): Ref[] {
	return items(file)
		.flatMap(([id, item]): Ref[] =>
			item.kind === 'reading'
				? item.values.map((_, i) => ref('evidence', id, `reading:${i}`))
				: item.kind === 'measurement' || item.kind === 'test'
					? [ref('evidence', id, 'value')]
					: []
		)
		.filter((from) => fitting(file, from, dimension));
}

function fitting(file: Investigation, from: Ref, dimension: Dimension): boolean {
	const value = valueOf(file, from);
	return value !== null && fits(value, dimension);
}

const keyOf = (from: Ref | undefined) => from && `${from.collection}/${from.id}/${from.value}`;

/** A piece in the form's list, and the item of evidence that it is, if it was taken from there. */
export interface ListedPiece {
	name: string;
	evidence: string | null;
}

/** Rows that the case can add to a list. */
export function rowOffers(file: Investigation, list: ListField, listed: readonly ListedPiece[]): Offer[] {
	if (list.role === 'pieces') {
		const there = new Set(listed.map(({ evidence }) => evidence));
		return pieces(file)
			.filter(([id]) => !there.has(id))
			.map(([id, item]) => ({ label: `E${item.number} ${item.title}`, cells: pieceCells(file, id) }));
	}
	if (list.role === 'readings') return readingRows(file, list);
	if (list.role === 'searches that found nothing') return searchRows(file);
	if (list.role === 'segments of ground') return bandRows(file);
	if (list.role !== 'offset of a piece from another') return runRows(file, list);
	const [first, ...others] = listed;
	if (!first?.evidence) return [];
	return others.flatMap(({ name, evidence }) => {
		const cells = evidence && offsetCells(file, evidence, first.evidence!);
		const piece = evidence && take(file, ref('evidence', evidence, 'title'));
		if (!cells || !piece) return [];
		return [
			{ label: `Where ${name} lay from ${first.name}`, cells: { piece: { ...piece, text: name }, ...cells } }
		];
	});
}

/** One row from each kept run that computed all that the row takes of one. */
function runRows(file: Investigation, list: ListField): Offer[] {
	const fields = list.fields.filter((field) => field.kind === 'quantity');
	const wanted = fields.map((field) => outputsOf(file, field).map((from) => ({ field, from })));
	const [first = []] = wanted.filter((found) => found.length > 0);
	return first.flatMap(({ from: { id } }): Offer[] => {
		const found = wanted.flat().filter(({ from }) => from.id === id);
		const cells = Object.fromEntries(
			found.flatMap(({ field, from }) => {
				const taken = take(file, from);
				return taken ? [[field.id, taken] as const] : [];
			})
		);
		const missing = fields.some((field) => field.fromRuns && !cells[field.id]);
		const values = Object.values(cells);
		const words = values.map((from) => `${valueOf(file, from)!.words}: ${from.text}`);
		return missing ? [] : [{ label: capital(words.toReversed().join('; ')), cells }];
	});
}

/** Whatever was read or expected of the kind that the list asks for: its name, the value, how far it is trusted. */
function readingRows(file: Investigation, list: ListField): Offer[] {
	const value = list.fields.find(({ id }) => id === 'value');
	if (value?.kind !== 'quantity') return [];
	const expected = Object.keys(file.expected)
		.map((id) => ref('expected', id, 'value'))
		.filter((from) => fitting(file, from, value.dimension));
	return [...measured(file, value.dimension), ...expected].flatMap((from): Offer[] => {
		const read = valueOf(file, from);
		if (!read) return [];
		const name = { ...from, value: 'title', text: capital(read.words) };
		const trust = take(file, { ...from, value: 'trust' });
		const cells = { name, value: { ...from, text: read.text }, ...(trust ? { wrong: trust } : {}) };
		return [{ label: `${capital(read.words)}: ${read.text}`, cells }];
	});
}

/** How ground is searched; a part that was taken apart and looked at is none. */
export const GROUND: ReadonlySet<string> = new Set(['walkedOver', 'gridSearch']);

/** Ground on which nothing was found, with the chance of finding it that somebody states. */
function searchRows(file: Investigation): Offer[] {
	return items(file).flatMap(([id, item]): Offer[] => {
		const onGround = item.kind === 'absence' && GROUND.has(item.howThoroughly);
		const chance = onGround && take(file, ref('evidence', id, 'detection'));
		if (!chance) return [];
		const told = { ...ref('evidence', id, 'title'), text: 'chance' };
		return [{ label: `E${item.number} ${item.title}: found with ${chance.text}`, cells: { told, chance } }];
	});
}

/** Bands of kept landing footprints as ground to search: name, area, and how probable it lies there. */
function bandRows(file: Investigation): Offer[] {
	return searchBands(file).flatMap(({ run, key, name }): Offer[] => {
		const area = take(file, ref('calculations', run, `bandArea:${key}`));
		const weight = take(file, ref('calculations', run, `bandWeight:${key}`));
		if (!area || !weight) return [];
		const ground = take(file, ref('calculations', run, `bandPlaces:${key}`));
		const cells = {
			name: { ...ref('calculations', run, 'title'), text: name },
			area,
			weight,
			...(ground?.text ? { ground } : {})
		};
		return [{ label: `K${file.calculations[run]!.number} ${name}: ${area.text}, ${weight.text}`, cells }];
	});
}

/** One piece as a row: its name, and its ballistic coefficient or else its mass. */
export function pieceCells(file: Investigation, id: string): Offer['cells'] {
	const cells: Record<string, Taken> = {};
	const put = (field: string, ...values: string[]) => {
		for (const value of values) {
			const taken = take(file, ref('evidence', id, value));
			if (!taken) continue;
			cells[field] = taken;
			return true;
		}
		return false;
	};
	put('name', 'title');
	if (!put('ballisticCoefficient', 'ballisticCoefficient', 'typical')) put('mass', 'mass');
	return cells;
}

const WHOLE: Partial<
	Record<Role, { label: string; value: string; rows: (file: Investigation) => Record<string, string>[] }>
> = {
	'wind table': { label: 'The wind table', value: 'wind', rows: windRows },
	'air temperatures by height': {
		label: 'The temperatures by height',
		value: 'temperatures',
		rows: temperatureRows
	}
};

/** A list that the case fills as a whole. */
export function listOffer(
	file: Investigation,
	list: ListField
): { label: string; rows: Record<string, string>[]; taken: Taken } | null {
	const whole = list.role && WHOLE[list.role];
	const rows = whole?.rows(file) ?? [];
	if (!whole || rows.length === 0) return null;
	return {
		label: `${whole.label} of the record, ${rows.length} ${rows.length === 1 ? 'height' : 'heights'}`,
		rows,
		taken: { ...ref('weather', 'main', whole.value), text: rowsText(rows) }
	};
}
