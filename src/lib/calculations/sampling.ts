import { randomStream } from '$lib/probability/generator';
import { rankCorrelation, sampleQuantiles } from '$lib/probability/summary';
import { formatSi } from '$lib/quantity/format';
import { ok, refuse, type Result } from '$lib/quantity/result';
import type { AnyCalculation, ModelOutput, OutputSummary } from './calculation';
import { inputSampler, type ReadInputs, type Values } from './inputs';

export interface Sensitivity {
	output: string;
	of?: string;
	/** Inputs by how strongly the output hangs on them: Spearman's rank correlation, largest first. */
	ranked: { path: string; label: string; correlation: number }[];
}

/** A model's own refusal (RangeError) becomes words; anything else is a mistake of ours and goes on. */
export function attempt<T>(run: () => T): Result<T> {
	try {
		return ok(run());
	} catch (error) {
		if (error instanceof RangeError) return refuse(error.message);
		throw error;
	}
}

/** Outputs one by one: 'distance', or 'distance' of a named member. */
export function flat(output: ModelOutput): { id: string; of?: string; value: number }[] {
	return Object.entries(output).flatMap(([id, value]) =>
		value === undefined
			? []
			: typeof value === 'number'
				? [{ id, value }]
				: Object.entries(value).map(([of, v]) => ({ id, of, value: v }))
	);
}

export interface Column {
	id: string;
	of?: string;
	nominal: number;
	values: Float64Array;
}

interface Drawn {
	xs: unknown[];
	columns: Column[];
	failures: { count: number; reason: string };
	next(): void;
}

/** Samples of inputs and outputs, one at each `next()`; impossible ones are counted and left out. */
export function drawSamples(
	calculation: AnyCalculation,
	read: ReadInputs,
	nominal: ModelOutput,
	seed: number,
	n: number
): Drawn {
	const draw = inputSampler(read, (path) => randomStream(seed, path));
	const random = randomStream(seed, 'model');
	const columns = flat(nominal).map((c) => ({ ...c, nominal: c.value, values: new Float64Array(n) }));
	const drawn: Drawn = { xs: [], columns, failures: { count: 0, reason: '' }, next };
	function next() {
		const sample: unknown = draw();
		const result = attempt(() => flat(calculation.model(sample, random, false)));
		if (!result.ok || !result.value.every((c) => Number.isFinite(c.value))) {
			drawn.failures.count++;
			drawn.failures.reason = result.ok ? 'the model gives no number' : result.error;
			return;
		}
		// A sample has the outputs of the nominal run, in its order; one that crosses to where other outputs exist cannot be set beside it.
		if (result.value.length !== columns.length) {
			drawn.failures.count++;
			drawn.failures.reason =
				'they cross a limit beyond which other results are given than for the values as typed';
			return;
		}
		columns.forEach((column, k) => (column.values[drawn.xs.length] = result.value[k]!.value));
		drawn.xs.push(sample);
	}
	return drawn;
}

export const keyOf = ({ id, of }: { id: string; of?: string }) => (of === undefined ? id : `${id} of ${of}`);

export function summarise(
	calculation: AnyCalculation,
	columns: readonly Column[]
): Record<string, OutputSummary> {
	return Object.fromEntries(
		columns.map(({ id, of, nominal, values }) => {
			const [low90 = NaN, median = NaN, high90 = NaN] = sampleQuantiles(values, [0.05, 0.5, 0.95]);
			const { label, dimension, unit } = outputOf(calculation, id);
			const summary = { id, label, dimension, unit, nominal, median, low90, high90 };
			return [
				keyOf({ id, ...(of === undefined ? {} : { of }) }),
				of === undefined ? summary : { ...summary, of }
			];
		})
	);
}

export function outputOf(calculation: AnyCalculation, id: string) {
	const output = calculation.outputs.find((o) => o.id === id);
	if (!output) throw new Error(`${calculation.id} has no output ${id}`);
	return output;
}

/** A rank correlation of few samples is noise below this. */
const noise = (n: number) => 2 / Math.sqrt(n);

/** What the main outputs hang on, those that vary at all, in the order in which the calculation lists them. */
export function sensitivities(
	calculation: AnyCalculation,
	columns: readonly { id: string; of?: string; values: ArrayLike<number> }[],
	read: ReadInputs,
	xs: readonly Values[]
): Sensitivity[] {
	const place = (id: string) => calculation.outputs.findIndex((o) => o.id === id);
	return columns
		.filter(({ id, values }) => outputOf(calculation, id).main && varies(values, outputOf(calculation, id)))
		.sort((a, b) => place(a.id) - place(b.id))
		.map(({ id, of, values }) => ({
			output: id,
			...(of === undefined ? {} : { of }),
			ranked: read.varying
				.map(({ path, label }) => ({
					path,
					label,
					correlation: rankCorrelation(
						Array.from({ length: values.length }, (_, i) => valueAt(xs[i]!, path)),
						values
					)
				}))
				.filter(
					({ correlation }) => values.length === xs.length || Math.abs(correlation) > noise(values.length)
				)
				.sort((a, b) => Math.abs(b.correlation) - Math.abs(a.correlation))
		}));
}

/** Whether the ends of the middle 90 % print as two numbers; one that comes about in some samples only varies too. */
function varies(
	values: ArrayLike<number>,
	{ dimension, unit }: Pick<OutputSummary, 'dimension' | 'unit'>
): boolean {
	const finite = Array.from(values).filter(Number.isFinite);
	const [low = 0, high = 0] = sampleQuantiles(finite, [0.05, 0.95]);
	const show = (si: number) => formatSi(si, dimension, { unit });
	return (finite.length > 0 && finite.length < values.length) || show(low) !== show(high);
}

function valueAt(values: Values, path: string): number {
	const [first = '', row, field = ''] = path.split('.');
	const found = row === undefined ? values[first] : (values[first] as Values[])[Number(row) - 1]?.[field];
	return found as number;
}
