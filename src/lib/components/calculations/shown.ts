import type { CalculationResult } from '$lib/calculations/run';
import type { Result } from '$lib/investigation/schema/calculation-result';
import { printedOutput } from '$lib/report/result';

/** A fresh result in the form of a stored one, so that both are shown alike. */
export const asStored = (result: CalculationResult): Result =>
	({ ...result, likelihoods: result.likelihoods ?? [] }) as unknown as Result;

/** True where neither a sentence nor a number follows. */
export const saysNothing = ({ statements, outputs }: Result): boolean =>
	statements.length === 0 && Object.keys(outputs).length === 0;

/** The answer in sentences: the first stands out, what qualifies it follows, then all else that is said. */
export function answerOf(result: Result): { first: string; rest: string; others: readonly string[] } {
	const [whole = '', ...others] = result.statements.length > 0 ? result.statements : [plainly(result)];
	const first = /^.+?[.!?](?= \p{Lu}|$)/su.exec(whole)?.[0] ?? whole;
	return { first, rest: whole.slice(first.length).trim(), others };
}

/** Where a calculation says no sentence of its own, its first output does. */
function plainly({ outputs }: Result): string {
	const [output] = Object.values(outputs);
	if (!output) return 'No number follows from these inputs yet.';
	const { label, told, interval } = printedOutput(output);
	const spread = interval && `; 90 of 100 samples lie between ${interval.replace(' to ', ' and ')}`;
	return `${label}: ${told}${spread}.`;
}

/** 'hangs on it strongly': a rank correlation in words. */
export function strength(correlation: number): string {
	const size = Math.abs(correlation);
	return size > 0.7 ? 'most of all' : size > 0.4 ? 'strongly' : size > 0.15 ? 'somewhat' : 'hardly';
}

/** How many times better the best scenario explains what was observed than this one. */
export function timesLess(density: number, best: number): string {
	if (density >= best) return 'explains it best';
	if (density === 0) return 'can’t explain it at all';
	const factor = best / density;
	const words =
		factor < 9.5
			? factor.toFixed(1)
			: factor < 1e6
				? Number(factor.toPrecision(2)).toLocaleString('en').replace(/,/g, '\u202f')
				: 'more than a million';
	return `${words} times less well`;
}

/** A file name from a title: letters, digits and hyphens. */
export const fileName = (title: string, ending: string): string =>
	`${
		title
			.toLowerCase()
			.replace(/[^\p{L}\p{N}]+/gu, '-')
			.replace(/^-|-$/g, '')
			.slice(0, 60) || 'figure'
	}.${ending}`;
