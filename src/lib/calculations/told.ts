import { decimalsFor, formatDecimals, formatSi } from '$lib/quantity/format';
import { fromSi } from '$lib/quantity/quantity';
import type { OutputSummary } from './calculation';

type Numbers = Pick<OutputSummary, 'dimension' | 'unit' | 'nominal' | 'median' | 'low90' | 'high90'>;

/** Of the middle 90 %: nearer than this the median and the value as stated tell one story. */
const ALIKE = 0.05;

/**
 * One output in its own unit, in no more figures than its spread lets mean something: two of the spread for the ends of
 * the middle 90 %, one more for the value itself. Without a spread, three figures and no range.
 */
export function figuresOf({ dimension, unit, nominal, median, low90, high90 }: Numbers) {
	const own = (si: number) => fromSi(si, unit, dimension);
	const width = own(high90) - own(low90);
	const size = Math.max(...[low90, median, high90, nominal ?? median].map((si) => Math.abs(own(si))));
	const spread = width > 0 ? decimalsFor(width, 2) : NaN;
	const at = (decimals: number) => (si: number) =>
		formatDecimals(si, dimension, unit, Math.min(decimals, decimalsFor(size, 4)));
	const value = width > 0 ? at(spread + 1) : (si: number) => formatSi(si, dimension, { unit, figures: 3 });
	const [low, high] = width > 0 ? [at(spread)(low90), at(spread)(high90)] : ['', ''];
	return { value, range: low === high ? '' : `${low} to ${high}` };
}

/**
 * The same in a sentence or a title, by one rule everywhere: the number is that of the values as stated; where the samples
 * lie clearly to one side of it their median stands beside it, named.
 */
export function told(o: Numbers): string {
	const { value } = figuresOf(o);
	const { nominal, median, low90, high90 } = o;
	if (nominal === undefined) return value(median);
	const apart = Math.abs(median - nominal) > ALIKE * (high90 - low90) && value(median) !== value(nominal);
	return apart ? `${value(nominal)} as stated (median ${value(median)})` : value(nominal);
}
