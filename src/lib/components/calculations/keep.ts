import type { AnyCalculation } from '$lib/calculations/calculation';
import type { CalculationResult } from '$lib/calculations/run';
import { calculationById } from '$lib/calculations/registry';
import type { OpenInvestigation } from '../case/open-case.svelte';
import { type Draft, requestOf, sourcesOf } from './draft';
import { refreshed } from './prefill';
import { Runner } from './runner.svelte';

/** What the operations take of a run: what was asked, where it came from, what came out. */
export function kept(calculation: AnyCalculation, draft: Draft, result: CalculationResult) {
	const { inputs, observed = {}, scenarios = [], planned } = requestOf(calculation, draft);
	const { seed, samples } = draft;
	const sources = sourcesOf(calculation, draft);
	return { inputs, observed, scenarios, ...(planned ? { planned } : {}), seed, samples, sources, result };
}

/**
 * Computes a kept run again with the values that the case has now. A problem in words, or null.
 * @param unasked because the case has changed, and not because somebody pressed for it
 */
export async function computeAgain(
	inv: OpenInvestigation,
	id: string,
	unasked = false
): Promise<string | null> {
	const run = inv.file.calculations[id];
	const calculation = run && calculationById(run.calculation);
	if (!calculation) return 'This version of the tool has no such calculation.';
	const draft = refreshed(calculation, run, inv.file, inv.rev);
	const runner = new Runner();
	try {
		runner.ask(calculation.id, requestOf(calculation, draft));
		const result = await runner.finished();
		if (!result) return runner.problem?.message ?? 'It was ended before it was done.';
		const record = { id, ...kept(calculation, draft, result) };
		const did = await (unasked
			? inv.follow('calculation.follow', record)
			: inv.do('calculation.rerun', record));
		return did.ok ? null : (did.problems[0]?.message ?? 'It could not be kept.');
	} finally {
		runner.stop();
	}
}
