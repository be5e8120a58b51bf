import { sampleQuantiles } from '$lib/probability/summary';
import { formatSi } from '$lib/quantity/format';
import type { Addition, AdditionContext, FigureContext } from '../calculation';
import type { Figure } from '../figure';
import { outOf100 } from '../likelihood';
import type { Inputs } from './inputs';
import { airAlone, builtArea, heldUp, impliedArea, rateAt, recordedRate } from './rates';

/** Shares of the area as built from which on it counts as open, and below which as good as not; common practice, no source. */
const OPEN = 0.8;
const CLOSED = 0.1;

/** Rate at the height asked about by share of the area as built, m/s: as typed, and 5 to 95 % of the samples. */
interface Series {
	share: number[];
	low: number[];
	nominal: number[];
	high: number[];
}
const SHARES = [0.03, 0.05, 0.07, 0.1, 0.15, 0.2, 0.25, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.25];
/** A picture needs no more than these. */
const DRAWN = 400;

const speed = (v: number) => formatSi(v, 'speed', { unit: 'm/s', figures: 2 });
const times = (share: number) => String(Number(share.toPrecision(2)));
/** 'implies 0.49 of the drag area', 'implies 3.1 times the drag area' */
const implies = (share: number) =>
	`implies ${times(share)} ${share > 1.05 ? 'times' : 'of'} the drag area as built`;
const partOf = (xs: readonly Inputs[], holds: (x: Inputs) => boolean) =>
	xs.reduce((n, x) => n + (holds(x) ? 1 : 0), 0) / xs.length;

/** Open, half open or not at all, in a sentence; where the air alone decides, a warning. */
export function* howOpen({
	nominal,
	samples,
	observations
}: AdditionContext<Inputs>): Generator<void, Addition> {
	const warnings: string[] = [];
	const recorded = recordedRate(nominal);
	const alone = recorded === undefined ? 0 : partOf(samples, (x) => airAlone(x, recordedRate(x)!));
	if (alone > 0)
		warnings.push(
			`In ${outOf100(alone)} trials of these inputs sinking air alone would account for the recorded rate: the drag area that it implies has no upper bound there.`
		);
	const [seen] = observations;
	if (recorded !== undefined && seen?.kind === 'scalar') {
		const apart = Math.abs(recorded - seen.observed);
		if (apart > 2 * seen.sd && apart > 0.05 * recorded)
			warnings.push(
				`Two rates were typed that differ: ${speed(recorded)} for the implied drag area, ${speed(seen.observed)} to weigh the scenarios. If they are of the same descent, one of them is wrong.`
			);
	}
	if (builtArea(nominal) === undefined) return { warnings };
	const held = partOf(samples, (x) => heldUp(rateAt(x, builtArea(x)!, 0)));
	if (held > 0 && !heldUp(rateAt(nominal, builtArea(nominal)!, 0)))
		warnings.push(
			`In ${outOf100(held)} trials of these inputs the air rises as fast as the canopy sinks: time and energy are there reckoned at hardly any rate.`
		);
	const statements: string[] = [];
	if (recorded !== undefined) {
		const share = (x: Inputs) => impliedArea(x, recordedRate(x)!) / builtArea(x)!;
		const shares = Float64Array.from(samples, share);
		const [low = 0, high = 0] = sampleQuantiles(shares, [0.05, 0.95]);
		const part = (from: number, to: number) =>
			outOf100(shares.reduce((n, s) => n + (s >= from && s < to ? 1 : 0), 0) / shares.length);
		statements.push(
			`${speed(recorded)} ${implies(share(nominal))} (${times(low)} to ${times(high)} in 90 of 100). It was open to ${OPEN} or more in ${part(OPEN, Infinity)} trials of these inputs, partly (from ${CLOSED}) in ${part(CLOSED, OPEN)}, as good as not at all in ${part(0, CLOSED)} (bounds: common practice, no source).`
		);
	}
	yield;
	const series: Series = { share: [], low: [], nominal: [], high: [] };
	const drawn = samples.slice(0, DRAWN);
	for (const share of SHARES) {
		const rate = (x: Inputs) => rateAt(x, share * builtArea(x)!, x.rateHeight);
		const [low = 0, high = 0] = sampleQuantiles(drawn.map(rate), [0.05, 0.95]);
		series.share.push(share);
		series.low.push(low);
		series.nominal.push(rate(nominal));
		series.high.push(high);
		yield;
	}
	return { statements, warnings, series };
}

export function figure({
	nominal,
	observations,
	outputs,
	series
}: FigureContext<Inputs>): Figure | undefined {
	const s = series as Series | undefined;
	if (!s) return undefined;
	const [seen] = observations;
	const recorded = recordedRate(nominal);
	const at = recorded ?? (seen?.kind === 'scalar' ? seen.observed : undefined);
	const open = outputs['openShare'];
	const rate = outputs['rate']!;
	// Far above what was recorded, or what an open canopy gives, nobody asks; the curve runs out of the picture there.
	const fastest = 2 * Math.max(at ?? 0, s.high[s.share.indexOf(1)] ?? 0);
	const shown = s.share.flatMap((_, i) => (s.low[i]! <= fastest ? [i] : []));
	const of = (values: readonly number[]) => shown.map((i) => values[i]!);
	return {
		title: open
			? `${speed(at!)} ${implies(open.nominal!)} (${times(open.low90)} to ${times(open.high90)})`
			: `Fully open it comes down at ${speed(rate.nominal!)} (${speed(rate.low90)} to ${speed(rate.high90)})`,
		x: { label: 'Share of the drag area as built', unit: '1', min: 0 },
		y: { label: 'Descent rate', unit: 'm/s', min: 0, max: fastest },
		layers: [
			{ kind: 'band', label: '90 of 100', x: of(s.share), low: of(s.low), high: of(s.high) },
			{ kind: 'line', label: 'as typed', points: shown.map((i) => [s.share[i]!, s.nominal[i]!]) },
			{ kind: 'rule', axis: 'x', label: 'fully open', at: 1 },
			...(at === undefined ? [] : [{ kind: 'rule' as const, axis: 'y' as const, label: 'recorded', at }])
		]
	};
}
