import { DIMENSIONS, type Dimension } from './dimensions';
import { fromSi, toSi, type Quantity, type SiQuantity } from './quantity';
import { printedUnit, unitOf } from './units';

export type UnitSystem = 'as typed' | 'metric' | 'imperial';

const THIN = '\u202F'; // narrow no-break space
const MINUS = '\u2212';

/** Digits in threes with thin spaces, a true minus, an exponent only where digits would mislead. */
export function formatNumber(x: number, decimals: number): string {
	if (!Number.isFinite(x)) throw new RangeError(`a number to print must be finite, got ${x}`);
	const size = Math.abs(x);
	if (
		size !== 0 &&
		(size >= 1e7 || size < 1e-4) &&
		!(decimals <= 6 && Number(size.toFixed(Math.max(0, decimals))) === 0)
	) {
		const [mantissa = '', exponent = ''] = x.toExponential(3).split('e');
		return `${sign(mantissa)}·10^${sign(exponent.replace('+', ''))}`;
	}
	const rounded = decimals < 0 ? Math.round(x / 10 ** -decimals) * 10 ** -decimals : x;
	const [whole = '', fraction] = Math.abs(rounded)
		.toFixed(Math.max(0, Math.min(12, decimals)))
		.split('.');
	const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, THIN) : whole;
	const text = fraction ? `${grouped}.${fraction}` : grouped;
	return rounded < 0 && /[1-9]/.test(text) ? MINUS + text : text;
}
const sign = (text: string) => text.replace('-', MINUS);

/** Decimals that show so many significant figures of a number. */
export function decimalsFor(x: number, figures: number): number {
	if (x === 0) return 0;
	const magnitude = Math.floor(Math.log10(Math.abs(Number(x.toPrecision(figures)))));
	return figures - 1 - magnitude;
}

/** No thin space before degree marks that stand alone, as the SI brochure prints angles. */
const withUnit = (number: string, unit: string) =>
	unit === '1' ? number : unit === '°' ? `${number}°` : `${number}${THIN}${printedUnit(unit)}`;

/** The unit in which a system shows a dimension. */
export function displayUnit(dimension: Dimension, system: UnitSystem): string {
	return system === 'imperial' ? DIMENSIONS[dimension].imperial : DIMENSIONS[dimension].metric;
}

/** A number of SI units, shown in a unit (or a system's usual one) with so many significant figures, four by default. */
export function formatSi(
	si: number,
	dimension: Dimension,
	show: { unit?: string; system?: UnitSystem; figures?: number } = {}
): string {
	const unit = show.unit ?? displayUnit(dimension, show.system ?? 'metric');
	const value = fromSi(si, unit, dimension);
	const decimals = decimalsFor(value, show.figures ?? 4);
	// So many figures asked for hold also for a number of five and more: 15 900, not 15 899.
	const rounds = show.figures !== undefined && Math.abs(value) >= 1e4;
	return withUnit(formatNumber(value, rounds ? decimals : Math.max(0, decimals)), unit);
}

/** A number of SI units in a unit with so many decimals; -2 rounds to hundreds. */
export const formatDecimals = (si: number, dimension: Dimension, unit: string, decimals: number): string =>
	withUnit(formatNumber(fromSi(si, unit, dimension), decimals), unit);

/** '12.5 ± 1.0 ft', '12 ± 1 ft (95 %)', '10 to 14 ft', 'triangular 5, 6, 8 kg', 'log-normal 8 kg × 1.2', in the unit typed, in that of a unit system, or in another one. */
export function formatQuantity(
	q: Quantity,
	dimension: Dimension,
	system: UnitSystem | { unit: string } = 'as typed'
): string {
	const unit =
		system === 'as typed'
			? q.unit
			: typeof system === 'object'
				? system.unit
				: displayUnit(dimension, system);
	const shown = system === 'as typed' ? q : inUnit(toSi(q, dimension), unit, dimension);
	// As typed keeps the digits typed; a converted value keeps about as many.
	const typed = Math.max(typedDecimals(q.value), typedDecimals(q.plusMinus ?? 0));
	const decimals = (x: number) => (system === 'as typed' ? typed : Math.max(0, decimalsFor(x, 4)));
	if (shown.factor !== undefined)
		return `log-normal ${withUnit(formatNumber(shown.value, system === 'as typed' ? typedDecimals(q.value) : decimals(shown.value)), unit)} × ${Number(shown.factor.toPrecision(6))}`;
	if (shown.low !== undefined && shown.high !== undefined) {
		const d =
			system === 'as typed'
				? Math.max(typedDecimals(shown.low), typedDecimals(shown.high))
				: decimals(shown.high);
		if (shown.shape)
			return `triangular ${withUnit([shown.low, shown.value, shown.high].map((x) => formatNumber(x, Math.max(d, typedDecimals(q.value)))).join(', '), unit)}`;
		return withUnit(`${formatNumber(shown.low, d)} to ${formatNumber(shown.high, d)}`, unit);
	}
	if (shown.plusMinus === undefined) return withUnit(formatNumber(shown.value, decimals(shown.value)), unit);
	const d = system === 'as typed' ? typed : Math.max(0, decimalsFor(shown.plusMinus || shown.value, 2));
	const level = shown.level === undefined ? '' : ` (${Number((100 * shown.level).toPrecision(4))}${THIN}%)`;
	return withUnit(`${formatNumber(shown.value, d)} ± ${formatNumber(shown.plusMinus, d)}`, unit) + level;
}

const typedDecimals = (x: number) => /\.(\d+)$/.exec(Number(x.toPrecision(6)).toString())?.[1]?.length ?? 0;

function inUnit(si: SiQuantity, unit: string, dimension: Dimension): SiQuantity {
	const { factor } = unitOf(unit, dimension);
	const at = (x: number) => fromSi(x, unit, dimension);
	return {
		...si,
		value: at(si.value),
		...(si.plusMinus === undefined ? {} : { plusMinus: si.plusMinus / factor }),
		...(si.low === undefined || si.high === undefined ? {} : { low: at(si.low), high: at(si.high) })
	};
}
