import type { Dimension } from '$lib/quantity/dimensions';
import { formatNumber, formatQuantity } from '$lib/quantity/format';
import { type Quantity, toSi } from '$lib/quantity/quantity';
import { readAnyQuantity } from '$lib/quantity/read';
import { unitOf } from '$lib/quantity/units';
import type { Investigation } from '../case';

/** A number, perhaps with its spread or upper end, and the word behind it. */
const NUMBER = /[-−+]?\d+(?:\.\d+)?(?:\s*(?:±|\+\/-|to)\s*\d+(?:\.\d+)?)?\s*[^\s\d,;:()]+/gu;

const MOMENT = /\b(at|until|till|after|before|by|from|since)(\s+(about|some|roughly))?\s*$/i;

/** The one quantity with a unit in a sentence; null where there is none, or more than one. */
function quantityIn(text: string): { quantity: Quantity; dimension: Dimension } | null {
	const found = [...text.matchAll(NUMBER)].flatMap(({ 0: words, index }) => {
		const read = readAnyQuantity(words.replace(/[.!?]$/, ''));
		// 'At 31 s' says when something happened, not how long or how much it was.
		if (read.ok && read.value.dimension === 'time' && MOMENT.test(text.slice(0, index))) return [];
		return read.ok && read.value.quantity && read.value.dimension !== 'ratio'
			? [{ quantity: read.value.quantity, dimension: read.value.dimension }]
			: [];
	});
	return found.length === 1 ? found[0]! : null;
}

/**
 * How far what was observed lies from what was expected, where both sentences hold one quantity of the same kind:
 * 'observed 410 m, expected 620 ± 30 m: 210 m less'. Null where there is nothing to compare.
 */
export function departureOf(expected: string, observed: string): string | null {
	const [e, o] = [quantityIn(expected), quantityIn(observed)];
	if (!e || !o || e.dimension !== o.dimension) return null;
	const { unit } = e.quantity;
	const si = toSi(o.quantity, o.dimension).value - toSi(e.quantity, e.dimension).value;
	const apart = Number((si / unitOf(unit, e.dimension).factor).toPrecision(3));
	const said = `observed ${formatQuantity(o.quantity, o.dimension)}, expected ${formatQuantity(e.quantity, e.dimension)}`;
	if (apart === 0) return `${said}: no difference`;
	const decimals = /\.(\d+)$/.exec(String(Math.abs(apart)))?.[1]?.length ?? 0;
	return `${said}: ${formatNumber(Math.abs(apart), decimals)}\u202F${unit} ${apart < 0 ? 'less' : 'more'}`;
}

/** What hangs on an anomaly besides its statement, in words; empty: it can go without taking anything along. */
export function hangsOn(file: Investigation, anomaly: string): string[] {
	const own = (records: Readonly<Record<string, { anomaly: string | null }>>) =>
		Object.values(records).filter((record) => record.anomaly === anomaly).length;
	const count = (n: number, one: string, many: string) => (n === 0 ? [] : [`${n} ${n === 1 ? one : many}`]);
	return [
		// The top event and the branch that nobody has thought of are there from the first moment on.
		...count(Math.max(0, own(file.events) - 2), 'event', 'events'),
		...count(own(file.findings), 'finding', 'findings'),
		...count(own(file.calculations), 'calculation', 'calculations'),
		...count(own(file.changes), 'change', 'changes'),
		...(file.conclusions[anomaly] ? ['a conclusion'] : [])
	];
}
