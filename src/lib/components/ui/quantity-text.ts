import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';
import { formatQuantity, formatSi } from '$lib/quantity/format';
import { parseQuantity } from '$lib/quantity/parse';
import { type Quantity, toSi } from '$lib/quantity/quantity';
import { readAnyQuantity } from '$lib/quantity/read';
import { printedUnit } from '$lib/quantity/units';

/** What a person typed for a quantity, to edit it again; made ones are written out. */
export const typedText = (q: Quantity | null): string => (q ? q.text || shownQuantity(q) : '');

/** The dimension that a unit belongs to. */
export function dimensionOfUnit(unit: string): Dimension {
	if (unit === '1') return 'ratio';
	const read = readAnyQuantity(`1 ${unit}`);
	return read.ok ? read.value.dimension : 'ratio';
}

/** A quantity as it is read on the sheet; '—' where it was not measured. */
export function shownQuantity(q: Quantity | null, dimension: Dimension | 'any' = 'any'): string {
	if (!q) return '—';
	return formatQuantity(q, dimension === 'any' ? dimensionOfUnit(q.unit) : dimension);
}

/** How a typed quantity was understood, in the field's own unit: '12.5 ft = 3.81 m'. Words say what is wrong; blank says nothing. */
export function understood(
	text: string,
	dimension: Dimension | 'any',
	unit: string
): { says: string; wrong: boolean } {
	if (text.trim() === '') return { says: '', wrong: false };
	const found = dimension === 'any' ? readAnyQuantity(text) : parseIn(text, dimension, unit);
	if (!found.ok) return { says: capital(found.error), wrong: true };
	const { quantity, notes } = found.value;
	if (!quantity) return { says: '', wrong: false };
	const kind = dimension === 'any' ? dimensionOfUnit(quantity.unit) : dimension;
	const typed = formatQuantity(quantity, kind);
	const own = dimension === 'any' || unit === '' ? DIMENSIONS[kind].metric : unit;
	const same = printedUnit(quantity.unit) === printedUnit(own) || kind === 'ratio';
	const spread =
		quantity.plusMinus === undefined || quantity.level !== undefined
			? ''
			: quantity.factor === undefined
				? ' (one standard deviation)'
				: ' (68 of 100 within times and over the factor)';
	const converted = same ? '' : ` = ${inUnit(quantity, kind, own)}`;
	// The unit stands in the echo already.
	const said = notes.map((note) => note.replace(/^no unit was typed; read as .*/, 'no unit was typed'));
	return { says: [`${typed}${converted}${spread}`, ...said].join('; '), wrong: false };
}

function parseIn(text: string, dimension: Dimension, unit: string) {
	return parseQuantity(text, unit === '' ? { dimension } : { dimension, defaultUnit: unit });
}

function inUnit(q: Quantity, dimension: Dimension, unit: string): string {
	return q.plusMinus === undefined && q.low === undefined
		? formatSi(toSi(q, dimension).value, dimension, { unit, figures: Math.max(3, figuresOf(q.value)) })
		: formatQuantity(q, dimension, { unit });
}

/** Figures that were typed, so that the conversion promises no more: three for 12.5. */
const figuresOf = (x: number) =>
	Number(x.toPrecision(6)).toString().replace(/\D/g, '').replace(/^0+/, '').length;

const capital = (text: string) => text.charAt(0).toUpperCase() + text.slice(1) + '.';
