import type { Investigation } from '$lib/investigation/case';
import { inChosenDimension } from '$lib/calculations/chosen-dimension';
import { calculationById, CALCULATIONS } from '$lib/calculations/registry';
import { readyInputs } from '$lib/calculations/run';
import { requestOf } from '../calculations/draft';
import { prefilled } from '../calculations/prefill';

/** Calculations that these notes name by their titles, with the run for this anomaly where there is one. */
export const namedCalculations = (file: Investigation, anomaly: string, notes: string) =>
	CALCULATIONS.filter(({ title }) => notes.includes(title)).map(({ id, title, question }) => ({
		id,
		title,
		question,
		run: Object.values(file.calculations).find((one) => one.anomaly === anomaly && one.calculation === id)
	}));

/** What a new run of it would still lack when all that the case knows is filled in; null where nothing but what was measured. */
export function missingFor(file: Investigation, id: string): string | null {
	const calculation = calculationById(id);
	if (!calculation) return null;
	const { inputs } = requestOf(calculation, prefilled(calculation, file, 0, []));
	const ready = readyInputs(inChosenDimension(calculation, inputs), inputs);
	return ready.ok ? null : ready.error.message;
}
