/**
 * How often events that were given a probability were really true, by bins of that probability.
 *
 * Band: events of one investigation hang together, so no binomial band holds. Were every probability right, the sum over
 * one investigation of (truth - probability) within a bin would have mean zero, however they hang together; and
 * investigations are independent. So the squares of these sums add up to the variance of a bin's total, without any
 * model of the dependence (cluster-robust variance; Liang & Zeger 1986, from memory).
 */
import { weigh, type TreeModel } from '../../../../src/lib/reasoning';
import { investigation } from './investigations';

export const BINS = 10;
/** Investigations of one run. */
export const RUN = 2000;
/** Seeds of the runs: counted from 1, none left out. */
export const SEEDS = Array.from({ length: 20 }, (_, i) => i + 1);
/** 99 % of a normal distribution, two-sided. */
const Z99 = 2.5758293035489004;

/** What one bin adds up to. Runs add. */
export interface Sums {
	events: number;
	/** Of the probabilities stated. */
	stated: number;
	/** Events that were true. */
	isTrue: number;
	/** Of the investigations' sums of (truth - stated), their squares. */
	squares: number;
}

/** @param how what the engine is given of a tree; a wrong one shows that the measure would notice */
export function run(seed: number, count = RUN, how = (model: TreeModel) => model): Sums[] {
	const bins = emptyBins();
	for (let i = 0; i < count; i++) {
		const { model, truth } = investigation(seed, i);
		const { events } = weigh(how(model), { contributions: false });
		const own = new Float64Array(BINS);
		for (const { id, kind } of model.events) {
			if (kind === 'house') continue;
			const p = events[id]?.givenAll;
			if (typeof p !== 'number') throw new Error(`investigation ${i} was not weighed`);
			const at = Math.min(BINS - 1, Math.floor(p * BINS));
			const bin = bins[at] as Sums;
			bin.events++;
			bin.stated += p;
			bin.isTrue += Number(truth[id]);
			own[at] = (own[at] as number) + Number(truth[id]) - p;
		}
		bins.forEach((bin, at) => (bin.squares += (own[at] as number) ** 2));
	}
	return bins;
}

const emptyBins = (): Sums[] =>
	Array.from({ length: BINS }, () => ({ events: 0, stated: 0, isTrue: 0, squares: 0 }));

export function pooled(runs: readonly Sums[][]): Sums[] {
	const bins = emptyBins();
	for (const own of runs)
		own.forEach((sums, at) => {
			const bin = bins[at] as Sums;
			for (const key of Object.keys(bin) as (keyof Sums)[]) bin[key] += sums[key];
		});
	return bins;
}

export interface Bin {
	events: number;
	/** Mean probability stated, and share that was true. */
	stated: number;
	observed: number;
	/** Half width of the 99 % band about what was stated. */
	band: number;
}

export const binsOf = (sums: readonly Sums[]): Bin[] =>
	sums.map(({ events, stated, isTrue, squares }) => ({
		events,
		stated: stated / events,
		observed: isTrue / events,
		band: (Z99 * Math.sqrt(squares)) / events
	}));

export const isOutside = ({ stated, observed, band }: Bin) => Math.abs(observed - stated) > band;

/** Mean distance between stated and observed, each bin by its share of the events. */
export function expectedCalibrationError(bins: readonly Bin[]): number {
	const all = bins.reduce((sum, { events }) => sum + events, 0);
	return bins.reduce(
		(sum, { events, stated, observed }) => sum + (events / all) * Math.abs(observed - stated),
		0
	);
}
