import type { Investigation } from '$lib/investigation/case';
import { CALCULATIONS } from '$lib/calculations/registry';

/** Calculations that these notes name by their titles, with the run for this anomaly where there is one. */
export const namedCalculations = (file: Investigation, anomaly: string, notes: string) =>
	CALCULATIONS.filter(({ title }) => notes.includes(title)).map(({ id, title, question }) => ({
		id,
		title,
		question,
		run: Object.values(file.calculations).find((one) => one.anomaly === anomaly && one.calculation === id)
	}));
