import { covarianceOf } from '$lib/probability/propagation';
import type { Suspects } from '$lib/probability/suspect-readings';
import { DIMENSIONS, type Dimension } from '$lib/quantity/dimensions';
import type { Observation } from '../calculation';
import type { Inputs, Row } from './inputs';

/** One reading as an observation, with how far it is trusted and the error it shares. */
export type Reading = Extract<Observation, { kind: 'scalar' }> & {
	wrong: number;
	shares?: { error: string; sd: number };
};

/** Readings of what the inputs say they are of, or why they cannot be compared. */
export function readingsOf(
	values: Record<string, unknown>,
	x: Inputs,
	sd: (path: string) => number
): Reading[] | string {
	const dimension = x.kind as Dimension;
	const out: Reading[] = [];
	for (const [i, row] of (values['readings'] as Row[]).entries()) {
		const label = row.name ?? `Reading ${i + 1}`;
		const u = sd(`readings.${i + 1}.value`);
		if (!(u > 0)) return `${label}: no reading is known exactly; give its plus-minus`;
		if (out.some((o) => o.label.toLowerCase() === label.toLowerCase()))
			return `two readings are called ${label}; give each its own name`;
		if (row.errors === 'shared' && row.shares === undefined)
			return `${label}: name the error that it shares, such as "air temperature"`;
		if (row.shared !== undefined && !(row.shared < u))
			return `${label}: the shared error must be less than the whole plus-minus, which includes it`;
		out.push({
			kind: 'scalar',
			label,
			dimension,
			unit: DIMENSIONS[dimension].metric,
			observed: row.value,
			sd: u,
			wrong: row.wrong,
			...(row.shares === undefined ? {} : { shares: { error: row.shares, sd: row.shared! } })
		});
	}
	const alone = out.find((a) => a.shares && !out.some((b) => b !== a && sameError(a, b)));
	if (alone) return `${alone.label}: no other reading shares an error called "${alone.shares!.error}"`;
	const shown = out.map((o) => o.observed);
	if (dimension === 'angle' && Math.max(...shown) - Math.min(...shown) > Math.PI)
		return 'these angles lie more than half a turn apart: where they are directions, write 359° as −1°';
	const { low, high } = rangeOf(x, out);
	if (!(low < high)) return 'the least value of a wrong reading must be below the greatest';
	const beyond = out.find((o) => !(o.observed >= low && o.observed <= high));
	return beyond ? `${beyond.label} lies outside the values that a wrong reading might show; widen them` : out;
}

const sameError = (a: Reading, b: Reading) =>
	a.shares !== undefined && a.shares.error.toLowerCase() === b.shares?.error.toLowerCase();

/** Where the quantity, and a wrong reading, may stand. */
function rangeOf(x: Inputs, readings: readonly Reading[]): Pick<Suspects, 'low' | 'high'> {
	const shown = readings.map((o) => o.observed);
	const [least, greatest] = [Math.min(...shown), Math.max(...shown)];
	const margin = greatest - least + 5 * Math.max(...readings.map((o) => o.sd));
	return { low: x.least ?? least - margin, high: x.greatest ?? greatest + margin };
}

export function suspectsOf(x: Inputs, readings: readonly Reading[]): Suspects {
	return {
		values: readings.map((o) => o.observed),
		covariance: covarianceOf(
			readings.map((o) => o.sd),
			(i, j) => {
				const [a, b] = [readings[i]!, readings[j]!];
				return sameError(a, b) ? (a.shares!.sd * b.shares!.sd) / (a.sd * b.sd) : 0;
			}
		),
		wrong: readings.map((o) => o.wrong),
		...rangeOf(x, readings)
	};
}

/** The same readings, each error taken as its own. */
export const apart = (s: Suspects): Suspects => ({
	...s,
	covariance: covarianceOf(s.covariance.map((row, i) => Math.sqrt(row[i]!)))
});
