import type { EvidenceOf } from '$lib/investigation/schema/evidence';
import { hasResult, predictionsOf } from '$lib/investigation/views/predictions';
import { typedProbability } from '$lib/quantity/percent';
import { type Context, utcMoment } from './context';
import { blocks, table } from './text';

/** What was locked before a test, case by case, beside what it showed; what was withdrawn stays in sight. */
export function predicted(c: Context, id: string, item: EvidenceOf<'test'>): string {
	const all = predictionsOf(c.file, id);
	if (all.length === 0)
		return hasResult(item) && item.noPrediction !== ''
			? `Nothing was locked before the result: ${c.line(item.noPrediction)}`
			: '';
	const showed = [c.line(item.result), item.value ? c.quantity(item.value) : ''].filter(Boolean).join(' ');
	return blocks(
		...all.map(([, { under, by, at, resultAt, withdrawn }]) =>
			blocks(
				`${withdrawn ? 'Locked and withdrawn' : 'Locked before the result'} (${c.line(by)}, ${utcMoment(at)}${resultAt ? `; result entered ${utcMoment(resultAt)}${item.corrected ? `, corrected by ${c.line(item.corrected.by)}, ${utcMoment(item.corrected.at)}` : ''}` : ''})${withdrawn ? `: ${c.line(withdrawn.reason)}` : ':'}`,
				table(
					['In the case that', 'it was to show', ...(withdrawn ? [] : ['it showed'])],
					under.map(({ cause, expected, p }, i) => [
						c.line(cause),
						`${c.line(expected)}${p === undefined ? '' : `, ${typedProbability(p)} of the time`}`,
						...(withdrawn ? [] : [i === 0 ? showed || 'not entered yet' : 'the same'])
					])
				)
			)
		)
	);
}
