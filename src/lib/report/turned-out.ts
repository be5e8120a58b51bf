import { outcomes, scoredAnomalies, scoresOf, STAGES } from '$lib/investigation/views/scored';
import { type Context, utcMoment } from './context';
import { percent } from '$lib/quantity/percent';
import { blocks, table } from './text';
import * as words from './words';

/** The first impression beside the conclusion, in words and numbers, and what turned out to be true. */
export function turnedOut(c: Context, id: string): string {
	const rows = outcomes(c.file, id);
	const impression = c.file.anomalies[id]?.firstImpression ?? '';
	const known = rows.some(({ truth }) => truth !== null);
	const numbers = known || rows.some((row) => row.impression !== null);
	const scores = STAGES.map((stage) =>
		scoresOf(scoredAnomalies(c.file).find((anomaly) => anomaly.id === id)?.stated[stage] ?? [])
	);
	return blocks(
		impression && 'First impression, sealed before the evidence was weighed:',
		c.block(impression),
		numbers &&
			table(
				['Branch', '>First impression', '>Start, given that it happened', '>At the end', 'It turned out'],
				[
					...rows.map((row) => [
						`[${c.line(row.title)}](#event-${row.event})`,
						...STAGES.map((stage) => percent(row[stage])),
						row.truth
							? [
									`**${words.TRUTH[row.truth.is]}**, from ${words.TRUTH_SOURCE[row.truth.how]}`,
									row.truth.cites.length > 0 && `(${c.cites(row.truth.cites)})`,
									c.line(row.truth.note),
									`${c.line(row.truth.by)}, ${utcMoment(row.truth.at)}`
								]
									.filter(Boolean)
									.join(' ')
							: ''
					]),
					...(known
						? [
								[
									'Distance from the truth (Brier; 0 is perfect, 0.25 who always says one half)',
									...scores.map((score) => (score ? score.brier.toFixed(3) : '–')),
									''
								]
							]
						: [])
				]
			)
	);
}
