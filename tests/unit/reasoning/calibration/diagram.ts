/** The reliability diagram of docs/methods/weighing.md and the numbers behind it. */
import { writeFileSync } from 'node:fs';
import { drawFigure } from '../../../../src/lib/report/figure-drawing';
import { PRINTED } from '../../../../src/lib/report/palette';
import { binsOf, pooled, run, SEEDS, type Sums } from './reliability';

export const DATA = 'docs/methods/weighing-calibration.json';
export const PICTURE = 'docs/methods/weighing-calibration.svg';

/** What docs/methods/weighing-calibration.json holds: the runs by seed. */
export type Runs = Record<string, Sums[]>;

/** Share that was true against the probability stated, and beneath it the difference in its band. */
export function drawReliability(runs: Runs): string {
	const bins = binsOf(pooled(Object.values(runs)));
	const x = { label: 'Probability stated', unit: '%', min: 0, max: 100 };
	const figure = {
		title: 'Of the events that were given a probability, so many were true',
		x,
		y: { label: 'Share that was true', unit: '%', min: 0, max: 100 },
		layers: [
			{
				kind: 'line' as const,
				label: 'as stated',
				dashed: true,
				points: [[0, 0] as const, [100, 100] as const]
			},
			...bins.map(({ stated, observed, events }, i) => ({
				kind: 'point' as const,
				label: events.toLocaleString('en') + (i === 0 ? ' events' : ''),
				x: 100 * stated,
				y: 100 * observed
			}))
		],
		below: {
			title: 'Difference between the two, within its band',
			x,
			y: { label: 'True less stated', unit: 'percentage points', min: -2, max: 2 },
			layers: [
				{
					kind: 'band' as const,
					label: '99 % of such runs',
					x: bins.map(({ stated }) => 100 * stated),
					low: bins.map(({ band }) => -100 * band),
					high: bins.map(({ band }) => 100 * band)
				},
				...bins.map(({ stated, observed }) => ({
					kind: 'point' as const,
					label: '',
					x: 100 * stated,
					y: 100 * (observed - stated)
				}))
			]
		}
	};
	// In the page's own colours where it stands in a page, in print's where it is a file of its own.
	const palette = {
		...PRINTED,
		ink: `var(--ink,${PRINTED.ink})`,
		ink2: `var(--ink-2,${PRINTED.ink2})`,
		rule: `var(--rule-strong,${PRINTED.rule})`,
		sheet: `var(--sheet,${PRINTED.sheet})`
	};
	return `${drawFigure(figure, { palette, id: 'calibration', width: 720, height: 400 })}\n`;
}

/** Simulates every run and writes numbers and picture; two minutes. */
export function make(say: (words: string) => void) {
	const runs = Object.fromEntries(
		SEEDS.map((seed) => {
			say(`Run ${seed} of ${SEEDS.length}.`);
			return [seed, run(seed)];
		})
	);
	const rows = Object.entries(runs).map(([seed, bins]) => `\t"${seed}": ${JSON.stringify(bins)}`);
	writeFileSync(DATA, `{\n${rows.join(',\n')}\n}\n`);
	writeFileSync(PICTURE, drawReliability(runs));
}
