import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import type { TreeModel } from '$lib/reasoning';
import { DATA, drawReliability, PICTURE, type Runs } from './calibration/diagram';
import {
	binsOf,
	expectedCalibrationError,
	isOutside,
	pooled,
	RUN,
	run,
	SEEDS,
	type Sums
} from './calibration/reliability';

const kept = JSON.parse(readFileSync(DATA, 'utf8')) as Runs;
const runs = Object.values(kept);
const error = (sums: Sums[]) => expectedCalibrationError(binsOf(sums));

/**
 * Seeds are counted from 1 and none is left out or chosen. A right engine has one bin of a hundred outside its 99 %
 * band, so of ten bins of a single run at least one in one run of ten; over all runs together the bands are narrow.
 */
describe('Of the events that were given a probability, so many are true', () => {
	it(`${RUN} investigations simulated now: within 0.01, and the numbers that are kept`, () => {
		const first = run(1);
		expect(error(first)).toBeLessThan(0.01);
		expect(first.reduce((sum, { events }) => sum + events, 0)).toBeGreaterThan(20 * RUN);
		first.forEach((sums, bin) => {
			const before = kept['1']?.[bin];
			expect(sums.events).toBe(before?.events);
			expect(sums.isTrue).toBe(before?.isTrue);
			expect(sums.stated).toBeCloseTo(before?.stated ?? NaN, 6);
			expect(sums.squares).toBeCloseTo(before?.squares ?? NaN, 6);
		});
	}, 120_000);
	it('every run kept is within 0.01, and their bins lie outside their 99 % bands about as often as they should', () => {
		expect(Object.keys(kept).map(Number)).toEqual(SEEDS);
		for (const own of runs) expect(error(own)).toBeLessThan(0.01);
		// 200 bins, 1 % each: more than 7 with a probability of 0.1 %.
		expect(runs.flatMap(binsOf).filter(isOutside).length).toBeLessThanOrEqual(7);
	});
	it('all runs together: every bin within its own 99 % band', () => {
		const bins = binsOf(pooled(runs));
		expect(bins.filter(isOutside)).toEqual([]);
		expect(expectedCalibrationError(bins)).toBeLessThan(0.001);
		// Narrow enough to say something: two percentage points at most.
		for (const { band } of bins) expect(band).toBeLessThan(0.02);
	});
	it('the diagram is that of the numbers', () => {
		expect(readFileSync(PICTURE, 'utf8')).toBe(drawReliability(kept));
	});
	it.each<[string, (model: TreeModel) => TreeModel]>([
		['every finding counted twice', countedTwice],
		['starting weights of two thirds', (m) => ({ ...m, events: m.events.map(lowered) })],
		['the top event forgotten', (m) => ({ ...m, given: {} })]
	])(
		'it would notice %s',
		(_, how) => {
			expect(binsOf(run(1, 300, how)).filter(isOutside).length).toBeGreaterThan(0);
		},
		60_000
	);
});

const lowered = (event: TreeModel['events'][number]) =>
	event.p === undefined ? event : { ...event, p: event.p / 1.5 };

/** Each observation once more, as if somebody else had made it. */
function countedTwice(model: TreeModel): TreeModel {
	const findings = model.findings ?? [];
	const again = findings.map(({ id, sameAs, ...finding }) => ({
		...finding,
		id: `${id} again`,
		...(sameAs === undefined ? {} : { sameAs: `${sameAs} again` })
	}));
	return { ...model, findings: [...findings, ...again] };
}
